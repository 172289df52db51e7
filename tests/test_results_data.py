"""What goes out for scripts: the keys of the format contract, every digit, and nothing that a sheet would run."""

import csv
import io
import json
import math

import pytest
from scipy import stats

from notchbook.results_data import CSV_COLUMNS, as_csv, as_json, results_data
from small_handbook import RIG, SWINGS, SWINGS_ID, TEST, TEST_ID, VERIFICATION, files, opened, swings

VERIFICATION_ID = "2026-09-14-bench-1-charpy-1"
SPECIMEN_KEYS = [
    "id", "energy_J", "loss_J", "strength_kJ_m2", "used_pct", "expanded_uncertainty_kJ_m2", "break", "excluded",
]  # fmt: skip
SET_KEYS = [
    "breaks", "averaged_together", "n", "mean_kJ_m2", "standard_deviation_kJ_m2", "variation_pct", "interval_kJ_m2",
    "reported",
    "standard_uncertainty_kJ_m2", "expanded_uncertainty_kJ_m2", "coverage_factor",
]  # fmt: skip
ABOUT_KEYS = [
    "date", "group", "exercise", "material", "batch", "method", "standard", "type", "notch", "direction",
    "velocity_m_s",
]  # fmt: skip
VERIFICATION_KEYS = [
    "potential_energy_J", "velocity_m_s", "pendulum_length_mm", "indicator_loss_J", "swing_loss_J", "loss_pct",
    "conforms",
]  # fmt: skip


def rows(handbook):
    return list(csv.DictReader(io.StringIO(as_csv(handbook), newline="")))


def test_keys_are_those_of_the_contract(tmp_path):
    data = json.loads(as_json(opened(tmp_path)))
    assert list(data) == ["tests", "verifications", "swings", "comparisons", "notch_sensitivity"]
    test = data["tests"][TEST_ID]
    assert list(test) == ["specimens", "sets", "conforms", "deviations", *ABOUT_KEYS]
    assert {tuple(each) for each in test["specimens"]} == {tuple(SPECIMEN_KEYS)}
    assert {tuple(each) for each in test["sets"]} == {tuple(SET_KEYS)}
    assert list(data["verifications"][VERIFICATION_ID]) == VERIFICATION_KEYS


def test_an_interval_is_of_the_scatter_and_the_uncertainty_of_all_that_is_known(tmp_path):
    handbook = opened(tmp_path)
    largest, alone = json.loads(as_json(handbook))["tests"][TEST_ID]["sets"]
    found = handbook.evaluation.uncertainty(TEST_ID).of_set(handbook.evaluation.records[TEST_ID].sets[0])
    assert largest["expanded_uncertainty_kJ_m2"] == found.expanded
    standard, factor = largest["standard_uncertainty_kJ_m2"], largest["coverage_factor"]
    assert standard * factor == pytest.approx(found.expanded, rel=1e-12)
    # the interval keeps its meaning: mean -+ t(n - 1) s/sqrt(n), which the uncertainty is never below
    low, high = largest["interval_kJ_m2"]
    half_width = stats.t.ppf(0.975, largest["n"] - 1) * largest["standard_deviation_kJ_m2"] / largest["n"] ** 0.5
    assert (high - low) / 2 == pytest.approx(half_width, rel=1e-9)
    assert largest["expanded_uncertainty_kJ_m2"] >= half_width
    assert (alone["interval_kJ_m2"], alone["expanded_uncertainty_kJ_m2"]) == (None, None)


def test_values_are_of_their_types(tmp_path):
    data = json.loads(as_json(opened(tmp_path)))
    test, verification = data["tests"][TEST_ID], data["verifications"][VERIFICATION_ID]
    for each in test["specimens"]:
        assert isinstance(each["id"], str)
        assert all(isinstance(each[key], float) for key in ("energy_J", "loss_J", "strength_kJ_m2", "used_pct"))
        assert each["excluded"] is None
    for each in test["sets"]:
        assert all(isinstance(letter, str) for letter in each["breaks"])
        assert isinstance(each["n"], int)
        assert isinstance(each["mean_kJ_m2"], float)
    largest, alone = test["sets"]
    assert largest["interval_kJ_m2"][0] < largest["mean_kJ_m2"] < largest["interval_kJ_m2"][1]
    spread = (alone["standard_deviation_kJ_m2"], alone["variation_pct"], alone["interval_kJ_m2"])
    assert (alone["n"], spread) == (1, (None, None, None))
    assert (test["conforms"], test["deviations"]) == (True, [])
    assert verification.pop("conforms") is True
    assert all(isinstance(value, float) for value in verification.values())


def test_values_are_those_of_the_evaluation_to_the_last_digit(tmp_path):
    handbook = opened(tmp_path)
    data = json.loads(as_json(handbook))["tests"][TEST_ID]
    result = handbook.evaluation.records[TEST_ID]
    for row, specimen in zip(data["specimens"], result.specimens, strict=True):
        for key in ("energy_J", "loss_J", "strength_kJ_m2", "used_pct"):
            assert row[key] == getattr(specimen, key)
    assert [each["mean_kJ_m2"] for each in data["sets"]] == [each.summary.mean for each in result.sets]


SWINGS_KEYS = [
    "indicator_loss_J", "swing_loss_J", "loss_pct", "allowed_pct", "later_swing_loss_J",
    "expanded_uncertainty_indicator_loss_J", "expanded_uncertainty_swing_loss_J", "expanded_uncertainty_loss_pct",
    "decay_pct", "verification", "difference_pct", "agrees", "conforms",
]  # fmt: skip


def test_swings_of_groups_have_the_keys_of_the_contract(tmp_path):
    contents = files() | {SWINGS: swings(), "results/swings/nowhere.yaml": swings() | {"rig": "nowhere"}}
    found = json.loads(as_json(opened(tmp_path, contents)))["swings"]
    assert list(found) == [SWINGS_ID, "nowhere"]
    assert list(found[SWINGS_ID]) == SWINGS_KEYS
    assert found[SWINGS_ID]["verification"] == VERIFICATION_ID
    assert found[SWINGS_ID]["conforms"] is False  # the exercise of the small handbook breaks bars
    assert found["nowhere"].pop("conforms") is False
    assert set(found["nowhere"].values()) == {None}


def test_what_cannot_be_had_is_null(tmp_path):
    contents = files()
    contents.pop(VERIFICATION)
    contents["results/verifications/v.yaml"] = {
        **files()[VERIFICATION], "hammer": "charpy-9", "free_swings": {"first_rise_deg": 94.6},
    }  # fmt: skip
    contents["results/tests/nowhere.yaml"] = {**files()[TEST], "rig": "nowhere"}
    data = json.loads(as_json(opened(tmp_path, contents)))
    for each in data["tests"][TEST_ID]["specimens"]:
        assert (each["energy_J"], each["loss_J"], each["strength_kJ_m2"], each["used_pct"]) == (None,) * 4
    assert data["tests"][TEST_ID]["sets"] == []
    assert data["tests"]["nowhere"]["specimens"] == []
    assert data["tests"]["nowhere"]["conforms"] is False
    verification = data["verifications"]["v"]
    assert verification.pop("conforms") is False
    assert set(verification.values()) == {None}


def test_a_length_without_measure_is_null(tmp_path):
    # a pendulum that swings through 180 deg has no period
    contents = files()
    contents[VERIFICATION]["period"]["amplitude_deg"] = 180
    data = json.loads(as_json(opened(tmp_path, contents)), parse_constant=pytest.fail)
    assert data["verifications"][VERIFICATION_ID]["pendulum_length_mm"] is None


def test_the_smallest_and_largest_values_that_may_be_read_give_numbers_or_null(tmp_path):
    contents = files()
    contents[RIG]["hammers"]["charpy-1"] |= {"nominal_energy_J": 1e-30, "moment_Nm": 1e5}
    contents[TEST]["specimens"][0] |= {"thickness_mm": 1e-30, "remaining_width_mm": 1e-30}
    contents[TEST]["specimens"][1]["thickness_mm"] = 10000
    contents[SWINGS] = swings() | {"free_swings": {"first_indicated_energy_J": 1e5, "second_rise_deg": 180}}
    contents["results/swings/far.yaml"] = swings() | {"series": {"rises_deg": [180, 0], "half_swings_between": 1000}}
    data = json.loads(as_json(opened(tmp_path, contents)), parse_constant=pytest.fail)
    assert all(math.isfinite(each["strength_kJ_m2"]) for each in data["tests"][TEST_ID]["specimens"])


def test_excluded_specimens_and_declared_deviations_are_told(tmp_path):
    contents = files()
    contents["mkdocs.yml"] = "plugins: [{notchbook: {deviations: label}}]\n"
    contents[TEST]["specimens"][2]["excluded"] = "cracked"
    contents[TEST]["conditioning"]["hours"] = 2
    declared = {"rule": "conditioning", "reason": "delivered late", "accepted_by": "LT-1"}
    contents[TEST]["deviations"] = [declared]
    test = json.loads(as_json(opened(tmp_path, contents)))["tests"][TEST_ID]
    assert test["specimens"][2]["excluded"] == "cracked"
    assert (test["conforms"], test["deviations"]) == (False, [declared])


def test_tests_and_verifications_come_in_the_order_of_their_ids(tmp_path):
    contents = files()
    for name in ("b", "a", "10", "9"):
        contents[f"results/tests/{name}.yaml"] = files()[TEST]
    data = json.loads(as_json(opened(tmp_path, contents)))
    assert list(data["tests"]) == ["10", "2026-10-06-g2-pp-h", "9", "a", "b"]


def test_csv_gives_back_every_digit(tmp_path):
    handbook = opened(tmp_path)
    data = results_data(handbook)["tests"][TEST_ID]["specimens"]
    table = rows(handbook)
    assert list(table[0]) == list(CSV_COLUMNS)
    assert len(table) == len(data) == 10
    for row, specimen in zip(table, data, strict=True):
        for key in ("energy_J", "loss_J", "strength_kJ_m2", "used_pct"):
            assert float(row[key]) == specimen[key]
        assert (row["specimen"], row["break"], row["excluded"]) == (specimen["id"], specimen["break"], "")
        uncertainty = specimen["expanded_uncertainty_kJ_m2"]
        assert row["expanded_uncertainty_kJ_m2"] == ("" if uncertainty is None else repr(uncertainty))
        assert (row["test"], row["date"], row["group"], row["conforms"]) == (TEST_ID, "2026-10-06", "G2", "true")
        assert (row["exercise"], row["rig"], row["hammer"]) == ("notched-charpy", "bench-1", "charpy-1")
        assert (row["material"], row["notch"]) == ("pp-h", "A")


@pytest.mark.parametrize(
    "text", ['with "quotes", commas', "two\nlines", "carriage\r\nreturn", "é漢😀", "'quoted'", "a=b"]
)
def test_csv_gives_back_every_text(tmp_path, text):
    # RFC 4180: fields with quotes, commas and line breaks are quoted
    contents = files()
    contents[TEST]["specimens"][0]["excluded"] = text
    handbook = opened(tmp_path, contents)
    assert rows(handbook)[0]["excluded"] == text
    assert as_csv(handbook).count("\r\n") >= 11


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("=1+1", "'=1+1"),
        ("+1", "'+1"),
        ("-1+2", "'-1+2"),
        ("@SUM(A1)", "'@SUM(A1)"),
        ("slipped;=cmd|' /C calc'!A0", "slipped;'=cmd|' /C calc'!A0"),
        ("\t=1", "\\t=1"),
        ("\r=1", "\\r=1"),
        ("\n=1", "\n'=1"),
        ('=HYPERLINK("http://x.example","y")', '\'=HYPERLINK("http://x.example","y")'),
    ],
)
@pytest.mark.parametrize("key", ["excluded", "id"])
def test_a_text_that_a_sheet_would_run_is_made_text(tmp_path, text, written, key):
    # first characters after the advice of OWASP on CSV injection
    contents = files()
    contents[TEST]["specimens"][0][key] = text
    row = rows(opened(tmp_path, contents))[0]
    assert row["specimen" if key == "id" else key] == written


STEERING = "red\x1b[31m turned\u202e over\rwritten ##[group]x\n::error::y"


def test_what_steers_a_terminal_or_a_log_is_escaped(tmp_path):
    contents = files()
    contents[TEST]["specimens"][0]["excluded"] = STEERING
    handbook = opened(tmp_path, contents)
    printed = as_json(handbook)
    assert all(line.isprintable() for line in printed.split("\n"))
    assert "##[" not in printed
    assert json.loads(printed)["tests"][TEST_ID]["specimens"][0]["excluded"] == STEERING
    table = as_csv(handbook)
    assert all(line.isprintable() and not line.startswith("::") for line in table.replace("\r\n", "\n").split("\n"))
    assert "##[" not in table
    written = "red\\x1b[31m turned\\u202e over\\rwritten \\x23#[group]x\n\\x3a:error::y"
    assert rows(handbook)[0]["excluded"] == written


def test_negative_numbers_are_not_taken_for_formulae(tmp_path):
    contents = files()
    contents[TEST]["specimens"][0]["rise_angle_deg"] = 95.6
    row = rows(opened(tmp_path, contents))[0]
    assert float(row["energy_J"]) < 0


def test_an_empty_handbook_gives_empty_results(tmp_path):
    handbook = opened(tmp_path, {})
    mappings, lists = ("tests", "verifications", "swings"), ("comparisons", "notch_sensitivity")
    assert json.loads(as_json(handbook)) == {each: {} for each in mappings} | {each: [] for each in lists}
    assert as_csv(handbook) == ",".join(CSV_COLUMNS) + "\r\n"
