"""A site of a handbook whose every text tries to be more than a text."""

import json
from pathlib import Path

from site_building import built

import hostile_handbook as hostile
import small_handbook as small

THEMES = ("material", "mkdocs", "readthedocs")
TEXT = (
    "</title></a></script><script>hit()</script>\"'><img src=x onerror=hit()>{{ 7*7 }} `c` &lt;b&gt; <svg onload=hit()>"
)
SHORT_TEXT = '<img src=x onerror=hit()>"{{7*7}}`'
MATERIAL_TITLE = f"{TEXT} title"


def hostile_site(root: Path, theme: str, *, plain: bool = False) -> Path:
    """Folder of the site; with plain words in place of the texts, for its form."""

    def text_of(number: int) -> str:
        if plain:
            return "plain"
        return TEXT if number % 3 else hostile.HOSTILE[number % len(hostile.HOSTILE)]

    files, _ = hostile.handbook_of(text_of, lambda word: f"x{word}" if plain else f"<b>{word}`")
    files[small.MATERIAL]["title"] = "plain title" if plain else MATERIAL_TITLE
    files[small.MATERIAL]["symbol"] = "PP" if plain else SHORT_TEXT
    notice = "plain notice" if plain else TEXT
    settings = {
        "site_name": "Bench",
        # codes to be scanned and descriptions for machines are only made with an address
        "site_url": "https://handbook.example/",
        "theme": {"name": theme, **({"font": False} if theme == "material" else {})},
        "use_directory_urls": False,
        "plugins": ["search", {"notchbook": {"deviations": "label", "notice": notice}}],
    }
    small.write(root, {**files, "mkdocs.yml": json.dumps(settings)})
    (root / "docs").mkdir()
    return built(root)
