"""Uncertainty of the mean of a set: its scatter, and what all of its specimens share."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats
from uncertain_record import Arrays, contents, evaluated, inputs_of, model, standard

from notchbook.physics.uncertainty import combined_standard_uncertainty, effective_degrees_of_freedom
from small_handbook import EXERCISE, RIG, TEST, VERIFICATION


def by_hand(result, each_set):
    """Scatter and shared contributions of a set, each shared error put into all of its specimens at once."""
    n = each_set.summary.n
    strengths = [result.specimens[place].strength_kJ_m2 for place in each_set.members]
    contributions = {"scatter": np.std(strengths, ddof=1) / math.sqrt(n)}
    inputs = [inputs_of(place, "angle") for place in each_set.members]
    for name in set(inputs[0]) - {"rise-angle", "later-rise"}:
        limits = inputs[0][name][1]
        step = 1e-3 * standard(limits)
        means = []
        for sign in (1, -1):
            shifted = [
                {key: value + sign * step * (key == name) for key, (value, _) in each.items()} for each in inputs
            ]
            means.append(np.mean([model(each, "plastics", Arrays)[1] for each in shifted]))
        contributions[name] = (means[0] - means[1]) / (2 * step) * standard(limits)
    return contributions


def test_a_set_is_its_scatter_and_what_all_specimens_share(tmp_path):
    uncertainty, result = evaluated(tmp_path)
    largest = result.sets[0]
    found = uncertainty.of_set(largest)
    expected = by_hand(result, largest)
    contributions = np.array(list(expected.values()))
    combined = combined_standard_uncertainty(contributions)
    # central differences leave about ten digits of a mean that changes in its seventh
    assert found.standard == pytest.approx(combined, rel=1e-6)
    assert {each.source: each.contribution_kJ_m2 for each in found.shares} == pytest.approx(expected, rel=1e-4)
    assert found.shares[0].source == "scatter"
    for each in found.shares:
        assert each.share_pct == pytest.approx(100 * (each.contribution_kJ_m2 / found.standard) ** 2, rel=1e-12)
    assert sum(each.share_pct for each in found.shares) == pytest.approx(100, rel=1e-12)
    # with one component of n - 1 degrees of freedom: nu = (n - 1) (u / u_scatter)^4; JCGM 100:2008, G.4.1
    freedom = (largest.summary.n - 1) * (combined / expected["scatter"]) ** 4
    assert found.effective_degrees_of_freedom == pytest.approx(freedom, rel=1e-5)
    assert found.effective_degrees_of_freedom == pytest.approx(
        effective_degrees_of_freedom(contributions, np.array([8.0] + [np.inf] * (len(contributions) - 1))), rel=1e-5
    )
    assert found.coverage_factor == pytest.approx(stats.t.ppf(0.975, freedom), rel=1e-5)
    assert found.expanded == pytest.approx(found.coverage_factor * found.standard, rel=1e-12)
    assert not found.is_of_scatter


def test_a_set_without_anything_shared_has_the_interval_of_its_mean(tmp_path):
    changed = contents()
    changed[RIG]["release_angle_uncertainty_deg"] = 1e-9
    changed[RIG]["hammers"]["charpy-1"]["moment_uncertainty_Nm"] = 1e-9
    changed[EXERCISE]["dimension_uncertainty_mm"] = 1e-9
    # of the readings of the free swings too
    changed[RIG]["indicator"]["division_deg"] = 1e-9
    changed[TEST]["free_swings"] = changed[VERIFICATION]["free_swings"]
    uncertainty, result = evaluated(tmp_path, changed)
    largest = result.sets[0]
    found, (low, high) = uncertainty.of_set(largest), largest.summary.interval
    assert found.expanded == pytest.approx((high - low) / 2, rel=1e-9)
    assert found.effective_degrees_of_freedom == pytest.approx(largest.summary.n - 1, rel=1e-9)


def test_specimens_that_agree_better_than_the_scale_are_no_surer_than_one_reading(tmp_path):
    # JCGM 100:2008, F.2.2.1: repeated indications that are all the same still have the resolution of the scale
    changed = contents()
    for specimen in changed[TEST]["specimens"]:
        specimen["rise_angle_deg"] = 86.4
    uncertainty, result = evaluated(tmp_path, changed)
    largest = result.sets[0]
    assert largest.summary.standard_deviation == 0.0
    found = uncertainty.of_set(largest)
    reading = next(each for each in uncertainty.strength.budget(0).contributions if each.input == "rise-angle")
    assert found.shares[0].contribution_kJ_m2 == pytest.approx(abs(reading.contribution), rel=1e-12)
    assert found.effective_degrees_of_freedom == math.inf
    assert found.coverage_factor == pytest.approx(stats.norm.ppf(0.975), rel=1e-9)
    # all that a single specimen has, and k of the normal distribution
    assert found.standard == pytest.approx(uncertainty.strength.budget(0).standard, rel=1e-12)


@pytest.mark.parametrize(
    ("rises", "reads_better"),
    [
        # few bars: the effective degrees of freedom let k fall faster than what is shared adds
        ([86.4, 87.6], True),
        ([86.4, 86.9, 87.2], True),
        # the scatter is below what one reading of the scale tells, and its few degrees of freedom remain
        ([86.4, 86.46], False),
    ],
)
def test_a_mean_is_never_surer_than_its_scatter_lets_it_be(tmp_path, rises, reads_better):
    # JCGM 100:2008, G.3.2: the mean of n repeated readings is known to t(n - 1) s/sqrt(n)
    changed = contents()
    changed[TEST]["free_swings"] = changed[VERIFICATION]["free_swings"]
    template = changed[TEST]["specimens"][0]
    changed[TEST]["specimens"] = [template | {"id": f"{rise}", "rise_angle_deg": rise} for rise in rises]
    uncertainty, result = evaluated(tmp_path, changed)
    (only,) = result.sets
    found, n = uncertainty.of_set(only), only.summary.n
    strengths = [each.strength_kJ_m2 for each in result.specimens]
    by_scatter = stats.t.ppf(0.975, n - 1) * np.std(strengths, ddof=1) / math.sqrt(n)
    assert found.expanded == pytest.approx(by_scatter, rel=1e-9)
    assert found.is_of_scatter
    assert found.coverage_factor == pytest.approx(by_scatter / found.standard, rel=1e-9)
    # the effective degrees of freedom alone would have given less
    assert stats.t.ppf(0.975, found.effective_degrees_of_freedom) * found.standard < by_scatter
    assert math.isfinite(found.effective_degrees_of_freedom) is reads_better


def test_one_specimen_alone_has_no_scatter(tmp_path):
    uncertainty, result = evaluated(tmp_path)
    alone = result.sets[1]
    assert alone.summary.n == 1
    assert uncertainty.of_set(alone) is None


@settings(max_examples=25)
@given(rises=st.lists(st.integers(300, 880), min_size=2, max_size=10))
def test_a_mean_is_no_surer_than_what_its_specimens_share(tmp_path_factory, rises):
    changed = contents()
    template = changed[TEST]["specimens"][0]
    changed[TEST]["specimens"] = [
        template | {"id": f"{number:02}", "rise_angle_deg": rise / 10} for number, rise in enumerate(rises, start=1)
    ]
    uncertainty, result = evaluated(tmp_path_factory.mktemp("mean"), changed)
    (only,) = result.sets
    found = uncertainty.of_set(only)
    budgets = [uncertainty.strength.budget(place).contributions for place in only.members]
    # the same error in all of them is at least as large in their mean as where it is smallest
    of_inputs = [each for each in zip(*budgets, strict=True) if each[0].shared]
    smallest = [min(abs(line.contribution) for line in lines) for lines in of_inputs]
    assert found.standard >= math.hypot(*smallest) * (1 - 1e-12)
    assert found.effective_degrees_of_freedom >= (len(rises) - 1) * (1 - 1e-12)
    assert 1.95 < found.coverage_factor <= stats.t.ppf(0.975, len(rises) - 1) * (1 + 1e-9)
    low, high = only.summary.interval
    assert found.expanded >= (high - low) / 2 * (1 - 1e-12)
