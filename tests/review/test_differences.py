"""What differs between two versions of a file: values, and entries of lists that were edited, lost, new or moved."""

import time
from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notchbook.reading.strict_yaml import parse
from notchbook.review.differences import changes_between
from notchbook.review.pairs import entry_words, meaning, written

plain_values = st.one_of(st.none(), st.booleans(), st.integers(-999, 999), st.floats(-1e6, 1e6), st.text(max_size=8))
data_files = st.dictionaries(
    st.text(min_size=1, max_size=5),
    st.recursive(
        plain_values,
        lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=4), inner, max_size=3),
        max_leaves=12,
    ),
    max_size=4,
)
words = st.sampled_from(["close the screen", "close the door", "put in the pin", "put in a pin", "stand back", "wait"])


def read(text):
    data, flaws = parse(text)
    assert not flaws
    return data


def differences(old, new):
    return [(" ".join(each.label), each.old, each.new) for each in changes_between(read(old), read(new))]


def steps(*entries):
    return {"steps": [{"do": each} if isinstance(each, str) else each for each in entries]}


def told(old, new):
    return [(each.label[1:], each.old, each.new, each.moved) for each in changes_between(old, new)]


@given(data=data_files)
def test_a_file_does_not_differ_from_itself(data):
    assert changes_between(data, data) == []


@given(old=data_files, new=data_files)
def test_files_that_say_something_else_differ(old, new):
    assert bool(changes_between(old, new)) == bool(changes_between(new, old))
    if meaning(old) == meaning(new):
        assert changes_between(old, new) == []


@given(old=st.lists(words, max_size=8), new=st.lists(words, max_size=8))
def test_the_newer_list_follows_from_the_older_one_and_what_is_told(old, new):
    """Nothing is told twice or forgotten: the older entries less those told as gone, with those told as new."""
    changes = changes_between({"steps": old}, {"steps": new})
    plain = [each for each in changes if not each.moved]
    left = Counter(old)
    left.subtract(each.old for each in plain if each.old is not None)
    left.update(each.new for each in plain if each.new is not None)
    assert +left == Counter(new)
    assert not -left


@given(new=st.permutations(["a", "b", "c", "d", "e", "f"]))
def test_of_a_list_in_another_order_the_fewest_entries_are_moved(new):
    changes = changes_between({"steps": ["a", "b", "c", "d", "e", "f"]}, {"steps": list(new)})
    assert all(each.moved for each in changes)
    # what was not moved stands in the older order, and one entry fewer would not do
    longest = [1] * len(new)
    for place, each in enumerate(new):
        longest[place] += max((longest[other] for other in range(place) if new[other] < each), default=0)
    assert len(changes) == len(new) - max(longest)


@given(data=data_files)
def test_the_keys_of_a_value_lead_to_it(data):
    for change in changes_between({}, data):
        found = data
        for key in change.keys:
            found = found[key]
        assert entry_words(found) == change.new


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
    assert differences(old, exchanged) == [("specimens b rise", "2.0", "1.0"), ("specimens a rise", "1.0", "2.0")][::-1]


def test_bars_without_ids_of_their_own_are_compared_by_what_they_say():
    old = "specimens: [{id: a, rise: 1.0}, {id: a, rise: 2.0}]\n"
    new = "specimens: [{id: a, rise: 1.0}, {id: a, rise: 3.0}]\n"
    assert differences(old, new) == [("specimens 2 rise", "2.0", "3.0")]


def test_what_came_and_what_went():
    old, new = "notes: cracked\nbatch: P1\n", "batch: P1\nswings: {}\n"
    assert differences(old, new) == [("swings", None, "{}"), ("notes", "cracked", None)]


def test_a_lost_reading_among_numbers_is_lost_and_shifts_nothing():
    assert differences("times: [62.1, 62.2, 62.3, 62.4]\n", "times: [62.1, 62.3, 62.4]\n") == [
        ("times 2", "62.2", None)
    ]
    assert differences("times: [62.1, 62.2]\n", "times: [62.2, 62.1]\n") == [
        ("times 1", "62.1", "62.2"),
        ("times 2", "62.2", "62.1"),
    ]


LATCH = "Raise the pendulum by its handle until it latches."
PIN = "Put in the lock pin."
SCREEN = "Close the screen, then free the lock."
READ = "Let the brake stop the pendulum, then read the indicator."


def test_a_step_that_is_left_out_reads_as_lost_and_no_other_as_changed():
    assert told(steps(LATCH, PIN, SCREEN, READ), steps(LATCH, SCREEN, READ)) == [(("2",), f"do: {PIN}", None, False)]


def test_a_step_that_is_put_in_reads_as_new():
    assert told(steps(LATCH, SCREEN, READ), steps(LATCH, PIN, SCREEN, READ)) == [(("2",), None, f"do: {PIN}", False)]


def test_a_step_at_another_place_reads_as_moved():
    assert told(steps(LATCH, PIN, SCREEN, READ), steps(LATCH, SCREEN, READ, PIN)) == [
        (("4",), f"2. do: {PIN}", f"4. do: {PIN}", True)
    ]


def test_an_edited_step_reads_as_edited_among_lost_and_new_ones():
    old = steps("Look at the latch.", LATCH, "The pendulum is blocked or locked before a hand goes in.", READ)
    new = steps(LATCH, "The pendulum is raised and unlocked before a hand goes in.", READ, "Sweep the floor.")
    assert told(old, new) == [
        (("2", "do"), old["steps"][2]["do"], new["steps"][1]["do"], False),
        (("4",), None, "do: Sweep the floor.", False),
        (("1",), "do: Look at the latch.", None, False),
    ]


def test_a_step_that_loses_its_hazard_or_what_to_look_for_is_the_same_step():
    marked = {"do": "Wait.", "look_for": "Everybody stands behind the line and wears spectacles.", "hazard": "blow"}
    assert told(steps(LATCH, marked), steps({"do": "Wait."}, LATCH))[1:] == [
        (("1", "look_for"), marked["look_for"], None, False),
        (("1", "hazard"), "blow", None, False),
    ]


def test_entries_in_a_script_without_spaces_are_paired_too():
    old = {"guard": ["摆锤升起时屏蔽门必须关闭并锁定", "锁销在装样前插入到底"]}
    new = {"guard": ["锁销在装样前插入到底", "摆锤升起时屏蔽门必须打开并锁定"]}
    assert ("摆锤升起时屏蔽门必须关闭并锁定", "摆锤升起时屏蔽门必须打开并锁定") in [
        (each.old, each.new) for each in changes_between(old, new)
    ]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (["1"] * 30_000, ["2"] * 30_000),
        ([f"step {number} of many" for number in range(20_000)], [f"pace {number}, most" for number in range(20_000)]),
        ([1.0] * 50_000, [2.0] * 49_999),
        ([{"do": "a " * 4_000 + str(n)} for n in range(200)], [{"do": "b " * 4_000 + str(n)} for n in range(200)]),
        (list("ab" * 20_000), list("ba" * 20_000)),
    ],
)
def test_long_lists_cost_no_more_than_their_length(old, new):
    start = time.process_time()
    assert changes_between({"list": old}, {"list": new})
    assert time.process_time() - start < 5


@pytest.mark.parametrize(
    ("value", "shown"), [(None, "null"), (True, "true"), ({}, "{}"), ([], "[]"), ("a b", "a b"), (12, "12")]
)
def test_values_as_they_stand_in_a_file(value, shown):
    assert written(value) == shown
