"""How far losses go between verifications, pooled over the hammers of a rig."""

import copy
import math
from itertools import pairwise

import numpy as np
import pytest
from loss_series import losses

from notchbook.evaluation.loss_changes import loss_changes, pooled
from notchbook.evaluation.loss_drift import loss_drift
from small_handbook import RIG, TEST, TEST_ID, VERIFICATION, files, opened


def drift(*histories):
    changes = [change for each in histories for change in loss_changes(losses(each))]
    return loss_drift(pooled(changes))


def test_changes_of_all_hammers_are_pooled():
    # four years of one hammer, three of another, in % of 1 J; the sum by hand
    found = drift([0.82, 1.00, 1.14, 0.91], [1.42, 1.65, 1.42])
    changes = [1.8 / 9.1, 1.4 / 10.7, -2.3 / 10.25, 2.3 / 15.35, -2.3 / 15.35]
    assert found.standard == pytest.approx(math.sqrt(sum(each**2 for each in changes) / 5), rel=1e-12)
    assert found.basis == "17 % of the loss, by 5 changes between verifications of the rig's hammers"


def test_losses_that_scatter_about_their_mean_give_the_spread_of_a_difference():
    # of independent losses with a spread of 10 %, the difference of two has sqrt(2) times that
    random = np.random.default_rng(20261127)
    histories = [1 + 0.1 * random.standard_normal(5) for _ in range(2000)]
    assert drift(*histories).standard == pytest.approx(0.1 * math.sqrt(2), rel=0.03)


@pytest.mark.parametrize("histories", [[], [[1.0]], [[1.0, 2.0, 1.0]], [[0.01, 0.01], [1.0, 2.0]]])
def test_without_enough_changes_it_is_a_rectangle_and_says_so(histories):
    found = drift(*histories)
    assert found.standard == pytest.approx(0.3 / math.sqrt(3), rel=1e-12)
    assert "fewer than three changes" in found.basis
    assert "common practice, no source" in found.basis


def test_a_rig_s_verifications_set_it_for_all_its_records(tmp_path):
    changed = files()
    for year, first in ((2023, 94.8), (2024, 94.5), (2025, 94.7)):
        earlier = copy.deepcopy(changed[VERIFICATION]) | {"date": f"{year}-09-14", "valid_until": f"{year + 1}-09-14"}
        earlier["free_swings"]["first_rise_deg"] = first
        changed[f"results/verifications/{year}.yaml"] = earlier
    # a hammer of another rig has bearings of its own
    changed["procedures/rigs/bench-2.yaml"] = changed[RIG] | {"title": "Bench pendulum 2"}
    changed["results/verifications/other.yaml"] = changed[VERIFICATION] | {"rig": "bench-2"}
    evaluation = opened(tmp_path, changed).evaluation
    losses_J = [
        0.9097 * (math.cos(math.radians(first)) - math.cos(math.radians(95.7))) for first in (94.8, 94.5, 94.7, 94.6)
    ]
    changes = [2 * (after - before) / (after + before) for before, after in pairwise(losses_J)]
    expected = math.sqrt(sum(each**2 for each in changes) / 3)
    record = evaluation.library.records[TEST_ID]
    assert evaluation.loss_drift(record).standard == pytest.approx(expected, rel=1e-9)
    lines = {each.input: each for each in evaluation.uncertainty(TEST_ID).energy.budget(0).contributions}
    assert lines["loss-drift"].value == pytest.approx(losses_J[-1], rel=1e-9)
    assert lines["loss-drift"].contribution == pytest.approx(
        -expected * evaluation.records[TEST_ID].specimens[0].loss_J, rel=1e-9
    )
    changed[TEST]["free_swings"] = changed[VERIFICATION]["free_swings"]
    again = opened(tmp_path / "own", changed).evaluation
    assert again.loss_drift(again.library.records[TEST_ID]) is None
