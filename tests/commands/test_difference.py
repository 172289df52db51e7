"""Two sets against each other: what is printed, against a reference library, and what is not compared and why."""

import copy
import json
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner
from scipy import stats

import small_handbook as small
from notchbook.cli import main
from notchbook.facts.facts import Facts
from notchbook.facts.two_sets import NoSetError, two_sets
from notchbook.handbook import open_handbook

DEMO = Path(__file__).resolve().parents[2]
LATER = "2026-10-20-g3-pp-h"


def run(*arguments, root=DEMO):
    done = CliRunner(env={"SOURCE_DATE_EPOCH": "1803859200"}).invoke(
        main, ["difference", *arguments, "--root", str(root)]
    )
    return done.exit_code, done.stdout, done.stderr


def strengths(handbook, record_id, letters):
    record = handbook.evaluation.records[record_id]
    (found,) = [each for each in record.sets if each.name == letters]
    return [record.specimens[place].strength_kJ_m2 for place in found.members]


def changed(**keys):
    """A second record of the small handbook, which differs from the first in these keys."""
    files = small.files()
    record = copy.deepcopy(files[small.TEST]) | {"date": "2026-10-20", "group": "G3"} | keys
    for number, each in enumerate(record["specimens"]):
        each["rise_angle_deg"] = round(each["rise_angle_deg"] - 0.4 - 0.2 * (number % 3), 1)
        each["width_mm"] = round(each["width_mm"] + 0.01, 2)
    files[f"results/tests/{LATER}.yaml"] = record
    return files


def test_numbers_are_those_of_the_reference_library():
    handbook = open_handbook(DEMO)
    first, second = "2025-10-06-lt-1-pp-h-notched", "2026-10-07-g2-pp-h-notched"
    status, said, _ = run(f"{first}:C", second, "--format", "json")
    assert status == 0
    found = json.loads(said)
    a, b = strengths(handbook, first, "C"), strengths(handbook, second, "C")
    expected = stats.ttest_ind(a, b, equal_var=False)
    assert found["difference_kJ_m2"] == pytest.approx(np.mean(a) - np.mean(b), rel=1e-12)
    assert found["interval_kJ_m2"] == pytest.approx(list(expected.confidence_interval(0.95)), rel=1e-7)
    assert found["t"] == pytest.approx(expected.statistic, rel=1e-9)
    assert found["degrees_of_freedom"] == pytest.approx(expected.df, rel=1e-9)
    assert found["ratio"] == pytest.approx(np.mean(a) / np.mean(b), rel=1e-12)
    assert (found["comparable"], found["contains_zero"]) == (True, False)


def test_what_is_said():
    status, said, errors = run("2025-10-06-lt-1-pp-h-notched", "2026-10-07-g2-pp-h-notched")
    assert (status, errors) == (0, "")
    assert "The first is 0.27 ± 0.20 kJ/m² higher; the 95 % interval, 0.07 to 0.47 kJ/m², does not contain 0." in said
    assert "from the scatter of the bars alone: both were broken by one pendulum" in said
    assert "they also differ in batch (PP-25-03, PP-26-01), day (6 October 2025, 7 October 2026) and group" in said
    _, said, _ = run("2025-11-12-g2-pmma-notched", "2025-11-05-g1-ps-notched")
    assert "The first is 0.05 ± 0.14 kJ/m² lower; the 95 % interval, −0.19 to 0.09 kJ/m², contains 0." in said
    assert "no proof that the two are the same" in said


@pytest.mark.parametrize(
    ("first", "second", "why"),
    [
        ("2025-11-05-g1-ps-notched", "2026-02-25-g5-ps-unnotched", "different tests, ISO 179-1/1eA and ISO 179-1/1eU"),
        ("2026-01-14-g3-pp-h-izod", "2026-10-07-g2-pp-h-notched", "different methods, ISO 180 and ISO 179-1"),
        ("2026-10-12-g3-pp-h-notched", "2026-10-14-g4-pp-h-notched", "departs in conditioning on bench-1"),
        ("2026-10-12-g3-pp-h-notched", "2026-10-12-g3-pp-h-notched", "one and the same set"),
    ],
)
def test_what_is_not_comparable_is_said_and_not_computed(first, second, why):
    status, said, _ = run(first, second)
    assert status == 0
    assert "Not comparable: " in said
    assert why in said
    assert "±" not in said
    found = json.loads(run(first, second, "--format", "json")[1])
    assert (found["comparable"], found["difference_kJ_m2"], found["ratio"]) == (False, None, None)
    assert any(why in each for each in found["obstacles"])


def test_break_types_are_told_apart_and_the_largest_common_set_is_taken(tmp_path):
    handbook = small.opened(tmp_path, changed())
    records = Facts(handbook).records
    found = two_sets(records, small.TEST_ID, LATER)
    assert (found.first.letters, found.second.letters) == ("CH", "CH")
    assert two_sets(records, f"{small.TEST_ID}/P", f"{LATER}:P").difference.interval is None
    apart = two_sets(records, f"{small.TEST_ID}:CH", f"{LATER}:P")
    assert apart.obstacles == ("different break types, CH and P",)
    for wrong, told in (("x", "no test 'x'"), (f"{LATER}:N", "no mean of 'N'")):
        with pytest.raises(NoSetError, match=told):
            two_sets(records, small.TEST_ID, wrong)


def test_speeds_are_told_apart():
    """A record of the small hammers of ISO 179-1 against one of the large ones."""
    records = Facts(open_handbook(DEMO)).records
    by_speed = {}
    for each in records.values():
        if each.sets:
            by_speed.setdefault((each.method.id, each.speed_m_s), each)
    speeds = [each for each in by_speed if each[0] == "iso-179-1"]
    assert len(speeds) == 2
    found = two_sets(records, *(by_speed[each].record.id for each in speeds))
    assert "different speeds, 2.9 m/s and 3.8 m/s" in found.obstacles


def test_two_pendulums_are_compared_with_what_is_not_known_of_them(tmp_path):
    files = changed(rig="bench-2")
    files["procedures/rigs/bench-2.yaml"] = copy.deepcopy(files[small.RIG]) | {"title": "Bench pendulum 2"}
    files["results/verifications/other.yaml"] = files[small.VERIFICATION] | {"rig": "bench-2"}
    one = two_sets(Facts(small.opened(tmp_path / "one", changed())).records, small.TEST_ID, LATER)
    two = two_sets(Facts(small.opened(tmp_path / "two", files)).records, small.TEST_ID, LATER)
    assert two.difference.difference == pytest.approx(one.difference.difference, rel=1e-12)
    assert two.difference.standard_error == pytest.approx(
        np.hypot(two.first.uncertainty.standard, two.second.uncertainty.standard), rel=1e-12
    )
    assert two.difference.standard_error > one.difference.standard_error
    assert "what is not known of the two pendulums" in two.basis


def test_what_does_not_exist_is_refused():
    status, said, errors = run("2025-10-06-lt-1-pp-h-notched", "2026-10-07-g2-pp-h-notched:X")
    assert (status, said) == (2, "")
    assert "has no mean of 'X'; known are C" in errors
