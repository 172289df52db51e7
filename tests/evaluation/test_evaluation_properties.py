"""What must hold for every record that the contract allows."""

import copy
import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook import results_data
from notchbook.evaluation.hammers import swung_hammers
from notchbook.evaluation.losses import find_losses
from notchbook.evaluation.records import evaluate_record
from notchbook.handbook import open_handbook
from notchbook.reading.building import record as build_record
from notchbook.reading.building import rig as build_rig
from small_handbook import DAY, files, package_method, write
from strategies import records, rigs

METHOD = package_method()
FACTORS = st.floats(0.01, 100.0)
EXACT = 1e-12


@st.composite
def rigs_with_records(draw):
    rig = draw(rigs())
    return rig, draw(records(rig))


def evaluated(rig_data, data):
    """The result of a record and the potential energy of its hammer."""
    hammer = swung_hammers(build_rig("bench", rig_data))[data["hammer"]]
    record = build_record("r", data)
    losses = find_losses(hammer, record.free_swings)
    return evaluate_record(record, hammer, METHOD, losses, None), hammer.potential_energy_J


def values(result, name):
    return [getattr(each, name) for each in result.specimens]


def members(result):
    return [(each.breaks, each.members) for each in result.sets]


def same(found, expected, scale):
    """Whether numbers, some of them None, agree to the twelfth digit of the largest that can occur."""
    assert [each is None for each in found] == [each is None for each in expected]
    for one, other in zip(found, expected, strict=True):
        if one is not None:
            assert one == pytest.approx(other, rel=1e-10, abs=EXACT * scale)


@given(case=rigs_with_records(), factor=FACTORS)
def test_a_heavier_pendulum_scales_every_energy_and_no_share(case, factor):
    rig, data = case
    result, energy_J = evaluated(rig, data)
    heavier = copy.deepcopy(rig)
    heavier["hammers"]["h1"]["moment_Nm"] *= factor
    for hammer in heavier["hammers"].values():
        for mass in hammer.get("added_masses", ()):
            mass["mass_kg"] *= factor
    scaled, _ = evaluated(heavier, data)
    for name in ("energy_J", "loss_J"):
        expected = [value * factor for value in values(result, name)]
        same(values(scaled, name), expected, scale=energy_J * factor)
    strengths = [None if value is None else value * factor for value in values(result, "strength_kJ_m2")]
    same(values(scaled, "strength_kJ_m2"), strengths, scale=1000 * energy_J * factor)
    same(values(scaled, "used_pct"), values(result, "used_pct"), scale=100)
    assert members(scaled) == members(result)


@given(case=rigs_with_records(), factor=FACTORS)
def test_a_thicker_bar_divides_the_strength(case, factor):
    rig, data = case
    result, energy_J = evaluated(rig, data)
    thicker = copy.deepcopy(data)
    for each in thicker["specimens"]:
        each["thickness_mm"] *= factor
    scaled, _ = evaluated(rig, thicker)
    strengths = [None if value is None else value / factor for value in values(result, "strength_kJ_m2")]
    same(values(scaled, "strength_kJ_m2"), strengths, scale=1000 * energy_J / factor)
    assert values(scaled, "energy_J") == values(result, "energy_J")


@given(case=rigs_with_records(), random=st.randoms(use_true_random=False))
def test_the_order_of_the_specimens_changes_no_set(case, random):
    rig, data = case
    result, _ = evaluated(rig, data)
    places = list(range(len(data["specimens"])))
    random.shuffle(places)
    shuffled, _ = evaluated(rig, data | {"specimens": [data["specimens"][place] for place in places]})
    assert [each.breaks for each in shuffled.sets] == [each.breaks for each in result.sets]
    for one, other in zip(shuffled.sets, result.sets, strict=True):
        assert sorted(places[place] for place in one.members) == list(other.members)
        assert one.summary.mean == pytest.approx(other.summary.mean, rel=1e-14)
        if other.summary.standard_deviation is not None:
            # the deviations are added up in another order
            spread = other.summary.standard_deviation
            assert one.summary.standard_deviation == pytest.approx(spread, rel=1e-9, abs=1e-12)


@given(case=rigs_with_records())
def test_energy_and_loss_are_what_the_scale_shows(case):
    rig, data = case
    result, energy_J = evaluated(rig, data)
    lost = [one + other for one, other in zip(values(result, "energy_J"), values(result, "loss_J"), strict=True)]
    highest = max(lost)
    lowest_rise = min(data["specimens"], key=lambda each: each["rise_angle_deg"])
    assert lost[data["specimens"].index(lowest_rise)] == highest
    assert all(-EXACT * energy_J <= each <= energy_J * (1 + EXACT) for each in lost)


@given(case=rigs_with_records())
def test_sets_hold_each_counting_specimen_once(case):
    rig, data = case
    result, _ = evaluated(rig, data)
    places = sorted(place for each in result.sets for place in each.members)
    counting = [
        place for place, each in enumerate(data["specimens"]) if each["break"] != "N" and "excluded" not in each
    ]
    assert places == counting
    assert all(each.summary.n == len(each.members) for each in result.sets)
    numbers = [each.summary.n for each in result.sets]
    assert numbers == sorted(numbers, reverse=True)


@settings(max_examples=40)
@given(case=rigs_with_records(), own_swings=st.booleans())
def test_no_valid_record_makes_the_handbook_raise_or_give_what_is_no_number(tmp_path_factory, case, own_swings):
    rig, data = case
    contents = files()
    contents["procedures/rigs/bench.yaml"] = rig
    contents["results/tests/r.yaml"] = data if own_swings else {k: v for k, v in data.items() if k != "free_swings"}
    handbook = open_handbook(write(tmp_path_factory.mktemp("valid"), contents), day=DAY)
    assert "r" in handbook.library.records
    text = json.dumps(results_data.results_data(handbook), allow_nan=False)
    specimens = json.loads(text)["tests"]["r"]["specimens"]
    assert all((each["energy_J"] is not None) == own_swings for each in specimens)
