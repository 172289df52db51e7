"""Required values, their tolerances and their words."""

import math

import pytest

from notchbook.model.requirement import Origin, Requirement

ORIGIN = Origin("Table 1", "S01", "quoted")


def requirement(value, below, above):
    return Requirement(value, below, above, ORIGIN)


@pytest.mark.parametrize(
    ("measured", "allowed"),
    [(62.0, True), (62.5, True), (62.3, True), (61.99, False), (62.51, False), (math.nan, False)],
)
def test_a_tolerance_includes_its_ends(measured, allowed):
    # span of the type 1 bar: 62 (+0.5/0) mm
    assert requirement(62.0, 0.0, 0.5).allows(measured) is allowed


@pytest.mark.parametrize("measured", [9.8, 10.2, 0.1 + 0.2 + 9.9, 10.1 + 0.1])
def test_the_last_bit_of_a_binary_fraction_decides_nothing(measured):
    assert requirement(10.0, 0.2, 0.2).allows(measured)


def test_one_sided_limits():
    at_least, at_most = requirement(16.0, 0.0, math.inf), requirement(1.0, math.inf, 0.0)
    assert [at_least.allows(value) for value in (15.9, 16.0, 1e9)] == [False, True, True]
    assert [at_most.allows(value) for value in (-1e9, 1.0, 1.1)] == [True, True, False]


@pytest.mark.parametrize(
    ("limits", "text"),
    [
        ((62.0, 0.0, 0.5), "62 (+0.5/0) mm"),
        ((4.0, 0.2, 0.2), "4 ± 0.2 mm"),
        ((4.0, 0.1, 0.2), "4 (+0.2/−0.1) mm"),
        ((16.0, 0.0, math.inf), "at least 16 mm"),
        ((1.0, math.inf, 0.0), "at most 1 mm"),
        ((2.0, 0.0, 0.0), "2 mm"),
    ],
)
def test_a_requirement_is_written_as_the_trade_writes_it(limits, text):
    assert requirement(*limits).text("mm") == text
    assert requirement(*limits).text() == text.removesuffix(" mm")


@pytest.mark.parametrize(
    ("origin", "words"),
    [
        (Origin("1", "S05", "quoted"), "seen in a public text (S05)"),
        (Origin("1", "memory", "memory", "high"), "from memory, high certainty; check against your copy"),
        (Origin("1", "memory", "memory"), "from memory; check against your copy"),
        (Origin("1", "x", "department"), "set by the department"),
    ],
)
def test_an_origin_says_how_sure_it_is(origin, words):
    assert origin.words == words
