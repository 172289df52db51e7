"""Single values of data files, and what differs between two versions of one."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notchbook.reading.strict_yaml import parse
from notchbook.review.leaves import changes_between, leaves_of, written

plain_values = st.one_of(st.none(), st.booleans(), st.integers(-999, 999), st.floats(-1e6, 1e6), st.text(max_size=8))
data_files = st.dictionaries(
    st.text(min_size=1, max_size=5),
    st.recursive(
        plain_values,
        lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=4), inner, max_size=3),
        max_leaves=8,
    ),
    max_size=4,
)


def read(text):
    data, flaws = parse(text)
    assert not flaws
    return data


def differences(old, new):
    return [(" ".join(each.label), each.old, each.new) for each in changes_between(read(old), read(new))]


@given(data=data_files)
def test_a_file_does_not_differ_from_itself(data):
    assert changes_between(data, data) == []


@given(old=data_files, new=data_files)
def test_what_differs_one_way_differs_the_other_way(old, new):
    forth = {(each.label, each.old, each.new) for each in changes_between(old, new)}
    back = {(each.label, each.new, each.old) for each in changes_between(new, old)}
    assert forth == back


@given(data=data_files)
def test_the_keys_of_a_value_lead_to_it(data):
    for leaf in leaves_of(data).values():
        found = data
        for key in leaf.keys:
            found = found[key]
        assert found is leaf.value


def test_a_number_is_shown_as_it_was_written():
    assert differences("rise: 86.40\n", "rise: 86.2\n") == [("rise", "86.40", "86.2")]
    assert differences("rise: 4.0\n", "rise: 4.00\n") == []


def test_a_number_is_not_the_text_of_it():
    assert differences("batch: 12\n", 'batch: "12"\n') == [("batch", "12", "12")]
    assert differences("on: true\n", "on: 1\n") == [("on", "true", "1")]


def test_bars_are_compared_by_their_ids():
    old = "specimens: [{id: a, rise: 1.0}, {id: b, rise: 2.0}]\n"
    moved = "specimens: [{id: b, rise: 2.0}, {id: a, rise: 1.0}]\n"
    exchanged = "specimens: [{id: a, rise: 2.0}, {id: b, rise: 1.0}]\n"
    assert differences(old, moved) == []
    assert differences(old, exchanged) == [("specimens a rise", "1.0", "2.0"), ("specimens b rise", "2.0", "1.0")]


def test_bars_without_ids_of_their_own_are_compared_by_their_number():
    old = "specimens: [{id: a, rise: 1.0}, {id: a, rise: 2.0}]\n"
    new = "specimens: [{id: a, rise: 1.0}, {id: a, rise: 3.0}]\n"
    assert differences(old, new) == [("specimens 2 rise", "2.0", "3.0")]


def test_what_came_and_what_went():
    old, new = "notes: cracked\nbatch: P1\n", "batch: P1\nswings: {}\n"
    assert differences(old, new) == [("swings", None, "{}"), ("notes", "cracked", None)]


@pytest.mark.parametrize(
    ("value", "shown"), [(None, "null"), (True, "true"), ({}, "{}"), ([], "[]"), ("a b", "a b"), (12, "12")]
)
def test_values_as_they_stand_in_a_file(value, shown):
    assert written(value) == shown
