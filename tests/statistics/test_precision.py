"""Repeatability and reproducibility against published examples of ISO 5725-2 and ASTM E691, and against exact sums."""

import math
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from notchbook.statistics.precision import precision

REFERENCE = yaml.safe_load((Path(__file__).parents[1] / "reference" / "interlaboratory.yaml").read_text("utf-8"))
GLUCOSE, COAL = REFERENCE["glucose"]["materials"], REFERENCE["coal_sulfur"]["levels"]
CELLS = st.lists(st.lists(st.integers(-1000, 1000), min_size=1, max_size=6), min_size=1, max_size=8)


@pytest.mark.parametrize("level", COAL)
def test_coal_of_iso_5725_2_with_cells_of_unequal_length(level):
    # ISO 5725-2:1994, Annex B.1, from memory; tolerance: the third decimal is printed
    found = precision(COAL[level]["cells"])
    for name, printed in COAL[level]["published"].items():
        assert getattr(found, name) == pytest.approx(printed, abs=0.00051), name


@pytest.mark.parametrize("material", [each for each in GLUCOSE if "published" in GLUCOSE[each]])
def test_glucose_of_e691(material):
    # ASTM E691, glucose in serum, results from memory; tolerance: the fourth decimal is printed
    found = precision(GLUCOSE[material]["cells"])
    mean, of_means, within, together = GLUCOSE[material]["published"]
    assert found.mean == pytest.approx(mean, abs=5.1e-4)
    assert np.std([each.mean for each in found.cells], ddof=1) == pytest.approx(of_means, abs=2e-4)
    assert found.repeatability_sd == pytest.approx(within, abs=2e-4)
    assert found.reproducibility_sd == pytest.approx(together, abs=2e-4)


@pytest.mark.parametrize("material", GLUCOSE)
def test_h_and_k_of_glucose(material):
    # by the formulae of E691, three decimals kept
    found = precision(GLUCOSE[material]["cells"])
    assert found.h == pytest.approx(GLUCOSE[material]["h"], abs=5.1e-4)
    assert found.k == pytest.approx(GLUCOSE[material]["k"], abs=5.1e-4)


def test_between_is_none_left_where_the_bars_explain_it():
    # glucose A: the root that E691 raises to s_r; the cell means scatter less than s_r / sqrt(3)
    found = precision(GLUCOSE["A"]["cells"])
    assert found.between_sd == 0.0
    assert found.reproducibility_sd == found.repeatability_sd


def test_cochran_of_the_glucose_with_a_clerical_error():
    found = precision(GLUCOSE["C"]["cells"])
    # largest over sum of the variances of the cells, by numpy
    variances = [np.var(each, ddof=1) for each in GLUCOSE["C"]["cells"]]
    assert found.cochran == pytest.approx(max(variances) / sum(variances), rel=1e-12)
    assert found.most_scattered == 3
    assert precision([[1.0, 1.0], [2.0, 2.0]]).most_scattered is None


def _exact(cells):
    """s_r^2, s_d^2 and the mean by the sums of ISO 5725-2, 7.4, in whole fractions."""
    cells = [[Fraction(each) for each in cell] for cell in cells]
    total, p = sum(map(len, cells)), len(cells)
    means = [sum(cell) / len(cell) for cell in cells]
    mean = sum(map(sum, cells)) / total
    within = sum((value - own) ** 2 for cell, own in zip(cells, means, strict=True) for value in cell)
    of_means = sum(len(cell) * (own - mean) ** 2 for cell, own in zip(cells, means, strict=True))
    n = (total - sum(Fraction(len(cell)) ** 2 for cell in cells) / total) / (p - 1)
    return mean, within / (total - p), of_means / (p - 1), n


@pytest.mark.parametrize("offset", [0.0, 1e4, 1e8, 1e12, -1e12])
@pytest.mark.parametrize("cells", [GLUCOSE["D"]["cells"], COAL[4]["cells"], COAL[1]["cells"]])
def test_large_offsets_cost_no_digits(cells, offset):
    # as in the analyses of variance of the NIST StRD, whose hardest sets carry offsets up to 1e12
    moved = [[value + offset for value in cell] for cell in cells]
    mean, within, of_means, n = _exact(moved)
    found = precision(moved)
    assert found.mean == pytest.approx(float(mean), rel=1e-15)
    assert found.repeatability_sd == pytest.approx(math.sqrt(within), rel=1e-12)
    between = max((of_means - within) / n, Fraction(0))
    assert found.between_sd == pytest.approx(math.sqrt(between), rel=1e-9)
    assert found.reproducibility_sd == pytest.approx(math.sqrt(within + between), rel=1e-9)


def test_many_cells_of_many_values():
    random = np.random.default_rng(5725)
    cells = (1e6 + random.normal(0.0, 1.0, (300, 1)) + random.normal(0.0, 0.5, (300, 200))).tolist()
    mean, within, of_means, n = _exact(cells)
    found = precision(cells)
    assert found.mean == pytest.approx(float(mean), rel=1e-15)
    assert found.repeatability_sd == pytest.approx(math.sqrt(within), rel=1e-10)
    assert found.between_sd == pytest.approx(math.sqrt((of_means - within) / n), rel=1e-9)


def test_one_cell_has_no_between():
    found = precision([[3.0, 4.0, 5.0]])
    assert (found.mean, found.repeatability_sd, found.between_sd, found.reproducibility_sd) == (4.0, 1.0, None, None)
    assert (found.h, found.k, found.cochran) == ((None,), (1.0,), 1.0)


def test_cells_of_one_value_have_no_repeatability():
    found = precision([[3.0], [4.0], [5.0]])
    assert (found.mean, found.h) == (4.0, (-1.0, 0.0, 1.0))
    assert (found.repeatability_sd, found.between_sd, found.reproducibility_sd) == (None, None, None)
    assert (found.k, found.cochran) == ((None, None, None), None)
    one = precision([[7.0]])
    assert (one.mean, one.h, one.k, one.repeatability_sd) == (7.0, (None,), (None,), None)


def test_one_cell_of_one_value_among_others():
    found = precision([[1.0, 3.0], [2.0, 6.0], [9.0]])
    assert found.repeatability_sd == pytest.approx(math.sqrt((2.0 + 8.0) / 2.0))
    # root mean square of the two standard deviations
    assert found.k == (pytest.approx(math.sqrt(2.0 / 5.0)), pytest.approx(math.sqrt(8.0 / 5.0)), None)
    assert found.h[2] is not None
    assert found.cochran == pytest.approx(0.8)


@pytest.mark.parametrize("value", [0.0, 4.1, 1e12, 1e300, -1e-300])
def test_equal_values_do_not_scatter(value):
    found = precision([[value] * 3, [value] * 2])
    assert (found.mean, found.repeatability_sd, found.between_sd, found.reproducibility_sd) == (value, 0.0, 0.0, 0.0)
    assert (found.h, found.k, found.cochran) == ((None, None), (None, None), None)


def test_rounding_is_no_difference_between_cells():
    found = precision([[0.1, 0.3], [0.2, 0.2], [0.15, 0.25]])
    assert (found.h, found.between_sd) == ((None,) * 3, 0.0)
    apart = precision([[4.0, 4.0], [5.0, 5.0]])
    assert (apart.repeatability_sd, apart.between_sd) == (0.0, pytest.approx(math.sqrt(0.5)))
    assert (apart.k, apart.cochran) == ((None, None), None)


def test_arrays_and_tuples_are_cells_too():
    assert precision((np.array([1.0, 2.0]), (3, 5))) == precision([[1.0, 2.0], [3.0, 5.0]])


@pytest.mark.parametrize(
    ("cells", "words"),
    [
        ([], "at least one cell"), ([[]], "cell 1 holds no value"), ([[1.0], []], "cell 2 holds no value"),
        ([[1.0, math.nan]], "cell 1 .* no finite number"), ([[1.0], [math.inf]], "cell 2 .* no finite number"),
        ([[1e301]], "magnitude"),
    ],
)  # fmt: skip
def test_what_is_no_comparison_is_refused(cells, words):
    with pytest.raises(ValueError, match=words):
        precision(cells)


@given(CELLS)
def test_every_number_is_finite_or_none(cells):
    found = precision(cells)
    numbers = (found.mean, found.repeatability_sd, found.between_sd, found.reproducibility_sd, found.cochran)
    assert all(each is None or math.isfinite(each) for each in (*numbers, *found.h, *found.k))
    if len(cells) > 1 and sum(map(len, cells)) > len(cells):
        _, within, of_means, n = _exact(cells)
        assert found.repeatability_sd == pytest.approx(math.sqrt(within), abs=1e-9)
        assert found.between_sd == pytest.approx(math.sqrt(max((of_means - within) / n, 0)), abs=1e-5)


@given(CELLS, st.floats(0.01, 100.0))
def test_unit_does_not_matter(cells, factor):
    one, other = precision(cells), precision([[factor * value for value in cell] for cell in cells])
    assert other.repeatability_sd == pytest.approx(one.repeatability_sd and factor * one.repeatability_sd, abs=1e-9)
    assert other.k == pytest.approx(one.k, abs=1e-9)
