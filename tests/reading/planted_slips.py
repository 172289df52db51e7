"""Slips planted in sound files by program: each a kind of slip, and every place in a text at which it can be made.

A planter gives the spoiled text and the line, from 1, on which the slip stands; the words are some that the message or
the hint about it has to hold.
"""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

Planted = tuple[str, int]
KEY = re.compile(r'(?<![^\s{,-])(?P<key>[A-Za-z_][\w.-]*|"[\w.-]+"):(?= |$)')
TEXT_ENTRY = re.compile(r"^ *- (?P<text>[A-Z][^:\n{\[]*)$", re.MULTILINE)
TEXT_VALUE = re.compile(r"^[ -]*[a-z_]+: (?P<text>[A-Z][^:#\n\"']*[a-z.])$", re.MULTILINE)
LATIN_TO_CYRILLIC = {"a": "а", "e": "е", "o": "о", "p": "р", "c": "с", "x": "х", "i": "і"}


@dataclass(frozen=True)
class Kind:
    """A kind of slip."""

    plant: Callable[[str], Iterator[Planted]]
    words: tuple[str, ...]


def places(kind: Kind, text: str, most: int) -> list[Planted]:
    """Some of the slips of a kind that can be planted in a text, evenly over it."""
    found = list(kind.plant(text))
    return found[len(found) // (2 * most) :: max(len(found) // most, 1)][:most]


def line_at(text: str, offset: int) -> int:
    return text.count("\n", 0, offset) + 1


def lines_outside_texts(text: str) -> Iterator[tuple[int, str]]:
    """Numbers, from 0, and texts of the lines that are keys and entries, not remarks or folded text."""
    deeper = None
    for number, line in enumerate(text.split("\n")):
        indent = len(line) - len(line.lstrip())
        if deeper is not None and (not line.strip() or indent > deeper):
            continue
        deeper = None
        if re.search(r"[:-] [|>][-+]?$", line):
            deeper = len(re.match(r" *(?:- )?", line).group())  # type: ignore[union-attr]
            if ":" not in line:
                deeper = indent
        if line.strip() and not line.lstrip().startswith("#"):
            yield number, line


def changed(text: str, number: int, line: str) -> Planted:
    lines = text.split("\n")
    lines[number] = line
    return "\n".join(lines), number + 1


def in_lines(change: Callable[[str], Iterator[str]]) -> Callable[[str], Iterator[Planted]]:
    """A planter of a change of single lines."""

    def plant(text: str) -> Iterator[Planted]:
        for number, line in lines_outside_texts(text):
            for spoiled in change(line):
                yield changed(text, number, spoiled)

    return plant


def replaced(pattern: str, put: str | Callable[[re.Match[str]], str]) -> Callable[[str], Iterator[str]]:
    """Changes of a line in which one match after another of a pattern is replaced."""
    form = re.compile(pattern)

    def change(line: str) -> Iterator[str]:
        for found in form.finditer(line):
            new = put(found) if callable(put) else put
            yield line[: found.start()] + new + line[found.end() :]

    return change


def shifted(by: int) -> Callable[[str], Iterator[Planted]]:
    """Planter of lines that begin some spaces too far in or out; lines between brackets may begin anywhere."""

    def plant(text: str) -> Iterator[Planted]:
        lines, depth = text.split("\n"), 0
        structure = dict(lines_outside_texts(text))
        first = True
        for number, line in enumerate(lines):
            if number not in structure:
                continue
            within = depth > 0
            depth += sum(line.count(sign) for sign in "{[") - sum(line.count(sign) for sign in "}]")
            indent = len(line) - len(line.lstrip())
            if within or first or indent + by < 0 or is_continuation(line):
                first = False
                continue
            yield changed(text, number, " " * (indent + by) + line.lstrip())

    return plant


def is_continuation(line: str) -> bool:
    """Whether the line goes on with a text without quotation marks, whose depth is free."""
    return not re.match(r" *- |[ -]*[\w.\"-]+:(?: |$)", line)


def closing_quote_lost(line: str) -> Iterator[str]:
    for found in re.finditer(r'"[^"]*"', line):
        yield line[: found.end() - 1] + line[found.end() :]


def opening_quotes_added(line: str) -> Iterator[str]:
    found = TEXT_VALUE.match(line)
    if found:
        yield line[: found.start("text")] + '"' + line[found.start("text") :]


def bracket_lost(signs: str) -> Callable[[str], Iterator[str]]:
    return replaced(f"[{re.escape(signs)}](?! +#)", "")


def comma_lost(line: str) -> Iterator[str]:
    """Commas between entries of braces; one between plain texts in a list would only join them."""
    for found in re.finditer(r"(?<=[\w\"}\]]), (?=[a-z_]+:)", line):
        yield line[: found.start()] + " " + line[found.end() :]


def colon_in_text(line: str) -> Iterator[str]:
    found = TEXT_VALUE.match(line) or TEXT_ENTRY.match(line)
    if found and " " in found["text"]:
        middle = line.index(" ", found.start("text"))
        yield line[:middle] + ":" + line[middle:]


def looks_alike(line: str) -> Iterator[str]:
    for key in KEY.finditer(line):
        for offset, letter in enumerate(key["key"]):
            if letter in LATIN_TO_CYRILLIC:
                at = key.start() + offset
                yield line[:at] + LATIN_TO_CYRILLIC[letter] + line[at + 1 :]
                break


def starting_with(signs: str) -> Callable[[str], Iterator[str]]:
    def change(line: str) -> Iterator[str]:
        found = TEXT_VALUE.match(line)
        if found:
            yield line[: found.start("text")] + signs + line[found.start("text") :]

    return change


def merged(text: str) -> Iterator[Planted]:
    lines = text.split("\n")
    for number, line in lines_outside_texts(text):
        if re.match(r" *- \{.*\}$|[a-z_]+: [\w.-]+$", line):
            other = ["<<<<<<< HEAD", line, "=======", line, ">>>>>>> other"]
            yield "\n".join([*lines[:number], *other, *lines[number + 1 :]]), number + 1


def fenced(text: str) -> Iterator[Planted]:
    yield f"```yaml\n{text}```\n", 1
    yield f"{text}```\n", text.count("\n") + 1


def on_parents_level(text: str) -> Iterator[Planted]:
    """The children of a key at the top, all of them on its own level."""
    for found in re.finditer(r"^[a-z_]+:\n((?:  [a-z_]+: .*\n)+)(?=\S|\Z)", text, re.MULTILINE):
        block = re.sub("^  ", "", found[1], flags=re.MULTILINE)
        yield text[: found.start(1)] + block + text[found.end(1) :], line_at(text, found.start(1))


def tabs(text: str) -> Iterator[Planted]:
    """Tabs in the place of the spaces before a key or an entry; between brackets they may stand."""
    for spoiled, number in shifted(0)(text):
        line = spoiled.split("\n")[number - 1]
        if line.startswith(" "):
            yield changed(text, number - 1, "\t" + line.lstrip())


KINDS: dict[str, Kind] = {
    "tab in the indentation": Kind(tabs, ("tab",)),
    "no space behind a colon": Kind(
        in_lines(replaced(r"(?<=[A-Za-z]): (?=[\w\"'\[{])", ":")), ("no space behind the colon",)
    ),
    "no space behind a dash": Kind(in_lines(replaced(r"(?<![^ ])- (?=[\w{\"])", "-")), ("space behind the dash",)),
    "colon in a text": Kind(in_lines(colon_in_text), ("colon",)),
    "closing quote lost": Kind(in_lines(closing_quote_lost), ("quotation mark",)),
    "opening quote without a closing one": Kind(in_lines(opening_quotes_added), ("quotation mark",)),
    "closing bracket lost": Kind(in_lines(bracket_lost("]}")), ("not closed", "lacks a", "closes the")),
    "opening bracket lost": Kind(in_lines(bracket_lost("[{")), ("was opened", "too many", "closes the", "bracket")),
    "comma lost": Kind(in_lines(comma_lost), ("lacks a comma",)),
    "semicolon": Kind(in_lines(replaced(r", (?=[a-z_]+:)", "; ")), ("semicolon",)),
    "merge marks": Kind(merged, ("merge",)),
    "pasted fence": Kind(fenced, ("```",)),
    "letter of another script in a key": Kind(in_lines(looks_alike), ("Cyrillic",)),
    "no-break space behind a colon": Kind(in_lines(replaced(r": (?=[\w\"{\[])", ":\u00a0")), ("U+00A0",)),
    "no-break space in a key": Kind(in_lines(replaced(r"(?<=[a-z])(?=_[A-Za-z]+:)", "\u00a0")), ("U+00A0",)),
    "no-width space in a key": Kind(in_lines(replaced(r"(?<=[a-z])(?=_[A-Za-z]+:)", "\u200b")), ("U+200B",)),
    "one space too far in": Kind(shifted(1), ("begins behind", "its dash")),
    "one space too far out": Kind(shifted(-1), ("begins behind", "its dash")),
    "child on its parent's level": Kind(on_parents_level, ("level",)),
    "per cent sign at the start": Kind(in_lines(starting_with("% ")), ("begin with %",)),
    "at sign at the start": Kind(in_lines(starting_with("@")), ("begin with @",)),
    "backtick at the start": Kind(in_lines(starting_with("`")), ("begin with `",)),
    "asterisks at the start": Kind(in_lines(starting_with("**")), ("begin with *",)),
    "vertical bar at the start": Kind(in_lines(starting_with("| ")), ("|",)),
    "more-than sign at the start": Kind(in_lines(starting_with("> ")), (">",)),
    "equals sign for a colon": Kind(in_lines(replaced(r"(?<=[a-z]): (?=[\w\"])", " = ")), ("= behind",)),
    "remark of another language": Kind(
        lambda text: (
            ("\n".join([*text.split("\n")[:number], f"{line[: len(line) - len(line.lstrip())]}// remark",
                        *text.split("\n")[number:]]), number + 1)
            for number, line in lines_outside_texts(text)
            if re.match(r"[ -]*[\w.\"-]+:(?: |$)| *- ", line)
        ),
        ("//",),
    ),
    "decimal comma": Kind(
        in_lines(replaced(r"(_\w+: )(\d+)\.(\d+)(?=[,} ]|$)", lambda m: f"{m[1]}{m[2]},{m[3]}")), ("comma",)
    ),
    "unit behind a number": Kind(
        in_lines(replaced(r"(?<=_mm: )([\d.]+)(?=[,} ]|$)", lambda m: f"{m[1]} mm")), ("unit",)
    ),
    "minus of a word processor": Kind(
        in_lines(replaced(r"(_\w+: )-?(\d+\.\d+)(?=[,} ]|$)", lambda m: f"{m[1]}−{m[2]}")), ("U+2212",)
    ),
    "number in curly quotes": Kind(
        in_lines(replaced(r"(_\w+: )-?(\d+\.\d+)(?=[,} ]|$)", lambda m: f"{m[1]}“{m[2]}”")), ("quotation marks",)
    ),
    "key with a capital": Kind(
        in_lines(replaced(r"(?<![^\s{,-])([a-z])(?=[a-z_]+_[A-Za-z0-9_]+: )", lambda m: m[1].upper())), ("letters",)
    ),
    "unit of a key forgotten": Kind(
        in_lines(replaced(r"(?<=[a-z])_(?:mm|deg|J|kg|C|pct|Nm|N)(?=: [\d.]+[,} ])", "")), ("with its unit",)
    ),
    "another unit in a key": Kind(in_lines(replaced(r"(?<=[a-z])_mm(?=: [\d.]+[,} ])", "_cm")), ("unit",)),
}  # fmt: skip
