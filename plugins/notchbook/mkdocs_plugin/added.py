"""The computed pages and files as those of MkDocs, among whatever else a site has."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import Any

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page

from notchbook.building.finishing import is_dead_weight
from notchbook.mkdocs_plugin.telling import stop
from notchbook.pages.addresses import Addresses
from notchbook.pages.computed_files import lost, strangers
from notchbook.pages.finished import FinishedPage, FinishedSite
from notchbook.pages.search_entries import fed, search_languages
from notchbook.pages.written.places import is_placeholder
from notchbook.site_reading.inherited import relative

COMPUTED = "what the readings give has to stand in the site as it was computed"
_SEARCHES = ("search", "material/search")


@dataclass(slots=True)
class Added:
    """What was added for a site."""

    site: FinishedSite
    files: dict[str, File] = field(default_factory=dict)
    """By the place of what they hold."""
    by_hand: dict[str, str] = field(default_factory=dict)
    """The hand-written pages that stand in the place of the site's, by these."""
    pages: list[str] = field(default_factory=list)
    """All hand-written pages."""
    _addresses: Addresses = field(init=False)

    def __post_init__(self) -> None:
        self._addresses = Addresses.of([*self.site.pages, *self.site.files])

    @classmethod
    def to(cls, files: Files, site: FinishedSite, root: Path, config: MkDocsConfig) -> Added:
        """Add the pages; of those that are no result, one that somebody wrote by hand stays unless it gives way."""
        added = cls(site)
        for file in [each for each in files if _gives_way(each, site)]:
            files.remove(file)
        others = [file for file in files if file.inclusion is not InclusionLevel.EXCLUDED]
        stop(strangers(added._addresses, others, _templates(config)), COMPUTED)
        written = {file.dest_uri: file.src_uri for file in others}
        added.pages = sorted(uri for uri in written.values() if uri.endswith(".md"))
        up = relative(root, Path(config.docs_dir))
        for uri, page in site.pages.items():
            level = InclusionLevel.UNDEFINED if page.listed else InclusionLevel.NOT_IN_NAV
            file = File.generated(config, uri, content=page.body, inclusion=level)
            if file.dest_uri in written:
                added.by_hand[uri] = written[file.dest_uri]
                continue
            if page.source is not None:
                file.edit_uri = f"{up}/{page.source}"
            added.files[uri] = file
        for uri, content in site.files.items():
            added.files[uri] = File.generated(config, uri, content=content, inclusion=InclusionLevel.NOT_IN_NAV)
        for file in added.files.values():
            files.append(file)
        languages = search_languages(next((each for each in map(config.plugins.get, _SEARCHES) if each), None))
        for file in [each for each in files if is_dead_weight(each.dest_uri, languages)]:
            files.remove(file)
        return added

    def hold(self, files: Files, config: MkDocsConfig) -> None:
        """Raise where something took the place of what was added, or left it out."""
        there = [file for file in files if file.inclusion not in (InclusionLevel.EXCLUDED, InclusionLevel.DRAFT)]
        own = {id(file) for file in self.files.values()}
        others = [file for file in there if id(file) not in own]
        stop([*lost(self.site, self.files, there), *strangers(self._addresses, others, _templates(config))], COMPUTED)

    def feed_searches(self, config: MkDocsConfig) -> None:
        """Let the searches take what they find of a page as it is, and look for nothing in its HTML."""
        handlers = config.plugins.events["page_context"]
        for search in map(config.plugins.get, _SEARCHES):
            is_fed = fed(getattr(search, "search_index", None), lambda page: self.finished(page.file))
            own = getattr(search, "on_page_context", None)
            if is_fed and own in handlers:
                handlers[handlers.index(own)] = partial(self._searched, search)

    def _searched(self, search: Any, context: Any, *, page: Page, **more: Any) -> Any:
        """What a search does with a page; for a finished one it goes through the whole HTML, and finds nothing."""
        if self.finished(page.file) is None:
            return search.on_page_context(context, page=page, **more)
        return search.search_index.add_entry_from_context(page)

    def finished(self, file: File) -> FinishedPage | None:
        """The page that was computed for a file; None for one that somebody else made."""
        return self.site.pages.get(file.src_uri) if self.files.get(file.src_uri) is file else None


def _gives_way(file: File, site: FinishedSite) -> bool:
    """Whether a page by hand is there only for builders that compute none."""
    return file.src_uri in site.pages and file.abs_src_path is not None and is_placeholder(Path(file.abs_src_path))


def _templates(config: MkDocsConfig) -> list[str]:
    """The templates that MkDocs makes files of."""
    return [*config.theme.static_templates, *map(str, config.extra_templates)]
