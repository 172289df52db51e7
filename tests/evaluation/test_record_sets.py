"""Specimens, sets and rounding of a record."""

import math
import statistics

import pytest

from notchbook.evaluation.hammers import swung_hammers
from notchbook.evaluation.losses import find_losses
from notchbook.evaluation.records import evaluate_record, outlying, rounded
from notchbook.model.verification import FreeSwings
from notchbook.reading.building import record as build_record
from notchbook.reading.building import rig as build_rig
from small_handbook import RIG, TEST, TEST_ID, files, opened, package_method

METHOD = package_method()


def result_of(tmp_path, specimens=None, contents=None):
    """The result of the small handbook's record, with other specimens."""
    contents = contents or files()
    if specimens is not None:
        contents[TEST]["specimens"] = specimens
    return opened(tmp_path, contents).evaluation.records[TEST_ID]


def specimens(letters, excluded=()):
    """Specimens that break by these letters, each with a reading of its own."""
    return [
        {
            "id": f"{number:02}", "width_mm": 10.0, "thickness_mm": 4.0, "remaining_width_mm": 8.0,
            "rise_angle_deg": 86.0 - number / 5, "break": letter,
        }
        | ({"excluded": "cracked"} if number in excluded else {})
        for number, letter in enumerate(letters)
    ]  # fmt: skip


def summary(result):
    return [(each.breaks, each.members) for each in result.sets]


@pytest.mark.parametrize(
    ("letters", "sets"),
    [
        ("CCCC", [(("C",), (0, 1, 2, 3))]),
        ("CHCH", [(("C", "H"), (0, 1, 2, 3))]),
        ("HHH", [(("H",), (0, 1, 2))]),
        ("CPHP", [(("C", "H"), (0, 2)), (("P",), (1, 3))]),
        ("PPPC", [(("P",), (0, 1, 2)), (("C",), (3,))]),
        ("CNNN", [(("C",), (0,))]),
        ("NNNN", []),
        ("P", [(("P",), (0,))]),
    ],
)
def test_complete_and_hinge_breaks_share_a_set_and_others_have_their_own(tmp_path, letters, sets):
    # formats of the data files: a set is one break type (C and H together), N left out
    assert summary(result_of(tmp_path, specimens(letters))) == sets


def test_excluded_specimens_are_computed_but_in_no_set(tmp_path):
    result = result_of(tmp_path, specimens("CCPC", excluded={1, 2}))
    assert summary(result) == [(("C",), (0, 3))]
    assert [each.excluded for each in result.specimens] == [None, "cracked", "cracked", None]
    assert all(each.strength_kJ_m2 is not None for each in result.specimens)


def test_what_did_not_break_has_an_energy_but_no_strength(tmp_path):
    unbroken = result_of(tmp_path, specimens("CN")).specimens[1]
    assert unbroken.energy_J > 0
    assert unbroken.used_pct > 0
    assert unbroken.strength_kJ_m2 is None


def test_a_break_type_that_the_method_does_not_know_has_no_strength(tmp_path):
    assert result_of(tmp_path, specimens("CX")).specimens[1].strength_kJ_m2 is None


def test_of_one_specimen_there_is_only_the_mean(tmp_path):
    result = result_of(tmp_path, specimens("C"))
    (only,) = result.sets
    assert only.summary.mean == result.specimens[0].strength_kJ_m2
    assert (only.summary.standard_deviation, only.summary.variation_pct, only.summary.interval) == (None, None, None)


def test_mean_and_spread_are_those_of_the_strengths(tmp_path):
    result = result_of(tmp_path)
    strengths = [each.strength_kJ_m2 for each in result.specimens if each.break_type in "CH"]
    (largest, _) = result.sets
    assert largest.summary.n == 9
    assert largest.summary.mean == pytest.approx(statistics.fmean(strengths), rel=1e-14)
    assert largest.summary.standard_deviation == pytest.approx(statistics.stdev(strengths), rel=1e-12)


def test_a_strength_refers_to_what_is_left_under_the_notch_or_to_the_whole_width(tmp_path):
    contents = files()
    notched = result_of(tmp_path / "notched", contents=contents).specimens[0]
    assert notched.strength_kJ_m2 == pytest.approx(1000 * notched.energy_J / (4.01 * 8.02), rel=1e-14)
    contents[TEST]["specimen"]["notch"] = "none"
    for each in contents[TEST]["specimens"]:
        each.pop("remaining_width_mm")
    whole = result_of(tmp_path / "whole", contents=contents).specimens[0]
    assert whole.strength_kJ_m2 == pytest.approx(1000 * whole.energy_J / (4.01 * 9.96), rel=1e-14)


def test_a_notched_specimen_without_remaining_width_has_no_strength(tmp_path):
    bars = specimens("CC")
    bars[0].pop("remaining_width_mm")
    first, second = result_of(tmp_path, bars).specimens
    assert (first.strength_kJ_m2, first.energy_J > 0) == (None, True)
    assert second.strength_kJ_m2 > 0


def test_a_specimen_without_a_reading_has_nothing(tmp_path):
    bars = specimens("CC")
    bars[0].pop("rise_angle_deg")
    first = result_of(tmp_path, bars).specimens[0]
    assert (first.rise_angle_deg, first.energy_J, first.loss_J, first.used_pct, first.strength_kJ_m2) == (None,) * 5


def test_an_energy_scale_gives_what_an_angle_scale_gives_for_the_same_swing(tmp_path):
    contents = files()
    by_angle = result_of(tmp_path / "angle", contents=contents)
    contents[RIG]["indicator"] = {"reads": "energy", "division_J": 1e-9}
    for each in contents[TEST]["specimens"]:
        rise_deg = each.pop("rise_angle_deg")
        each["indicated_energy_J"] = 0.9097 * (math.cos(math.radians(rise_deg)) - math.cos(math.radians(95.7)))
    by_energy = result_of(tmp_path / "energy", contents=contents)
    for one, other in zip(by_angle.specimens, by_energy.specimens, strict=True):
        for name in ("rise_angle_deg", "energy_J", "loss_J", "used_pct", "strength_kJ_m2"):
            assert getattr(other, name) == pytest.approx(getattr(one, name), rel=1e-11)


def test_an_energy_that_the_pendulum_does_not_hold_gives_nothing(tmp_path):
    contents = files()
    contents[RIG]["indicator"] = {"reads": "energy", "division_J": 0.001}
    for each in contents[TEST]["specimens"]:
        each.pop("rise_angle_deg")
        each["indicated_energy_J"] = 1.5
    result = result_of(tmp_path, contents=contents)
    assert {(each.rise_angle_deg, each.energy_J) for each in result.specimens} == {(None, None)}
    assert result.sets == ()


def test_a_section_next_to_nothing_gives_no_strength_and_spoils_no_other():
    # the reader lets no such number through; a script may
    data = files()[TEST]
    data["specimens"][0] |= {"thickness_mm": 1e-200, "remaining_width_mm": 1e-200}
    data["specimens"][1]["thickness_mm"] = 1e-150
    hammer = swung_hammers(build_rig("bench-1", files()[RIG]))["charpy-1"]
    losses = find_losses(hammer, FreeSwings(94.6, 95.0))
    result = evaluate_record(build_record("r", data), hammer, METHOD, losses, None)
    strengths = [each.strength_kJ_m2 for each in result.specimens]
    assert strengths[:2] == [None, None]
    assert None not in strengths[2:]
    assert result.sets[0].members == (2, 3, 4, 5, 6, 7, 9)


@pytest.mark.parametrize(
    ("value", "figures", "reported"),
    [
        (4.149, 2, 4.1), (4.151, 2, 4.2), (0.04949, 2, 0.049), (99.6, 2, 100.0), (104.9, 2, 100.0),
        (123456.0, 3, 123000.0), (-4.151, 2, -4.2),
        (0.0, 2, 0.0), (7.0, 2, 7.0), (24.1308, 2, 24.0),
        (5.26, 2, 5.3), (5.26, 1, 5.0),
    ],
)  # fmt: skip
def test_rounding_to_significant_figures(value, figures, reported):
    assert rounded(value, figures) == reported


def test_the_reported_mean_has_the_figures_of_the_method(tmp_path):
    # ISO 179-1, 8.4 (memory): two significant figures
    for each in result_of(tmp_path).sets:
        assert each.reported_kJ_m2 == rounded(each.summary.mean, 2)
        assert len(f"{each.reported_kJ_m2:g}".replace(".", "").lstrip("0")) <= 2


def test_a_specimen_far_from_its_set_stands_apart_by_its_place_in_the_record(tmp_path):
    bars = specimens("PCCCCCCCC")
    bars[6]["rise_angle_deg"] = 40.0
    assert outlying(result_of(tmp_path, bars)) == (6,)


def test_a_record_with_an_unknown_rig_or_hammer_is_left_out(tmp_path):
    for key in ("rig", "hammer"):
        contents = files()
        contents[TEST][key] = "nowhere"
        assert TEST_ID not in opened(tmp_path / key, contents).evaluation.records
