"""Components of variance against a published example, and against the expectations of their sums of squares."""

import math

import numpy as np
import pytest

from notchbook.statistics.components import nested_components

# calcium in turnip greens, per cent of dry matter: four plants, three leaves each, two determinations;
# Snedecor and Cochran, Statistical Methods, 6th ed., 10.17, from memory with its components of variance
TURNIPS = [
    [[3.28, 3.09], [3.52, 3.48], [2.88, 2.80]],
    [[2.46, 2.44], [1.87, 1.92], [2.19, 2.19]],
    [[2.77, 2.66], [3.74, 3.44], [2.55, 2.55]],
    [[3.78, 3.87], [4.07, 4.12], [3.31, 3.31]],
]


def test_published_example():
    found = nested_components(TURNIPS)
    # tolerance: the last digit that is published
    assert found.within_sd**2 == pytest.approx(0.0067, abs=1e-4)
    assert found.groups_sd**2 == pytest.approx(0.1611, abs=1e-4)
    assert found.classes_sd**2 == pytest.approx(0.3652, abs=1e-4)
    assert (found.classes, found.groups, found.n) == (4, 12, 24)


def test_unequal_numbers_give_the_true_components_on_average():
    """Two thousand simulated sets of three years with unequal records; tolerance: four standard errors of the mean."""
    random = np.random.default_rng(1953)
    sizes = [[3, 10, 7], [10, 2], [5, 5, 5, 10], [8]]
    drawn = []
    for _ in range(2000):
        years = []
        for groups in sizes:
            year = random.normal(0.0, 5.0)
            records = [random.normal(20.0 + year + random.normal(0.0, 2.0), 1.0, n).tolist() for n in groups]
            years.append(records)
        found = nested_components(years)
        drawn.append([found.within_sd**2, found.groups_sd**2, found.classes_sd**2])
    means, errors = np.mean(drawn, axis=0), np.std(drawn, axis=0) / math.sqrt(len(drawn))
    for mean, error, true in zip(means, errors, (1.0, 4.0, 25.0), strict=True):
        # a variance that is cut off at 0 makes the mean a little larger
        assert mean == pytest.approx(true, abs=4.0 * error + 0.01 * true)


def test_an_offset_takes_no_digits():
    moved = [[[value + 2.0**30 for value in group] for group in groups] for groups in TURNIPS]
    plain, found = nested_components(TURNIPS), nested_components(moved)
    assert found.classes_sd == pytest.approx(plain.classes_sd, rel=1e-5)
    assert found.within_sd == pytest.approx(plain.within_sd, rel=1e-5)


def test_what_nothing_tells_is_none():
    one = nested_components([[[1.0, 2.0, 4.0]]])
    assert (one.groups_sd, one.classes_sd) == (None, None)
    assert one.within_sd == pytest.approx(np.std([1, 2, 4], ddof=1))
    single = nested_components([[[1.0], [2.0]], [[3.0]]])
    assert (single.within_sd, single.groups_sd, single.classes_sd) == (None, None, None)
    no_two_groups = nested_components([[[1.0, 2.0]], [[3.0, 4.0]]])
    assert (no_two_groups.groups_sd, no_two_groups.classes_sd) == (None, None)
    equal = nested_components([[[2.0, 2.0], [2.0]], [[2.0], [2.0]]])
    assert (equal.within_sd, equal.groups_sd, equal.classes_sd) == (0.0, 0.0, 0.0)
    assert nested_components([[[1.0, 3.0], []], []]).groups == 1
    for wrong, told in (([], "without values"), ([[[]]], "without values"), ([[[1.0, math.nan]]], "finite")):
        with pytest.raises(ValueError, match=told):
            nested_components(wrong)
