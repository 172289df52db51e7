"""The scripts with one comparison or one number changed, and the page's data with one value changed."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

# What a script is made of, as far as its comparisons and numbers are to be told from its texts.
_TOKEN = re.compile(
    r"""(?P<comment>/\*.*?\*/|//[^\n]*)|(?P<text>"(?:\\.|[^"\\])*"|'(?:\\.|[^'\\])*')|(?P<template>`(?:\\.|[^`\\])*`)"""
    r"""|(?P<pattern>(?<=[(,=:\[!&|?;])\s*/(?![/*])(?:\\.|\[(?:\\.|[^\]\\])*\]|[^/\\\n\[])+/[a-z]*)"""
    r"""|(?P<word>[A-Za-z_$][\w$]*)|(?P<number>[0-9]+(?:\.[0-9]+)?(?:e[-+]?[0-9]+)?)"""
    r"""|(?P<operator>===|!==|=>|<=|>=|<|>|.)""",
    re.DOTALL,
)
_INSIDE = re.compile(r"\$\{([^}]*)\}")
_TURNED = {"<": "<=", "<=": "<", ">": ">=", ">=": ">", "===": "!==", "!==": "==="}


@dataclass(frozen=True)
class Change:
    """One place of a script that is written otherwise."""

    name: str
    """The script."""
    line: str
    """The line as it was."""
    place: int
    """Where it begins in the script."""
    old: str
    new: str

    def __str__(self) -> str:
        return f"{self.name}: {self.line}: {self.old} to {self.new}"


def changes(name: str, source: str) -> Iterator[Change]:
    """Every comparison turned, and every number one more."""
    for start, piece in _pieces(source, 0):
        new = _TURNED.get(piece) or f"({piece} + 1)"
        first = source.rfind("\n", 0, start) + 1
        yield Change(name, source[first : source.find("\n", start)].strip(), start, piece, new)


def _pieces(source: str, offset: int) -> Iterator[tuple[int, str]]:
    """Comparisons and numbers with their places; those within the text of a template as well."""
    for found in _TOKEN.finditer(source):
        if found.lastgroup == "template":
            for inside in _INSIDE.finditer(found.group()):
                yield from _pieces(inside.group(1), offset + found.start() + inside.start(1))
        elif found.lastgroup == "number" or (found.lastgroup == "operator" and found.group() in _TURNED):
            yield offset + found.start(), found.group()


def changed(source: str, change: Change) -> str:
    """The script with the change in it."""
    end = change.place + len(change.old)
    assert source[change.place : end] == change.old
    return source[: change.place] + change.new + source[end:]
