"""A key and its value that run into each other, because what should part them is missing or another sign."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from notchbook.reading.lookalikes import ODD_SPACE, described, plain_form

if TYPE_CHECKING:
    from collections.abc import Container

_NAME = r"[\"']?(?P<key>[\w.-]+)[\"']?"
_NO_SPACE = re.compile(rf"{_NAME}(?P<sign>:)(?P<value>.+)", re.DOTALL)
_OTHER_SIGN = re.compile(rf"{_NAME}\s*(?P<sign>=>|:=|->|=|;|：)\s*(?P<value>\S.*)", re.DOTALL)
_NO_COLON = re.compile(rf"{_NAME}(?P<sign>\s+)(?P<value>\S.*)", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Joined:
    """The two that were meant."""

    key: str
    value: str
    message: str


def part(text: str, known: Container[str]) -> Joined | None:
    """The key, one of those that are known, and the value that a text was meant to be; None for any other text."""
    for form in (_NO_SPACE, _OTHER_SIGN, _NO_COLON):
        found = form.fullmatch(text)
        key = plain_form(found["key"]) if found else ""
        if found is None or key not in known:
            continue
        odd = ODD_SPACE.search(text)
        if odd:
            message = f"has a character behind '{key}' that looks like a space and is none: {described(odd.group())}"
        elif found["sign"] == ":":
            message = f"has no space behind the colon of '{key}'"
        elif found["sign"].isspace():
            message = f"has no colon behind '{key}'"
        else:
            message = f"has {found['sign']} behind '{key}', where a colon belongs"
        return Joined(key, ODD_SPACE.sub(" ", found["value"]).strip(), message)
    return None
