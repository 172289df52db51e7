"""The changes of the mutation table: each leaves a file that the reader takes, with one number changed and no more."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from faults.changes import KINDS, NEXT_ENTRY, NEXT_KEY, REMOVED, SIGN, TENTH, TEXT, TIMES_TEN, changes, removed, shifted
from faults.leaves import numeric_leaves, path_pattern
from notchbook.reading.strict_yaml import parse

ROOT = Path(__file__).resolve().parents[2]
FILES = {
    "exercise": "procedures/exercises/cold-bars.yaml",
    "material": "procedures/materials/pp-h.yaml",
    "method": "procedures/methods/saltmere-cold.yaml",
    "rig": "procedures/rigs/bench-1.yaml",
    "test": "results/tests/2025-10-08-g1-pp-h-notched.yaml",
    "verification": "results/verifications/2026-09-10-bench-1-cold-1.yaml",
}
WORDS = st.text("abcdefgh", min_size=1, max_size=3)
NUMBERS = st.integers(-999, 999) | st.integers(-999, 999).map(lambda number: number / 100)
DATA = st.recursive(
    NUMBERS | st.sampled_from(["yes", "12 mm", ""]),
    lambda inner: st.dictionaries(WORDS, inner, min_size=1, max_size=3) | st.lists(inner, min_size=1, max_size=3),
    max_leaves=8,
)


def _text(kind: str) -> str:
    return (ROOT / FILES[kind]).read_text(encoding="utf-8")


def _data(text: str) -> Any:
    data, flaws = parse(text)
    assert flaws == [], text
    return data


def _flat(data: Any, keys: tuple[str | int, ...] = ()) -> Iterator[tuple[tuple[str | int, ...], Any]]:
    inner = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else None
    if inner is None:
        yield keys, data
    for key, value in inner or ():
        yield from _flat(value, (*keys, key))


def _without(data: Any, keys: tuple[str | int, ...]) -> Any:
    """A copy of the data without what stands under the keys."""
    key, *rest = keys
    if isinstance(data, list):
        return [
            _without(each, tuple(rest)) if rest and index == key else each
            for index, each in enumerate(data)
            if rest or index != key
        ]
    return {
        name: _without(each, tuple(rest)) if rest and name == key else each
        for name, each in data.items()
        if rest or name != key
    }


@pytest.mark.parametrize("kind", FILES)
def test_each_change_of_a_file_is_the_one_that_it_is_called(kind: str) -> None:
    text = _text(kind)
    data, leaves = _data(text), numeric_leaves(text)
    before = dict(_flat(data))
    seen = set()
    for leaf in leaves:
        assert text[leaf.start : leaf.end] == leaf.written
        for change, changed in changes(kind, text, leaf, leaves):
            seen.add(change)
            if change == REMOVED:
                assert _data(changed) == _without(data, leaf.keys)
                continue
            after = dict(_flat(_data(changed)))
            different = {keys for keys in before if before[keys] != after[keys]}
            assert after.keys() == before.keys()
            new = after[leaf.keys]
            if change == TEXT:
                assert isinstance(new, str)
            elif change in (NEXT_KEY, NEXT_ENTRY):
                (other,) = different - {leaf.keys}
                assert (new, after[other]) == (before[other], leaf.value)
                assert len(other) == len(leaf.keys)
                assert (other[:-1] == leaf.keys[:-1]) == (change == NEXT_KEY)
                continue
            else:
                factor = {TIMES_TEN: 10.0, TENTH: 0.1, SIGN: -1.0}[change]
                assert new == pytest.approx(factor * leaf.value, rel=1e-12)
            assert different == {leaf.keys}
    assert set(KINDS) - seen <= {NEXT_ENTRY, NEXT_KEY}


@given(DATA.filter(lambda data: isinstance(data, dict)), st.sampled_from([None, False, True]))
def test_removing_a_number_leaves_the_others(data: dict[str, Any], flow: bool | None) -> None:
    """In flow and in block style, alone in its mapping or among others, first, in the middle or last."""
    text = yaml.safe_dump(data, default_flow_style=flow, sort_keys=False)
    whole = _data(text)
    for leaf in numeric_leaves(text):
        assert _data(removed(text, leaf)) == _without(whole, leaf.keys)


def test_removing_the_only_key_of_the_last_line_without_a_line_break() -> None:
    text = "a: {b: 1}\nc:\n  d: 2"
    first, second = numeric_leaves(text)
    assert removed(text, first) == "a: {}\nc:\n  d: 2"
    assert removed(text, second) == "a: {b: 1}\nc:\n  {}"


@pytest.mark.parametrize(
    ("written", "more", "less"),
    [
        ("8.00", "80.0", "0.800"), ("50", "500", "5"), ("48", "480", "4.8"), ("-20", "-200", "-2"),
        ("0.002", "0.02", "0.0002"),
    ],
)  # fmt: skip
def test_decimal_point_moves_and_the_digits_stay(written: str, more: str, less: str) -> None:
    assert (shifted(written, 1), shifted(written, -1)) == (more, less)


def test_change_that_changes_nothing_is_not_made() -> None:
    text = "typical:\n  - {strength_kJ_m2: [0, 0]}\n"
    leaves = numeric_leaves(text)
    assert {change for leaf in leaves for change, _ in changes("material", text, leaf, leaves)} == {REMOVED, TEXT}


def test_numbers_are_called_by_the_keys_of_the_schema() -> None:
    names = {}
    for kind in FILES:
        text = _text(kind)
        names[kind] = {path_pattern(kind, _data(text), leaf.keys) for leaf in numeric_leaves(text)}
    assert {"rig hammers.*.added_masses[].mass_kg", "rig gravity_at.height_m"} <= names["rig"]
    assert "method specimen_types.*.width_mm.below" in names["method"]
    assert {"test specimens[].width_mm", "test reported.specimens.*.energy_J"} <= names["test"]
    assert "verification period.times_s[]" in names["verification"]


def test_bar_that_does_not_count_is_called_so() -> None:
    text = 'specimens:\n  - {id: "01", width_mm: 10.0}\n  - {id: "02", width_mm: 9.9, excluded: cracked}\n'
    names = [path_pattern("test", _data(text), leaf.keys) for leaf in numeric_leaves(text)]
    assert names == ["test specimens[].width_mm", "test specimens[excluded].width_mm"]


def test_file_with_flaws_has_no_numbers_to_change() -> None:
    with pytest.raises(ValueError, match="flaws"):
        numeric_leaves("a: 1\na: 2\n")
