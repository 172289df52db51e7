"""The MkDocs door: the handbook's findings decide whether there is a build, its pages go in as generated files."""

from __future__ import annotations

import logging
import os
from pathlib import Path
from typing import TYPE_CHECKING

from mkdocs.config import config_options as options
from mkdocs.config.base import Config
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File, InclusionLevel

from notchbook.findings import Severity, summary
from notchbook.handbook import Handbook, open_handbook
from notchbook.pages import prose
from notchbook.pages.assets import SCRIPTS, STYLES
from notchbook.pages.site import Site, build_site, merged_navigation
from notchbook.pages.text import notice
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

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Read and check everything; raise before MkDocs empties the old site where the build must fail."""
        self._root = Path(config.config_file_path or "mkdocs.yml").resolve().parent
        chosen = self.config
        treatment: Treatment = "label" if chosen.deviations == "label" else "refuse"
        prose_folder = Path(os.path.relpath(config.docs_dir, self._root)).as_posix()
        settings = Settings(chosen.procedures, chosen.results, treatment, chosen.notice, prose_folder)
        handbook = self._handbook = prose.checked(open_handbook(self._root, settings))
        _report(handbook, strict=config.strict)
        self._site = build_site(handbook, site_name=config.site_name, directory_urls=config.use_directory_urls)
        # the handbook's own styles come first, so that a department's can change what they say
        config.extra_css = [*STYLES, *(each for each in config.extra_css if each not in STYLES)]
        named = set(map(str, config.extra_javascript))
        config.extra_javascript.extend(each for each in SCRIPTS if each not in named)
        for folder in (settings.procedures, settings.results):
            path = str(self._root / folder)
            if path not in config.watch:
                config.watch.append(path)
        return config

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
        pages = sorted(uri for uri in written.values() if uri.endswith(".md"))
        config.nav = merged_navigation(self._site, config.nav, pages, by_hand)
        return files

    def on_page_markdown(self, markdown: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:  # noqa: ARG002
        """Fill the values and formulae into a hand-written page."""
        if self._handbook is None or page.file.generated_by is not None:
            return markdown
        return prose.rendered(self._handbook, markdown)

    def on_page_content(self, html: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:  # noqa: ARG002
        """Put the notice above every page."""
        return notice(self.config.notice) + html


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
