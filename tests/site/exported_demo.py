"""Exports of the demo, and the text of their articles."""

from pathlib import Path

from site_building import run

from html_tree import parse


def export(root: Path, target: Path, *options: str) -> Path:
    """Export the handbook of a root on the day of its site; an assertion fails where it cannot be."""
    done = run(root, "notchbook", "export", str(target), *options)
    assert done.returncode == 0, done.stdout
    return target


def articles(site: Path) -> dict[str, str]:
    """The text of each page's one article, by the page's path in the site."""
    pages = sorted(site.rglob("*.html"))
    return {each.relative_to(site).as_posix(): parse(each.read_text("utf-8")).one("article").text for each in pages}
