"""All pages of a handbook, finished, and its navigation."""

from collections.abc import Callable, Iterator
from functools import partial
from itertools import chain
from typing import Any

from notchbook.facts.facts import Facts
from notchbook.handbook import Handbook
from notchbook.pages import home
from notchbook.pages.assets import asset_files
from notchbook.pages.comparison import pages as comparisons
from notchbook.pages.comparison import two_sets
from notchbook.pages.data import files as data_files
from notchbook.pages.data import page as data_page
from notchbook.pages.exercise import pages as exercises
from notchbook.pages.finished import FinishedSite, Navigation
from notchbook.pages.material import pages as materials
from notchbook.pages.page import Page, finished, page_uri
from notchbook.pages.record import pages as records
from notchbook.pages.reference import checks, guide, guide_texts, methods
from notchbook.pages.rig import pages as rigs
from notchbook.pages.rig import swings, verifications
from notchbook.pages.sheets import foot as sheet_foot
from notchbook.pages.sheets import lookups as lookup_pages
from notchbook.pages.sheets import wall_cards
from notchbook.unchanged import Unchanged, made


def build_site(
    handbook: Handbook,
    *,
    site_name: str = "Impact handbook",
    site_url: str = "",
    directory_urls: bool = False,
    advance: Callable[[], None] = lambda: None,
    unchanged: Unchanged | None = None,
) -> FinishedSite:
    """Every page, finished.

    Arguments:
        handbook: what to show.
        site_name: title of the home page.
        site_url: address of the site, for what is printed; empty where none is set.
        directory_urls: whether the site's addresses end in a slash rather than in `.html`.
        advance: called once for each page, for a progress bar.
        unchanged: what the caller holds of earlier buildings, where the same handbook is built again and again.
    """
    facts = Facts(handbook)
    if unchanged is not None:
        unchanged.begin()
    nav = _navigation(facts)
    listed = _listed(nav)
    sheets = list(lookup_pages.hammer_sheets(facts, unchanged))
    of_sheets = (*lookup_pages.lookup_pages(facts, sheets), data_page.data_page(facts, sheets))
    of_sets = two_sets.two_sets_page(facts, unchanged)
    pages = {}
    around = (handbook.settings, handbook.day, directory_urls, site_url)
    for page in chain(_pages(facts, site_name), of_sheets, [of_sets]):
        finish = partial(
            finished, page, handbook, listed=page.src_uri in listed, directory_urls=directory_urls, site_url=site_url
        )
        pages[page.src_uri] = made(unchanged, page.src_uri, (page, page.src_uri in listed, *around), finish)
        advance()
    files: dict[str, str | bytes] = dict(asset_files())
    files[sheet_foot.URI] = sheet_foot.sheet_foot(site_name, site_url, handbook.day)
    files |= data_files.data_files(facts, sheets, unchanged)
    return FinishedSite(pages, files, nav)


def _pages(facts: Facts, site_name: str) -> Iterator[Page]:
    yield home.home_page(facts, site_name)
    yield exercises.exercises_index(facts)
    yield from exercises.exercise_pages(facts)
    yield rigs.rigs_index(facts)
    yield from rigs.rig_pages(facts)
    yield from wall_cards.wall_card_pages(facts)
    yield from verifications.verification_pages(facts)
    yield from swings.swings_pages(facts)
    yield materials.materials_index(facts)
    yield from materials.material_pages(facts)
    yield methods.methods_index(facts)
    yield from methods.method_pages(facts)
    yield comparisons.comparisons_index(facts)
    yield from comparisons.comparison_pages(facts)
    yield records.records_index(facts)
    yield from records.record_pages(facts)
    yield checks.checks_page(facts)
    yield guide.keys_page(facts)
    yield guide.values_page(facts)
    yield from guide_texts.guide_pages()


def _navigation(facts: Facts) -> Navigation:
    def section(index: str, folder: str, ids: list[str]) -> list[str]:
        return [index, *(page_uri(folder, each) for each in ids)]

    return [
        {"Home": home.URI},
        {"Exercises": section(exercises.INDEX, exercises.FOLDER, list(facts.exercises))},
        {"Results": [records.INDEX, comparisons.INDEX, two_sets.URI]},
        {"Materials": section(materials.INDEX, materials.FOLDER, list(facts.materials))},
        {"Rigs": section(rigs.INDEX, rigs.FOLDER, list(facts.rigs))},
        {"Methods": section(methods.INDEX, methods.FOLDER, list(facts.methods))},
        {"Reference": [checks.URI, data_page.URI, guide.KEYS, guide.VALUES]},
        {"Guide": list(guide_texts.URIS)},
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
