"""The first page: which rigs are in force, where to start, what is new."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.pages.page import Page
from notchbook.pages.results import result_lines
from notchbook.pages.rigs import hammer_lines

if TYPE_CHECKING:
    from notchbook.handbook import Handbook

URI = "index.md"
_NEWEST = 8


def home_page(handbook: Handbook, site_name: str) -> Page:
    """The home of the handbook."""
    library = handbook.library
    lines = result_lines(handbook)
    values = {
        "rigs": [(library.rigs[each], hammer_lines(handbook, library.rigs[each])) for each in sorted(library.rigs)],
        "exercises": [library.exercises[each] for each in sorted(library.exercises)],
        "newest": lines[:_NEWEST],
        "records": len(lines),
        "materials": len(library.materials),
        "methods": library.methods,
    }
    return Page(URI, "home.md.j2", site_name, values)
