"""What each slip gives, worked out here from the readings of one bar by the formulae of the standards."""

import math

import pytest

from notchbook.answers.bars import Bars
from notchbook.answers.candidates import Asked, candidates, right_values
from notchbook.answers.digits import given
from notchbook.answers.judging import Answer, judge
from notchbook.answers.slips import ENERGY_SLIPS, LOOK_AT, SECTION_SLIPS, SLIPS, UNIT_SLIPS, ways_with_two

RECORD = "2026-10-05-g1-pp-h-notched"
BAR = Asked("strength_kJ_m2", 0)


@pytest.fixture
def one(bars: dict[str, Bars]) -> Bars:
    return bars[RECORD]


def _by_hand(one: Bars) -> dict[str, float]:
    """ISO 179-1, 8.1, with the loss of ISO 13802:1999, 5.6, and each slip in that; angles in degrees."""
    moment, release = one.hammer.moment_Nm, one.hammer.release_angle_deg
    rise = float(one.rise_deg[0])
    thickness, width, left = (float(each[0]) for each in (one.thickness_mm, one.width_mm, one.broken_width_mm))
    taken = moment * (math.cos(math.radians(rise)) - math.cos(math.radians(release)))
    indicator, swing = one.losses.indicator_loss_J, one.losses.swing_loss_J
    loss = 0.5 * (swing + rise / release * (swing + 2.0 * indicator))
    section = thickness * left
    return {
        "right": 1000.0 * (taken - loss) / section,
        "loss-forgotten": 1000.0 * taken / section,
        "loss-added": 1000.0 * (taken + loss) / section,
        "loss-whole": 1000.0 * (taken - indicator - swing) / section,
        "energy-left": 1000.0 * moment * (1.0 - math.cos(math.radians(rise))) / section,
        "radians": 1000.0 * moment * (math.cos(rise) - math.cos(release)) / section,
        "full-width": 1000.0 * (taken - loss) / (thickness * width),
        "nominal-section": 1000.0 * (taken - loss) / (4.0 * 8.0),
        "j-per-m": (taken - loss) / (thickness / 1000.0),
        "foot-pound": 1000.0 * (taken - loss) / 1.3558179 / section,
        "power-of-ten": (taken - loss) / section,
        "width-for-thickness": 1000.0 * (taken - loss) / (width * left),
        "nominal-energy": 1000.0
        * (one.hammer.nominal_energy_J / (1.0 - math.cos(math.radians(release))) / moment * taken - loss)
        / section,
        "neighbour-reading": float(one.energy_J[1]) * 1000.0 / section,
    }


def test_the_bar_that_a_demonstrator_is_asked_about(one: Bars) -> None:
    """Forgetting the loss gives 4.175, and so on: rounded values that were worked out by hand once."""
    found = _by_hand(one)
    expected = {
        "right": 3.888, "loss-forgotten": 4.175, "full-width": 3.099, "nominal-section": 3.864, "loss-whole": 3.856,
        "loss-added": 4.461, "energy-left": 27.29, "radians": -25.65, "j-per-m": 30.99,
    }  # fmt: skip
    for slip, value in expected.items():
        assert found[slip] == pytest.approx(value, rel=2e-4), slip


def test_every_slip_of_a_bar_gives_what_it_gives_by_hand(one: Bars) -> None:
    by_hand = _by_hand(one)
    assert right_values(one, BAR) == pytest.approx((by_hand.pop("right"),), rel=1e-12)
    known = candidates(one, BAR)
    for slip, value in by_hand.items():
        assert any(each == slip and found == pytest.approx(value, rel=1e-7) for each, found in known), slip


def test_every_slip_has_words_and_is_listed() -> None:
    made = {*ENERGY_SLIPS, *SECTION_SLIPS, *UNIT_SLIPS, "neighbour-reading", "rounding"}
    of_sets = {"n-for-n-minus-1", "standard-error", "normal-for-t", "excluded-counted", "no-break-counted",
               "breaks-mixed", "rounded-first"}  # fmt: skip
    assert made | of_sets == set(SLIPS)
    assert all(each.startswith("Look again") for each in LOOK_AT.values())
    assert not any(character.isdigit() for each in LOOK_AT.values() for character in each.replace("m²", ""))


def test_spread_and_interval_by_hand(one: Bars) -> None:
    strengths = [float(one.strength_kJ_m2[place]) for place in one.sets[0].members]
    n, mean = len(strengths), sum(strengths) / len(strengths)
    squares = sum((each - mean) ** 2 for each in strengths)
    spread = dict.fromkeys(SLIPS, 0.0)
    for slip, value in candidates(one, Asked("standard_deviation_kJ_m2", 0)):
        if slip in ("n-for-n-minus-1", "standard-error"):
            spread[slip] = value
    assert spread["n-for-n-minus-1"] == pytest.approx(math.sqrt(squares / n), rel=1e-12)
    assert spread["standard-error"] == pytest.approx(math.sqrt(squares / (n - 1) / n), rel=1e-12)
    ends = [value for slip, value in candidates(one, Asked("interval_low_kJ_m2", 0)) if slip == "normal-for-t"]
    assert ends[0] == pytest.approx(mean - 1.959963985 * math.sqrt(squares / (n - 1) / n), rel=1e-9)
    # 2.262 for nine degrees of freedom stands in every table of Student's t (ISO 2602)
    right = right_values(one, Asked("interval_low_kJ_m2", 0))
    assert n == 10
    assert right[0] == pytest.approx(mean - 2.262157 * math.sqrt(squares / (n - 1) / n), rel=1e-6)


def _answer(asked: Asked, value: float, digits: int = 4) -> Answer:
    found = given(f"{value:.{digits - 1}e}")
    assert found is not None
    return Answer(asked, found)


def test_one_slip_over_all_bars_comes_first(one: Bars) -> None:
    """Where two slips give one number, the one that gives the others as well is named first."""
    whole = [float(each.strength_kJ_m2[0]) for each in ways_with_two(one) if each.slips == ("loss-whole", "foot-pound")]
    assert whole
    ambiguous = _answer(BAR, 3.86, 3)
    assert judge(one, [ambiguous])[0].slips == ("loss-whole", "nominal-section")
    others = [
        _answer(Asked("strength_kJ_m2", place), float(1000.0 * one.energy_J[place] / 32.0), 5) for place in range(1, 6)
    ]
    assert judge(one, [ambiguous, *others])[0].slips[0] == "nominal-section"


def test_two_slips_are_blamed_only_where_they_give_two_answers(one: Bars) -> None:
    sections_mm2 = one.thickness_mm * one.width_mm
    wrong = [float(one.indicated_J[place] * 1000.0 / sections_mm2[place]) for place in (0, 1)]
    answers = [_answer(Asked("strength_kJ_m2", place), value) for place, value in enumerate(wrong)]
    assert [each.kind for each in judge(one, answers[:1])] == ["unknown"]
    verdicts = judge(one, answers)
    assert [each.slips for each in verdicts] == [("loss-forgotten", "full-width")] * 2
    assert all(each.together for each in verdicts)
