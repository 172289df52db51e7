"""The newest loss against the earlier ones, its steady growth, and how the energy of free half swings dies away."""

import datetime as dt
import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from loss_series import DIVISION_PCT, losses
from scipy import stats

from notchbook.evaluation.library import Evaluation
from notchbook.evaluation.loss_changes import loss_changes, pooled
from notchbook.evaluation.loss_history import LossHistory, loss_history, newest_history
from notchbook.evaluation.loss_trend import loss_trends
from notchbook.evaluation.losses import energy_left
from notchbook.handbook import open_handbook
from notchbook.model.rig import Repair
from notchbook.model.verification import FreeSwings
from notchbook.physics.pendulum import rise_from_energy_deg

DEMO = Path(__file__).resolve().parents[2]
# t(0.975; 5) of Student's distribution as tabled, from memory
T_5 = 2.570582


@pytest.fixture(scope="module")
def demo():
    return open_handbook(DEMO)


@pytest.fixture(scope="module")
def charpy_1(demo):
    return demo.library.rigs["bench-1"], demo.evaluation.hammers["bench-1", "charpy-1"]


def history(own_pct, others_pct=(), division_pct=DIVISION_PCT) -> LossHistory:
    own = losses(own_pct, division_pct=division_pct)
    changes = [*list(loss_changes(own))[:-1]]
    for place, each in enumerate(others_pct):
        changes += loss_changes(losses(each, f"other-{place}", division_pct))
    return loss_history(own, pooled(changes))


def test_changes_of_all_hammers_are_pooled_as_shares_of_their_losses():
    """By hand: changes of 10, 20 % of small and large losses alike, from what is before to what is after."""
    steps = [0.1 / 1.05, 0.2 / 1.1, -0.1 / 1.05, -0.2 / 1.1, 0.0]
    small, large = losses([0.1, 0.11, 0.132]), losses([5.28, 4.8, 4.0, 4.0], "other")
    found = pooled([*loss_changes(small), *loss_changes(large)])
    assert found.degrees_of_freedom == 5
    assert found.relative == pytest.approx(math.sqrt(sum(each**2 for each in steps) / 5), rel=1e-12)


def test_losses_near_what_the_scale_shows_tell_no_change():
    assert not list(loss_changes(losses([0.019, 0.1])))
    assert not list(loss_changes(losses([0.1, 0.019])))
    assert len(list(loss_changes(losses([0.1, 0.02])))) == 1
    assert pooled(loss_changes(losses([0.1, 0.2]))) is None


def test_the_interval_is_a_usual_change_from_the_last_loss_and_from_their_mean():
    found = history([1.0, 1.1, 1.1, 1.4], [[2.0, 2.2, 2.0], [3.0, 3.3]])
    half = T_5 * math.sqrt(4 / 5) * 0.1 / 1.05 / 2
    factor = (1 + half) / (1 - half)
    low, high = found.interval_pct
    assert low == pytest.approx(3.2 / 3 / factor, rel=1e-6)
    assert high == pytest.approx(1.1 * factor, rel=1e-6)


@pytest.mark.parametrize("own_pct", [[1.0, 1.1, 1.1], [1.1, 1.0, 0.9], [1.0]])
def test_a_loss_outside_departs_and_one_inside_does_not(own_pct):
    others = [[2.0, 2.2, 2.0], [3.0, 3.3]]
    low, high = history([*own_pct, 1.0], others).interval_pct
    for inside in (low + 1e-6, 1.0, high - 1e-6):
        assert not history([*own_pct, inside], others).departs
    for outside in (low - 1e-4, high + 1e-4):
        assert history([*own_pct, outside], others).departs


def test_a_restless_hammer_is_judged_by_its_rig():
    """Three losses of a hammer let a loss of half as much again pass; those of its rig do not."""
    restless = [0.9, 1.1, 0.9]
    alone = history([*restless, 1.5])
    assert not alone.departs
    assert alone.factor > 1.9
    quiet = [[2.0, 2.1, 2.0, 2.1], [0.5, 0.52, 0.5, 0.52]]
    on_its_rig = history([*restless, 1.5], quiet)
    assert on_its_rig.departs
    assert on_its_rig.factor < 1.35


def test_no_history_lets_a_loss_double():
    wild = [[1.0, 3.0, 1.0, 3.0]]
    assert history([1.0, 1.0, 2.0 - 1e-6], wild).departs is False
    assert history([1.0, 1.0, 2.0 + 1e-6], wild).departs
    assert history([1.0, 1.0, 0.5 - 1e-6], wild).departs
    assert history([1.0, 1.0, 1.0], wild).interval_pct == pytest.approx((0.5, 2.0))


def test_a_loss_that_comes_back_from_a_jump_does_not_depart():
    quiet = [[2.0, 2.02, 2.0, 2.02, 2.0, 2.02]]
    assert history([1.0, 1.0, 1.0, 1.0, 1.6], quiet).departs
    assert not history([1.0, 1.0, 1.0, 1.0, 1.6, 1.0], quiet).departs


def test_losses_that_agree_better_than_the_scale_are_judged_by_its_division():
    assert not history([1.0, 1.0, 1.0, 1.0 + 0.99 * DIVISION_PCT]).departs
    assert history([1.0, 1.0, 1.0, 1.0 + 1.01 * DIVISION_PCT]).departs
    assert history([1.0, 1.0, 1.0, 1.0]).interval_pct == pytest.approx((1.0 - DIVISION_PCT, 1.0 + DIVISION_PCT))


def with_losses(demo, by_hammer, repairs=()) -> Evaluation:
    """The demo's evaluation with other losses of its first rig, by verifications that show them."""
    library = replace(demo.library, rigs={"bench-1": replace(demo.library.rigs["bench-1"], repairs=tuple(repairs))})
    evaluation = Evaluation(library, demo.evaluation.hammers)
    for hammer, listed in by_hammer.items():
        for each in losses(listed, hammer):
            evaluation.by_hammer.setdefault(("bench-1", hammer), []).insert(0, each.verification)
            model = next(iter(demo.evaluation.verifications.values()))
            found = replace(model.losses, loss_pct=each.loss_pct, first_rise_deg=149.999)
            evaluation.verifications[each.verification.id] = replace(model, losses=found)
    return evaluation


def test_a_repair_begins_the_history_anew(demo):
    """A loss that doubled is told, and is not where a repair of that hammer, of its base or of the rig explains it."""
    told = {"charpy-1": [1.0, 1.0, 1.0, 2.0], "charpy-4": [0.3, 0.3, 0.3, 0.3]}
    newest = "2019-09-01-charpy-1"

    def found(*repairs):
        evaluation = with_losses(demo, told, repairs)
        return newest_history(evaluation, next(each for each in evaluation.by_hammer["bench-1", "charpy-1"]))

    assert found().departs
    assert found().earlier.n == 3
    for hammer in (None, "charpy-1", "charpy-0.5"):
        assert found(Repair(dt.date(2019, 9, 1), "new bearings", "LT-1", hammer)) is None
    for other in ("charpy-4", "cold-1"):
        assert found(Repair(dt.date(2019, 9, 1), "new bearings", "LT-1", other)).departs
    # the day before the last two: one earlier loss is left, and the changes of the others tell what to expect
    earlier = found(Repair(dt.date(2018, 8, 31), "new bearings", "LT-1", "charpy-1"))
    assert (earlier.earlier.n, earlier.departs) == (1, True)
    assert newest.endswith("charpy-1")


def test_the_line_is_that_of_the_reference_library(demo):
    own, other = [1.0, 1.2, 1.25, 1.5, 1.55], [0.3, 0.31, 0.29, 0.32]
    evaluation = with_losses(demo, {"charpy-1": own, "charpy-4": other})
    found = loss_trends(evaluation, "bench-1")["charpy-1"]
    years = [(dt.date(2016 + place, 9, 1) - dt.date(2016, 9, 1)).days / 365.25 for place in range(5)]
    line = stats.linregress(years, own)
    assert found.rise_pct_a_year == pytest.approx(line.slope, rel=1e-9)
    assert found.first_pct == pytest.approx(line.intercept, rel=1e-9)
    # left over of both lines as shares of the means, (5 - 2) + (4 - 2) degrees of freedom
    left = 0.0
    for values in (own, other):
        shares = np.array(values) / np.mean(values)
        at = np.array(years[: len(values)])
        left += float(np.sum((shares - np.polyval(np.polyfit(at, shares, 1), at)) ** 2))
    t = line.slope / np.mean(own) / math.sqrt(left / 5 / np.sum((np.array(years) - np.mean(years)) ** 2))
    assert found.probability == pytest.approx(stats.t.sf(t, 5), rel=1e-6)


@pytest.mark.parametrize(
    ("own", "grows", "told"),
    [
        ([1.0, 1.2, 1.35, 1.56], True, True),  # by half
        ([1.0, 1.13, 1.26, 1.4], True, False),  # seen, and far from the limit of 2 %
        ([1.7, 1.75, 1.8, 1.85], True, False),
        ([1.75, 1.82, 1.86, 1.93], True, True),  # reaches the limit within two years
        ([1.0, 1.3, 1.0, 1.3], False, False),
        ([1.36, 1.25, 1.12, 1.0], False, False),  # it falls
        ([1.0, 1.0, 1.0, 1.0], False, False),
    ],
)
def test_what_grows_is_seen_and_told_where_it_matters(demo, own, grows, told):
    others = {"charpy-4": [0.30, 0.31, 0.30, 0.31], "charpy-5": [0.40, 0.41, 0.41, 0.40]}
    found = loss_trends(with_losses(demo, {"charpy-1": own, **others}), "bench-1")["charpy-1"]
    assert (found.grows, found.is_to_be_told(2.0)) == (grows, told)


def test_when_the_limit_is_reached(demo):
    found = loss_trends(with_losses(demo, {"charpy-1": [1.0, 1.1, 1.2, 1.3]}), "bench-1")["charpy-1"]
    assert found.reaches(2.0).year == 2026
    assert found.reaches(1.0) == dt.date(2019, 9, 1)
    flat = loss_trends(with_losses(demo, {"charpy-1": [1.3, 1.2, 1.1]}), "bench-1")["charpy-1"]
    assert flat.reaches(2.0) is None


def test_losses_that_do_not_grow_are_rarely_taken_for_growing(demo):
    """Rigs without wear: at most one hammer in a hundred."""
    random = np.random.default_rng(13802)
    rigs, hammers = 500, ("charpy-1", "charpy-2", "charpy-4", "charpy-5")
    alarms = 0
    for _ in range(rigs):
        drawn = {hammer: random.normal(1.0, 0.06, 5).tolist() for hammer in hammers}
        alarms += sum(each.probability < 0.01 for each in loss_trends(with_losses(demo, drawn), "bench-1").values())
    # tolerance: four standard errors of a simulated share
    number = rigs * len(hammers)
    assert alarms / number < 0.01 + 4.0 * math.sqrt(0.01 * 0.99 / number)
    assert alarms > 0


@pytest.mark.parametrize("decay", [0.001, 0.009, 0.03])
def test_an_exponential_is_found_again(charpy_1, decay):
    """Readings made from exp(-k n) give back k."""
    _, hammer = charpy_1

    def rise(half_swings):
        lost = hammer.potential_energy_J * -math.expm1(-decay * half_swings)
        return float(rise_from_energy_deg(hammer.moment_Nm, hammer.release_angle_deg, lost))

    found = energy_left(hammer, FreeSwings(rise(1) - 0.3, rise(1), rise(11), 10))
    assert found.half_swings == (0, 1, 11)
    assert found.decay == pytest.approx(decay, rel=1e-9)
    assert found.half_swing_loss_pct == pytest.approx(100 * (1 - math.exp(-decay)), rel=1e-9)
    assert found.fitted_pct(11) == pytest.approx(found.left_pct[2], rel=1e-9)


def test_swings_that_cannot_have_been_have_no_fit(charpy_1):
    _, hammer = charpy_1
    assert energy_left(hammer, FreeSwings(147.0, 148.0, None, None)) is None
    assert energy_left(hammer, FreeSwings(147.0, 148.0, 149.0, 10)) is None
