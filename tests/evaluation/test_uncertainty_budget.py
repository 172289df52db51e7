"""Uncertainty budgets of whole records: against the package `uncertainties`, drawn values, and sums by hand.

The model below is written apart from the engine, in energies and cosines, for numbers of any kind. An energy scale is
one of angles, ruled in energy for the moment and release angle of the rig's file; these two numbers on the scale are
exact, the pendulum's own are not. Numbers of the handbook are invented.
"""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats
from uncertainties import ufloat, umath

from notchbook.physics.pendulum import energy_from_rise_J
from notchbook.physics.uncertainty import combined_standard_uncertainty, effective_degrees_of_freedom
from notchbook.results_data import results_data
from small_handbook import EXERCISE, RIG, TEST, TEST_ID, VERIFICATION, files, opened, own_method

MOMENT, RELEASE = 0.9097, 95.7
SWINGS = {"first-rise": 94.6, "second-rise": 95.0, "later-rise": 89.2}
ENERGY_NAMES = {"rise-angle": "indicated-energy"} | {
    name: name.replace("rise", "indicated-energy") for name in SWINGS
}  # fmt: skip
DIVISION_deg, DIVISION_J = 0.2, 0.004
FORMS = [(correction, scale) for correction in ("plastics", "metals") for scale in ("angle", "energy")]


def shown_J(angle):
    """What an energy scale of the hammer shows at an angle of rise."""
    return float(energy_from_rise_J(MOMENT, RELEASE, angle))


def contents(correction="plastics", scale="angle"):
    """The small handbook with that form of loss and that scale."""
    changed = files()
    if correction == "metals":
        method = own_method("loss_correction: plastics", "loss_correction: metals")
        changed["procedures/methods/own.yaml"] = method
        changed[RIG]["hammers"]["charpy-1"]["method"] = "own"
    if scale == "energy":
        changed[RIG]["indicator"] = {"reads": "energy", "division_J": DIVISION_J}
        swings = changed[VERIFICATION]["free_swings"]
        for name in SWINGS:
            key = name.replace("-", "_")
            swings[key.replace("rise", "indicated_energy_J")] = shown_J(swings.pop(f"{key}_deg"))
        for specimen in changed[TEST]["specimens"]:
            specimen["indicated_energy_J"] = shown_J(specimen.pop("rise_angle_deg"))
    return changed


def evaluated(path, changed=None):
    """Uncertainties and results of the small handbook's record."""
    evaluation = opened(path, changed).evaluation
    return evaluation.uncertainty(TEST_ID), evaluation.records[TEST_ID]


@pytest.fixture(scope="module")
def forms(tmp_path_factory):
    """The record in each of the four forms."""
    return {form: evaluated(tmp_path_factory.mktemp("form"), contents(*form)) for form in FORMS}


@pytest.fixture(params=FORMS, ids="-".join)
def form(request):
    return request.param


@pytest.fixture
def found(form, forms):
    return forms[form]


def inputs_of(place, scale):
    """Value, standard uncertainty and the half-widths of the rectangular parts of each input of a specimen.

    By the rules that are documented for a handbook that states no uncertainty: half a division to each side; 0.2 % of
    force and of length; 0.02 mm; the release angle as a reading of the scale.
    """
    specimen = files()[TEST]["specimens"][place]
    half = DIVISION_deg / 2
    angles = {"release-angle": (RELEASE, [half]), "rise-angle": (specimen["rise_angle_deg"], [half])} | {
        name: (value, [half]) for name, value in SWINGS.items()
    }
    if scale == "energy":
        per_deg = MOMENT * math.sin(math.radians(RELEASE)) * math.pi / 180
        angles = {"release-angle": (RELEASE, [DIVISION_J / 2 / per_deg])} | {
            ENERGY_NAMES[name]: (shown_J(value), [DIVISION_J / 2])
            for name, (value, _) in angles.items()
            if name != "release-angle"
        }
    lengths = {
        "thickness": (specimen["thickness_mm"], [0.02]),
        "remaining-width": (specimen["remaining_width_mm"], [0.02]),
    }
    return {"moment": (MOMENT, [0.002 * MOMENT, 0.002 * MOMENT])} | angles | lengths


def standard(limits):
    return math.sqrt(sum(limit**2 / 3 for limit in limits))


def model(values, correction, functions):
    """Energy and strength from the inputs, each a number, an array or a number with uncertainty."""
    cos, acos, radians = functions.cos, functions.acos, math.pi / 180

    def angle(name):
        """In radians."""
        if name in values:
            return values[name] * radians
        return acos(math.cos(RELEASE * radians) + values[ENERGY_NAMES[name]] / MOMENT)

    moment, alpha = values["moment"], values["release-angle"] * radians
    beta, first, second = angle("rise-angle"), angle("first-rise"), angle("second-rise")
    if correction == "plastics":
        after_first, after_second = (moment * (cos(each) - cos(alpha)) for each in (first, second))
        loss = (after_second + beta / alpha * (2 * after_first - after_second)) / 2
    else:
        pointer, later = moment * (cos(first) - cos(second)), angle("later-rise")
        air = moment * (cos(later) - cos(second)) / 10
        loss = pointer * beta / first + air * (alpha + beta) / (alpha + second)
    energy = moment * (cos(beta) - cos(alpha)) - loss
    return energy, 1000 * energy / (values["thickness"] * values["remaining-width"])


class Arrays:
    cos, acos = np.cos, np.arccos


@pytest.mark.parametrize("place", [0, 8])
def test_budgets_are_those_of_the_package(form, found, place):
    correction, scale = form
    uncertainty, result = found
    given_inputs = inputs_of(place, scale)
    variables = {name: ufloat(value, standard(limits)) for name, (value, limits) in given_inputs.items()}
    energy, strength = model(variables, correction, umath)
    budgets = uncertainty.energy.budget(place), uncertainty.strength.budget(place)
    for quantity, budget in zip((energy, strength), budgets, strict=True):
        assert budget.value == pytest.approx(quantity.nominal_value, rel=1e-9)
        assert budget.standard == pytest.approx(quantity.std_dev, rel=1e-9)
        assert budget.expanded == 2 * budget.standard
        lines = {each.input: each for each in budget.contributions}
        inputs = {name: variable for name, variable in variables.items() if quantity.derivatives.get(variable)}
        assert set(lines) == set(inputs)
        for name, variable in inputs.items():
            line, derivative = lines[name], quantity.derivatives[variable]
            assert line.value == pytest.approx(variable.nominal_value, rel=1e-12)
            assert line.standard == pytest.approx(variable.std_dev, rel=1e-12)
            assert line.sensitivity == pytest.approx(derivative, rel=1e-9)
            assert line.contribution == pytest.approx(derivative * variable.std_dev, rel=1e-9)
            share = 100 * (derivative * variable.std_dev / quantity.std_dev) ** 2
            assert line.share_pct == pytest.approx(share, rel=1e-9)
            assert line.shared is (name not in ("rise-angle", "indicated-energy"))
        assert sum(each.share_pct for each in budget.contributions) == pytest.approx(100, rel=1e-12)
    assert uncertainty.energy.expanded[place] == budgets[0].expanded
    assert uncertainty.strength.expanded[place] == budgets[1].expanded
    assert (result.specimens[place].energy_J, result.specimens[place].strength_kJ_m2) == (
        budgets[0].value, budgets[1].value,
    )  # fmt: skip


def test_budgets_against_drawn_values(form, found):
    """A million draws by JCGM 101:2008, every input as its rectangles have it."""
    correction, scale = form
    draws = 10**6
    random = np.random.default_rng(20261006)
    values = {
        name: value + sum(limit * random.uniform(-1, 1, draws) for limit in limits)
        for name, (value, limits) in inputs_of(0, scale).items()
    }
    budgets = found[0].energy.budget(0), found[0].strength.budget(0)
    for drawn, budget in zip(model(values, correction, Arrays), budgets, strict=True):
        deviation = drawn.std(ddof=1)
        # standard errors of a mean and of a standard deviation, the latter by the fourth moment
        of_mean = deviation / math.sqrt(draws)
        of_deviation = deviation * math.sqrt((stats.kurtosis(drawn, fisher=False) - 1) / (4 * draws))
        assert drawn.mean() == pytest.approx(budget.value, abs=5 * of_mean)
        assert deviation == pytest.approx(budget.standard, abs=5 * of_deviation)


@pytest.mark.parametrize("correction", ["plastics", "metals"])
def test_both_scales_agree_for_the_same_swings(correction, forms):
    on_angles, on_energies = (forms[correction, scale][0] for scale in ("angle", "energy"))
    for place in range(10):
        budgets = [each.energy.budget(place) for each in (on_angles, on_energies)]
        angles, energies = ({line.input: line for line in each.contributions} for each in budgets)
        assert budgets[0].value == pytest.approx(budgets[1].value, rel=1e-9)
        for name, line in angles.items():
            other = energies[ENERGY_NAMES.get(name, name)]
            # an energy falls by M sin(beta) for each radian that a rise grows
            per_deg = 1.0
            if name in ENERGY_NAMES:
                per_deg = -MOMENT * math.sin(math.radians(line.value)) * math.pi / 180
            assert line.sensitivity == pytest.approx(other.sensitivity * per_deg, rel=1e-9)
            assert line.shared is other.shared


def test_added_masses_bring_gravity(tmp_path):
    changed = contents()
    changed[TEST]["hammer"] = "charpy-2"
    changed[VERIFICATION]["hammer"] = "charpy-2"
    heavy = {each.input: each for each in evaluated(tmp_path / "stated", changed)[0].energy.budget(0).contributions}
    moment, gravity = heavy["moment"], heavy["gravity"]
    added = 0.2377 * 0.390
    assert moment.value == pytest.approx(0.9097 + added * 9.8137, rel=1e-12)
    # one scale and one rule for all parts of the moment: 0.2 % of force and of length, rectangular
    assert moment.standard == pytest.approx(0.002 * math.sqrt(2 / 3) * moment.value, rel=1e-12)
    assert (gravity.value, gravity.standard) == (9.8137, pytest.approx(1e-3 / math.sqrt(3)))
    assert gravity.sensitivity == pytest.approx(moment.sensitivity * added, rel=1e-12)
    assert (gravity.unit, gravity.shared) == ("m/s²", True)
    # where neither gravity nor the place is stated it is that of some place on earth: GRS 80, 9.7803 to 9.8322
    del changed[RIG]["gravity_m_s2"]
    anywhere = evaluated(tmp_path / "anywhere", changed)[0].energy.budget(0).contributions
    assert next(each.standard for each in anywhere if each.input == "gravity") == pytest.approx(
        (9.8322 - 9.7803) / 2 / math.sqrt(3), rel=0.01
    )
    assert "gravity" not in {each.input for each in evaluated(tmp_path / "light")[0].energy.budget(0).contributions}


@pytest.mark.parametrize(
    ("stated", "expected", "with_gravity"),
    [
        ({"charpy-2": 0.004}, 0.004, False),
        ({"charpy-1": 0.001}, math.hypot(0.001, 0.002 * math.sqrt(2 / 3) * 0.2377 * 0.390 * 9.8137), True),
        ({"charpy-1": 0.001, "charpy-2": 0.004}, 0.004, False),
    ],
)
def test_uncertainty_of_a_built_moment_is_that_of_the_nearest_hammer_that_states_it(
    tmp_path, stated, expected, with_gravity
):
    changed = contents()
    changed[TEST]["hammer"] = changed[VERIFICATION]["hammer"] = "charpy-2"
    for hammer, value in stated.items():
        changed[RIG]["hammers"][hammer]["moment_uncertainty_Nm"] = value
    lines = {each.input: each for each in evaluated(tmp_path, changed)[0].energy.budget(0).contributions}
    assert lines["moment"].standard == pytest.approx(expected, rel=1e-12)
    assert ("gravity" in lines) is with_gravity


def test_stated_uncertainties_take_the_place_of_the_usual_ones(tmp_path):
    changed = contents()
    changed[RIG]["release_angle_uncertainty_deg"] = 0.03
    changed[RIG]["hammers"]["charpy-1"]["moment_uncertainty_Nm"] = 0.0007
    changed[EXERCISE]["dimension_uncertainty_mm"] = 0.005
    usual = {each.input: each for each in evaluated(tmp_path / "usual")[0].strength.budget(0).contributions}
    stated = {each.input: each for each in evaluated(tmp_path / "stated", changed)[0].strength.budget(0).contributions}
    expected = {"release-angle": 0.03, "moment": 0.0007, "thickness": 0.005, "remaining-width": 0.005}
    for name, line in stated.items():
        assert line.standard == expected.get(name, usual[name].standard)
        assert (line.basis == "stated") is (name in expected)
        assert line.sensitivity == usual[name].sensitivity
        assert usual[name].basis != "stated"


def test_the_day_s_own_free_swings_come_before_those_of_the_verification(tmp_path):
    changed = contents()
    changed[TEST]["free_swings"] = {"first_rise_deg": 94.0, "second_rise_deg": 94.4}
    lines = {each.input: each.value for each in evaluated(tmp_path, changed)[0].energy.budget(0).contributions}
    assert (lines["first-rise"], lines["second-rise"]) == (94.0, 94.4)


def test_an_unnotched_bar_has_its_whole_width(tmp_path):
    changed = contents()
    changed[TEST]["specimen"]["notch"] = "none"
    for specimen in changed[TEST]["specimens"]:
        del specimen["remaining_width_mm"]
    lines = {each.input: each for each in evaluated(tmp_path, changed)[0].strength.budget(0).contributions}
    assert "remaining-width" not in lines
    assert lines["width"].value == changed[TEST]["specimens"][0]["width_mm"]


def by_hand(result, each_set):
    """Scatter and shared contributions of a set, each shared error put into all of its specimens at once."""
    n = each_set.summary.n
    strengths = [result.specimens[place].strength_kJ_m2 for place in each_set.members]
    contributions = {"scatter": np.std(strengths, ddof=1) / math.sqrt(n)}
    inputs = [inputs_of(place, "angle") for place in each_set.members]
    for name in set(inputs[0]) - {"rise-angle", "later-rise"}:
        limits = inputs[0][name][1]
        step = 1e-3 * standard(limits)
        means = []
        for sign in (1, -1):
            shifted = [
                {key: value + sign * step * (key == name) for key, (value, _) in each.items()} for each in inputs
            ]
            means.append(np.mean([model(each, "plastics", Arrays)[1] for each in shifted]))
        contributions[name] = (means[0] - means[1]) / (2 * step) * standard(limits)
    return contributions


def test_a_set_is_its_scatter_and_what_all_specimens_share(tmp_path):
    uncertainty, result = evaluated(tmp_path)
    largest = result.sets[0]
    found = uncertainty.of_set(largest)
    expected = by_hand(result, largest)
    contributions = np.array(list(expected.values()))
    combined = combined_standard_uncertainty(contributions)
    # central differences leave about ten digits of a mean that changes in its seventh
    assert found.standard == pytest.approx(combined, rel=1e-6)
    assert {each.source: each.contribution_kJ_m2 for each in found.shares} == pytest.approx(expected, rel=1e-4)
    assert found.shares[0].source == "scatter"
    for each in found.shares:
        assert each.share_pct == pytest.approx(100 * (each.contribution_kJ_m2 / found.standard) ** 2, rel=1e-12)
    assert sum(each.share_pct for each in found.shares) == pytest.approx(100, rel=1e-12)
    # with one component of n - 1 degrees of freedom: nu = (n - 1) (u / u_scatter)^4; JCGM 100:2008, G.4.1
    freedom = (largest.summary.n - 1) * (combined / expected["scatter"]) ** 4
    assert found.effective_degrees_of_freedom == pytest.approx(freedom, rel=1e-5)
    assert found.effective_degrees_of_freedom == pytest.approx(
        effective_degrees_of_freedom(contributions, np.array([8.0] + [np.inf] * (len(contributions) - 1))), rel=1e-5
    )
    assert found.coverage_factor == pytest.approx(stats.t.ppf(0.975, freedom), rel=1e-5)
    assert found.expanded == found.coverage_factor * found.standard


def test_a_set_without_anything_shared_has_the_interval_of_its_mean(tmp_path):
    changed = contents()
    changed[RIG]["release_angle_uncertainty_deg"] = 1e-9
    changed[RIG]["hammers"]["charpy-1"]["moment_uncertainty_Nm"] = 1e-9
    changed[EXERCISE]["dimension_uncertainty_mm"] = 1e-9
    # of the readings of the free swings too
    changed[RIG]["indicator"]["division_deg"] = 1e-9
    uncertainty, result = evaluated(tmp_path, changed)
    largest = result.sets[0]
    found, (low, high) = uncertainty.of_set(largest), largest.summary.interval
    assert found.expanded == pytest.approx((high - low) / 2, rel=1e-9)
    assert found.effective_degrees_of_freedom == pytest.approx(largest.summary.n - 1, rel=1e-9)


def test_specimens_that_agree_better_than_the_scale_are_no_surer_than_one_reading(tmp_path):
    # JCGM 100:2008, F.2.2.1: repeated indications that are all the same still have the resolution of the scale
    changed = contents()
    for specimen in changed[TEST]["specimens"]:
        specimen["rise_angle_deg"] = 86.4
    uncertainty, result = evaluated(tmp_path, changed)
    largest = result.sets[0]
    assert largest.summary.standard_deviation == 0.0
    found = uncertainty.of_set(largest)
    reading = next(each for each in uncertainty.strength.budget(0).contributions if each.input == "rise-angle")
    assert found.shares[0].contribution_kJ_m2 == pytest.approx(abs(reading.contribution), rel=1e-12)
    assert found.effective_degrees_of_freedom == math.inf
    assert found.coverage_factor == pytest.approx(stats.norm.ppf(0.975), rel=1e-9)
    # all that a single specimen has, and k of the normal distribution
    assert found.standard == pytest.approx(uncertainty.strength.budget(0).standard, rel=1e-12)


def test_one_specimen_alone_has_no_scatter(tmp_path):
    uncertainty, result = evaluated(tmp_path)
    alone = result.sets[1]
    assert alone.summary.n == 1
    assert uncertainty.of_set(alone) is None


@settings(max_examples=25)
@given(rises=st.lists(st.integers(300, 880), min_size=2, max_size=10))
def test_a_mean_is_no_surer_than_what_its_specimens_share(tmp_path_factory, rises):
    changed = contents()
    template = changed[TEST]["specimens"][0]
    changed[TEST]["specimens"] = [
        template | {"id": f"{number:02}", "rise_angle_deg": rise / 10} for number, rise in enumerate(rises, start=1)
    ]
    uncertainty, result = evaluated(tmp_path_factory.mktemp("mean"), changed)
    (only,) = result.sets
    found = uncertainty.of_set(only)
    budgets = [uncertainty.strength.budget(place).contributions for place in only.members]
    # the same error in all of them is at least as large in their mean as where it is smallest
    of_inputs = [each for each in zip(*budgets, strict=True) if each[0].shared]
    smallest = [min(abs(line.contribution) for line in lines) for lines in of_inputs]
    assert found.standard >= math.hypot(*smallest) * (1 - 1e-12)
    assert found.effective_degrees_of_freedom >= (len(rises) - 1) * (1 - 1e-12)
    assert 1.95 < found.coverage_factor <= stats.t.ppf(0.975, len(rises) - 1) * (1 + 1e-9)


def test_results_carry_the_expanded_uncertainty_of_each_strength(tmp_path):
    changed = contents()
    changed[TEST]["specimens"][3] |= {"break": "N"}
    handbook = opened(tmp_path, changed)
    uncertainty = handbook.evaluation.uncertainty(TEST_ID)
    rows = results_data(handbook)["tests"][TEST_ID]["specimens"]
    for place, row in enumerate(rows):
        budget = uncertainty.strength.budget(place)
        if row["break"] == "N":
            assert (row["expanded_uncertainty_kJ_m2"], budget) == (None, None)
            assert uncertainty.energy.budget(place).expanded > 0
        else:
            assert row["expanded_uncertainty_kJ_m2"] == budget.expanded


def test_what_cannot_be_had_is_none(tmp_path):
    without_losses = contents()
    del without_losses[VERIFICATION]
    without_losses["results/tests/nowhere.yaml"] = files()[TEST] | {"rig": "nowhere"}
    evaluation = opened(tmp_path / "a", without_losses).evaluation
    assert evaluation.uncertainty(TEST_ID) is None
    assert evaluation.uncertainty("nowhere") is None
    assert evaluation.uncertainty("never-written") is None
    no_later_swing = contents("metals")
    for key in ("half_swings", "later_rise_deg"):
        del no_later_swing[VERIFICATION]["free_swings"][key]
    assert evaluated(tmp_path / "b", no_later_swing)[0] is None


@pytest.mark.parametrize("divisions", [0.0, 0.49])
def test_an_energy_scale_does_not_tell_the_angle_at_the_lowest_point(tmp_path, divisions):
    changed = contents(scale="energy")
    changed[TEST]["specimens"][0]["indicated_energy_J"] = shown_J(0.0) - divisions * DIVISION_J
    changed[TEST]["specimens"][1]["indicated_energy_J"] = shown_J(0.0) - 0.51 * DIVISION_J
    uncertainty, result = evaluated(tmp_path, changed)
    assert result.specimens[0].strength_kJ_m2 is not None
    assert uncertainty.energy.expanded[0] is None
    assert uncertainty.strength.budget(0) is None
    assert uncertainty.strength.budget(1) is not None


def test_an_energy_scale_does_not_tell_the_angle_of_release_from_the_top(tmp_path):
    changed = contents(scale="energy")
    changed[RIG]["hammers"]["charpy-1"]["release_angle_deg"] = 180
    for specimen in changed[TEST]["specimens"]:
        specimen["indicated_energy_J"] = 1.0
    assert set(evaluated(tmp_path / "usual", changed)[0].strength.expanded) == {None}
    changed[RIG]["release_angle_uncertainty_deg"] = 0.1
    changed[VERIFICATION]["free_swings"] = {"first_indicated_energy_J": 0.02, "second_indicated_energy_J": 0.01}
    assert None not in evaluated(tmp_path / "stated", changed)[0].strength.expanded


def test_a_record_is_worked_out_once_and_only_when_asked(tmp_path):
    evaluation = opened(tmp_path).evaluation
    assert evaluation._uncertainties == {}
    first = evaluation.uncertainty(TEST_ID)
    assert evaluation.uncertainty(TEST_ID) is first
