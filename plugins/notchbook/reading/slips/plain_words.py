"""A break that no slip explains, in words for somebody who does not know how a file is read."""

import re

import yaml

from notchbook.reading import rules
from notchbook.reading.nodes import Flaw, start_of

ANOTHER_DOCUMENT = "but found another document"
_CLOSE = "close it behind the text"
_NEIGHBOURS = "look at this line and the one above it"
# What libyaml says of a break, where it is told (at what it was reading, or where it gave up), what it means and what
# to do. The texts of libyaml 0.2 are in its sources: src/scanner.c and src/parser.c.
_WORDS: tuple[tuple[str, bool, str, str], ...] = (
    (ANOTHER_DOCUMENT, False, "holds a second document from here on",
     "delete this line and what follows, or give it a file of its own"),
    ("could not find expected ':'", True, "holds no key with a colon and a space behind it here",
     "write it as `key: value`"),
    ("mapping values are not allowed", False, "has a colon here that would begin a value, where none can begin",
     "put a text that holds a colon in quotes, or begin the line exactly under the key above it"),
    ("did not find expected key", False, "goes on here with something that belongs to none of the keys above",
     "begin the line exactly under a key above it; a quoted text or a closing bracket ends the value before it"),
    ("did not find expected '-'", False, "goes on here with something that is no entry of the list above",
     "begin each entry with a dash and a space, exactly under the dash above it"),
    ("did not find expected ',' or", False, "lacks a comma or a closing bracket before this place", _NEIGHBOURS),
    ("block sequence entries are not allowed", False, "has a dash here, where no list can begin",
     "begin the list on the line below its key"),
    ("found unexpected end of stream", True, "has a quotation mark here that is never closed", _CLOSE),
    ("found unexpected document indicator", True, "has a quotation mark here that is not closed", _CLOSE),
    ("cannot start any token", False, "has a sign here that no text can begin with", "put the text in quotes"),
    ("alphabetic or numeric", True, "has a * or & here, with which no text can begin", "put the text in quotes"),
    ("escape", False, "has a backslash here that means nothing",
     "put the text in 'single' quotes, in which a backslash is one"),
    ("tab", False, "has a tab here, where only spaces may stand", "write spaces in its place"),
)  # fmt: skip


def flaw_of(error: yaml.MarkedYAMLError) -> Flaw:
    """The break where libyaml met it."""
    problem = error.problem or ""
    other = ("", False, "cannot be read from here on", _NEIGHBOURS)
    if re.search("tag|directive|version", f"{problem} {error.context}", re.IGNORECASE):
        message = "has a ! or % here that begins a command to the reader"
        other = ("", False, message, "put a text that begins with ! or % in quotes")
    _, at_begin, message, hint = next((each for each in _WORDS if each[0] in problem), other)
    mark = error.context_mark if at_begin and error.context_mark is not None else error.problem_mark
    return Flaw(rules.YAML_SYNTAX, message, hint, *start_of(mark or error.context_mark))
