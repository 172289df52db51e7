"""From the data of the files to the model: every value arrives in its place, and no value is lost."""

import dataclasses
import datetime as dt
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook import results_data
from notchbook.findings import RENDERINGS
from notchbook.handbook import RULES, open_handbook
from notchbook.reading import building
from small_handbook import (
    DAY,
    EXERCISE,
    MATERIAL,
    RIG,
    TEST,
    TEST_ID,
    VERIFICATION,
    files,
    opened,
    package_method,
    write,
)
from strategies import changed_values


def record_of(data):
    return building.record("x", data)


def test_a_record_keeps_every_value():
    data = files()[TEST] | {
        "batch": "PP-26-03",
        "free_swings": {"first_rise_deg": 94.6, "second_rise_deg": 95.0, "half_swings": 10, "later_rise_deg": 89},
        "deviations": [{"rule": "support-span", "reason": "older supports", "accepted_by": "LT-1"}],
        "acknowledged": [{"rule": "larger-hammer", "reason": "away for repair", "by": "LT-2"}],
        "notes": "warm day",
    }
    data["specimens"][1]["excluded"] = "cracked before"
    record = record_of(data)
    assert (record.id, record.date, record.group, record.batch) == ("x", dt.date(2026, 10, 6), "G2", "PP-26-03")
    assert (record.exercise, record.rig, record.hammer, record.material) == (
        "notched-charpy", "bench-1", "charpy-1", "pp-h",
    )  # fmt: skip
    assert dataclasses.astuple(record.specimen) == ("1", "A", "edgewise")
    assert dataclasses.astuple(record.conditioning) == (23.0, 50.0, 48.0, None)
    assert dataclasses.astuple(record.test_atmosphere) == (23.4, 47.0)
    assert dataclasses.astuple(record.free_swings) == (94.6, 95.0, 89.0, 10, None, None, None)
    assert dataclasses.astuple(record.specimens[0]) == ("01", 9.96, 4.01, 8.02, *[None] * 3, 86.4, None, "C", None)
    assert record.specimens[1].excluded == "cracked before"
    assert dataclasses.astuple(record.deviations[0]) == ("support-span", "older supports", "LT-1")
    assert dataclasses.astuple(record.acknowledged[0]) == ("larger-hammer", "away for repair", "LT-2")
    assert record.notes == "warm day"


def test_what_a_record_leaves_out_is_none():
    record = record_of(files()[TEST])
    assert (record.batch, record.free_swings, record.reported, record.notes) == (None, None, None, None)
    assert (record.deviations, record.acknowledged) == ((), ())


def test_whole_numbers_arrive_as_the_numbers_of_physics():
    data = files()[TEST]
    data["specimens"][0] |= {"width_mm": 10, "rise_angle_deg": 86}
    specimen = record_of(data).specimens[0]
    assert (type(specimen.width_mm), type(specimen.rise_angle_deg)) == (float, float)


@pytest.mark.parametrize(
    ("written", "places"),
    [
        ("4.10", 2), ("4", 0), ("4.", 0), (".5", 1), ("41e-1", 1), ("4.1E2", -1), ("4.10e-1", 3), ("+4.0", 1),
        ("010", 0), ("0x1ef", 0), ("0xE5", 0), ("0o17", 0), ("0e400", -15), ("0e-9999", 15), ("0e-" + "9" * 300, 15),
        ("0." + "1" * 99, 15),
    ],
)  # fmt: skip
def test_the_decimal_places_of_a_reported_number_are_those_that_were_written(tmp_path, written, places):
    text = {**files()[TEST], "reported": {"mean_kJ_m2": 0.5}}
    root = write(tmp_path, {**files(), TEST: text})
    path = root / TEST
    path.write_text(path.read_text().replace('"mean_kJ_m2": 0.5', f'"mean_kJ_m2": {written}'))
    handbook = open_handbook(root, day=DAY)
    assert handbook.library.records[TEST_ID].reported.digits == {("mean_kJ_m2",): places}


def test_a_verification_keeps_every_value():
    verification = building.verification("v", files()[VERIFICATION])
    assert (verification.date, verification.valid_until) == (dt.date(2026, 9, 14), dt.date(2027, 9, 14))
    assert dataclasses.astuple(verification.weighing) == (2.3326, 390.0)
    assert dataclasses.astuple(verification.period) == (50, (62.65, 62.61, 62.67), 4.0)
    assert dataclasses.astuple(verification.measured) == (390.1, 95.7, 62.2, None, None, None, None)
    assert dataclasses.astuple(verification.free_swings) == (94.6, 95.0, 89.2, 10, None, None, None)


def test_a_verification_may_measure_nothing_but_the_swings():
    data = files()[VERIFICATION]
    for key in ("weighing", "period", "measured"):
        data.pop(key)
    verification = building.verification("v", data)
    assert (verification.weighing, verification.period) == (None, None)
    assert set(dataclasses.astuple(verification.measured)) == {None}


def test_a_rig_keeps_every_value():
    rig = building.rig("r", files()[RIG])
    assert (rig.id, rig.title, rig.location, rig.striking_length_mm) == ("r", "Bench pendulum 1", None, 390.0)
    assert dataclasses.astuple(rig.indicator) == ("angle", 0.2, None, "drag")
    assert dataclasses.astuple(rig.supports) == (62.0, 1.0)
    assert (rig.clamp, rig.frame_mass_kg) == (None, 32.0)
    base, heavy = rig.hammers.values()
    assert (base.moment_Nm, base.release_angle_deg, base.nominal_energy_J) == (0.9097, 95.7, 1.0)
    assert (heavy.base, heavy.moment_Nm, heavy.release_angle_deg) == ("charpy-1", None, None)
    assert dataclasses.astuple(heavy.added_masses[0]) == (0.2377, 390.0, None)


def test_gravity_is_the_standard_value_where_nothing_is_stated():
    data = files()[RIG]
    data.pop("gravity_m_s2")
    # 3rd General Conference on Weights and Measures, 1901
    assert building.rig("r", data).gravity_m_s2 == 9.80665


@pytest.mark.parametrize(
    ("latitude_deg", "gravity_m_s2"),
    # World Geodetic System 1984 (NIMA TR8350.2, table 3.4): normal gravity at the equator and at the poles
    [(0, 9.7803253359), (90, 9.8321849378), (-90, 9.8321849378)],
)
def test_gravity_of_a_place_is_normal_gravity(latitude_deg, gravity_m_s2):
    data = files()[RIG]
    data.pop("gravity_m_s2")
    data["gravity_at"] = {"latitude_deg": latitude_deg, "height_m": 0}
    assert building.rig("r", data).gravity_m_s2 == pytest.approx(gravity_m_s2, abs=5e-10)


def test_gravity_falls_with_height_by_the_free_air_gradient():
    # 0.3086 mGal a metre, common practice, no source
    data = files()[RIG]
    data.pop("gravity_m_s2")
    values = []
    for height_m in (0, 1000):
        data["gravity_at"] = {"latitude_deg": 54, "height_m": height_m}
        values.append(building.rig("r", data).gravity_m_s2)
    assert values[0] - values[1] == pytest.approx(3.086e-3, abs=1e-12)


def test_a_stated_gravity_comes_before_that_of_the_place():
    data = files()[RIG] | {"gravity_at": {"latitude_deg": 54, "height_m": 0}}
    rig = building.rig("r", data)
    assert (rig.gravity_m_s2, rig.gravity_stated_twice) == (9.8137, True)


def test_limits_of_a_method_are_open_on_one_side():
    method = package_method()
    hours, window = method.conditioning.hours, method.energy_window
    assert (hours.value, hours.below, hours.above) == (16.0, 0.0, math.inf)
    assert method.pendulums.velocity_tolerance_pct.below == math.inf
    assert (window.low_pct, window.high_pct) == (10.0, 80.0)


def test_controls_of_a_hazard_keep_their_order(tmp_path):
    contents = files()
    controls = {"wear": ["glasses"], "guard": ["cage", "door"]}
    contents["procedures/hazards.yaml"]["hazards"][0]["controls"] = controls
    hazard = opened(tmp_path, contents).library.hazards["swinging-pendulum"]
    assert (hazard.remove, hazard.guard, hazard.arrange, hazard.wear) == ((), ("cage", "door"), (), ("glasses",))


@settings(max_examples=60)
@given(change=changed_values(files(), [RIG, VERIFICATION, TEST, EXERCISE, MATERIAL]), day=st.dates())
def test_no_value_in_a_file_makes_the_handbook_raise(tmp_path_factory, change, day):
    root = write(tmp_path_factory.mktemp("changed"), change)
    handbook = open_handbook(root, day=day)
    for rendering in RENDERINGS.values():
        rendering(handbook.findings, list(RULES.values())).encode("utf-8")
    for form in results_data.FORMS.values():
        form(handbook).encode("utf-8")
    assert all(len(str(each).splitlines()) == 1 for each in handbook.findings)
