"""A preview as `mkdocs serve` runs it, without the server.

`python preview.py MKDOCS_YML RECORD` prints as JSON how many seconds it takes from a changed reading in a record to the
whole site.
"""

import json
import re
import sys
import tempfile
import time
from pathlib import Path

from mkdocs.commands.build import build
from mkdocs.config import load_config

_READING = re.compile(r"(rise_angle_deg|indicated_energy_J): ([0-9.]+)")


def main(settings: str, record: Path) -> None:
    """Build, change a reading by one part in a thousand, and build again."""
    with tempfile.TemporaryDirectory() as site:
        config = load_config(settings, site_dir=site)
        config.plugins.on_startup(command="serve", dirty=False)
        build(config)
        text = record.read_text("utf-8")
        record.write_text(_READING.sub(lambda each: f"{each[1]}: {0.999 * float(each[2]):.4f}", text, count=1), "utf-8")
        try:
            began = time.perf_counter()
            build(load_config(settings, site_dir=site))
            print(json.dumps(time.perf_counter() - began))
        finally:
            record.write_text(text, "utf-8")
            config.plugins.on_shutdown()


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]))
