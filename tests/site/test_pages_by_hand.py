"""Hand-written pages in the built site: whatever extensions, hooks and themes do, nothing of them acts on a reader."""

import json
import sys
from pathlib import Path

import pytest
from browser import browser, served
from site_building import build, built, run

import small_handbook as small
from repeating import repeated

sys.path.insert(0, str(Path(__file__).parents[1] / "pages"))
from collections.abc import Mapping

from markup_cases import ADDRESSES, ATTRIBUTES, TAGS

from notchbook.site_reading.sanitiser import cleaned

SPY = "<!doctype html><title>x</title><script>window.hits = 0; function hit() { window.hits += 1 }</script>"
CLICK = """
const web = ['http:', 'https:', 'mailto:', 'tel:'];
document.querySelectorAll('*').forEach(each => {
  const kinds = web.includes(each.protocol) ? ['mouseover', 'focus'] : ['mouseover', 'focus', 'click'];
  for (const kind of kinds) each.dispatchEvent(new MouseEvent(kind, {cancelable: true}));
});
const done = arguments[0];
setTimeout(() => done(window.hits), 300);
"""
HEAD = """---
title: '</title><script>hit()</script>"'
description: '"><script>hit()</script>'
author: '" onload="hit()'
---

# Heads

text
"""


def _handbook(root: Path, pages: Mapping[str, str], theme: str = "material", **settings: object) -> Path:
    files = {
        **small.files(),
        "mkdocs.yml": json.dumps(
            {
                "site_name": "Bench",
                "theme": {"name": theme, **({"font": False} if theme == "material" else {})},
                "use_directory_urls": False,
                "markdown_extensions": ["attr_list"],
                "plugins": ["search", {"notchbook": {"deviations": "label"}}],
                **settings,
            }
        ),
    }
    small.write(root, files)
    for name, text in pages.items():
        (root / "docs").mkdir(exist_ok=True)
        (root / "docs" / name).write_text(text, encoding="utf-8")
    return root


def test_script_stops_the_check_and_the_build_at_the_same_place(tmp_path: Path) -> None:
    root = _handbook(tmp_path, {"page.md": "# Bars\n\nThe bar <script>hit()</script> [broke](javascript:hit()).\n"})
    checked, done = run(root, "notchbook", "check"), build(root)
    assert (checked.returncode, done.returncode) == (1, 1)
    for each in ("docs/page.md:3:9: error: ", "docs/page.md:3:40: error: "):
        assert each in checked.stdout
        assert each in done.stdout
    assert "Nothing was built" in done.stdout
    assert not (root / "site").exists()


def test_handbook_that_publishes_html_publishes_it(tmp_path: Path) -> None:
    plugins = ["search", {"notchbook": {"deviations": "label", "raw_html": "publish"}}]
    root = _handbook(tmp_path, {"page.md": "<script>hit()</script>\n", "old.html": "<p>x</p>"}, plugins=plugins)
    assert run(root, "notchbook", "check").returncode == 0
    site = built(root)
    assert "<script>hit()</script>" in (site / "page.html").read_text("utf-8")
    assert (site / "old.html").is_file()


@pytest.mark.parametrize(
    "event",
    ["on_page_markdown(markdown, **_): return markdown + '\\n\\n<script>hit()</script>\\n'",
     "on_page_content(html, **_): return html + '<p onclick=hit()>x</p>'"],
)  # fmt: skip
def test_what_a_hook_adds_to_a_page_stops_the_build(event: str, tmp_path: Path) -> None:
    root = _handbook(tmp_path, {"page.md": "# Bars\n\ntext\n"}, hooks=["hook.py"])
    (root / "hook.py").write_text(f"def {event}\n", encoding="utf-8")
    done = build(root)
    assert done.returncode == 1
    assert "page.md: <" in done.stdout
    assert "a page holds HTML that is not published" in done.stdout
    assert "Traceback" not in done.stdout
    assert not (root / "site").exists()


@pytest.mark.parametrize("theme", repeated(["material", "mkdocs", "readthedocs"], but=["material"]))
def test_head_of_a_page_is_text_in_every_theme(theme: str, tmp_path: Path) -> None:
    root = _handbook(tmp_path, {"page.md": HEAD, "other.md": "# Other\n\n[x](page.md)\n"}, theme)
    site = built(root)
    for path in site.rglob("*.html"):
        text = path.read_text("utf-8")
        assert "<script>hit()" not in text, path
        assert '" onload="hit()' not in text, path
    assert "&lt;script&gt;hit()&lt;/script&gt;" in (site / "page.html").read_text("utf-8")


def test_what_the_sanitiser_leaves_of_hostile_html_runs_nothing_in_a_browser(tmp_path: Path) -> None:
    raw = [each.replace("§", "") for each in (*TAGS.values(), *ATTRIBUTES.values()) if "markdown" not in each]
    raw += [f'<a href="{each.partition("(§")[2].rstrip(")")}">x</a>' for each in ADDRESSES.values() if "(§" in each]
    alive = ('<img src=x onerror="hit()">', '<svg onload="hit()"></svg>', '<a href="javascript:hit()">x</a>')
    (tmp_path / "cleaned.html").write_text(SPY + "\n".join(map(cleaned, [*raw, *alive])), encoding="utf-8")
    (tmp_path / "raw.html").write_text(SPY + "\n".join(alive), encoding="utf-8")
    with browser(tmp_path / "profile") as chrome, served(tmp_path) as address:
        chrome.get(f"{address}/raw.html")
        assert chrome.execute_async_script(CLICK) >= len(alive) - 1
        chrome.get(f"{address}/cleaned.html")
        assert chrome.execute_async_script(CLICK) == 0
        assert chrome.current_url == f"{address}/cleaned.html"
