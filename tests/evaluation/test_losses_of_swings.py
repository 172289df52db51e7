"""Losses from free swings, read as angles or as energies, and which swings a record goes by."""

import dataclasses
import datetime as dt
import math

import pytest

from notchbook.evaluation.hammers import swung_hammers
from notchbook.evaluation.losses import find_losses
from notchbook.model.verification import FreeSwings
from notchbook.reading.building import rig as build_rig
from small_handbook import RIG, TEST, TEST_ID, VERIFICATION, files, opened, own_method

HAMMER = swung_hammers(build_rig("bench-1", files()[RIG]))["charpy-1"]
M, ALPHA = 0.9097, 95.7


def energy(rise_deg):
    """M (cos beta - cos alpha), with the library's cosine."""
    return M * (math.cos(math.radians(rise_deg)) - math.cos(math.radians(ALPHA)))


def test_losses_from_angles_are_those_of_the_contract():
    losses = find_losses(HAMMER, FreeSwings(94.6, 95.0, 89.2, 10))
    assert losses.indicator_loss_J == pytest.approx(energy(94.6) - energy(95.0), rel=1e-11)
    assert losses.swing_loss_J == pytest.approx(energy(95.0), rel=1e-11)
    assert losses.half_swing_loss_J == pytest.approx((energy(89.2) - energy(95.0)) / 10, rel=1e-11)
    assert losses.loss_pct == pytest.approx(100 * energy(94.6) / 1.0, rel=1e-11)


def test_losses_from_energies_are_those_from_the_angles_of_the_same_swings():
    by_angle = find_losses(HAMMER, FreeSwings(94.6, 95.0, 89.2, 10))
    by_energy = find_losses(
        HAMMER,
        FreeSwings(
            half_swings=10,
            first_indicated_energy_J=energy(94.6),
            second_indicated_energy_J=energy(95.0),
            later_indicated_energy_J=energy(89.2),
        ),
    )
    assert dataclasses.astuple(by_energy) == pytest.approx(dataclasses.astuple(by_angle), rel=1e-11)


@pytest.mark.parametrize("correction", ["plastics", "metals"])
@pytest.mark.parametrize("rise_deg", [0.0, 40.0, 86.4, 95.0])
def test_the_loss_in_a_test_is_the_same_from_angles_and_from_energies(correction, rise_deg):
    by_angle = find_losses(HAMMER, FreeSwings(94.6, 95.0, 89.2, 10))
    mixed = find_losses(HAMMER, FreeSwings(94.6, None, 89.2, 10, second_indicated_energy_J=energy(95.0)))
    assert mixed.in_test_J(correction, rise_deg) == pytest.approx(by_angle.in_test_J(correction, rise_deg), rel=1e-11)


@pytest.mark.parametrize("swings", [FreeSwings(), FreeSwings(94.6), FreeSwings(None, 95.0), FreeSwings(half_swings=10)])
def test_without_two_swings_there_are_no_losses(swings):
    assert find_losses(HAMMER, swings) is None


@pytest.mark.parametrize(
    "swings", [FreeSwings(94.6, 95.0), FreeSwings(94.6, 95.0, 89.2), FreeSwings(94.6, 95.0, None, 10)]
)
def test_without_later_swings_there_is_no_loss_of_the_metals_form(swings):
    losses = find_losses(HAMMER, swings)
    assert losses.half_swing_loss_J is None
    assert losses.in_test_J("metals", 80.0) is None
    assert losses.in_test_J("plastics", 80.0) > 0


def test_a_record_of_the_metals_form_without_later_swings_has_no_energies(tmp_path):
    contents = files()
    metals = own_method("loss_correction: plastics", "loss_correction: metals")
    contents["procedures/methods/iso-179-1.yaml"] = metals
    swings = contents[VERIFICATION]["free_swings"]
    for key in ("half_swings", "later_rise_deg"):
        swings.pop(key)
    result = opened(tmp_path, contents).evaluation.records[TEST_ID]
    for each in result.specimens:
        assert (each.energy_J, each.loss_J, each.used_pct, each.strength_kJ_m2) == (None,) * 4
    assert result.sets == ()


def verifications(*periods):
    """The small handbook with verifications of these dates and ends, each with its own second rise."""
    contents = files()
    data = contents.pop(VERIFICATION)
    for number, (date, until) in enumerate(periods):
        swings = data["free_swings"] | {"second_rise_deg": 94.9 + number / 10}
        contents[f"results/verifications/v{number}.yaml"] = data | {
            "date": date, "valid_until": until, "free_swings": swings,
        }  # fmt: skip
    return contents


@pytest.mark.parametrize(
    ("periods", "in_force"),
    [
        ([("2026-09-14", "2027-09-14")], "v0"),
        ([("2026-09-14", "2027-09-14"), ("2026-10-01", "2027-10-01")], "v1"),
        ([("2026-10-01", "2027-10-01"), ("2026-09-14", "2027-09-14")], "v0"),
        ([("2026-10-06", "2027-10-06")], "v0"),  # on its first day
        ([("2025-10-06", "2026-10-06")], "v0"),  # on its last day
        ([("2026-10-07", "2027-10-07")], None),  # a day before its first
        ([("2025-10-05", "2026-10-05")], None),  # a day after its last
        ([("2025-10-05", "2026-10-05"), ("2026-10-07", "2027-10-07")], None),
        ([("2026-09-01", "2027-09-01"), ("2026-09-20", "2026-10-01")], "v0"),  # the newer one has run out
        ([("2026-09-01", "2027-09-01"), ("2026-11-01", "2027-11-01")], "v0"),  # the newer one has not begun
        ([("2026-09-01", "2027-09-01"), ("2026-09-01", "2027-09-01")], "v1"),  # of the same day, the last by its id
        ([], None),
    ],
)
def test_the_verification_in_force_is_the_newest_that_covers_the_day(tmp_path, periods, in_force):
    evaluation = opened(tmp_path, verifications(*periods)).evaluation
    result = evaluation.records[TEST_ID]
    assert result.verification == in_force
    found = evaluation.verification_in_force("bench-1", "charpy-1", dt.date(2026, 10, 6))
    assert (found.id if found else None) == in_force
    if in_force is None:
        assert result.losses is None
        assert result.sets == ()
        assert {each.energy_J for each in result.specimens} == {None}
    else:
        assert result.losses == evaluation.verifications[in_force].losses


@pytest.mark.parametrize("key", ["rig", "hammer"])
def test_a_verification_of_another_rig_or_hammer_is_not_in_force(tmp_path, key):
    contents = files()
    contents[VERIFICATION][key] = "bench-9" if key == "rig" else "charpy-2"
    assert opened(tmp_path, contents).evaluation.records[TEST_ID].verification is None


def test_the_free_swings_of_the_day_come_before_those_of_the_verification(tmp_path):
    contents = files()
    contents[TEST]["free_swings"] = {"first_rise_deg": 94.4, "second_rise_deg": 94.8}
    evaluation = opened(tmp_path, contents).evaluation
    result = evaluation.records[TEST_ID]
    assert result.own_free_swings
    assert result.verification == "2026-09-14-bench-1-charpy-1"
    assert result.losses == find_losses(evaluation.hammers["bench-1", "charpy-1"], FreeSwings(94.4, 94.8))


def test_incomplete_free_swings_of_the_day_are_not_filled_up_from_the_verification(tmp_path):
    contents = files()
    contents[TEST]["free_swings"] = {"first_rise_deg": 94.4}
    result = opened(tmp_path, contents).evaluation.records[TEST_ID]
    assert (result.losses, result.sets) == (None, ())
