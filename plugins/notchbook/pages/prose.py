"""Hand-written pages: computed values by `[[kind id: value]]`, formulae by `$...$` and `$$...$$`."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from notchbook.pages.formulae import FormulaError, mathml
from notchbook.pages.quantity import UnknownValueError
from notchbook.reading import rules
from notchbook.reading.document import finding_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from notchbook.findings import Finding, Rule
    from notchbook.handbook import Handbook

# Code is left alone: fences first, then spans. After it, what is replaced.
_PIECES = re.compile(
    r"(?P<fence>^(?P<marks>`{3,}|~{3,})[^\n]*\n.*?(?:^(?P=marks)[ \t]*$|\Z))"
    r"|(?P<span>(?P<ticks>`+)(?!`).*?(?<!`)(?P=ticks)(?!`))"
    r"|(?P<comment><!--.*?-->)"
    r"|(?P<value>\[\[(?P<inside>[^\[\]\n]*)\]\])"
    r"|\$\$(?P<block>.+?)\$\$"
    r"|(?<![\\$\w])\$(?P<inline>(?!\s)[^$\n]+?(?<![\s\\]))\$(?![\d$])",
    re.DOTALL | re.MULTILINE,
)
_VALUE = re.compile(r"\s*(?P<kind>[a-z]+)\s+(?P<id>[^\s:]+)\s*:\s*(?P<name>.+?)\s*\Z")
# What Markdown would still read inside the text of an element.
_ACTIVE_IN_TEXT = re.compile(r"[*_`\[\]\\]")
_TEXT_OF_ELEMENTS = re.compile(r">([^<>]+)<")
FORM = "[[kind id: value]]"


@dataclass(frozen=True, slots=True)
class Trouble:
    """Something in a hand-written page that cannot be shown."""

    rule: Rule
    message: str
    hint: str
    start: int
    """Where in the text, from 0."""


def rendered(handbook: Handbook, markdown: str) -> str:
    """The page's Markdown with its values and formulae filled in; what cannot be shown stays as it was written."""

    def fill(match: re.Match[str]) -> str:
        found = _filled(handbook, match)
        return found if isinstance(found, str) else match.group()

    return _PIECES.sub(fill, markdown)


def troubles(handbook: Handbook, markdown: str) -> Iterator[Trouble]:
    """Everything in the page that cannot be shown."""
    for match in _PIECES.finditer(markdown):
        found = _filled(handbook, match)
        if isinstance(found, Trouble):
            yield found


def _filled(handbook: Handbook, match: re.Match[str]) -> str | Trouble:
    """What takes the place of one piece of the page."""
    if match["value"] is not None:
        return _value(handbook, match)
    if match["block"] is not None or match["inline"] is not None:
        return _formula(match)
    return match.group()


def _value(handbook: Handbook, match: re.Match[str]) -> str | Trouble:
    parts = _VALUE.match(match["inside"])
    if parts is None:
        message = f"'{match.group()}' is not in the form {FORM}"
        return Trouble(rules.PROSE_VALUE, message, "put it in backticks if it is meant as it stands", match.start())
    # every chart and drawing of the site hangs on it, and most pages name no value
    from notchbook.pages.quantities import find

    try:
        shown = find(handbook, parts["kind"], parts["id"], parts["name"], f"picture-{match.start()}")
    except UnknownValueError as error:
        return Trouble(rules.PROSE_VALUE, str(error), error.hint, match.start())
    return f"\n\n{shown.html}\n\n" if shown.block else str(shown.html)


def _formula(match: re.Match[str]) -> str | Trouble:
    block = match["block"] is not None
    tex = match["block"] if block else match["inline"]
    begins = match.start("block" if block else "inline")
    try:
        element = mathml(tex.strip(), block=block)
    except FormulaError as error:
        lead = len(tex) - len(tex.lstrip())
        lines = tex.strip().splitlines(keepends=True)
        offset = sum(len(line) for line in lines[: error.line - 1]) + error.column - 1
        hint = "write it in the TeX that formulae are written in"
        return Trouble(rules.PROSE_FORMULA, f"is no formula: {error}", hint, begins + lead + offset)
    if block:
        return f"\n\n{element}\n\n"
    return _TEXT_OF_ELEMENTS.sub(lambda text: f">{_ACTIVE_IN_TEXT.sub(_entity, text[1])}<", element)


def _entity(match: re.Match[str]) -> str:
    return f"&#{ord(match.group())};"


def checked(handbook: Handbook) -> Handbook:
    """The handbook with the findings of its hand-written pages among the others."""
    folder = handbook.root / handbook.settings.prose if handbook.settings.prose is not None else None
    if folder is None or not folder.resolve().is_relative_to(handbook.root.resolve()):
        return handbook
    found: list[Finding] = []
    for path in sorted(folder.rglob("*.md")):
        try:
            markdown = path.read_text(encoding="utf-8")
        except (OSError, UnicodeDecodeError):
            continue  # MkDocs says so itself, at its own severity
        relative = path.relative_to(handbook.root).as_posix()
        for trouble in troubles(handbook, markdown):
            line = markdown.count("\n", 0, trouble.start) + 1
            column = trouble.start - (markdown.rfind("\n", 0, trouble.start) + 1) + 1
            found.append(finding_of(trouble.rule, relative, (line, column), trouble.message, trouble.hint))
    if not found:
        return handbook
    everything = sorted({*handbook.findings, *found}, key=lambda each: each.order)
    return replace(handbook, findings=tuple(everything))
