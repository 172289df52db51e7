"""Strategies for inputs: bytes and texts near YAML, wild data of the right form, hand-written pages, settings."""

import json
from collections.abc import Iterator
from typing import Any

from hypothesis import strategies as st

from fuzz import demo
from notchbook.reading.schemas import schema

_PIECES = (
    "a", "b: ", "- ", "? ", ": ", "\n", "\n  ", "\n    ", "{", "}", "[", "]", ", ", "'", '"', "|\n", ">-\n", "&x ",
    "*x", "!", "!!str ", "!!binary ", "---\n", "...\n", "%YAML 1.2\n", "%TAG ! x\n", "#", "\t", "\\", "\\u202e",
    "0x1f", "0o8", "1e9", "1e999", ".inf", "-.nan", "~", "<<: ", "\ufeff", "\x85", "\u2028", "\u2029", "é", "😀",
    "\0", "\x1b[31m", "\r", "\r\n", "1_000", "12:30", "2026-02-30", "no", "null", "kind: test\n", "specimens: ",
    "\u202e", "\ud7ff", "@b.de",
)  # fmt: skip
_SHORT = 3_000
_FACTORS = (-1.0, 0.0, 1e-9, 0.001, 0.1, 0.5, 0.9, 0.99, 0.999, 1.001, 1.01, 1.1, 2.0, 10.0, 1000.0, 1e9)
_BREAKING = (b"\xff", b"\xc0\x80", b"\xed\xa0\x80", b"\xfe\xff", b"\x00", b"\xef\xbb\xbf", b"\r", b"\x85")
_NUMBERS = (
    "0", "-0.0", "1e-30", "1e-31", "1e-9", "1e15", "1e308", "1e309", "0x10", "1_000", "9" * 15, "9" * 400,
    "0." + "1" * 398, ".5", "1.", "+3", "-7", "179.99999", "180", "360", "1e5", "0.1", "100",
)  # fmt: skip
_WORDS = (
    "none", "A", "C", "N", "P", "edgewise", "iso-179-1", "pp-h", "bench-1", "charpy-1", "2026-10-05", "0001-01-01",
    "9999-12-31", "2026-02-30", "<script>x</script>", "../x", "{{ 7*7 }}", "", " ", "x" * 200, "\u202e",
    "support-span",
)  # fmt: skip


def texts_near_yaml() -> st.SearchStrategy[str]:
    """Nothing but pieces of YAML, or a file of the demo with pieces put in, taken out and said twice."""
    pieces = st.lists(st.sampled_from(_PIECES), max_size=30).map("".join)
    return st.one_of(pieces, st.text(max_size=60), _changed(st.sampled_from(_short_texts())))


def _short_texts() -> list[str]:
    """The files of the demo but the longest, of which more inputs would be the same in most of what they say."""
    return [each for each in sorted(demo.texts().values()) if len(each) < _SHORT]


@st.composite
def _changed(draw: st.DrawFn, files: st.SearchStrategy[str]) -> str:
    text = draw(files)
    for _ in range(draw(st.integers(1, 4))):
        start = draw(st.integers(0, len(text)))
        end = min(len(text), start + draw(st.integers(0, 40)))
        new = draw(st.sampled_from((*_PIECES, *_NUMBERS, *_WORDS, text[start:end] * 2)))
        text = text[:start] + new + text[end:]
    return text


def files() -> st.SearchStrategy[tuple[str, bytes]]:
    """A kind of file and the bytes of one."""
    kinds = st.sampled_from(sorted({kind for kind, _ in demo.texts()}))
    broken = st.tuples(texts_near_yaml(), st.sampled_from(_BREAKING), st.integers(0, 10_000)).map(
        lambda parts: _put(parts[0].encode("utf-8", "surrogatepass"), parts[1], parts[2])
    )
    of_text = texts_near_yaml().map(lambda text: text.encode("utf-8", "surrogatepass"))
    other = texts_near_yaml().map(lambda text: text.encode("utf-16", "surrogatepass"))
    return st.tuples(kinds, st.one_of(of_text, of_text, broken, other, st.binary(max_size=80)))


def _put(raw: bytes, piece: bytes, place: int) -> bytes:
    place %= len(raw) + 1
    return raw[:place] + piece + raw[place:]


_SCALARS = st.one_of(
    st.sampled_from([*_NUMBERS, "~", "true"]).map(lambda written: {"written": written}),
    st.floats(allow_nan=False, allow_infinity=False),
    st.floats(0, 200),
    st.integers(-10, 10**16),
    st.sampled_from(_WORDS),
    st.text(max_size=10),
)


@st.composite
def wild_files(draw: st.DrawFn) -> tuple[bool, dict[tuple[str, str], str]]:
    """Whether deviations are only labelled, and one or two files of the demo with other values in them.

    Most of them are as wild as their schema allows, so that the file is let through and worked out.
    """
    changed = {}
    places = draw(st.lists(st.sampled_from(sorted(demo.texts())), min_size=1, max_size=2, unique=True))
    for place in places:
        data = json.loads(json.dumps(demo.data(*place)))
        leaves = list(_leaves(data))
        numbers = [keys for keys in leaves if _is_number(_at(data, keys))]
        for _ in range(draw(st.integers(1, 4))):
            often = draw(st.integers(0, 9)) > 0
            keys = draw(st.sampled_from(numbers if numbers and often else leaves))
            if _is_number(_at(data, keys)) and draw(st.integers(0, 9)):
                _at(data, keys[:-1])[keys[-1]] = draw(_allowed(place[0], keys, _at(data, keys)))
            else:
                _at(data, keys[:-1])[keys[-1]] = draw(_SCALARS)
        if draw(st.integers(0, 4)) == 0:
            _reshape(draw, data)
        changed[place] = written(data)
    return draw(st.booleans()), changed


def _leaves(data: Any, keys: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    inner = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in inner:
        if isinstance(value, dict | list):
            yield from _leaves(value, (*keys, key))
        else:
            yield (*keys, key)


def _at(data: Any, keys: tuple[str | int, ...]) -> Any:
    for key in keys:
        data = data[key]
    return data


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _allowed(kind: str, keys: tuple[str | int, ...], value: float) -> st.SearchStrategy[float]:
    """Numbers that the schema allows there: near the one that stands there, anywhere, and at both ends."""
    whole = schema(kind)
    part: dict[str, Any] = whole
    for key in keys:
        part = part.get("items", {}) if isinstance(key, int) else _of_key(part, key)
        if "$ref" in part:
            part = whole["$defs"][part["$ref"].rpartition("/")[2]]
    low = part.get("minimum", part.get("exclusiveMinimum", -1e6))
    high = part.get("maximum", part.get("exclusiveMaximum", 1e6))
    if "exclusiveMinimum" in part:
        low = low + abs(low) * 1e-12 if low else 1e-30
    if "exclusiveMaximum" in part:
        high = high - abs(high) * 1e-12
    near = st.sampled_from(_FACTORS).map(lambda factor: min(max(value * factor, low), high))
    if part.get("type") == "integer":
        return st.one_of(near.map(round), st.integers(round(low), round(high)))
    return st.one_of(near, st.floats(low, high), st.sampled_from([low, high]))


def _of_key(part: dict[str, Any], key: str) -> dict[str, Any]:
    found = part.get("properties", {}).get(key)
    other = part.get("additionalProperties")
    return found if found is not None else other if isinstance(other, dict) else {}


def _reshape(draw: st.DrawFn, data: Any) -> None:
    """Repeat or leave out one value somewhere in the data."""
    place = data
    while True:
        keys = list(place) if isinstance(place, dict) else list(range(len(place)))
        if not keys:
            return
        key = draw(st.sampled_from(keys))
        if not isinstance(place[key], dict | list) or draw(st.integers(0, 3)) == 0:
            break
        place = place[key]
    if isinstance(place, list) and draw(st.booleans()):
        place.insert(key, place[key])
    else:
        del place[key]


def written(data: Any) -> str:
    """The data as YAML in one line a key; numbers that were drawn as text stand as they were drawn."""
    return "".join(f"{json.dumps(key)}: {_flow(value)}\n" for key, value in data.items())


def _flow(value: Any) -> str:
    if isinstance(value, dict) and list(value) == ["written"]:
        return str(value["written"])
    if isinstance(value, dict):
        return "{" + ", ".join(f"{json.dumps(key)}: {_flow(each)}" for key, each in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_flow, value)) + "]"
    return json.dumps(value, ensure_ascii=False)


_NOTATION = (
    f"[[test {demo.RECORDS[0]}: C mean]]", "[[material pp-h: title]]", "[[hammer bench-1/charpy-1: energy]]",
    r"$a_1^2$", r"$$\frac{\sqrt{x}}{y} \left[ z \right]$$", "`[[x]]`", "```\n[[x]]\n```\n", "<!-- [[x]] -->",
    "[[", "]]", "[[test ", "[[tests ", "[[hammer ", "[[material pp-h: ", "[[rig bench-1: ", "[[exercise ",
    "[[verification ", *demo.RECORDS, "bench-1/charpy-1", ": ", "mean", "result", "C mean", "bar 01 strength",
    "title", "symbol", "chart", ",", "$", "$$", "\n", "\n\n", "`", "``", "```\n", "~~~\n", "<!--", "-->", "<script>",
    "</math>", " ", "\\", "{", "}", "^", "_", "\\frac", "\\sqrt", "\\text{", "\\left(", "\\right)", "\\begin{align}",
    "\\end{align}", "&", "\\\\", "\\def\\a{", "\\a", "\\newcommand{\\b}{", "\\b", "\\operatorname{", "\\color{red}",
    "\\href{x}{y}", "#1", "%", "x", "1", "é", "\u202e", "\0",
)  # fmt: skip


def pages() -> st.SearchStrategy[str]:
    """Hand-written pages full of notation, in order or not."""
    return st.one_of(
        st.lists(st.sampled_from(_NOTATION), max_size=40).map("".join),
        st.lists(st.sampled_from(_NOTATION[-33:]), max_size=40).map(lambda parts: f"$${''.join(parts)}$$"),
        st.text(max_size=80),
    )


_SETTINGS = (
    "plugins:", "plugins: [", "plugins: {", " ", "\n", "\n  ", "\n    ", "- ", "notchbook", "notchbook:", "{", "}",
    "[", "]", ", ", "deviations: ", "procedures: ", "results: ", "notice: ", "docs_dir: ", "enabled: ", "label",
    "refuse", "!ENV ", "!relative ", "!!python/name:a.b ", "&a ", "*a", "<<: ", "<<: [*a, *a]", "2026-02-30",
    "!!int ", "!!binary ", "!!set ", "!!timestamp ", "!!bool ", "!!float ", "!!omap ", "!!pairs ", "!!null ", "\0",
    "~", "é", "? ", "'", '"', "\\0", "..", "/", "1e999", "0x", "-", ": ", "\u2028", "\r", "\ufeff", "\x85", "---\n",
    "%YAML 1.1\n",
)  # fmt: skip
_CONFIG = "site_name: x\nplugins:\n  - search\n  - notchbook:\n      procedures: p\n      deviations: label\n"


def settings() -> st.SearchStrategy[bytes]:
    """The bytes of a mkdocs.yml, near one that is in order or not."""
    pieces = st.lists(st.sampled_from(_SETTINGS), max_size=25).map("".join)
    whole = (demo.ROOT / "mkdocs.yml").read_text(encoding="utf-8")
    near = _changed(st.sampled_from([_CONFIG, _CONFIG, _CONFIG, whole]))
    return st.one_of(pieces, near, st.text(max_size=40)).map(lambda text: text.encode("utf-8", "surrogatepass"))
