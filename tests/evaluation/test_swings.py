"""Free swings of groups: losses, decay, uncertainty and agreement.

The formulae are those of ISO 13802:1999, 5.6, and ISO 148-1, 8.2, worked here again with `uncertainties`, which
propagates by itself (JCGM 100:2008, 5.1.2). That half a division to each side is rectangular is JCGM 100:2008, 4.3.7.
"""

import math
from dataclasses import replace

import pytest
from uncertainties import ufloat, umath

import small_handbook as small
from notchbook.evaluation.losses import find_losses
from notchbook.evaluation.swings import evaluate_swings, loss_agreement, loss_uncertainty
from notchbook.handbook import open_handbook
from notchbook.model.swings import SwingSeries
from notchbook.model.verification import FreeSwings


@pytest.fixture(scope="module")
def case(tmp_path_factory):
    root = small.write(tmp_path_factory.mktemp("handbook"), small.files() | {small.SWINGS: small.swings()})
    handbook = open_handbook(root, day=small.DAY)
    return handbook, handbook.library.rigs["bench-1"], handbook.evaluation.hammers["bench-1", "charpy-1"]


def test_losses_and_their_uncertainties_are_those_of_their_formulae(case):
    handbook, rig, hammer = case
    found = handbook.evaluation.swings[small.SWINGS_ID]
    half = rig.indicator.division / 2.0 / math.sqrt(3.0)
    moment_u = hammer.moment_Nm * 0.002 * math.sqrt(2.0 / 3.0)  # 0.2 % each for force and length, rectangular
    moment = ufloat(hammer.moment_Nm, moment_u)
    first, second, release = (ufloat(math.radians(each), math.radians(half)) for each in (94.6, 95.0, 95.7))
    indicator = moment * (umath.cos(first) - umath.cos(second))
    swing = moment * (umath.cos(second) - umath.cos(release))
    both_pct = 100.0 * (indicator + swing) / hammer.nominal_energy_J
    assert found.losses.indicator_loss_J == pytest.approx(indicator.n, rel=1e-12)
    assert found.losses.swing_loss_J == pytest.approx(swing.n, rel=1e-12)
    # the division is worth what lies between its ends, the slope is that of its middle
    assert found.uncertainty.indicator_loss_J == pytest.approx(2.0 * indicator.s, rel=1e-4)
    assert found.uncertainty.swing_loss_J == pytest.approx(2.0 * swing.s, rel=1e-4)
    assert found.uncertainty.loss_pct == pytest.approx(2.0 * both_pct.s, rel=1e-4)


def test_later_swings_tell_the_loss_of_a_half_swing(case):
    """By the later swing, ISO 148-1, 8.2; by the series where none was read: the same mean over more swings."""
    handbook, rig, hammer = case
    record = handbook.library.swings[small.SWINGS_ID]
    cos = lambda deg: math.cos(math.radians(deg))  # noqa: E731
    found = evaluate_swings(rig, hammer, record)
    assert found.later_swing_loss_J == pytest.approx(hammer.moment_Nm * (cos(89.0) - cos(95.0)) / 10.0, rel=1e-9)
    without = replace(record, free_swings=FreeSwings(first_rise_deg=94.6, second_rise_deg=95.0))
    found = evaluate_swings(rig, hammer, without)
    assert found.later_swing_loss_J == pytest.approx(hammer.moment_Nm * (cos(92.6) - cos(95.0)) / 4.0, rel=1e-9)


def test_series_that_loses_an_equal_share_gives_it_back(case):
    """Energies made up of 100 % by 1 % a half swing, read on an energy scale at half swings 1, 4, 7 and 10."""
    handbook, rig, hammer = case
    energies = tuple(hammer.potential_energy_J * (1.0 - 0.99**n) for n in (1, 4, 7, 10))
    record = replace(handbook.library.swings[small.SWINGS_ID], series=SwingSeries(3, (), energies))
    left = evaluate_swings(rig, hammer, record).energy_left
    assert left.half_swings == (0, 1, 4, 7, 10)
    assert left.half_swing_loss_pct == pytest.approx(1.0, rel=1e-9)
    as_high = replace(record, series=SwingSeries(3, (), (energies[0], energies[0])))
    assert evaluate_swings(rig, hammer, as_high).energy_left is None


def test_an_indicator_pushed_all_the_way_back_is_paid_again(case):
    """Carried over its whole arc once more, its friction is in the later loss: a tenth of it over ten half swings."""
    _, _, hammer = case
    losses = find_losses(hammer, FreeSwings(94.6, 95.0, 89.0, 10))
    energy = lambda deg: hammer.moment_Nm * (math.cos(math.radians(deg)) - math.cos(math.radians(95.7)))  # noqa: E731
    lower = math.acos((energy(89.0) + losses.indicator_loss_J) / hammer.moment_Nm + math.cos(math.radians(95.7)))
    again = find_losses(hammer, FreeSwings(94.6, 95.0, math.degrees(lower), 10))
    excess = again.half_swing_loss_J - losses.half_swing_loss_J
    assert excess == pytest.approx(losses.indicator_loss_J / 10.0, rel=1e-9)


def test_losses_agree_within_what_two_readings_explain(case):
    """E_n = |difference| / sqrt(U1^2 + U2^2) of at most 1 (ISO 13528, 9.7, from memory)."""
    _, rig, hammer = case
    verified = find_losses(hammer, FreeSwings(94.6, 95.0))
    reading = loss_uncertainty(rig, hammer, verified).reading_pct
    for first, agrees in ((94.6, True), (94.5, True), (94.4, False)):
        agreement = loss_agreement(rig, hammer, find_losses(hammer, FreeSwings(first, 95.0)), verified)
        assert agreement.expanded_pct == pytest.approx(math.sqrt(2.0) * reading, rel=1e-2)
        assert agreement.agrees is agrees


def test_no_test_is_corrected_by_the_swings_of_a_group(case, tmp_path):
    handbook, _, _ = case
    without = open_handbook(small.write(tmp_path, small.files()), day=small.DAY)
    assert handbook.evaluation.records == without.evaluation.records
