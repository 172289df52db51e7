"""Findings for a person at a terminal: in colour, each with the line that it is about and a mark under the place."""

import os
import shutil
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

import click

from notchbook.findings import Finding, Severity
from notchbook.reading.files import bytes_of, link_trouble
from notchbook.wording.lines import cells, printable

_COLOURS = {Severity.ERROR: "red", Severity.WARNING: "yellow", Severity.NOTE: "cyan"}
_SHOWN_BEFORE = 0.6
"""Share of the terminal's width that is kept before the place in a line that is too long."""


def at_terminal() -> bool:
    """Whether a person reads what is printed."""
    stdout = getattr(sys, "stdout", None)  # a process may be started without
    return stdout is not None and stdout.isatty()


def for_terminal(findings: Iterable[Finding], root: Path) -> Iterator[str]:
    """Each finding as its line, then the line that it is about of the file, whose path counts from the root."""
    width = max(shutil.get_terminal_size().columns, 40)
    lines: dict[str, list[str]] = {}
    for each in findings:
        if each.path not in lines:
            lines = {each.path: _lines(root, root / each.path)}  # findings come file by file
        place = _paint(f"{printable(each.path)}:{each.line}:{each.column}:", bold=True)
        severity = _paint(f"{each.severity}:", colour=_COLOURS[each.severity], bold=True)
        yield f"{place} {severity} {each.text} {_paint(f'[{each.rule}]', dim=True)}\n"
        if each.line <= len(lines[each.path]):
            yield from _excerpt(lines[each.path][each.line - 1], each, width)


def _lines(root: Path, path: Path) -> list[str]:
    """The lines of a file; none where it cannot be shown."""
    raw = bytes_of(path) if not link_trouble(root, path) else b""
    return raw.decode("utf-8-sig", "replace").splitlines() if isinstance(raw, bytes) else []


def _excerpt(line: str, finding: Finding, width: int) -> Iterator[str]:
    """The part of a line around the place, and a mark under it."""
    margin = f"{finding.line:>5} | "
    room = width - len(margin) - 1
    at = min(finding.column - 1, len(line))
    start = max(0, at - int(room * _SHOWN_BEFORE)) if len(line) > room else 0
    before, after = (printable(part.replace("\t", " ")) for part in (line[start:at], line[at : start + room]))
    yield f"{_paint(margin, dim=True)}{before}{after}\n"
    mark = _paint("^", colour=_COLOURS[finding.severity], bold=True)
    yield f"{_paint(' ' * (len(margin) - 2) + '| ', dim=True)}{' ' * cells(before)}{mark}\n"


def _paint(text: str, *, colour: str | None = None, bold: bool = False, dim: bool = False) -> str:
    """The text in a colour, unless the reader asked for none (no-color.org)."""
    if os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb":
        return text
    # what is False here would end the other: both are normal intensity
    return click.style(text, fg=colour, bold=bold or None, dim=dim or None)
