"""A value of another type than its key asks for, and the slip that made it one."""

import re
from typing import Any

from notchbook.reading import rules
from notchbook.reading.lookalikes import CURLY_QUOTES, DASHES, described, first_strange, part, plain_form
from notchbook.reading.refusal import Refusal, Said, name, shown
from notchbook.reading.wrong_forms import date_hint

_TYPE_WORDS = {
    "object": "a mapping of keys to values",
    "array": "a list",
    "string": "text",
    "number": "a number",
    "integer": "a whole number",
    "boolean": "true or false",
    "null": "nothing",
}
_NUMBER = re.compile(r"[-+]?(?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)")
_UNIT = re.compile(r"\s*(?:[^\W\d_]\S*|[%°]\S*)")
_GROUPED_NUMBER = re.compile(r"[-+]?[0-9]{1,3}(?:[_ \u202f\u2009'’][0-9]{3})+(?:\.[0-9]+)?")
_LETTERS_FOR_DIGITS = str.maketrans("OolI", "0011")
_LONGEST = 400
"""Characters of a text in which a slip is looked for."""
_TRUE, _FALSE = frozenset({"yes", "y", "on", "ja"}), frozenset({"no", "n", "off", "nein"})


def say_type(refusal: Refusal) -> Said:
    """Message, hint and rule for a value of another type than the one that is asked for."""
    wanted, found = refusal.wanted, refusal.instance
    words = _TYPE_WORDS.get(wanted, str(wanted)) if isinstance(wanted, str) else " or ".join(wanted)
    message = f"{name(refusal)} is {shown(found)}, where {words} is expected"
    slip = _slip(refusal) if isinstance(wanted, str) else None
    if slip is None:
        return message, f"write {words}", rules.VALUE_TYPE
    return (f"{message}: {slip[0]}" if slip[0] else message), slip[1], rules.VALUE_TYPE


Slip = tuple[str, str]
"""What the slip is, where that is not plain from the value, and what to write."""


def _slip(refusal: Refusal) -> Slip | None:
    wanted, found = refusal.wanted, refusal.instance
    if isinstance(found, str):
        found = found[:_LONGEST]
        if wanted in ("number", "integer"):
            return _number_slip(refusal, found)
        if wanted == "boolean":
            return _boolean_slip(refusal, found)
        if wanted == "array":
            return _list_slip(refusal, found)
        joined = part(found, refusal.schema.get("properties", ())) if wanted == "object" else None
        return (f"it {joined.message}", f"write {joined.key}: {shown(joined.value)[1:-1]}") if joined else None
    if wanted == "string":
        return _text_slip(refusal, found)
    if wanted == "object" and found is None:
        return "", f"write its keys on the lines below {name(refusal)}, each two spaces further in"
    if wanted == "object" and isinstance(found, list):
        return "", "delete the dash before its keys, or the square brackets round them"
    if wanted == "array" and found is not None:
        return "", "begin each entry on a line of its own with a dash and a space"
    return None


def _written(refusal: Refusal, value: str) -> str:
    """The value as it stands behind its key."""
    last = refusal.keys[-1] if refusal.keys else ""
    return f"write {last}: {value}" if isinstance(last, str) and last else f"write {value}"


def _number_slip(refusal: Refusal, text: str) -> Slip | None:
    if _GROUPED_NUMBER.fullmatch(text):
        plain = re.sub("[^0-9.+-]", "", text)
        return "", f"{_written(refusal, plain)}, without anything between its digits"
    stripped = text.strip(" \"'`" + CURLY_QUOTES)
    number = _NUMBER.match(plain_form(stripped))
    if number is None or not number.group().strip("+-"):
        return None
    plain, rest = number.group().replace(",", "."), plain_form(stripped)[number.end() :]
    if rest and _NUMBER.fullmatch(plain_form(stripped).translate(_LETTERS_FOR_DIGITS)):
        letter = next(each for each in stripped if each in "OolI")
        plain = plain_form(stripped).translate(_LETTERS_FOR_DIGITS).replace(",", ".")
        return f"the letter {letter} stands in it for a digit", _written(refusal, plain)
    strange = first_strange(stripped[: number.end()])
    if strange and plain_form(stripped) == number.group():
        return f"it holds {described(strange)}", f"{_written(refusal, plain)}, typed anew"
    if stripped != text.strip():
        return "", f"{_written(refusal, plain)}, without quotation marks"
    if "," in number.group() and not rest:
        return "", f"{_written(refusal, plain)}, with a point and no comma"
    if rest.strip() in (",", ";"):
        return "", f"{_written(refusal, plain)}, without {rest.strip()} behind it"
    if re.match(r"\s*(?://|/\*|;)", rest):
        return "", f"{_written(refusal, plain)}  # {rest.strip(' /*;')}: a remark begins with #"
    if not rest:
        return "", f"{_written(refusal, plain)}, without quotation marks"
    return ("", f"{_written(refusal, plain)}, without the unit") if _UNIT.fullmatch(rest) else None


def _boolean_slip(refusal: Refusal, text: str) -> Slip | None:
    said = text.strip().lower()
    if said in ("true", "false"):
        return "", f"{_written(refusal, said)}, without quotation marks"
    meant = "true" if said in _TRUE else "false" if said in _FALSE else None
    return ("", _written(refusal, meant)) if meant else None


def _list_slip(refusal: Refusal, text: str) -> Slip:
    sign = text[:1]
    if sign == "-" and text[1:2].strip():
        first = re.split(r"\s-", text[1:])[0]
        return "there is no space behind the dash of its entries", f"write - {shown(first)[1:-1]}"
    if sign in DASHES + "*" and text[1:2].isspace():
        what = "an asterisk" if sign == "*" else described(sign)
        return f"its entries begin with {what}", "begin each with a dash and a space: - "
    if text.endswith("]"):
        return "the bracket [ was not opened", _written(refusal, f"[{shown(text)[1:-1]}")
    if ", " in text:
        return "", _written(refusal, f"[{shown(text)[1:-1]}]")
    return "", _written(refusal, f"[{shown(text)[1:-1]}]") + ", or a dash before each entry on a line of its own"


def _text_slip(refusal: Refusal, found: Any) -> Slip | None:
    if isinstance(found, bool):
        return "", f'put it in quotes: "{str(found).lower()}"'
    if isinstance(found, (int, float)):
        # not the value itself: 01 was read as 1
        return "", date_hint(refusal, str(found)) or 'put it in quotes as it stands there, such as "01"'
    if isinstance(found, dict) and len(found) == 1:
        (key, value), *_ = found.items()
        if value is None or isinstance(value, (str, int, float)):
            text = f"{key}: {'' if value is None else value}".rstrip()
            return "the colon in it begins a value", f'put the text in quotes: "{shown(text)[1:-1]}"'
    return None
