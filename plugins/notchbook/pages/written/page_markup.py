"""The HTML of hand-written pages: what in it is not published, and where in the page that was written."""

import html
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from notchbook.findings import Finding
from notchbook.pages.written.filled import Filled, Trouble, findings_of
from notchbook.pages.written.guarded_page import GuardedPage
from notchbook.pages.written.markdown_bounds import too_much
from notchbook.pages.written.markdown_html import Converter
from notchbook.pages.written.notation import without_code
from notchbook.site_reading import site_rules
from notchbook.site_reading.front_matter import front_matter
from notchbook.site_reading.markup import Refusal, refusals
from notchbook.site_reading.pages import WrittenPage

_TEXT_BEFORE = re.compile(r">([^<>]*[^<>\s][^<>]*)<")
_LOOKED_BACK = 2_000


class MarkupLook:
    """A look at the HTML of hand-written pages, with the Markdown of one site."""

    def __init__(self, values: dict[Any, Any], root: Path) -> None:
        """Take the settings of the site, as mkdocs.yml has them, and the handbook's root."""
        self._converter = Converter(values.get("markdown_extensions"), root)
        theme = values.get("theme")
        custom = theme.get("custom_dir") if isinstance(theme, dict) else None
        self._templates = root / custom if isinstance(custom, str) else None

    def findings(self, page: WrittenPage) -> Iterator[Finding]:
        """Everything in the page's HTML, and at its head, that is not published; at most some hundred."""
        page = replace(page, text=page.text.replace("\r\n", "\n").replace("\r", "\n"))
        head = front_matter(page.text)
        yield from _of_head(page, head.values, self._templates)
        yield from findings_of(page, self._of_body(page.text[head.end :]), head.end)

    def _of_body(self, body: str) -> Iterator[Trouble]:
        excess = too_much(body)
        if excess is not None:
            start, message, hint = excess
            yield Trouble(site_rules.PAGE_MARKUP, message, hint, start)
            return
        page = GuardedPage(body, lambda _: Filled("value"))
        try:
            made = page.bare(self._converter.html(page.markdown))
        except RecursionError:
            yield Trouble(site_rules.PAGE_MARKUP, "is nested too deep to be read", "flatten its lists and quotes", 0)
            return
        except Exception as error:  # an extension stumbles over the page; the build would end there
            message = f"cannot be made into a page: {type(error).__name__}: {error}"
            yield Trouble(site_rules.PAGE_MARKUP, message, "look for what is unusual in it", 0)
            return
        places = _Places(body)
        for each in refusals(made, page.mark):
            written = replace(each, text=page.as_written(each.text), subject=page.as_written(each.subject))
            rule = site_rules.PAGE_LINK if each.is_address else site_rules.PAGE_MARKUP
            yield Trouble(rule, page.as_written(each.message), each.hint, places.of(written, made))


def _of_head(page: WrittenPage, values: dict[Any, Any], templates: Path | None) -> Iterator[Finding]:
    name = values.get("template")
    if not isinstance(name, str) or _is_own(name, templates):
        return
    message = f"chooses the template '{name[:60]}', which is none of the handbook's own"
    hint = "take the line out, or put the template into the folder that mkdocs.yml names under theme: custom_dir"
    yield page.finding(site_rules.PAGE_MARKUP, max(page.text.find("template"), 0), message, hint)


def _is_own(name: str, templates: Path | None) -> bool:
    try:
        return templates is not None and (templates / name).is_file()
    except (OSError, ValueError):
        return False


class _Places:
    """Where in a page stands what was found in its HTML: the same tag, attribute or address as often as there."""

    def __init__(self, body: str) -> None:
        # what is code does nothing, unless Markdown takes it for something else
        self._texts = tuple(_folded(each) for each in (without_code(body), body))
        self._next: dict[str, int] = {}

    def of(self, refusal: Refusal, made: str) -> int:
        """The place in the page, from 0; that of the text before it where Markdown made the tag."""
        tag = self._find(refusal.text)
        if tag is not None:
            return tag + max(refusal.text.find(refusal.subject), 0)
        for subject in dict.fromkeys((refusal.subject, html.unescape(refusal.subject))):
            place = self._find(subject)
            if place is not None:
                return place
        before = _TEXT_BEFORE.findall(made, max(refusal.start - _LOOKED_BACK, 0), refusal.start + 1)
        for text in reversed(before):
            place = self._texts[1].find(html.unescape(text).strip().lower().rpartition("\n")[2])
            if place >= 0:
                return place
        return len(self._texts[1]) - len(self._texts[1].lstrip())

    def _find(self, needle: str) -> int | None:
        needle = needle.lower()
        for text in self._texts:
            for start in (self._next.get(needle, 0), 0):
                place = text.find(needle, start)
                if place >= 0:
                    self._next[needle] = place + len(needle)
                    return place
        return None


def _folded(text: str) -> str:
    """In small letters, where each character stays in its place."""
    small = text.lower()
    return small if len(small) == len(text) else text
