"""Limits of h, k, Cochran's C and of Grubbs' test for two, against the published tables."""

import math
from pathlib import Path

import numpy as np
import pytest
import scipy.stats
import yaml

from notchbook.statistics.consistency import cochran_limit, h_limit, k_limit
from notchbook.statistics.grubbs_pairs import LARGEST_SET, LEAST_SET, SIGNIFICANCES, pair_limit, pair_statistic

REFERENCE = yaml.safe_load((Path(__file__).parents[1] / "reference" / "interlaboratory.yaml").read_text("utf-8"))
LEVELS = {"five_percent": 0.05, "one_percent": 0.01}
H, K, COCHRAN = (REFERENCE[each] for each in ("mandel_h_iso_5725_2", "mandel_k_iso_5725_2", "cochran"))


@pytest.mark.parametrize("level", LEVELS)
@pytest.mark.parametrize("cells", range(3, 31))
def test_h_of_iso_5725_2(level, cells):
    # tolerance: two decimals are printed; 1.485 of four cells at 1 % stands as 1.49
    assert h_limit(cells, LEVELS[level]) == pytest.approx(H[level][cells - 3], abs=0.00501)


@pytest.mark.parametrize("level", LEVELS)
@pytest.mark.parametrize("n", range(2, 6))
def test_k_of_iso_5725_2(level, n):
    assert k_limit(3, n, LEVELS[level]) == pytest.approx(K[level][n - 2], abs=0.00501)


@pytest.mark.parametrize("cells", range(3, 11))
def test_half_percent_of_e691(cells):
    table = REFERENCE["e691_half_percent"]
    assert h_limit(cells, 0.005) == pytest.approx(table["h"][cells - 3], abs=0.00501)
    assert k_limit(cells, 3, 0.005) == pytest.approx(table["k"][cells - 3], abs=0.00501)


def test_k_of_a_public_package():
    assert k_limit(8, 3, 0.005) == pytest.approx(REFERENCE["mandel_k_half_percent"]["value"], abs=5.1e-6)


@pytest.mark.parametrize("level", LEVELS)
@pytest.mark.parametrize("n", range(2, 12))
def test_cochran_of_the_table(level, n):
    found = [cochran_limit(cells, n, LEVELS[level]) for cells in range(2, 11)]
    # tolerance: four decimals are printed, and the formula bounds the exact value from above
    assert found == pytest.approx(COCHRAN[level][n], abs=0.00028)


def test_by_the_quantiles_of_f():
    # the formulae of ISO 5725-2 with F by scipy
    f = scipy.stats.f.isf(0.01, 4, 28)
    assert k_limit(8, 5, 0.01) == pytest.approx(math.sqrt(8 * f / (f + 7)), rel=1e-9)
    f = scipy.stats.f.isf(0.05 / 8, 4, 28)
    assert cochran_limit(8, 5, 0.05) == pytest.approx(f / (f + 7), rel=1e-9)


def test_where_there_is_no_limit():
    assert (h_limit(2, 0.05), k_limit(1, 5, 0.05), k_limit(3, 1, 0.05)) == (None, None, None)
    assert (cochran_limit(0, 5, 0.05), cochran_limit(1, 5, 0.05), cochran_limit(3, 1, 0.05)) == (None, None, None)
    for limit in (lambda: h_limit(5, 0.0), lambda: k_limit(5, 3, 1.0), lambda: cochran_limit(5, 3, math.nan)):
        with pytest.raises(ValueError, match="significance"):
            limit()


@pytest.mark.parametrize("significance", SIGNIFICANCES)
@pytest.mark.parametrize("n", [5, 40, *(pytest.param(each, marks=pytest.mark.repeats) for each in (8, 14))])
def test_pairs_of_sound_sets_are_rarely_called_outliers(significance, n):
    draws = 20_000
    values = np.sort(np.random.default_rng(1972 + n).normal(size=(draws, n)), axis=1)
    whole = values.var(axis=1) * n
    share = np.minimum(*(part.var(axis=1) * (n - 2) for part in (values[:, 2:], values[:, :-2]))) / whole
    # tolerance: four standard errors of a simulated share; two-sided, so that both ends count
    wanted = pytest.approx(significance, abs=4.0 * math.sqrt(significance / draws))
    assert float(np.mean(share < pair_limit(n, significance))) == wanted


def test_a_pair_is_found_at_either_end():
    sound = [5.0, 5.1, 4.9, 5.2, 4.8, 5.05]
    assert pair_statistic([*sound, 9.0, 9.2])[1] == (6, 7)
    share, places = pair_statistic([1.0, *sound, 1.1])
    assert places == (0, 7)
    # sums of squares by numpy
    expected = np.var(sound) * 6 / (np.var([1.0, *sound, 1.1]) * 8)
    assert share == pytest.approx(expected, rel=1e-12)
    assert pair_statistic([1.0, 1.0, 2.0, 2.0])[0] == 0.0


def test_where_no_pair_can_be_told():
    assert pair_limit(LEAST_SET - 1, 0.05) is None
    assert pair_limit(LARGEST_SET + 1, 0.05) is None
    assert pair_limit(8, 0.1) is None
    for values in ([1.0, 2.0, 3.0], [1.0] * 5):
        with pytest.raises(ValueError, match="two outliers"):
            pair_statistic(values)
