"""The MkDocs door: the handbook's findings decide whether there is a build, its pages go in as generated files."""

from __future__ import annotations

import html
import logging
import os
import re
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, cast

from mkdocs.config import config_options as options
from mkdocs.config.base import Config
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, event_priority
from mkdocs.structure.files import File, InclusionLevel
from mkdocs.structure.pages import Page
from mkdocs.structure.toc import get_toc
from mkdocs.utils import CountHandler

from notchbook.building.finishing import finish, is_dead_weight
from notchbook.building.held_files import lost_files
from notchbook.building.staging import Staging, StagingError
from notchbook.commit_time import commit_time
from notchbook.findings import Severity, summary
from notchbook.handbook import Handbook, open_handbook
from notchbook.pages.article import article
from notchbook.pages.assets import FIRST_SCRIPTS, FORGET_SCRIPT, KEEP_SCRIPT, SCRIPTS, STYLES, before
from notchbook.pages.computed_files import lost, strangers
from notchbook.pages.regions import with_regions
from notchbook.pages.search_entries import fed
from notchbook.pages.site import build_site, merged_navigation
from notchbook.pages.toc import toc_tokens
from notchbook.pages.written import prose
from notchbook.pages.written.guarded_page import GuardedPage, plain_settings, titles_of
from notchbook.reading.inherited import absolute
from notchbook.reading.settings import Settings, settings_of
from notchbook.reading.site_config import read_site_config
from notchbook.reading.site_places import site_findings
from notchbook.wording.lines import printable

if TYPE_CHECKING:
    from mkdocs.config.defaults import MkDocsConfig
    from mkdocs.structure.files import Files

    from notchbook.pages.finished import FinishedPage, FinishedSite
    from notchbook.reading.site_config import SiteConfig

log = logging.getLogger("mkdocs.plugins.notchbook")
_USUAL = Settings()
_COMPUTED = "what the readings give has to stand in the site as it was computed"
_SEARCHES = ("search", "material/search")
_IDS = re.compile(r' id="([^"]*)"')
_LEVELS = {Severity.ERROR: logging.ERROR, Severity.WARNING: logging.WARNING, Severity.NOTE: logging.INFO}


class NotchbookConfig(Config):  # type: ignore[no-untyped-call]  # MkDocs leaves a hook untyped
    """The plugin's block in mkdocs.yml; any value is let through, `reading.settings` says what is wrong with it."""

    procedures = options.Type(object, default=_USUAL.procedures)
    """Folder of rigs, materials, exercises and hazards, beside mkdocs.yml."""
    results = options.Type(object, default=_USUAL.results)
    """Folder of verifications and tests, beside mkdocs.yml."""
    deviations = options.Type(object, default=_USUAL.deviations)
    """Whether a declared departure from a method fails the build or is published with its mark."""
    notice = options.Type(object, default=_USUAL.notice)
    """Shown at the top of every page."""
    raw_html = options.Type(object, default=_USUAL.raw_html)
    """What is done with HTML of hand-written pages, and with files, that can do more than say or show something."""


class ReadyPage(Page):
    """A page that is finished: MkDocs neither reads nor parses it."""

    finished: FinishedPage

    @classmethod
    def take(cls, page: Page, finished: FinishedPage) -> None:
        """Make such a page of one that is not read yet: MkDocs makes its pages itself, and asks nobody before."""
        page.__class__ = cls
        cast("ReadyPage", page).finished = finished

    def read_source(self, config: MkDocsConfig) -> None:  # noqa: ARG002
        """Take title and settings; there is no Markdown."""
        self.markdown = ""
        # a theme puts it into its template as it is
        self.meta = {"title": html.escape(self.finished.title)}
        if self.finished.hidden:
            self.meta["hide"] = sorted(self.finished.hidden)

    def render(self, config: MkDocsConfig, files: Files) -> None:  # noqa: ARG002
        """Take the HTML as it is, and of its headings those that the site wants in a table of contents."""
        self.content = self.finished.body
        depth = config.mdx_configs.get("toc", {}).get("toc_depth", 6)
        self.toc = get_toc(toc_tokens(self.finished, depth))
        self.present_anchor_ids = set(_IDS.findall(self.finished.body))


class NotchbookPlugin(BasePlugin[NotchbookConfig]):  # type: ignore[no-untyped-call]
    """Reads and checks the handbook before anything is written, then adds its pages."""

    def __init__(self) -> None:
        self._site: FinishedSite | None = None
        self._handbook: Handbook | None = None
        self._read: tuple[SiteConfig, Settings] | None = None
        self._root = Path()
        self._staging: Staging | None = None
        self._in_place = self._preview = False
        self._added: dict[str, File] = {}
        self._written: dict[str, GuardedPage] = {}
        self._written_to = ("", False)

    def on_startup(self, *, command: str, dirty: bool) -> None:
        """Learn whether this is a preview or a build of single pages: both write where the site is."""
        self._in_place = dirty or command == "serve"
        self._preview = command == "serve"

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Read and check everything; raise before MkDocs empties the old site where the build must fail."""
        if not config.config_file_path:
            raise PluginError("Nothing was built: the settings have to be a file, named with --config-file")
        read = read_site_config(Path(config.config_file_path))
        settings, found = settings_of(read)
        found += site_findings(read, settings, Path(config.site_dir), is_own=self._preview)
        self._root, self._read = read.root, (read, settings)
        when = None if self._preview else commit_time(self._root)
        if when is not None:
            # MkDocs dates its own files by it
            os.environ["SOURCE_DATE_EPOCH"] = str(when.epoch)
        opened = open_handbook(self._root, settings, found, day=when.day if when else None)
        handbook = self._handbook = prose.checked(opened, read)
        _report(handbook, strict=config.strict)
        self._hold_settings(config)
        self._site = build_site(
            handbook,
            site_name=config.site_name,
            site_url=config.site_url or "",
            directory_urls=config.use_directory_urls,
        )
        _add_assets(config, preview=self._preview)
        folders = [str(self._root / each) for each in (settings.procedures, settings.results)]
        config.watch = before([*folders, *map(str, read.files[1:])], config.watch)
        if not self._in_place:
            self._stage(config)
        self._written_to = (config.site_dir, config.use_directory_urls)
        return config

    def _hold_settings(self, config: MkDocsConfig) -> None:
        """Raise where a hook or another plugin changed what the check and the review read from the file."""
        if self._read is None:
            return
        read, settings = self._read
        if settings.prose is None:
            _stop([f"{read.path.name} does not name the plugin as 'notchbook'"], "the check would not know of a site")
        pairs = [("docs_dir", config.docs_dir, str(read.docs_dir))]
        if config.theme.custom_dir is not None:  # the command line can choose another theme
            pairs.append(("theme.custom_dir", str(absolute(Path(config.theme.custom_dir))), str(read.custom_dir)))
        pairs += [(key, now, getattr(settings, key)) for key, now in self.config.items()]
        name = read.path.name
        changed = [f"'{key}' is '{now}', and in {name} it is '{was}'" for key, now, was in pairs if now != was]
        _stop(changed, "a hook or another plugin changed settings, which no check and no review sees")

    @event_priority(-110)  # after all that other plugins change
    def on_pre_build(self, *, config: MkDocsConfig) -> None:
        """Raise where the site would be written elsewhere than was looked at; MkDocs empties that folder next."""
        if self._site is None:
            return
        self._hold_settings(config)
        if (config.site_dir, config.use_directory_urls) != self._written_to:
            _stop(["'site_dir' or 'use_directory_urls' is another one now"], "a hook or another plugin changed it late")

    def _stage(self, config: MkDocsConfig) -> None:
        """Let MkDocs write beside the site until all is written."""
        try:
            self._staging = Staging(Path(config.site_dir))
        except StagingError as error:
            raise PluginError(str(error)) from error
        for each in self._staging.mended:
            log.info("%s", each)
        config.site_dir = str(self._staging.folder)

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Add the pages; of those that are no result, one that somebody wrote by hand stays."""
        if self._site is None:
            return files
        others = [file for file in files if file.inclusion is not InclusionLevel.EXCLUDED]
        _stop(strangers(self._site, others, _templates(config)), _COMPUTED)
        written = {file.dest_uri: file.src_uri for file in others}
        by_hand: dict[str, str] = {}
        self._added = {}
        for uri, page in self._site.pages.items():
            level = InclusionLevel.UNDEFINED if page.listed else InclusionLevel.NOT_IN_NAV
            file = File.generated(config, uri, content=page.body, inclusion=level)
            if file.dest_uri in written:
                by_hand[uri] = written[file.dest_uri]
                continue
            if page.source is not None:
                file.edit_uri = Path(os.path.relpath(self._root / page.source, config.docs_dir)).as_posix()
            self._added[uri] = file
        for uri, content in self._site.files.items():
            self._added[uri] = File.generated(config, uri, content=content, inclusion=InclusionLevel.NOT_IN_NAV)
        for file in self._added.values():
            files.append(file)
        for file in [each for each in files if is_dead_weight(each.dest_uri, _search_languages(config))]:
            files.remove(file)
        pages = sorted(uri for uri in written.values() if uri.endswith(".md"))
        config.nav = merged_navigation(self._site.nav, config.nav, pages, by_hand)
        return files

    @event_priority(-110)  # after all that other plugins add
    def on_env(self, env: object, *, config: MkDocsConfig, files: Files) -> None:  # noqa: ARG002
        """Raise where something took the place of what was computed, or left it out, before a file is written."""
        if self._site is None:
            return
        there = [file for file in files if file.inclusion not in (InclusionLevel.EXCLUDED, InclusionLevel.DRAFT)]
        own = {id(file) for file in self._added.values()}
        others = [file for file in there if id(file) not in own]
        troubles = [*lost(self._site, self._added, there), *strangers(self._site, others, _templates(config))]
        _stop(troubles, _COMPUTED)
        for name in _SEARCHES:
            fed(getattr(config.plugins.get(name), "search_index", None), lambda page: self._finished(page.file))

    def _finished(self, file: File) -> FinishedPage | None:
        """The page that was computed for a file; None for one that somebody else made."""
        if self._site is None or self._added.get(file.src_uri) is not file:
            return None
        return self._site.pages.get(file.src_uri)

    @event_priority(-110)  # after what other plugins take for the page
    def on_pre_page(self, page: Page, *, config: MkDocsConfig, files: Files) -> Page:  # noqa: ARG002
        """Hand over a computed page ready-made."""
        finished = self._finished(page.file)
        if finished is not None:
            ReadyPage.take(page, finished)
        return page

    def on_page_markdown(self, markdown: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:  # noqa: ARG002
        """Fill the values and formulae into a hand-written page."""
        if self._handbook is None or isinstance(page, ReadyPage) or page.file.generated_by is not None:
            return markdown
        if self._handbook.settings.raw_html == "publish":
            return prose.rendered(self._handbook, markdown)
        page.meta = plain_settings(page.meta)
        written = self._written[page.file.src_uri] = GuardedPage(markdown, partial(prose.filled, self._handbook))
        return written.markdown

    @event_priority(-100)  # after what other plugins make of the page
    def on_page_content(self, content: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:  # noqa: ARG002
        """Put what every page has around a hand-written one, and what can be wider than it into regions.

        Of its HTML that is published which the sanitiser leaves, and nothing where it takes something away.
        """
        if self._handbook is None or isinstance(page, ReadyPage):
            return content
        written = self._written.pop(page.file.src_uri, None)
        if written is not None:
            content, troubles = written.published(content, [page.title or "", *titles_of(page.toc)])
            _stop([f"{page.file.src_uri}: {each}" for each in troubles], "a page holds HTML that is not published")
        return article(with_regions(content), self._handbook)

    @event_priority(-110)  # after all that other plugins write
    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """Finish the site and let it take the place of the one before it."""
        try:
            if self._site is not None:
                places = {uri: file.dest_uri for uri, file in self._added.items()}
                _stop(lost_files(Path(config.site_dir), places, self._site.files), _COMPUTED)
            if not self._preview:
                for each in finish(Path(config.site_dir)):
                    log.info("%s", printable(each))
            if self._staging is None:
                return
            config.site_dir = str(self._staging.site)
            if config.strict and _warned():
                self._give_up()  # MkDocs fails the build after this
            else:
                self._staging.publish()
                self._staging = None
                log.info("The site is in place: %s", config.site_dir)
        except (OSError, StagingError) as error:
            raise PluginError(f"the site cannot be finished: {error}") from error

    def on_build_error(self, *, error: Exception) -> None:
        """Leave the site as it was; say in a line what the file system said."""
        self._give_up()
        if isinstance(error, OSError):
            raise PluginError(f"the site cannot be written, an earlier one is as it was: {error}") from error

    def _give_up(self) -> None:
        if self._staging is not None:
            self._staging.abandon()
            self._staging = None


def _templates(config: MkDocsConfig) -> list[str]:
    """The templates that MkDocs makes files of."""
    return [*config.theme.static_templates, *map(str, config.extra_templates)]


def _stop(troubles: list[str], reason: str) -> None:
    """Log everything that is in the way of a build, and raise if there is something."""
    for each in troubles:
        log.error("%s", printable(each))
    if troubles:
        raise PluginError(f"Nothing was built, an earlier site is as it was: {reason}")


def _add_assets(config: MkDocsConfig, *, preview: bool) -> None:
    # the handbook's own styles come first, so that a department's can change what they say
    config.extra_css = before(STYLES, config.extra_css)
    named = set(map(str, config.extra_javascript))
    scripts = (*SCRIPTS, FORGET_SCRIPT if preview else KEEP_SCRIPT)
    config.extra_javascript.extend(each for each in scripts if each not in named)
    # the theme's name for scripts that run before its own
    config.extra["polyfills"] = before(FIRST_SCRIPTS, config.extra.get("polyfills", []))


def _search_languages(config: MkDocsConfig) -> list[str]:
    """The languages that the site's search knows; English where nothing else is set."""
    search = config.plugins.get("search") or config.plugins.get("material/search")
    languages = search.config.get("lang") if search is not None else None
    return [languages] if isinstance(languages, str) else list(languages or ["en"])


def _warned() -> bool:
    """Whether something was warned of, by the counter that MkDocs has for strict builds."""
    handlers = logging.getLogger("mkdocs").handlers
    return any(sum(number for _, number in each.get_counts()) for each in handlers if isinstance(each, CountHandler))


def _report(handbook: Handbook, *, strict: bool) -> None:
    """Log every finding, the errors last to be read first; raise where the build must not go on."""
    for severity in (Severity.NOTE, Severity.WARNING, Severity.ERROR):
        for finding in handbook.findings:
            if finding.severity is severity:
                log.log(_LEVELS[severity], "%s", finding)
    errors, warnings = handbook.count(Severity.ERROR), handbook.count(Severity.WARNING)
    if errors or (strict and warnings):
        words = summary(handbook.findings, handbook.files)
        raise PluginError(f"Nothing was built, an earlier site is as it was: {words}")
