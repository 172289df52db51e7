"""A changed value of the page's data fails."""

import re
from collections.abc import Iterator
from typing import Any

import node
import pytest

_WORDS = "words alone, which are the engine's"
_IN_THE_FILE = "stands in the files alone, which the sessions that are filed hold"
_CHOSEN = "chosen from a list, not typed"
_REFUSED = "what no file may hold is told by its rule and place"
SAME_EITHER_WAY = {
    r".*\.(text|unit|title)": _WORDS,
    r"limits\.units_of_length\..*": _WORDS,
    r"exercise|specimen\.(type|direction)|method\.standard": _IN_THE_FILE,
    r"limits\.lengths\.(exercise|rig|hammer|material|specimens\.break)": _CHOSEN,
    r"rules\.(date-real|email-address|value-(form|range|type))": _REFUSED,
    r"method\.breaks\.\*\.group\.\*": "names a group, whatever its name is",
    r"rows\.(first|most)": "how many rows the form begins with, and takes",
    "limits.fewest_in_order": "five readings in order are within chance",
    "limits.longest": "longer numbers are sound in a file; single functions hold it",
    "limits.email": "the rule is one of files; texts hold it",
}
"""Patterns of paths where no session can tell; and why."""


def paths_of(value: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Where single values lie; entries of lists, rigs, hammers and types of break are as good as one another."""
    if not isinstance(value, dict | list):
        yield path
        return
    entries = value.items() if isinstance(value, dict) else enumerate(value)
    for key, each in entries:
        alike = isinstance(value, list) or path in (("rigs",), ("rigs", "*", "hammers"), ("method", "breaks"))
        yield from paths_of(each, (*path, "*" if alike else str(key)))


@pytest.mark.repeats
def test_every_value_of_the_page_is_told(job: dict[str, Any]) -> None:
    """Another number, text or answer in the page's data, one kind at a time, as the scripts are; the engine's stays."""
    paths = list(dict.fromkeys(path for data in job["datas"] for path in paths_of(data)))
    assert len(paths) > 150
    found = node.run({**job, "changedData": paths, "inTurn": len(job["cases"])})["data"]
    untold = [".".join(path) for path, told in zip(paths, found, strict=True) if told is None]
    explained = {each: [path for path in untold if re.fullmatch(each, path)] for each in SAME_EITHER_WAY}
    assert set(untold) == {path for paths in explained.values() for path in paths}
    assert [each for each, paths in explained.items() if not paths] == []
