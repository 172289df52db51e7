"""A finished page as one of MkDocs, which neither reads nor parses it."""

import html
import re
from functools import cached_property
from typing import cast

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import Files
from mkdocs.structure.pages import Page
from mkdocs.structure.toc import TableOfContents, get_toc

from notchbook.pages.finished import FinishedPage
from notchbook.pages.toc import toc_tokens

_IDS = re.compile(r' id="([^"]*)"')


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
        self._depth = config.mdx_configs.get("toc", {}).get("toc_depth", 6)
        # a preview asks few pages for it
        self.__dict__.pop("toc", None)

    @cached_property
    def toc(self) -> TableOfContents:  # type: ignore[override]  # others may set it all the same
        """Those of its headings that the site wants in a table of contents."""
        return get_toc(toc_tokens(self.finished, self._depth))

    @cached_property
    def present_anchor_ids(self) -> set[str]:  # type: ignore[override]
        """The places that a hand-written page may link to."""
        return set(_IDS.findall(self.finished.body))
