"""Hammers as they swing: bases, added masses, and what is left out."""

import math

import pytest

from notchbook.evaluation.hammers import built_moment_Nm, chain, swung_hammers
from notchbook.evaluation.input_uncertainties import moment_taken
from notchbook.evaluation.scale import scale_of
from notchbook.reading.building import rig as build_rig
from small_handbook import RIG, files

G = 9.8137


def rig_with(**hammers):
    """The small handbook's rig with these hammers beside its first one."""
    data = files()[RIG]
    data["hammers"] = {"charpy-1": data["hammers"]["charpy-1"]} | {
        name.replace("_", "-"): each for name, each in hammers.items()
    }
    return build_rig("bench-1", data)


def masses(*pairs):
    return [{"mass_kg": mass, "radius_mm": radius} for mass, radius in pairs]


def test_a_hammer_of_its_own_swings_as_stated():
    hammer = swung_hammers(rig_with())["charpy-1"]
    assert (hammer.moment_Nm, hammer.release_angle_deg, hammer.nominal_energy_J) == (0.9097, 95.7, 1.0)
    share = 1 - math.cos(math.radians(95.7))
    assert hammer.potential_energy_J == pytest.approx(0.9097 * share, rel=1e-14)
    assert hammer.velocity_m_s == pytest.approx(math.sqrt(2 * G * 0.39 * share), rel=1e-14)


def test_a_chain_of_four_adds_the_masses_of_each_link():
    rig = rig_with(
        two={"base": "charpy-1", "added_masses": masses((0.2, 390.0))},
        three={"base": "two", "added_masses": masses((0.1, 300.0), (0.05, 200.0))},
        four={"base": "three", "nominal_energy_J": 4.0, "added_masses": masses((0.4, 100.0))},
    )
    hammers = swung_hammers(rig)
    assert list(hammers) == ["charpy-1", "two", "three", "four"]
    expected = 0.9097
    for name, moment_kg_m in (("two", 0.2 * 0.39), ("three", 0.1 * 0.3 + 0.05 * 0.2), ("four", 0.4 * 0.1)):
        expected += moment_kg_m * G
        assert hammers[name].moment_Nm == pytest.approx(expected, rel=1e-14)
        assert built_moment_Nm(rig, name) == pytest.approx(expected, rel=1e-14)
    assert [each.nominal_energy_J for each in hammers.values()] == [1.0, 1.0, 1.0, 4.0]
    assert {each.release_angle_deg for each in hammers.values()} == {95.7}
    assert {each.method for each in hammers.values()} == {"iso-179-1"}


def test_the_mass_of_the_pendulum_grows_with_what_is_added():
    hammers = swung_hammers(
        rig_with(
            two={"base": "charpy-1", "added_masses": masses((0.2, 390.0))},
            three={"base": "two", "added_masses": masses((0.1, 300.0)), "pendulum_mass_kg": 0.7},
            four={"base": "three", "added_masses": masses((0.1, 300.0))},
        )
    )
    assert [each.pendulum_mass_kg for each in hammers.values()] == pytest.approx([0.31, 0.51, 0.7, 0.8], rel=1e-14)


def test_a_weighed_moment_comes_before_the_built_one_and_is_built_upon():
    rig = rig_with(
        two={"base": "charpy-1", "moment_Nm": 2.0, "added_masses": masses((0.2, 390.0))},
        three={"base": "two", "added_masses": masses((0.1, 300.0))},
    )
    hammers = swung_hammers(rig)
    assert hammers["two"].moment_Nm == 2.0
    assert built_moment_Nm(rig, "two") == pytest.approx(0.9097 + 0.2 * 0.39 * G, rel=1e-14)
    assert hammers["three"].moment_Nm == pytest.approx(2.0 + 0.1 * 0.3 * G, rel=1e-14)


def test_a_hammer_without_a_base_has_no_built_moment():
    assert built_moment_Nm(rig_with(), "charpy-1") is None


def test_what_a_hammer_states_comes_before_what_its_base_states():
    edge = {"radius_mm": 0.8}
    hammers = swung_hammers(
        rig_with(two={"base": "charpy-1", "release_angle_deg": 120, "method": "iso-180", "striking_edge": edge})
    )
    assert (hammers["two"].release_angle_deg, hammers["two"].method) == (120.0, "iso-180")
    assert (hammers["two"].striking_edge.radius_mm, hammers["two"].striking_edge.angle_deg) == (0.8, None)
    assert hammers["two"].moment_Nm == 0.9097


@pytest.mark.parametrize(
    "hammers",
    [
        {"a": {"base": "a", "moment_Nm": 1.0}},
        {"a": {"base": "b"}, "b": {"base": "a"}},
        {"a": {"base": "b"}, "b": {"base": "c"}, "c": {"base": "b"}},
        {"a": {"base": "nothing", "moment_Nm": 1.0}},
        {"a": {"base": "b"}, "b": {"base": "nothing"}},
    ],
    ids=["itself", "two in a circle", "a circle at the end", "nothing", "nothing at the end"],
)
def test_a_broken_chain_leaves_its_hammers_out_and_no_other(hammers):
    rig = rig_with(**hammers)
    assert list(swung_hammers(rig)) == ["charpy-1"]
    assert {name for name in rig.hammers if chain(rig, name) is None} == set(hammers)
    assert all(built_moment_Nm(rig, name) is None for name in hammers)


def test_a_chain_of_a_thousand_hammers_is_followed():
    bases = ["charpy-1", *(f"h{number}" for number in range(1199))]
    links = {f"h{n}": {"base": base, "added_masses": masses((0.001, 390.0))} for n, base in enumerate(bases)}
    hammers = swung_hammers(rig_with(**links))
    assert hammers["h1199"].moment_Nm == pytest.approx(0.9097 + 1.2 * 0.39 * G, rel=1e-12)


@pytest.mark.parametrize(
    ("place", "gravity_m_s2"),
    [
        ({"gravity_m_s2": 9.79}, 9.79),
        # World Geodetic System 1984 (NIMA TR8350.2, table 3.4): normal gravity at the equator
        ({"gravity_at": {"latitude_deg": 0, "height_m": 0}}, 9.7803253359),
        # 3rd General Conference on Weights and Measures, 1901
        ({}, 9.80665),
    ],
)
def test_gravity_of_the_rig_is_in_the_velocity_and_in_the_added_masses_alone(place, gravity_m_s2):
    data = files()[RIG]
    data.pop("gravity_m_s2")
    hammers = swung_hammers(build_rig("r", data | place))
    light, heavy = hammers["charpy-1"], hammers["charpy-2"]
    assert light.potential_energy_J == pytest.approx(0.9097 * (1 - math.cos(math.radians(95.7))), rel=1e-14)
    share = 1 - math.cos(math.radians(95.7))
    assert light.velocity_m_s == pytest.approx(math.sqrt(2 * gravity_m_s2 * 0.39 * share), rel=1e-12)
    assert heavy.moment_Nm - light.moment_Nm == pytest.approx(0.2377 * 0.39 * gravity_m_s2, rel=1e-12)


def test_a_hammer_without_a_title_is_named_by_its_energy():
    hammers = swung_hammers(rig_with(two={"base": "charpy-1", "title": "Heavy", "nominal_energy_J": 2.5}))
    assert [each.title for each in hammers.values()] == ["1 J hammer", "Heavy"]


def test_a_marked_mass_adds_the_energy_that_is_stamped_on_it():
    """M = E / (1 - cos alpha), so that the hammer has the energy of its base and what is stamped on its masses."""
    rig = rig_with(
        two={"base": "charpy-1", "nominal_energy_J": 2.0, "added_masses": [{"marked_J": 1.0}]},
        three={"base": "two", "added_masses": [{"marked_J": 0.5}, {"mass_kg": 0.1, "radius_mm": 390.0}]},
        weighed={"base": "charpy-1", "moment_Nm": 1.82, "added_masses": [{"marked_J": 1.0}]},
    )
    hammers = swung_hammers(rig)
    base = hammers["charpy-1"]
    assert hammers["two"].potential_energy_J == pytest.approx(base.potential_energy_J + 1.0, rel=1e-14)
    by_weight = 0.1 * G * 0.39 * (1 - math.cos(math.radians(95.7)))
    assert hammers["three"].potential_energy_J == pytest.approx(base.potential_energy_J + 1.5 + by_weight, rel=1e-14)
    assert hammers["weighed"].moment_Nm == 1.82
    assert {name: each.is_marked for name, each in hammers.items()} == {
        "charpy-1": False, "two": True, "three": True, "weighed": False,
    }  # fmt: skip
    assert hammers["two"].pendulum_mass_kg is None


def test_what_is_stamped_on_a_mass_is_known_to_one_percent():
    # ISO 13802:1999, 5.2: 1 % of the nominal energy (from memory); rectangular limits, GUM 4.3.7
    rig = rig_with(two={"base": "charpy-1", "added_masses": [{"marked_J": 1.0}]})
    marked_Nm = 1.0 / (1 - math.cos(math.radians(95.7)))
    weighed = 0.9097 * 0.002 * math.sqrt(2.0 / 3.0)
    taken = moment_taken(rig, "two")
    assert taken.moment.standard == pytest.approx(math.hypot(weighed, marked_Nm * 0.01 / math.sqrt(3.0)), rel=1e-12)
    assert taken.added_kg_m == 0.0


def test_one_pendulum_serves_two_methods_with_an_edge_for_each():
    edges = {"iso-179-1": {"striking_edge": {"radius_mm": 2.0}}, "iso-180": {"striking_edge": {"radius_mm": 0.8}}}
    swings = {"nominal_energy_J": 1.0, "release_angle_deg": 124.0, "moment_Nm": 0.6415}
    rig = rig_with(
        both={"methods": ["iso-179-1", "iso-180"], "fittings": edges, "division_deg": 0.5, **swings},
        heavy={"base": "both", "nominal_energy_J": 2.0, "added_masses": masses((0.1, 390.0))},
        alone={"base": "both", "method": "iso-180"},
    )
    hammers = swung_hammers(rig)
    two = ("iso-179-1", "iso-180")
    for name, methods in (("both", two), ("heavy", two), ("alone", ("iso-180",))):
        hammer = hammers[name]
        assert hammer.methods == methods
        assert {each.method: each.striking_edge.radius_mm for each in hammer.fittings} == {
            method: {"iso-179-1": 2.0, "iso-180": 0.8}[method] for method in methods
        }
        assert {each.potential_energy_J for each in hammer.fittings} == {hammer.potential_energy_J}
        assert scale_of(rig, hammer).division == 0.5
    assert hammers["both"].fitted("iso-180").striking_edge.radius_mm == 0.8
    assert hammers["both"].fitted("iso-000") is hammers["both"]
    assert scale_of(rig, hammers["charpy-1"]) == rig.indicator
