"""All pages of a handbook, finished, and its navigation."""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING, Any

from notchbook.pages import home
from notchbook.pages.assets import asset_files
from notchbook.pages.data import files as data_files
from notchbook.pages.data import page as data_page
from notchbook.pages.exercise import pages as exercises
from notchbook.pages.finished import FinishedSite
from notchbook.pages.material import pages as materials
from notchbook.pages.page import Page, finished, page_uri
from notchbook.pages.record import pages as records
from notchbook.pages.reference import checks, guide, methods
from notchbook.pages.rig import pages as rigs
from notchbook.pages.rig import verifications
from notchbook.pages.sheets import foot as sheet_foot
from notchbook.pages.sheets import lookups as lookup_pages
from notchbook.pages.sheets import wall_cards

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from notchbook.handbook import Handbook

Navigation = list[dict[str, Any]]


def build_site(
    handbook: Handbook,
    *,
    site_name: str = "Impact handbook",
    site_url: str = "",
    directory_urls: bool = False,
    advance: Callable[[], None] = lambda: None,
) -> FinishedSite:
    """Every page, finished.

    Arguments:
        handbook: what to show.
        site_name: title of the home page.
        site_url: address of the site, for what is printed; empty where none is set.
        directory_urls: whether the site's addresses end in a slash rather than in `.html`.
        advance: called once for each page, for a progress bar.
    """
    nav = _navigation(handbook)
    listed = _listed(nav)
    sheets = list(lookup_pages.hammer_sheets(handbook))
    of_sheets = (*lookup_pages.lookup_pages(handbook, sheets), data_page.data_page(handbook, sheets))
    pages = {}
    for page in chain(_pages(handbook, site_name), of_sheets):
        pages[page.src_uri] = finished(
            page, handbook, listed=page.src_uri in listed, directory_urls=directory_urls, site_url=site_url
        )
        advance()
    files: dict[str, str | bytes] = dict(asset_files())
    files[sheet_foot.URI] = sheet_foot.sheet_foot(site_name, site_url, handbook.day)
    files |= data_files.data_files(handbook, sheets)
    return FinishedSite(pages, files, nav)


def _pages(handbook: Handbook, site_name: str) -> Iterator[Page]:
    yield home.home_page(handbook, site_name)
    yield exercises.exercises_index(handbook)
    yield from exercises.exercise_pages(handbook)
    yield rigs.rigs_index(handbook)
    yield from rigs.rig_pages(handbook)
    yield from wall_cards.wall_card_pages(handbook)
    yield from verifications.verification_pages(handbook)
    yield materials.materials_index(handbook)
    yield from materials.material_pages(handbook)
    yield methods.methods_index(handbook)
    yield from methods.method_pages(handbook)
    yield records.records_index(handbook)
    yield from records.record_pages(handbook)
    yield checks.checks_page(handbook)
    yield guide.keys_page(handbook)
    yield guide.values_page(handbook)


def _navigation(handbook: Handbook) -> Navigation:
    library = handbook.library

    def section(index: str, folder: str, ids: list[str]) -> list[str]:
        return [index, *(page_uri(folder, each) for each in ids)]

    return [
        {"Home": home.URI},
        {"Exercises": section(exercises.INDEX, exercises.FOLDER, sorted(library.exercises))},
        {"Results": [records.INDEX]},
        {"Materials": section(materials.INDEX, materials.FOLDER, sorted(library.materials))},
        {"Rigs": section(rigs.INDEX, rigs.FOLDER, sorted(library.rigs))},
        {"Methods": section(methods.INDEX, methods.FOLDER, sorted(library.methods))},
        {"Reference": [checks.URI, data_page.URI, guide.KEYS, guide.VALUES]},
    ]


def _listed(nav: Any) -> set[str]:
    """All pages that a navigation names, at whatever depth."""
    if isinstance(nav, str):
        return {nav}
    entries = nav.values() if isinstance(nav, dict) else nav or ()
    return {uri for entry in entries for uri in _listed(entry)}


def merged_navigation(
    computed: Navigation, written: Navigation | None, pages: list[str], by_hand: dict[str, str]
) -> Navigation:
    """The handbook's navigation with that of the hand-written pages behind it.

    Arguments:
        computed: the handbook's navigation.
        written: the navigation of the site's settings; one that names a page of the handbook replaces the whole.
        pages: all hand-written pages, added at the end where no navigation was written.
        by_hand: the hand-written pages that stand in the place of the site's, by these.
    """
    own: Navigation = _renamed(computed, by_hand)
    listed = _listed(own)
    if written is None:
        others = [each for each in pages if each not in listed]
        return [*own, {"More": others}] if others else own
    return written if _listed(written) & listed else own + written


def _renamed(nav: Any, names: dict[str, str]) -> Any:
    """The navigation with other pages in the place of those that have one."""
    if isinstance(nav, str):
        return names.get(nav, nav)
    if isinstance(nav, dict):
        return {title: _renamed(entry, names) for title, entry in nav.items()}
    return [_renamed(entry, names) for entry in nav]
