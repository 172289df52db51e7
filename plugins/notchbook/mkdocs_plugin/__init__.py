"""The MkDocs door: the handbook's findings decide whether there is a build, its pages go in as generated files."""

import gc
import os
from functools import partial
from pathlib import Path

from jinja2 import Environment
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, event_priority
from mkdocs.structure.files import Files
from mkdocs.structure.pages import Page

from notchbook.building.finishing import finish
from notchbook.building.held_files import lost_files
from notchbook.building.staging import Staging, StagingError
from notchbook.commit_time import commit_time
from notchbook.facts.facts import Facts
from notchbook.handbook import Handbook, open_handbook
from notchbook.mkdocs_plugin.added import COMPUTED, Added
from notchbook.mkdocs_plugin.own_settings import NotchbookConfig, hold_settings
from notchbook.mkdocs_plugin.ready_page import ReadyPage
from notchbook.mkdocs_plugin.remembered import RememberedTheme
from notchbook.mkdocs_plugin.telling import LOG, report, stop, warned
from notchbook.model.settings import Settings
from notchbook.pages.article import article
from notchbook.pages.assets import FIRST_SCRIPTS, STYLES, THEME_STYLE, before, missing_scripts
from notchbook.pages.finished import FinishedSite
from notchbook.pages.regions import with_regions
from notchbook.pages.site import build_site, merged_navigation
from notchbook.pages.written import prose
from notchbook.pages.written.guarded_page import GuardedPage, plain_settings, titles_of
from notchbook.site_reading.settings import settings_of
from notchbook.site_reading.site_config import SiteConfig, read_site_config
from notchbook.site_reading.site_places import site_findings
from notchbook.unchanged import Unchanged
from notchbook.wording.lines import printable


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
        self._added: Added | None = None
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
        when = None if self._preview else commit_time(self._root, Path(config.site_dir))
        if when is not None:
            # MkDocs dates its own files by it
            os.environ["SOURCE_DATE_EPOCH"] = str(when.epoch)
        day = when.day if when else None
        opened = open_handbook(self._root, settings, found, day=day, unchanged=self._files)
        handbook = self._handbook = prose.checked(opened, read)
        self._facts = Facts(handbook)
        report(handbook, strict=config.strict)
        hold_settings(*self._read, self.config, config)
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
        if self._preview and not gc.get_freeze_count():
            gc.freeze()  # what a preview keeps is no garbage, and is much to go through again and again
        return config

    @event_priority(-110)  # after all that other plugins change
    def on_pre_build(self, *, config: MkDocsConfig) -> None:
        """Raise where the site would be written elsewhere than was looked at; MkDocs empties that folder next."""
        if self._site is None or self._read is None:
            return
        hold_settings(*self._read, self.config, config)
        if (config.site_dir, config.use_directory_urls) != self._written_to:
            stop(["'site_dir' or 'use_directory_urls' is another one now"], "a hook or another plugin changed it late")

    def _stage(self, config: MkDocsConfig) -> None:
        """Let MkDocs write beside the site until all is written."""
        try:
            self._staging = Staging(Path(config.site_dir), lambda line: LOG.info("%s", printable(line)))
        except StagingError as error:
            raise PluginError(str(error)) from error
        for each in self._staging.mended:
            LOG.info("%s", each)
        config.site_dir = str(self._staging.folder)

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Add the pages; of those that are no result, one that somebody wrote by hand stays unless it gives way."""
        if self._site is None:
            return files
        added = self._added = Added.to(files, self._site, self._root, config)
        config.nav = merged_navigation(self._site.nav, config.nav, added.pages, added.by_hand)
        return files

    @event_priority(-110)  # after all that other plugins add
    def on_env(self, env: Environment, *, config: MkDocsConfig, files: Files) -> Environment:
        """Raise where something took the place of what was computed, or left it out, before a file is written."""
        if self._added is None:
            return env
        self._added.hold(files, config)
        self._added.feed_searches(config)
        return self._theme.around(env, config) if self._theme is not None else env

    @event_priority(-110)  # after what other plugins take for the page
    def on_pre_page(self, page: Page, *, config: MkDocsConfig, files: Files) -> Page:  # noqa: ARG002
        """Hand over a computed page ready-made."""
        finished = self._added.finished(page.file) if self._added is not None else None
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
        return article(with_regions(content), self._handbook, by_hand=True)

    @event_priority(-110)  # after all that other plugins write
    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """Finish the site and let it take the place of the one before it."""
        try:
            if self._added is not None:
                places = {uri: file.dest_uri for uri, file in self._added.files.items()}
                stop(lost_files(Path(config.site_dir), places, self._added.site.files), COMPUTED)
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
