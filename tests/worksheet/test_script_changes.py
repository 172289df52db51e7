"""A changed number or comparison of the scripts fails."""

from typing import Any

import node
import pytest
from changes import Change, changed, changes
from edges import Case
from test_texts import judged, text_cases

_NO_TIE = "a value that was worked out is that of the limit to the last bit for no reading"
_NO_MATTER = "either way gives the same"
SAME_EITHER_WAY = {
    ("summary", "Math.abs(total) «>=» Math.abs(value)"): _NO_MATTER + ": both terms are as large",
    ("uncertainty", "half «<=» height"): _NO_TIE,
    ("uncertainty", "height «<=» 2"): _NO_TIE,
    ("uncertainty", "losses.indicator_J «>» 0"): _NO_MATTER + ": where nothing is lost nothing drifts",
    ("uncertainty", "set.deviation «>=» reading"): _NO_TIE,
    ("uncertainty", "parts[«0»]"): _NO_MATTER + ": all bars share as many inputs",
    ("evaluation", "letter(one) «<» letter(other)"): _NO_MATTER + ": no two sets begin with one letter",
    ("evaluation", "? -«1» : 1"): "what sorts asks for the sign alone",
    ("evaluation", "? -1 : «1»"): "what sorts asks for the sign alone",
    ("checks_bars", "= used «>» high"): "what is within both limits was left before",
    ("checks_bars", "other.potential_J «>» one.potential_J"): "of two hammers of one energy either is the largest",
    ("checks_swings", "energy_J «<» -half"): _NO_TIE,
    ("checks_series", "readings.length «<» fewest_in_order"): "five readings in order are within chance",
    ("checks_series", "arrangements(readings) «>=» most_chance"): "no number of orders is 20,000",
    ("checks_session", "each.valid_until «<» record.date)"): "a verification that ends that day is in force that day",
    ("checks_session", "last.valid_until «>=» each.valid_until"): "the same day is told either way",
}
"""Script and what is changed there, with what stands around it, where no session can tell; and why."""


def _is_at(change: Change, name: str, place: str) -> bool:
    before, rest = place.split("«")
    old, after = rest.split("»")
    source, end = node.sources()[name], change.place + len(change.old)
    return (change.name, change.old) == (name, old) and (
        source[: change.place].endswith(before) and source[end:].startswith(after)
    )


def _reason(change: Change) -> str | None:
    return next((why for (name, place), why in SAME_EITHER_WAY.items() if _is_at(change, name, place)), None)


def _every_change() -> list[Change]:
    return [change for name, source in node.sources().items() for change in changes(name, source)]


def test_changes_are_found() -> None:
    source = """const a = b < 3 ? "x < 4" : /[0-9]{5}/.test(c); // 6 > 7
    const d = `${e === 8} 9`; f(x => x * 1e-3);"""
    found = [(change.old, change.new) for change in changes("s", source)]
    assert found == [("<", "<="), ("3", "(3 + 1)"), ("===", "!=="), ("8", "(8 + 1)"), ("1e-3", "(1e-3 + 1)")]


@pytest.mark.repeats
def test_every_change_of_the_scripts_is_told(job: dict[str, Any], cases: list[Case]) -> None:
    """Each comparison turned and each number one more, one at a time; a file that differs is read by the reader."""
    tried = [change for change in _every_change() if not _reason(change)]
    assert len(tried) > 150
    texts = text_cases(cases, job)
    filed = list(range(len(job["cases"]), len(job["cases"]) + len(texts)))
    runs = [
        {"name": each.name, "source": changed(node.sources()[each.name], each), "filed": filed} for each in tried
    ]  # fmt: skip
    found = node.run({**job, "cases": [*job["cases"], *texts], "changedScripts": runs, "inTurn": len(job["cases"])})
    untold = [
        str(change)
        for change, each in zip(tried, found["scripts"], strict=True)
        if "files" in each and not judged(each["files"])
    ]
    assert untold == []


def test_every_reason_is_of_one_change() -> None:
    every = _every_change()
    for name, place in SAME_EITHER_WAY:
        assert sum(_is_at(change, name, place) for change in every) == 1, place
