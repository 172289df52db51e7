"""A hand-written page on its way to a reader: what the handbook fills in is kept apart from what somebody wrote.

Values and formulae go through Markdown between marks that no page can hold. In the HTML that comes of it, whatever
extensions and hooks did, they are taken out; the rest is held against the sanitiser and published as the sanitiser
leaves it, with the values back in their places.
"""

import hashlib
import html
import re
from collections.abc import Callable, Iterable, Iterator
from typing import Any

from notchbook.pages.written.filled import Filled, Trouble
from notchbook.pages.written.notation import Piece, pieces
from notchbook.site_reading.markup import refusals
from notchbook.site_reading.sanitiser import cleaned


class GuardedPage:
    """One page, from its Markdown to its HTML."""

    def __init__(self, written: str, fill: Callable[[Piece], Filled | Trouble]) -> None:
        """Fill in its values and formulae.

        Arguments:
            written: the page without its front matter.
            fill: gives what takes the place of a piece; where that is a trouble, the piece stays.
        """
        self.mark = f"nbkept{hashlib.sha256(written.encode()).hexdigest()[:20]}n"
        """A word that no page can hold, because it comes of the page's own text."""
        self._written: list[str] = []
        self._blocks: dict[int, str] = {}
        self._taken: list[tuple[int, str]] = []
        parts, end = [], 0
        for piece in pieces(written):
            found = fill(piece)
            if isinstance(found, Filled):
                parts += [written[end : piece.start], self._marked(found.html)]
                self._written.append(written[piece.start : piece.end])
                end = piece.end
        self.markdown = "".join([*parts, written[end:]])
        """For Markdown."""

    def _marked(self, filling: str) -> str:
        number = len(self._written)
        if not filling.startswith("\n"):
            return f"<{self.mark}{number}x>{filling}</{self.mark}{number}x>"
        self._blocks[number] = filling.strip()
        return f"\n\n<div id={self.mark}{number}x></div>\n\n"

    def bare(self, made: str) -> str:
        """The HTML that Markdown made, with a word in the place of each value and formula.

        In code, where everything is text, their notation is shown as it was written.
        """
        self._taken = []
        name = rf"{self.mark}(?P<number>\d+)x"
        block = rf"{self.mark}(?P<block>\d+)x"
        in_code = rf"&lt;(?:{name}&gt;.*?&lt;/{self.mark}(?P=number)x|div id={block}&gt;&lt;/div)&gt;"
        made = re.sub(in_code, self._as_text, made, flags=re.DOTALL)
        between = rf"<{name}>(?P<inner>.*?)</{self.mark}(?P=number)x>|<div id=\"?{block}\"?></div>"
        return re.sub(between, self._take, made, flags=re.DOTALL)

    def _as_text(self, found: re.Match[str]) -> str:
        return html.escape(self._written[int(found["number"] or found["block"])], quote=False)

    def _take(self, found: re.Match[str]) -> str:
        number = int(found["number"] or found["block"])
        self._taken.append((number, found["inner"] if found["block"] is None else self._blocks[number]))
        return f"{self.mark}{len(self._taken) - 1}y"

    def as_written(self, text: str) -> str:
        """A part of the bare HTML with the notation for the words."""
        return self._with_words(text, lambda number: self._written[self._taken[number][0]])

    def _with_words(self, text: str, word: Callable[[int], str]) -> str:
        return re.sub(rf"{self.mark}(\d+)y", lambda found: word(int(found[1])), text)

    def published(self, made: str, titles: Iterable[str] = ()) -> tuple[str, list[str]]:
        """What is published of the HTML that Markdown made, and what stands in the way.

        Arguments:
            made: of `markdown`.
            titles: what else of the page stands in the site, such as its headings in the table of contents.
        """
        bare = self.bare(made)
        found = [each for text in (bare, *titles) for each in refusals(text, self.mark)]
        back = self._with_words(cleaned(bare), lambda number: self._taken[number][1])
        return back, [f"{self.as_written(each.message)}; {each.hint}" for each in found]


def plain_settings(values: Any) -> Any:
    """What stands at the head of a page with all texts escaped: themes put them into their templates as they are."""
    return _plain(values, {})


def _plain(values: Any, known: dict[int, Any]) -> Any:
    # by identity: an alias stands for the same list wherever it is named, and for nothing inside itself
    if isinstance(values, str):
        return html.escape(values)
    if not isinstance(values, dict | list):
        return values
    if id(values) not in known:
        known[id(values)] = None
        if isinstance(values, dict):
            known[id(values)] = {key: _plain(each, known) for key, each in values.items()}
        else:
            known[id(values)] = [_plain(each, known) for each in values]
    return known[id(values)]


def titles_of(entries: Iterable[Any]) -> Iterator[str]:
    """The titles in a table of contents as MkDocs holds it."""
    for each in entries:
        yield each.title
        yield from titles_of(each.children)
