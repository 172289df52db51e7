"""Hand-written pages: computed values by `[[kind id: value]]`, formulae by `$...$` and `$$...$$`."""

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

from notchbook.facts.facts import Facts
from notchbook.findings import Finding
from notchbook.handbook import Handbook
from notchbook.pages.written.causes import Causes
from notchbook.pages.written.filled import Filled, MissingValueError, Trouble, UnknownValueError, findings_of
from notchbook.pages.written.formulae import FormulaError, mathml
from notchbook.pages.written.notation import FORM, Piece, pieces
from notchbook.pages.written.places import in_the_way
from notchbook.site_reading import site_rules
from notchbook.site_reading.docs_files import named_scripts
from notchbook.site_reading.pages import folder_findings, prose_folder, read_pages
from notchbook.site_reading.site_config import SiteConfig, config_path, read_site_config

# Of one page; each picture is drawn anew and takes some hundredths of a second.
_MOST_PICTURES = 30
_MOST_PIECES = 2_000
_LONGEST_NOTATION = 2_000
_LONGEST_SHOWN = 100
_VALUE = re.compile(r"(?P<kind>[a-z]+)\s+(?P<id>[^\s:]+)\s*:\s*(?P<name>\S.*)\Z")
# What Markdown would still read inside the text of an element.
_ACTIVE_IN_TEXT = re.compile(r"[*_`\[\]\\]")
_TEXT_OF_ELEMENTS = re.compile(r">([^<>]+)<")


def rendered(facts: Facts, markdown: str) -> str:
    """The page's Markdown with its values and formulae filled in; what cannot be shown stays as it was written."""
    parts, end = [], 0
    for piece in pieces(markdown):
        found = filled(facts, piece)
        if isinstance(found, Filled):
            parts += [markdown[end : piece.start], found.html]
            end = piece.end
    return "".join([*parts, markdown[end:]])


def troubles(facts: Facts, markdown: str) -> Iterator[Trouble]:
    """Everything in the page that cannot be shown, but for what follows from an error in the data, told at its place.

    A page of too many pieces is looked at up to there.
    """
    pictures, causes = 0, Causes(facts)
    for number, piece in enumerate(pieces(markdown), start=1):
        if number > _MOST_PIECES:
            message = f"is one of more than {_MOST_PIECES:,} values and formulae of this page"
            yield Trouble(site_rules.PROSE_VALUE, message, "split the page", piece.start)
            return
        found = filled(facts, piece)
        if isinstance(found, Trouble):
            if found.missing is None or not causes.explain(*found.missing):
                yield found
        elif found.is_picture:
            pictures += 1
            if pictures > _MOST_PICTURES:
                message = f"is one of more than {_MOST_PICTURES} pictures of this page"
                yield Trouble(site_rules.PROSE_VALUE, message, "split the page", piece.start)
                return


def filled(facts: Facts, piece: Piece) -> Filled | Trouble:
    """What takes the place of a piece of the page, or why nothing can; a block of its own has empty lines around it."""
    return _value(facts, piece) if piece.kind == "value" else _formula(piece)


def _value(facts: Facts, piece: Piece) -> Filled | Trouble:
    parts = _VALUE.match(piece.inside.strip()) if len(piece.inside) <= _LONGEST_NOTATION else None
    if parts is None:
        inside = piece.inside if len(piece.inside) <= _LONGEST_SHOWN else f"{piece.inside[:_LONGEST_SHOWN]}…"
        message = f"'[[{inside}]]' is not in the form {FORM}"
        return Trouble(site_rules.PROSE_VALUE, message, "put it in backticks if it is meant as it stands", piece.start)
    # every chart and drawing of the site hangs on it, and most pages name no value
    from notchbook.pages.written.quantities import find

    try:
        return find(facts, parts["kind"], parts["id"], parts["name"], f"picture-{piece.start}")
    except UnknownValueError as error:
        missing = (parts["kind"], parts["id"]) if isinstance(error, MissingValueError) else None
        return Trouble(site_rules.PROSE_VALUE, str(error), error.hint, piece.start, missing)


def _formula(piece: Piece) -> Filled | Trouble:
    tex, block = piece.inside, piece.kind == "block"
    try:
        element = mathml(tex.strip(), block=block)
    except FormulaError as error:
        lead = len(tex) - len(tex.lstrip())
        lines = tex.strip().splitlines(keepends=True)
        offset = lead + sum(len(line) for line in lines[: error.line - 1]) + error.column - 1
        hint = "write it in the TeX that formulae are written in"
        start = piece.inside_start + min(offset, len(tex))
        return Trouble(site_rules.PROSE_FORMULA, f"is no formula: {error}", hint, start)
    if block:
        return Filled(f"\n\n{element}\n\n")
    return Filled(_TEXT_OF_ELEMENTS.sub(lambda text: f">{_ACTIVE_IN_TEXT.sub(_entity, text[1])}<", element))


def _entity(match: re.Match[str]) -> str:
    return f"&#{ord(match.group())};"


def checked(handbook: Handbook, config: SiteConfig | None = None) -> Handbook:
    """The handbook with the findings of its hand-written pages, and of files in the way of its own, among them.

    Arguments:
        handbook: as it was read.
        config: the settings of the site; those in the handbook's root where left out.
    """
    config = config or read_site_config(config_path(handbook.root))
    found = [*in_the_way(handbook), *folder_findings(config, handbook.settings)]
    folder = prose_folder(handbook.root, handbook.settings)
    if folder is not None:
        found += _of_pages(handbook, folder, config.values)
    if not found:
        return handbook
    return replace(handbook, findings=tuple(sorted({*handbook.findings, *found}, key=lambda each: each.order)))


def _of_pages(handbook: Handbook, folder: Path, values: dict[Any, Any]) -> Iterator[Finding]:
    refused = handbook.settings.raw_html == "refuse"
    pages, found = read_pages(handbook.root, folder, named_scripts(values) if refused else None)
    yield from found
    facts = Facts(handbook)
    for page in pages:
        yield from findings_of(page, troubles(facts, page.text))
    if refused and pages:
        # Markdown and its extensions hang on it, and many handbooks have no page of their own
        from notchbook.pages.written.page_markup import MarkupLook

        look = MarkupLook(values, handbook.root)
        for page in pages:
            yield from look.findings(page)
