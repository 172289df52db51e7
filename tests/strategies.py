"""Invented data of every shape that the contract of the data files allows, and of shapes that it does not."""

import copy

from hypothesis import strategies as st

TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
EXTREMES = st.sampled_from(
    [
        0,
        -1,
        1e-320,
        1e-30,
        1e-9,
        1e-3,
        1.0,
        90.0,
        180,
        1e5,
        1e15,
        1.7e308,
        "",
        "none",
        "N",
        "2026-02-30",
        "1,5",
        "x" * 99,
    ]
)
ANYTHING = st.one_of(
    EXTREMES,
    st.none(),
    st.booleans(),
    st.integers(-1000, 10**18),
    st.floats(allow_nan=False, allow_infinity=False),
    TEXTS,
    st.lists(st.one_of(EXTREMES, TEXTS), max_size=3),
    st.dictionaries(TEXTS, st.one_of(EXTREMES, TEXTS), max_size=3),
)


def _places(data, keys=()):
    """The keys of every value in nested data."""
    inner = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in inner:
        yield (*keys, key)
        yield from _places(value, (*keys, key))


@st.composite
def changed_values(draw, contents, paths):
    """The files with one to three values of some of them replaced by anything."""
    changed = copy.deepcopy(contents)
    for _ in range(draw(st.integers(1, 3))):
        place = changed[draw(st.sampled_from(paths))]
        *keys, last = draw(st.sampled_from(list(_places(place))))
        for key in keys:
            place = place[key]
        place[last] = draw(ANYTHING)
    return changed


def tenths(low, high):
    """Readings on a scale that is divided into tenths."""
    return st.integers(round(low * 10), round(high * 10)).map(lambda number: number / 10)


@st.composite
def rigs(draw):
    """A rig with one to four hammers, each later one with masses added to the one before it."""
    hammers = {
        "h1": {
            "method": "iso-179-1",
            "nominal_energy_J": draw(st.sampled_from([0.5, 1.0, 2.0, 4.0, 50.0])),
            "release_angle_deg": draw(tenths(60, 175)),
            "moment_Nm": draw(st.floats(0.05, 50.0)),
            "striking_edge": {"radius_mm": 2.0},
        }
    }
    for number in range(2, draw(st.integers(1, 4)) + 1):
        masses = st.fixed_dictionaries({"mass_kg": st.floats(0.01, 5.0), "radius_mm": st.floats(50.0, 500.0)})
        hammers[f"h{number}"] = {
            "base": f"h{number - 1}",
            "nominal_energy_J": 2.0 * number,
            "added_masses": draw(st.lists(masses, min_size=1, max_size=3)),
        }
    return {
        "kind": "rig",
        "title": "Invented",
        "gravity_m_s2": draw(st.floats(9.77, 9.84)),
        "striking_length_mm": draw(st.floats(150.0, 800.0)),
        "indicator": {"reads": "angle", "division_deg": 0.1},
        "hammers": hammers,
    }


@st.composite
def records(draw, rig):
    """A record of specimens broken with one of the rig's hammers, with or without a notch, excluded or unbroken."""
    hammer = draw(st.sampled_from(list(rig["hammers"])))
    release_deg = rig["hammers"]["h1"]["release_angle_deg"]
    notch = draw(st.sampled_from(["none", "A", "B"]))
    specimens = []
    for number in range(1, draw(st.integers(1, 12)) + 1):
        specimen = {
            "id": f"{number:02}",
            "width_mm": draw(st.floats(5.0, 15.0)),
            "thickness_mm": draw(st.floats(1.0, 12.0)),
            "rise_angle_deg": draw(tenths(0, release_deg - 2)),
            "break": draw(st.sampled_from("CCHPN")),
        }
        if notch != "none":
            specimen["remaining_width_mm"] = draw(st.floats(4.0, 10.0))
        if draw(st.integers(0, 5)) == 0:
            specimen["excluded"] = draw(st.text(st.characters(exclude_categories=["C"]), min_size=1, max_size=20))
        specimens.append(specimen)
    second_deg = draw(tenths(release_deg - 2, release_deg - 0.1))
    return {
        "kind": "test",
        "date": "2026-10-06",
        "group": "G2",
        "exercise": "notched-charpy",
        "rig": "bench",
        "hammer": hammer,
        "material": "pp-h",
        "specimen": {"type": "1", "notch": notch, "direction": "edgewise"},
        "conditioning": {"temperature_C": 23.0, "humidity_pct": 50, "hours": 48},
        "test_atmosphere": {"temperature_C": 23.4, "humidity_pct": 47},
        "free_swings": {
            "first_rise_deg": draw(tenths(second_deg - 1, second_deg)),
            "second_rise_deg": second_deg,
            "half_swings": 10,
            "later_rise_deg": draw(tenths(second_deg - 10, second_deg)),
        },
        "specimens": specimens,
    }
