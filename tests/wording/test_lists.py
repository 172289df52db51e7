"""Counts, lists and names in sentences."""

import pytest

from notchbook.wording.lists import counted, first_of, listed
from notchbook.wording.nearest import nearest, nearest_of
from notchbook.wording.quoting import cut, shown


@pytest.mark.parametrize(("count", "shown"), [(0, "0 bars"), (1, "1 bar"), (10, "10 bars"), (1200, "1,200 bars")])
def test_count(count: int, shown: str) -> None:
    assert counted(count, "bar") == shown


def test_irregular_count() -> None:
    assert (counted(1, "series", "series"), counted(2, "mass", "masses")) == ("1 series", "2 masses")


@pytest.mark.parametrize(
    ("words", "said"),
    [([], ""), (["a"], "a"), (["a", "b"], "a and b"), (["a", "b", "c"], "a, b and c")],
)
def test_list_in_a_sentence(words: list[str], said: str) -> None:
    assert listed(words) == listed(iter(words)) == said


def test_of_many_names_the_first_are_told() -> None:
    names = [f"n{each}" for each in range(1, 1300)]
    assert first_of(names[:10]) == "n1, n2, n3, n4, n5, n6, n7, n8, n9, n10"
    assert first_of(names) == "n1, n2, n3, n4, n5, n6, n7, n8, n9, n10 and 1,289 more"
    assert first_of(names[:3], 2) == "n1, n2 and 1 more"


def test_nearest_name() -> None:
    assert nearest("charpy-l", ["charpy-1", "izod-1"]) == "did you mean 'charpy-1'?"
    assert nearest("x", ["b", "a"]) == "known are a, b"
    assert nearest("x", []) == "there is none yet"
    assert nearest("x", map(str, range(1000, 1060))).endswith(", 1049 and 10 more")
    assert nearest_of("kopf", ["topf", "haus"], 0.7) == "topf"
    assert nearest_of("kopf", ["haus"]) is None


def test_a_long_text_is_cut() -> None:
    assert cut("abc", 3) == "abc"
    assert cut("abcd", 3) == "abc…"
    assert shown("a" * 60) == f"'{'a' * 60}'"
    assert shown("a" * 61) == f"'{'a' * 60}…'"
