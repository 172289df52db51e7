"""A mean by drawn values, against the strengths of the engine, its first order, and another model."""

import math

import numpy as np
import pytest
from scipy import stats
from uncertain_record import Arrays, contents, inputs_of, model

from notchbook.evaluation.drawn_means import Swinging, strengths_kJ_m2
from notchbook.facts.drawn import drawn_of
from notchbook.facts.facts import Facts
from small_handbook import TEST, TEST_ID, VERIFICATION, opened

FORMS = [(correction, scale) for correction in ("plastics", "metals") for scale in ("angle", "energy")]


def line_of(path, changed):
    return Facts(opened(path, changed)).record(TEST_ID)


@pytest.mark.parametrize(("correction", "scale"), FORMS)
def test_strengths_with_any_errors_are_those_of_another_model(tmp_path, correction, scale):
    line = line_of(tmp_path, contents(correction, scale))
    lost_J = line.losses.free_swing_J
    swinging = Swinging(line.hammer, correction, 10, False, lost_J, 0.0, 9.8137)
    given = inputs_of(0, scale)
    random = np.random.default_rng(3)
    values = {name: value + 0.5 * sum(limits) * random.uniform(-1, 1, 50) for name, (value, limits) in given.items()}
    assert strengths_kJ_m2(values, swinging) == pytest.approx(model(values, correction, Arrays)[1], rel=1e-9)
    nominal = strengths_kJ_m2({name: value for name, (value, _) in given.items()}, swinging)
    assert nominal == pytest.approx(line.result.specimens[0].strength_kJ_m2, rel=1e-12)


def test_the_first_order_and_the_draws_agree_where_the_scatter_is_well_known(tmp_path):
    changed = contents()
    changed[TEST]["free_swings"] = changed[VERIFICATION]["free_swings"]
    template = changed[TEST]["specimens"][0]
    rises = np.round(85.5 + 1.5 * stats.norm.ppf((np.arange(60) + 0.5) / 60), 1).tolist()
    bars = [template | {"id": f"{place}", "rise_angle_deg": rise} for place, rise in enumerate(rises)]
    changed[TEST]["specimens"] = bars
    (only,) = line_of(tmp_path, changed).sets
    found, drawn = only.uncertainty, drawn_of(only, 100_000, 7).drawn
    assert drawn.mean == pytest.approx(only.result.summary.mean, abs=0.02 * found.standard)
    assert drawn.standard == pytest.approx(found.standard, rel=0.03)
    assert (drawn.high - drawn.low) / 2 == pytest.approx(found.expanded, rel=0.03)


def test_the_scatter_of_few_bars_is_student_s(tmp_path):
    changed = contents()
    changed[TEST]["specimens"] = changed[TEST]["specimens"][:2]
    (only,) = line_of(tmp_path, changed).sets
    low, high = only.result.summary.interval
    drawn = drawn_of(only, 200_000, 7).drawn
    # for one degree of freedom nothing else counts: JCGM 101:2008, 6.4.9
    assert drawn.high - drawn.low == pytest.approx(high - low, rel=0.04)
    assert drawn.high - drawn.low >= (high - low) * 0.97


def test_the_same_seed_gives_the_same_numbers_however_many_at_once(tmp_path):
    line = line_of(tmp_path, contents())
    first, again, other = (drawn_of(line.sets[0], 30_000, seed).drawn for seed in (1, 1, 2))
    assert first == again
    assert first != other
    assert other.standard == pytest.approx(first.standard, rel=0.05)
    assert drawn_of(line.sets[1], 1000, 1) is None  # one bar alone


def test_added_masses_bring_gravity_into_the_draws(tmp_path):
    changed = contents()
    changed[TEST]["hammer"] = changed[VERIFICATION]["hammer"] = "charpy-2"
    line = line_of(tmp_path, changed)
    drawn, found = drawn_of(line.sets[0], 60_000, 3).drawn, line.sets[0].uncertainty
    assert "gravity" in {each.source for each in found.shares}
    assert drawn.mean == pytest.approx(line.sets[0].result.summary.mean, abs=0.1 * found.standard)
    # the scatter of n bars has the standard deviation of Student's t
    scatter = found.shares[0].contribution_kJ_m2
    freedom = line.sets[0].n - 1
    expected = math.sqrt(found.standard**2 - scatter**2 + scatter**2 * freedom / (freedom - 2))
    assert drawn.standard == pytest.approx(expected, rel=0.03)
