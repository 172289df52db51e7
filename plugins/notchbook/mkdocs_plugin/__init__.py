"""The MkDocs door: the handbook's findings decide whether there is a build, its pages go in as generated files."""

from __future__ import annotations

import os
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from mkdocs.config import config_options as options
from mkdocs.config.base import Config
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, event_priority
from mkdocs.structure.files import File, InclusionLevel

from notchbook.building.finishing import finish, is_dead_weight
from notchbook.building.held_files import lost_files
from notchbook.building.staging import Staging, StagingError
from notchbook.commit_time import commit_time
from notchbook.facts.facts import Facts
from notchbook.handbook import Handbook, open_handbook
from notchbook.mkdocs_plugin.ready_page import ReadyPage
from notchbook.mkdocs_plugin.remembered import RememberedTheme
from notchbook.mkdocs_plugin.telling import LOG, report, stop, warned
from notchbook.model.settings import Settings
from notchbook.pages.article import article
from notchbook.pages.assets import FIRST_SCRIPTS, STYLES, THEME_STYLE, before, missing_scripts
from notchbook.pages.computed_files import lost, strangers
from notchbook.pages.regions import with_regions
from notchbook.pages.search_entries import fed, search_languages
from notchbook.pages.site import build_site, merged_navigation
from notchbook.pages.written import prose
from notchbook.pages.written.guarded_page import GuardedPage, plain_settings, titles_of
from notchbook.pages.written.placeholder import is_placeholder
from notchbook.site_reading.inherited import absolute
from notchbook.site_reading.settings import changed_since, settings_of
from notchbook.site_reading.site_config import read_site_config
from notchbook.site_reading.site_places import site_findings
from notchbook.unchanged import Unchanged
from notchbook.wording.lines import printable

if TYPE_CHECKING:
    from jinja2 import Environment
    from mkdocs.config.defaults import MkDocsConfig
    from mkdocs.structure.files import Files
    from mkdocs.structure.pages import Page

    from notchbook.pages.finished import FinishedPage, FinishedSite
    from notchbook.site_reading.site_config import SiteConfig

_USUAL = Settings()
_COMPUTED = "what the readings give has to stand in the site as it was computed"
_SEARCHES = ("search", "material/search")


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


class NotchbookPlugin(BasePlugin[NotchbookConfig]):  # type: ignore[no-untyped-call]
    """Reads and checks the handbook before anything is written, then adds its pages."""

    def __init__(self) -> None:
        self._site: FinishedSite | None = None
        self._handbook: Handbook | None = None
        self._facts: Facts | None = None
        self._read: tuple[SiteConfig, Settings] | None = None
        self._root = Path()
        self._staging: Staging | None = None
        self._in_place = self._preview = False
        self._files: Unchanged | None = None
        self._parts: Unchanged | None = None
        self._theme: RememberedTheme | None = None
        self._added: dict[str, File] = {}
        self._written: dict[str, GuardedPage] = {}
        self._written_to = ("", False)

    def on_startup(self, *, command: str, dirty: bool) -> None:
        """Learn whether this is a preview or a build of single pages: both write where the site is."""
        self._in_place = dirty or command == "serve"
        self._preview = command == "serve"
        if self._preview:
            self._files, self._parts, self._theme = Unchanged(), Unchanged(), RememberedTheme()

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
        day = when.day if when else None
        opened = open_handbook(self._root, settings, found, day=day, unchanged=self._files)
        handbook = self._handbook = prose.checked(opened, read)
        self._facts = Facts(handbook)
        report(handbook, strict=config.strict)
        self._hold_settings(config)
        self._site = build_site(
            handbook,
            site_name=config.site_name,
            site_url=config.site_url or "",
            directory_urls=config.use_directory_urls,
            unchanged=self._parts,
        )
        config.extra_css = before((THEME_STYLE, *STYLES), config.extra_css)
        config.extra_javascript.extend(missing_scripts(config.extra_javascript, preview=self._preview))
        # the theme's name for scripts that run before its own
        config.extra["polyfills"] = before(FIRST_SCRIPTS, config.extra.get("polyfills", []))
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
            stop([f"{read.path.name} does not name the plugin as 'notchbook'"], "the check would not know of a site")
        # the command line can choose another theme, which has no folder of its own
        own_files = config.theme.custom_dir
        custom_dir = absolute(Path(own_files)) if own_files is not None else None
        changed = changed_since(read, settings, Path(config.docs_dir), custom_dir, self.config)
        stop(changed, "a hook or another plugin changed settings, which no check and no review sees")

    @event_priority(-110)  # after all that other plugins change
    def on_pre_build(self, *, config: MkDocsConfig) -> None:
        """Raise where the site would be written elsewhere than was looked at; MkDocs empties that folder next."""
        if self._site is None:
            return
        self._hold_settings(config)
        if (config.site_dir, config.use_directory_urls) != self._written_to:
            stop(["'site_dir' or 'use_directory_urls' is another one now"], "a hook or another plugin changed it late")

    def _stage(self, config: MkDocsConfig) -> None:
        """Let MkDocs write beside the site until all is written."""
        try:
            self._staging = Staging(Path(config.site_dir))
        except StagingError as error:
            raise PluginError(str(error)) from error
        for each in self._staging.mended:
            LOG.info("%s", each)
        config.site_dir = str(self._staging.folder)

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Add the pages; of those that are no result, one that somebody wrote by hand stays unless it gives way."""
        if self._site is None:
            return files
        for file in [each for each in files if _gives_way(each, self._site)]:
            files.remove(file)
        others = [file for file in files if file.inclusion is not InclusionLevel.EXCLUDED]
        stop(strangers(self._site, others, _templates(config)), _COMPUTED)
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
        languages = search_languages(next((each for each in map(config.plugins.get, _SEARCHES) if each), None))
        for file in [each for each in files if is_dead_weight(each.dest_uri, languages)]:
            files.remove(file)
        pages = sorted(uri for uri in written.values() if uri.endswith(".md"))
        config.nav = merged_navigation(self._site.nav, config.nav, pages, by_hand)
        return files

    @event_priority(-110)  # after all that other plugins add
    def on_env(self, env: Environment, *, config: MkDocsConfig, files: Files) -> Environment:
        """Raise where something took the place of what was computed, or left it out, before a file is written."""
        if self._site is None:
            return env
        there = [file for file in files if file.inclusion not in (InclusionLevel.EXCLUDED, InclusionLevel.DRAFT)]
        own = {id(file) for file in self._added.values()}
        others = [file for file in there if id(file) not in own]
        troubles = [*lost(self._site, self._added, there), *strangers(self._site, others, _templates(config))]
        stop(troubles, _COMPUTED)
        for name in _SEARCHES:
            fed(getattr(config.plugins.get(name), "search_index", None), lambda page: self._finished(page.file))
        return self._theme.around(env, config) if self._theme is not None else env

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
        if self._facts is None or isinstance(page, ReadyPage) or page.file.generated_by is not None:
            return markdown
        if self._facts.handbook.settings.raw_html == "publish":
            return prose.rendered(self._facts, markdown)
        page.meta = plain_settings(page.meta)
        written = self._written[page.file.src_uri] = GuardedPage(markdown, partial(prose.filled, self._facts))
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
            stop([f"{page.file.src_uri}: {each}" for each in troubles], "a page holds HTML that is not published")
        return article(with_regions(content), self._handbook)

    @event_priority(-110)  # after all that other plugins write
    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """Finish the site and let it take the place of the one before it."""
        try:
            if self._site is not None:
                places = {uri: file.dest_uri for uri, file in self._added.items()}
                stop(lost_files(Path(config.site_dir), places, self._site.files), _COMPUTED)
            if not self._preview:
                for each in finish(Path(config.site_dir)):
                    LOG.info("%s", printable(each))
            if self._staging is None:
                return
            config.site_dir = str(self._staging.site)
            if config.strict and warned():
                self._give_up()  # MkDocs fails the build after this
            else:
                self._staging.publish()
                self._staging = None
                LOG.info("The site is in place: %s", config.site_dir)
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


def _gives_way(file: File, site: FinishedSite) -> bool:
    """Whether a page by hand is there only for builders that compute none."""
    return file.src_uri in site.pages and file.abs_src_path is not None and is_placeholder(Path(file.abs_src_path))


def _templates(config: MkDocsConfig) -> list[str]:
    """The templates that MkDocs makes files of."""
    return [*config.theme.static_templates, *map(str, config.extra_templates)]
