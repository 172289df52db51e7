"""A preview that is kept through changes, against one that begins anew after each of them.

    python preview_run.py HANDBOOK CHANGES

CHANGES is a JSON file of lists of steps `[path, text]`, where null deletes the file. Prints as JSON, for each list,
which files of the site differ between the two, and how many pages the kept preview's theme made again.
"""

import json
import sys
import tempfile
from pathlib import Path
from typing import Any

from mkdocs.commands.build import build
from mkdocs.config import load_config

from notchbook.mkdocs_plugin.remembered import RememberedTheme
from notchbook.unchanged import Unchanged


def _contents(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def _begun(settings: str, site: str) -> Any:
    """The settings, and the plugin as at the start of a preview."""
    config = load_config(settings, site_dir=site)
    config.plugins.on_startup(command="serve", dirty=False)
    return config


class _Counted(Unchanged):
    """What a theme made, with how often it had to."""

    times = 0

    def of(self, name: Any, inputs: object, make: Any) -> Any:
        def counted() -> Any:
            self.times += 1
            return make()

        return super().of(name, inputs, counted)


def main(root: Path, steps: list[list[list[str | None]]]) -> None:
    """Apply the steps one list after the other."""
    settings, told = str(root / "mkdocs.yml"), []
    with tempfile.TemporaryDirectory() as kept, tempfile.TemporaryDirectory() as anew:
        config = _begun(settings, kept)
        plugin = config.plugins["notchbook"]
        theme = plugin._theme = RememberedTheme()
        theme._made = _Counted()
        build(config)
        holding = (plugin._files, plugin._parts, plugin._theme)
        for changes in steps:
            for path, text in changes:
                if text is None:
                    (root / str(path)).unlink()
                else:
                    (root / str(path)).write_text(text, encoding="utf-8")
            plugin._files, plugin._parts, plugin._theme = holding
            theme._made.times = 0
            build(load_config(settings, site_dir=kept))
            times = theme._made.times
            build(_begun(settings, anew))
            first, second = _contents(Path(kept)), _contents(Path(anew))
            differ = [path for path in sorted({*first, *second}) if first.get(path) != second.get(path)]
            told.append([differ, times])
    print(json.dumps(told))


if __name__ == "__main__":
    main(Path(sys.argv[1]), json.loads(Path(sys.argv[2]).read_text(encoding="utf-8")))
