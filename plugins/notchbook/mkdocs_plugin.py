"""The MkDocs door: the handbook's findings decide whether there is a build, its pages go in as generated files."""

from __future__ import annotations

import logging
import os
from pathlib import Path
from typing import TYPE_CHECKING

from mkdocs.config import config_options as options
from mkdocs.config.base import Config
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, event_priority
from mkdocs.structure.files import File, InclusionLevel
from mkdocs.utils import CountHandler

from notchbook.building.commit_time import commit_time
from notchbook.building.finishing import finish, is_dead_weight
from notchbook.building.staging import Staging, StagingError
from notchbook.findings import Severity, summary
from notchbook.handbook import Handbook, open_handbook
from notchbook.pages import prose
from notchbook.pages.assets import FIRST_SCRIPTS, FORGET_SCRIPT, KEEP_SCRIPT, SCRIPTS, STYLES, before
from notchbook.pages.regions import with_regions
from notchbook.pages.site import Site, build_site, merged_navigation
from notchbook.pages.text import build_day, notice
from notchbook.reading.settings import Settings

if TYPE_CHECKING:
    from mkdocs.config.defaults import MkDocsConfig
    from mkdocs.structure.files import Files
    from mkdocs.structure.pages import Page

    from notchbook.checks.run import Treatment

log = logging.getLogger("mkdocs.plugins.notchbook")
_LEVELS = {Severity.ERROR: logging.ERROR, Severity.WARNING: logging.WARNING, Severity.NOTE: logging.INFO}


class NotchbookConfig(Config):  # type: ignore[no-untyped-call]  # MkDocs leaves a hook untyped
    """The plugin's block in mkdocs.yml."""

    procedures = options.Type(str, default="procedures")
    """Folder of rigs, materials, exercises and hazards, beside mkdocs.yml."""
    results = options.Type(str, default="results")
    """Folder of verifications and tests, beside mkdocs.yml."""
    deviations = options.Choice(("refuse", "label"), default="refuse")
    """Whether a declared departure from a method fails the build or is published with its mark."""
    notice = options.Type(str, default="")
    """Shown at the top of every page."""


class NotchbookPlugin(BasePlugin[NotchbookConfig]):  # type: ignore[no-untyped-call]
    """Reads and checks the handbook before anything is written, then adds its pages."""

    def __init__(self) -> None:
        self._site: Site | None = None
        self._handbook: Handbook | None = None
        self._root = Path()
        self._staging: Staging | None = None
        self._in_place = self._preview = False

    def on_startup(self, *, command: str, dirty: bool) -> None:
        """Learn whether this is a preview or a build of single pages: both write where the site is."""
        self._in_place = dirty or command == "serve"
        self._preview = command == "serve"

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Read and check everything; raise before MkDocs empties the old site where the build must fail."""
        self._root = Path(config.config_file_path or "mkdocs.yml").resolve().parent
        chosen = self.config
        treatment: Treatment = "label" if chosen.deviations == "label" else "refuse"
        prose_folder = Path(os.path.relpath(config.docs_dir, self._root)).as_posix()
        settings = Settings(chosen.procedures, chosen.results, treatment, chosen.notice, prose_folder)
        when = None if self._preview or "SOURCE_DATE_EPOCH" in os.environ else commit_time(self._root)
        if when is not None:
            # MkDocs dates its own files by it
            os.environ["SOURCE_DATE_EPOCH"] = str(when.epoch)
        handbook = prose.checked(open_handbook(self._root, settings, day=when.day if when else None))
        self._handbook = handbook
        _report(handbook, strict=config.strict)
        self._site = build_site(
            handbook,
            site_name=config.site_name,
            site_url=config.site_url or "",
            directory_urls=config.use_directory_urls,
        )
        _add_assets(config, preview=self._preview)
        config.watch = before([str(self._root / each) for each in (chosen.procedures, chosen.results)], config.watch)
        if not self._in_place:
            self._stage(config)
        return config

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
        """Add the pages; a page of the same address that somebody wrote by hand stays."""
        if self._site is None:
            return files
        written = {file.dest_uri: file.src_uri for file in files if file.inclusion is not InclusionLevel.EXCLUDED}
        by_hand: dict[str, str] = {}
        for uri, content in self._site.files.items():
            listed = uri in self._site.listed
            level = InclusionLevel.UNDEFINED if listed else InclusionLevel.NOT_IN_NAV
            file = File.generated(config, uri, content=content, inclusion=level)
            if file.dest_uri in written:
                by_hand[uri] = written[file.dest_uri]
                continue
            source = self._site.sources.get(uri)
            if source is not None:
                file.edit_uri = Path(os.path.relpath(self._root / source, config.docs_dir)).as_posix()
            files.append(file)
        for file in [each for each in files if is_dead_weight(each.dest_uri, _search_languages(config))]:
            files.remove(file)
        pages = sorted(uri for uri in written.values() if uri.endswith(".md"))
        config.nav = merged_navigation(self._site, config.nav, pages, by_hand)
        return files

    def on_page_markdown(self, markdown: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:  # noqa: ARG002
        """Fill the values and formulae into a hand-written page."""
        if self._handbook is None or page.file.generated_by is not None:
            return markdown
        return prose.rendered(self._handbook, markdown)

    def on_page_content(self, html: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:  # noqa: ARG002
        """Put the notice above every page, what can be wider than it into regions, and the day of the build below."""
        end = build_day(self._handbook.day) if self._handbook is not None else ""
        return notice(self.config.notice) + with_regions(html) + end

    @event_priority(-110)  # after all that other plugins write
    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """Finish the site and let it take the place of the one before it."""
        try:
            if not self._preview:
                finish(Path(config.site_dir))
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
