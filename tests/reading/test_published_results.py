"""Published results are read back strictly: bounded, finite, and with what was expected in words."""

import copy
import json

import pytest

from notchbook.reading.published_results import MOST_TESTS, ResultsError, published_tests, results_of_text

TEST = {
    "specimens": [
        {"id": "1", "strength_kJ_m2": 4.1, "break": "C", "excluded": None},
        {"id": "2", "strength_kJ_m2": 4.4, "break": "H", "excluded": None},
        {"id": "3", "strength_kJ_m2": 9.9, "break": "C", "excluded": "slipped"},
        {"id": "4", "strength_kJ_m2": None, "break": "N", "excluded": None},
    ],
    "sets": [{"breaks": ["C", "H"], "averaged_together": ["C", "H"], "n": 2}],
    "conforms": True, "exercise": "charpy", "material": "pp-h", "batch": None, "method": "iso-179-1",
    "standard": "ISO 179-1", "type": "1", "notch": "A", "direction": "edgewise", "velocity_m_s": 2.9,
}  # fmt: skip


def _read(**changes):
    return published_tests({"tests": {"t": copy.deepcopy(TEST) | changes}})


def test_bars_that_count_are_read():
    (found,) = _read()
    assert (found.id, found.material, found.batch, found.speed_m_s) == ("t", "pp-h", None, 2.9)
    assert [each.strengths for each in found.sets] == [(4.1, 4.4)]
    assert found.sets[0].together == ("C", "H")
    # without a strength, or on a hammer that is not known, there is nothing to compare
    assert _read(sets=[]) == _read(velocity_m_s=None) == []
    assert published_tests({"tests": {}, "more": 1}) == []


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ([], "expected an object with 'tests'"),
        ({"tests": []}, "expected an object with 'tests'"),
        ({"tests": {str(each): {} for each in range(MOST_TESTS + 1)}}, "at most 20,000 are read"),
        ({"tests": {"t": 7}}, "test 't': expected an object, got 7"),
        ({"tests": {"t": {"specimens": [], "sets": []}}}, "test 't': has no exercise, .* newer version"),
        ({"tests": {"\x1b[2J" + "x" * 500: None}}, "expected an object, got null"),
    ],
)
def test_what_is_no_results_is_told(data, words):
    with pytest.raises(ResultsError, match=words) as told:
        published_tests(data)
    assert all(len(each) < 400 for each in told.value.troubles)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"conforms": "yes"}, "'conforms': expected true or false, got the text 'yes'"),
        ({"material": 5}, "'material': expected a text"),
        ({"material": "x" * 201}, "'material': expected a text of at most 200 characters"),
        ({"batch": ["B"]}, "'batch': expected a text of at most 200 characters, got a list"),
        ({"velocity_m_s": "fast"}, "'velocity_m_s': expected a number, got the text 'fast'"),
        ({"velocity_m_s": True}, "'velocity_m_s': expected a number, got true"),
        ({"velocity_m_s": 1e9}, "'velocity_m_s': expected a number of magnitude 1000 at most"),
        ({"sets": {}}, "'sets': expected a list of objects, got an object"),
        ({"sets": [{"breaks": ["C"]}]}, "a set has no averaged_together"),
        ({"sets": [{"breaks": [], "averaged_together": ["C"]}]}, "'breaks': expected a list of break types"),
        ({"specimens": [1]}, "'specimens': expected a list of objects"),
        ({"specimens": [{}] * 1001}, "'specimens': has 1,001 entries; at most 1,000 are read"),
        ({"specimens": [{"break": "C", "strength_kJ_m2": "4"}]}, "'strength_kJ_m2': expected a number"),
        ({"specimens": [{"break": "C", "strength_kJ_m2": 10**400}]}, "magnitude 1e.06 at most"),
        ({"specimens": [{"break": "C", "strength_kJ_m2": float("inf")}]}, "magnitude 1e.06 at most"),
    ],
)
def test_a_value_of_another_kind_is_told_with_what_was_expected(changes, words):
    with pytest.raises(ResultsError, match=words):
        _read(**changes)


def test_the_first_troubles_are_told_at_once():
    with pytest.raises(ResultsError) as told:
        published_tests({"tests": {str(each): None for each in range(100)}})
    assert len(told.value.troubles) == 5


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "is no JSON: Expecting value at line 1, column 1"),
        ("<html>", "is no JSON"),
        ('{"tests": NaN}', "'NaN' is no number of JSON"),
        ('{"tests": -Infinity}', "'-Infinity' is no number"),
        ("[" * 200_000, "nested too deep"),
        ("1" * 5000, "whole number of thousands of digits"),
    ],
)
def test_what_is_no_json_is_told(text, words):
    with pytest.raises(ResultsError, match=words):
        results_of_text(text)


def test_a_number_beyond_the_largest_is_refused():
    text = json.dumps({"tests": {"t": TEST}}).replace("4.1", "1e999")
    with pytest.raises(ResultsError, match="magnitude"):
        published_tests(results_of_text(text))
