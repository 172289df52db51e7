"""Uncertainty budgets of single specimens: against the package `uncertainties`, drawn values, and sums by hand."""

import math

import numpy as np
import pytest
from scipy import stats
from uncertain_record import (
    DIVISION_J,
    ENERGY_NAMES,
    MOMENT,
    SWINGS,
    Arrays,
    contents,
    evaluated,
    inputs_of,
    model,
    shown_J,
    standard,
)  # fmt: skip
from uncertainties import ufloat, umath

from notchbook.results_data import results_data
from small_handbook import EXERCISE, RIG, TEST, TEST_ID, VERIFICATION, files, opened, own_method

FORMS = [(correction, scale) for correction in ("plastics", "metals") for scale in ("angle", "energy")]


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
        # what a drift of the losses does to their readings is of second order, and left out
        assert deviation == pytest.approx(budget.standard, rel=0.004, abs=5 * of_deviation)


@pytest.mark.parametrize("correction", ["plastics", "metals"])
def test_both_scales_agree_for_the_same_swings(correction, forms):
    on_angles, on_energies = (forms[correction, scale][0] for scale in ("angle", "energy"))
    for place in range(10):
        budgets = [each.energy.budget(place) for each in (on_angles, on_energies)]
        angles, energies = ({line.input: line for line in each.contributions} for each in budgets)
        assert budgets[0].value == pytest.approx(budgets[1].value, rel=1e-9)
        of_swings = [line.sensitivity for name, line in angles.items() if name in SWINGS]
        assert angles["swing-marks"].sensitivity == pytest.approx(sum(of_swings), rel=1e-12)
        for name, line in angles.items():
            if name == "swing-marks":
                continue
            other = energies[ENERGY_NAMES.get(name, name)]
            # an energy falls by M sin(beta) for each radian that a rise grows
            per_deg = 1.0
            if line.unit != other.unit:
                rise = line.value if name in ENERGY_NAMES else angles["rise-angle"].value
                per_deg = -MOMENT * math.sin(math.radians(rise)) * math.pi / 180
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


def test_free_swings_of_the_day_have_its_zero_and_no_drift(tmp_path):
    changed = contents()
    verified = {each.input: each for each in evaluated(tmp_path / "a", changed)[0].energy.budget(0).contributions}
    changed[TEST]["free_swings"] = changed[VERIFICATION]["free_swings"]
    own = {each.input: each for each in evaluated(tmp_path / "b", changed)[0].energy.budget(0).contributions}
    assert set(verified) - set(own) == {"loss-drift"}
    # a zero that is off in bars and free swings alike is taken out by these in part
    of_swings = sum(own[name].sensitivity for name in SWINGS if name in own)
    assert verified["zero"].sensitivity == verified["rise-angle"].sensitivity
    assert own["zero"].sensitivity == pytest.approx(own["rise-angle"].sensitivity + of_swings, rel=1e-12)
    assert abs(own["zero"].sensitivity) < abs(verified["zero"].sensitivity)
    assert own["zero"].standard == pytest.approx(0.1 / math.sqrt(3), rel=1e-12)


@pytest.mark.parametrize(("off", "limit"), [(None, 0.1), (0.0, 0.1), (-0.15, 0.25), (0.1, 0.2)])
def test_a_zero_that_was_read_is_not_corrected_and_counts(tmp_path, off, limit):
    # half a division of 0.2 to each side, and by how much the zero was off
    changed = contents()
    if off is not None:
        changed[TEST]["zero_reading_deg"] = off
    uncertainty, result = evaluated(tmp_path, changed)
    line = next(each for each in uncertainty.energy.budget(0).contributions if each.input == "zero")
    assert line.standard == pytest.approx(limit / math.sqrt(3), rel=1e-12)
    assert ("read as" in line.basis) == bool(off)
    assert result.specimens[0].energy_J == evaluated(tmp_path / "again", contents())[1].specimens[0].energy_J


@pytest.mark.parametrize(
    ("method", "cited"),
    [("iso-179-1", "ISO 179-1:2010, 5.2"), ("iso-180", "ISO 180:1993, 5"), ("own", "common practice")],
)
def test_the_micrometer_is_what_the_record_s_own_method_asks_for(tmp_path, method, cited):
    # both standards ask for 0.02 mm: public texts of JIS K 7111-1:2012 and of GB/T 1843-1996
    changed = contents()
    asked = "dimension_accuracy_mm: {at_most: 0.02"
    changed["procedures/methods/own.yaml"] = own_method(asked, asked).replace(asked, "# {at_most: 0.02")
    changed[RIG]["hammers"]["charpy-1"]["method"] = method
    lines = {each.input: each for each in evaluated(tmp_path, changed)[0].strength.budget(0).contributions}
    for name in ("thickness", "remaining-width"):
        assert lines[name].standard == pytest.approx(0.02 / math.sqrt(3), rel=1e-12)
        assert cited in lines[name].basis
    assert "ISO 13802:1999, 5.2" in lines["moment"].basis


def test_an_unnotched_bar_has_its_whole_width(tmp_path):
    changed = contents()
    changed[TEST]["specimen"]["notch"] = "none"
    for specimen in changed[TEST]["specimens"]:
        del specimen["remaining_width_mm"]
    lines = {each.input: each for each in evaluated(tmp_path, changed)[0].strength.budget(0).contributions}
    assert "remaining-width" not in lines
    assert lines["width"].value == changed[TEST]["specimens"][0]["width_mm"]


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
