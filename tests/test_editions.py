"""A clause means nothing without its edition: the machine standard was renumbered from one edition to the next.

ISO 13802 has editions of 1999, 2015 and 2025; the mass of the frame stands in Annex B of the first and in Annex D of
the second, by their public lists of contents.
"""

import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
PLACES = ("plugins", "schema", "site_src", "procedures", "results", "tests", "tools", "README.md", "DEVELOPERS.md")
TEXTS = {".py", ".js", ".j2", ".md", ".yaml", ".json", ".html", ".css"}
NAMED = re.compile(r"ISO 13802(?!:(?:1999|2015|2025)\b)")
OWN = Path(__file__).resolve()


def test_every_clause_of_the_machine_standard_names_its_year() -> None:
    found = []
    for place in PLACES:
        files = [ROOT / place] if (ROOT / place).is_file() else sorted((ROOT / place).rglob("*"))
        for path in files:
            if path.suffix not in TEXTS or path == OWN or not path.is_file():
                continue
            for number, line in enumerate(path.read_text(encoding="utf-8", errors="replace").splitlines(), start=1):
                if NAMED.search(line):
                    found.append(f"{path.relative_to(ROOT)}:{number}: {line.strip()[:100]}")
    assert not found, "\n".join(found)
