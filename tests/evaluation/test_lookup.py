"""Look-up tables: the energies of records, over the part of the scale that the method allows."""

import datetime as dt
import math
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import small_handbook as small
from notchbook.evaluation.after_break import reading_after_break, rise_after_break_deg
from notchbook.evaluation.hammers import swung_hammers
from notchbook.evaluation.lookup import lookup_table, scale_table
from notchbook.evaluation.losses import find_losses
from notchbook.evaluation.records import evaluate_record
from notchbook.evaluation.scale import Section, division_worth_kJ_m2
from notchbook.handbook import open_handbook
from notchbook.model.rig import Indicator
from notchbook.model.verification import FreeSwings
from notchbook.physics.pendulum import energy_from_rise_J
from notchbook.reading.building import rig as build_rig

DEMO = Path(__file__).resolve().parents[2]
DAY = dt.date(2026, 11, 2)
SECTION = Section(4.0, 8.0)
ANGLES = Indicator("angle", 0.2, None)
ENERGIES = Indicator("energy", None, 0.002)
SWINGS = FreeSwings(first_rise_deg=94.6, second_rise_deg=95.0, later_rise_deg=89.2, half_swings=10)


@pytest.fixture(scope="module")
def handbook(tmp_path_factory):
    return small.opened(tmp_path_factory.mktemp("small"))


@pytest.fixture(scope="module")
def hammer(handbook):
    return handbook.evaluation.hammers["bench-1", "charpy-1"]


@pytest.fixture(scope="module")
def losses(hammer):
    return find_losses(hammer, SWINGS)


def long_swing():
    """A hammer of a long swing, with its losses."""
    rig = small.files()[small.RIG]
    rig["hammers"]["charpy-1"]["release_angle_deg"] = 150.0
    hammer = swung_hammers(build_rig("bench-1", rig))["charpy-1"]
    return hammer, find_losses(hammer, FreeSwings(first_rise_deg=148.6, second_rise_deg=149.0))


def of_correction(correction):
    return replace(small.package_method(), loss_correction=correction)


def evaluated(handbook, hammer, method, losses, indicator, readings):
    """A record of bars of the nominal section with these readings."""
    record = handbook.library.records[small.TEST_ID]
    on_angles = indicator.reads == "angle"
    bars = tuple(
        replace(
            record.specimens[0], id=str(place), thickness_mm=SECTION.thickness_mm, remaining_width_mm=SECTION.width_mm,
            rise_angle_deg=reading if on_angles else None, indicated_energy_J=None if on_angles else reading,
        )
        for place, reading in enumerate(readings)
    )  # fmt: skip
    return evaluate_record(replace(record, specimens=bars), hammer, method, losses, None).specimens


@pytest.mark.parametrize("correction", ["plastics", "metals"])
@pytest.mark.parametrize("indicator", [ANGLES, ENERGIES], ids=["angle", "energy"])
def test_rows_are_what_a_record_would_give(handbook, hammer, losses, indicator, correction):
    method = of_correction(correction)
    table = lookup_table(indicator, hammer, method, losses, SECTION)
    assert table.reads == indicator.reads
    bars = evaluated(handbook, hammer, method, losses, indicator, [each.reading for each in table.rows])
    for row, bar in zip(table.rows, bars, strict=True):
        assert (row.energy_J, row.loss_J, row.strength_kJ_m2) == pytest.approx(
            (bar.energy_J, bar.loss_J, bar.strength_kJ_m2), rel=1e-12, abs=1e-12
        )


def test_rows_are_closer_where_own_bars_lie_and_are_what_a_record_would_give(handbook, hammer, losses):
    method = small.package_method()
    usual = lookup_table(ENERGIES, hammer, method, losses, SECTION)
    low, high = 0.2, 0.26
    table = lookup_table(ENERGIES, hammer, method, losses, SECTION, (low, high))
    readings = [each.reading for each in table.rows]
    assert readings == sorted(set(readings))
    assert {each.reading for each in usual.rows} <= set(readings)
    own = [each for each in readings if low - 1e-9 <= each <= high + 1e-9]
    assert (own[0], own[-1]) == pytest.approx((low, high))
    # 30 divisions of 0.002 J, a row for each
    assert [after - before for before, after in pairwise(own)] == pytest.approx([0.002] * 30)
    bars = evaluated(handbook, hammer, method, losses, ENERGIES, readings)
    assert [each.strength_kJ_m2 for each in table.rows] == pytest.approx([each.strength_kJ_m2 for each in bars])


@pytest.mark.parametrize("correction", ["plastics", "metals"])
@pytest.mark.parametrize("scale", [ANGLES, ENERGIES], ids=["angle", "energy"])
def test_what_the_scale_shows_after_a_bar_gives_its_energy_back(handbook, hammer, losses, scale, correction):
    energy = 0.3 * hammer.potential_energy_J
    shown = reading_after_break(scale, hammer, losses, correction, energy)
    (bar,) = evaluated(handbook, hammer, of_correction(correction), losses, scale, [shown])
    assert bar.energy_J == pytest.approx(energy, rel=1e-9)
    assert reading_after_break(scale, hammer, losses, correction, 1.01 * hammer.potential_energy_J) is None


@pytest.mark.parametrize("indicator", [ANGLES, ENERGIES], ids=["angle", "energy"])
def test_table_covers_the_window_and_no_more(handbook, hammer, losses, indicator):
    method = small.package_method()
    table = lookup_table(indicator, hammer, method, losses, SECTION)
    first, last = table.rows[0].reading, table.rows[-1].reading
    inner = evaluated(handbook, hammer, method, losses, indicator, [each.reading for each in table.rows])
    outer = evaluated(handbook, hammer, method, losses, indicator, [first - table.step, last + table.step])
    # ISO 179-1, 7.3: 10 % to 80 % (from memory)
    assert all(10.0 <= each.used_pct <= 80.0 for each in inner)
    assert not any(10.0 <= each.used_pct <= 80.0 for each in outer)


@pytest.mark.parametrize("indicator", [ANGLES, ENERGIES], ids=["angle", "energy"])
def test_energy_falls_with_the_rise_and_grows_with_the_indicated_energy(hammer, losses, indicator):
    rows = lookup_table(indicator, hammer, small.package_method(), losses, SECTION).rows
    sign = -1.0 if indicator.reads == "angle" else 1.0
    for before, after in pairwise(rows):
        assert before.reading < after.reading
        assert sign * (after.energy_J - before.energy_J) > 0.0
        assert sign * (after.strength_kJ_m2 - before.strength_kJ_m2) > 0.0


@given(st.sampled_from([0.05, 0.1, 0.2, 0.25, 0.5, 1.0]))
def test_steps_are_round_multiples_of_the_division(division):
    hammer, losses = long_swing()
    table = lookup_table(Indicator("angle", division, None), hammer, small.package_method(), losses, SECTION)
    assert 19 <= len(table.rows) <= 31
    for each in (table.step, *(row.reading for row in table.rows)):
        assert each / division == pytest.approx(round(each / division), rel=1e-9)


@given(st.floats(1e-6, 20.0))
def test_any_division_gives_a_table_of_a_bounded_length(division):
    hammer, losses = long_swing()
    table = lookup_table(Indicator("angle", division, None), hammer, small.package_method(), losses, SECTION)
    assert len(table.rows) <= 31
    assert table.step / division == pytest.approx(round(table.step / division), rel=1e-9)


def test_a_scale_without_a_division_in_the_window_has_no_table():
    hammer, losses = long_swing()
    scale = Indicator("angle", 150.0, None)
    assert lookup_table(scale, hammer, small.package_method(), losses, SECTION) is None
    assert scale_table(scale, hammer, small.package_method(), losses, [SECTION], 500) is None


def test_a_coarse_scale_has_fewer_rows(hammer, losses):
    table = lookup_table(Indicator("angle", 7.0, None), hammer, small.package_method(), losses, SECTION)
    assert table.step == 7.0
    assert 3 < len(table.rows) < 15


def test_every_hammer_of_the_demonstration_has_a_table():
    handbook = open_handbook(DEMO, day=DAY)
    for (rig, name), hammer in handbook.evaluation.hammers.items():
        newest = handbook.evaluation.by_hammer[rig, name][0]
        losses = handbook.evaluation.verifications[newest.id].losses
        indicator = handbook.library.rigs[rig].indicator
        method = handbook.library.methods[hammer.method]
        table = lookup_table(indicator, hammer, method, losses, SECTION)
        assert 19 <= len(table.rows) <= 31, name
        assert table.rows[0].reading == pytest.approx(round(table.rows[0].reading / table.step) * table.step)


def test_no_table_without_the_loss_or_with_an_empty_window(hammer):
    losses = find_losses(hammer, replace(SWINGS, later_rise_deg=None, half_swings=None))
    assert lookup_table(ANGLES, hammer, of_correction("metals"), losses, SECTION) is None
    method = small.package_method()
    beyond = replace(method, energy_window=replace(method.energy_window, low_pct=101.0, high_pct=120.0))
    assert lookup_table(ANGLES, hammer, beyond, losses, SECTION) is None
    assert lookup_table(ENERGIES, hammer, beyond, losses, SECTION) is None


@pytest.mark.parametrize("correction", ["plastics", "metals"])
@pytest.mark.parametrize("share", [0.01, 0.1, 0.5, 0.8, 0.97])
def test_rise_after_a_break_gives_the_energy_back(handbook, hammer, losses, correction, share):
    energy = share * hammer.potential_energy_J
    rise = rise_after_break_deg(hammer, losses, correction, energy)
    (bar,) = evaluated(handbook, hammer, of_correction(correction), losses, ANGLES, [rise])
    # tolerance: the rise is settled to 1e-9 degrees
    assert bar.energy_J == pytest.approx(energy, rel=1e-9)


def test_rise_without_losses_is_that_of_the_energy_alone(hammer):
    rise = rise_after_break_deg(hammer, None, "plastics", 0.5 * hammer.potential_energy_J)
    # by hand: cos beta = (1 + cos alpha) / 2 where half of M (1 - cos alpha) is gone
    assert math.cos(math.radians(rise)) == pytest.approx((1 + math.cos(math.radians(95.7))) / 2, rel=1e-12)


def test_a_bar_that_stops_the_pendulum_leaves_no_rise(hammer, losses):
    assert rise_after_break_deg(hammer, losses, "plastics", 1.01 * hammer.potential_energy_J) is None


@pytest.mark.parametrize("correction", ["plastics", "metals"])
@pytest.mark.parametrize("indicator", [ANGLES, ENERGIES], ids=["angle", "energy"])
def test_division_is_the_strength_between_two_bars_half_a_division_to_each_side(
    handbook, hammer, losses, indicator, correction
):
    method = of_correction(correction)
    division = indicator.division_deg or indicator.division_J
    for rise in (3.0, 41.0, 90.0):
        at = rise if indicator.reads == "angle" else energy_from_rise_J(hammer.moment_Nm, 95.7, rise)
        bars = evaluated(handbook, hammer, method, losses, indicator, [at - division / 2.0, at + division / 2.0])
        worth = division_worth_kJ_m2(indicator, hammer, losses, correction, SECTION, rise)
        assert worth == pytest.approx(abs(bars[1].strength_kJ_m2 - bars[0].strength_kJ_m2), abs=1e-12)


def test_division_at_the_end_of_the_scale_is_the_last_one(handbook, hammer, losses):
    bars = evaluated(handbook, hammer, small.package_method(), losses, ANGLES, [0.0, 0.2])
    worth = division_worth_kJ_m2(ANGLES, hammer, losses, "plastics", SECTION, 0.0)
    assert worth == pytest.approx(bars[0].strength_kJ_m2 - bars[1].strength_kJ_m2, abs=1e-12)


def test_division_without_losses_is_that_of_the_angles_alone(hammer):
    # by hand: M (cos 89.9 - cos 90.1) over 4 mm x 8 mm, M = 0.9097 N m
    expected = 1000.0 * 0.9097 * 2.0 * math.sin(math.radians(0.1)) / 32.0
    worth = division_worth_kJ_m2(ANGLES, hammer, None, "plastics", SECTION, 90.0)
    assert hammer.moment_Nm == 0.9097
    assert worth == pytest.approx(expected, rel=1e-12)


def test_a_scale_whose_division_is_longer_than_itself_has_no_division(hammer, losses):
    assert division_worth_kJ_m2(Indicator("angle", 96.0, None), hammer, losses, "plastics", SECTION, 50.0) is None


UNNOTCHED = Section(4.0, 10.0)


@pytest.mark.parametrize("correction", ["plastics", "metals"])
@pytest.mark.parametrize("indicator", [ANGLES, ENERGIES], ids=["angle", "energy"])
def test_scale_table_holds_every_division_of_the_window(handbook, hammer, losses, indicator, correction):
    method = of_correction(correction)
    division = indicator.division_deg or indicator.division_J
    table = scale_table(indicator, hammer, method, losses, [SECTION, UNNOTCHED], 10_000)
    assert (table.divisions, table.step) == (1.0, division)
    readings = table.readings.tolist()
    assert [round(each / division) for each in readings] == list(
        range(round(readings[0] / division), round(readings[-1] / division) + 1)
    )
    bars = evaluated(handbook, hammer, method, losses, indicator, readings)
    assert table.energy_J == pytest.approx([each.energy_J for each in bars], rel=1e-12, abs=1e-12)
    assert table.loss_J == pytest.approx([each.loss_J for each in bars], rel=1e-12, abs=1e-12)
    strengths = [each.strength_kJ_m2 for each in bars]
    assert table.strength_kJ_m2[0] == pytest.approx(strengths, rel=1e-12, abs=1e-12)
    # 8 mm under the notch against the whole 10 mm
    assert table.strength_kJ_m2[1] == pytest.approx([each * 0.8 for each in strengths], rel=1e-12, abs=1e-12)
    outer = evaluated(handbook, hammer, method, losses, indicator, [readings[0] - division, readings[-1] + division])
    # ISO 179-1, 7.3: 10 % to 80 % (from memory)
    assert not any(10.0 <= each.used_pct <= 80.0 for each in outer)
    assert all(10.0 <= each.used_pct <= 80.0 for each in bars)


@pytest.mark.parametrize(("most", "divisions"), [(10_000, 1.0), (300, 2.0), (100, 5.0), (50, 10.0), (10, 50.0)])
def test_scale_table_takes_the_fewest_divisions_apart_that_give_few_enough_rows(most, divisions):
    hammer, losses = long_swing()
    method = small.package_method()
    table = scale_table(ANGLES, hammer, method, losses, [SECTION], most)
    assert table.divisions == divisions
    assert table.readings.size <= most
    every = scale_table(ANGLES, hammer, method, losses, [SECTION], 10_000)
    assert set(table.readings.tolist()) <= set(every.readings.tolist())


def test_scale_table_without_a_section_has_energies_alone(hammer, losses):
    table = scale_table(ANGLES, hammer, small.package_method(), losses, [], 1000)
    assert table.strength_kJ_m2.shape == (0, table.energy_J.size)
