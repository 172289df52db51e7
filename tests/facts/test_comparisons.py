"""Which groups are compared with each other, by what, and in which half-year."""

import copy
import datetime as dt
from statistics import fmean

import pytest

import small_handbook as small
from notchbook.facts.comparisons import by_term, comparisons
from notchbook.facts.consistency import Consistency
from notchbook.facts.facts import Facts
from notchbook.facts.terms import term_of
from notchbook.results_data import results_data
from notchbook.statistics.precision import precision

GROUPS = ("G2", "G3", "G4")


def _contents(batches=("B1", "B1", "B1"), days=("2026-10-06", "2026-10-07", "2026-10-08")):
    contents = small.files()
    record = contents.pop(small.TEST)
    for place, (group, batch, day) in enumerate(zip(GROUPS, batches, days, strict=True)):
        own = copy.deepcopy(record) | {"group": group, "date": day, "batch": batch}
        if batch is None:
            del own["batch"]
        for bar, each in enumerate(own["specimens"]):
            each["width_mm"] = round(each["width_mm"] + 0.01 * place, 2)
            each["rise_angle_deg"] = round(each["rise_angle_deg"] - 0.2 * ((bar * (place + 1)) % 3), 1)
        contents[f"results/tests/{day}-{group.lower()}-pp-h.yaml"] = own
    return contents


def _found(tmp_path, **changes):
    return comparisons(Facts(small.opened(tmp_path, _contents(**changes))).records.values())


def test_dry_and_conditioned_bars_are_told_apart(tmp_path):
    contents = _contents()
    paths = [each for each in contents if each.startswith("results/tests/")]
    for path, state in zip(paths, ("dry", "conditioned", "dry"), strict=True):
        contents[path]["conditioning"]["state"] = state
    (found,) = comparisons(Facts(small.opened(tmp_path, contents)).records.values())
    assert found.title == "Batch B1, dry, 2.9 m/s, C/H"
    assert len(found.cells) == 2


def test_a_record_with_errors_is_compared_with_none(tmp_path):
    contents = _contents()
    paths = [each for each in contents if each.startswith("results/tests/")]
    for path in paths[:2]:
        contents[path]["specimens"][0]["width_mm"] = 12.0
    handbook = small.opened(tmp_path, contents)
    assert handbook.findings
    assert comparisons(Facts(handbook).records.values()) == []


def test_sets_that_share_a_mean_are_held_together(tmp_path):
    facts = Facts(small.opened(tmp_path, _contents()))
    complete, partial = facts.comparisons[0], facts.comparisons[1:]
    # complete and hinge breaks share a mean; single partial breaks have no scatter of their own
    assert (complete.breaks, partial) == (["C", "H"], [])
    assert complete.title == "Batch B1, 2.9 m/s, C/H"
    assert [each.name for each in complete.cells] == list(facts.records)
    by_hand = precision([each.strengths for each in complete.cells])
    (found,) = results_data(facts.handbook)["comparisons"]
    about = {"exercise": "notched-charpy", "material": "pp-h", "batch": "B1", "velocity_m_s": 2.9, "breaks": ["C", "H"]}
    assert {key: found[key] for key in about} == about
    assert found["repeatability_sd_kJ_m2"] == by_hand.repeatability_sd
    assert found["between_sd_kJ_m2"] == by_hand.between_sd
    assert found["reproducibility_sd_kJ_m2"] == by_hand.reproducibility_sd
    assert found["mean_kJ_m2"] == pytest.approx(fmean(bar for each in complete.cells for bar in each.strengths))
    for row, h, k in zip(found["groups"], by_hand.h, by_hand.k, strict=True):
        test = results_data(facts.handbook)["tests"][row["record"]]
        (own,) = [each for each in test["sets"] if "C" in each["breaks"]]
        assert (row["n"], row["mean_kJ_m2"], row["interval_kJ_m2"]) == (
            own["n"],
            own["mean_kJ_m2"],
            own["interval_kJ_m2"],
        )
        assert (row["h"], row["k"]) == (h, k)


@pytest.mark.parametrize(
    ("batches", "groups"),
    [(("B1", "B1", "B2"), [2]), (("B1", "B2", "B3"), []), ((None, None, "B1"), [2]), ((None, None, None), [3])],
)
def test_batches_are_told_apart(tmp_path, batches, groups):
    assert [len(each.cells) for each in _found(tmp_path, batches=batches)] == groups


def test_what_departs_is_compared_with_what_departs_in_the_same(tmp_path):
    contents = _contents()
    for path in [each for each in contents if each.startswith("results/tests/")][:2]:
        contents[path]["conditioning"]["hours"] = 12
        contents[path]["deviations"] = [{"rule": "conditioning", "reason": "too late", "accepted_by": "LT-1"}]
    (found,) = comparisons(Facts(small.opened(tmp_path, contents)).records.values())
    assert (len(found.cells), found.subject.departure.rules) == (2, ["conditioning"])
    assert found.title.endswith("departs: conditioning")


def test_half_years_are_looked_at_apart(tmp_path):
    contents = _contents(days=("2026-01-31", "2026-02-01", "2026-07-31"))
    contents[small.VERIFICATION] |= {"date": "2026-01-14", "valid_until": "2026-12-31"}
    facts = Facts(small.opened(tmp_path, contents))
    assert [len(each.cells) for each in facts.comparisons] == [3]
    (term,) = facts.term_comparisons
    assert (term.term.id, term.term.words, term.groups_number) == ("2026-02", "February to July 2026", 2)
    assert by_term([]) == []


@pytest.mark.parametrize(
    ("day", "begins"),
    [("2026-01-31", "2025-08"), ("2026-02-01", "2026-02"), ("2026-07-31", "2026-02"), ("2026-08-01", "2026-08")],
)
def test_a_half_year_begins_with_february_or_august(day, begins):
    term = term_of(dt.date.fromisoformat(day))
    assert term.id == begins
    assert term_of(dt.date(2026, 9, 1)).words == "August 2026 to January 2027"


SOUND = [
    [4.0, 4.2, 4.1, 3.9], [4.1, 4.3, 4.0, 4.1], [3.8, 4.1, 4.2, 4.0], [4.0, 4.1, 4.3, 4.2], [4.0, 3.9, 3.9, 4.1],
]  # fmt: skip
LABELS = ["G1", "G2", "G3", "G4", "G5", "G6"]


def test_words_of_sound_groups():
    beside = Consistency(precision(SOUND), LABELS[:5])
    assert all(each.startswith("bars scatter like everyone's; mean ") for each in beside.words)
    assert all("that chance allows" in each for each in beside.words)
    assert beside.cochran_words.endswith("So it is no more than chance.")
    assert beside.grubbs_words.endswith("no more than chance, and neither are two means at one end together.")
    # 2.8 standard deviations are what two values differ by in one case of twenty: 1.96 sqrt(2), rounded
    assert beside.parts[0].limit == pytest.approx(2.8 * beside.found.repeatability_sd)


def test_words_of_a_group_that_stands_apart():
    beside = Consistency(precision([*SOUND, [9.0, 9.1, 9.2, 9.1]]), LABELS)
    assert "mean far further above that of all than chance allows" in beside.words[5]
    assert "far more than chance: look for what was different there" in beside.grubbs_words
    pair = Consistency(precision([*SOUND, [9.0, 9.1, 9.2, 9.1], [9.1, 9.2, 9.0, 9.1]]), [*LABELS, "G7"])
    assert "G6 and G7 together lie further off than chance lets two means lie" in pair.grubbs_words
    scattered = Consistency(precision([*SOUND, [2.0, 6.0, 3.0, 5.2]]), LABELS)
    assert scattered.words[5].startswith("bars scatter far more than everyone's")
    assert "far more than chance: look for a misread bar" in scattered.cochran_words


def test_words_where_little_can_be_told():
    two = Consistency(precision([[4.0, 4.1], [4.2]]), LABELS[:2])
    assert two.words == [
        "no other scatter to compare with; of two means neither is the one that is off",
        "no scatter to be told; of two means neither is the one that is off",
    ]
    assert (two.cochran_words, two.grubbs_words) == ("", "")
    alike = Consistency(precision([[4.0, 4.0]] * 3), LABELS[:3])
    assert alike.words[0] == "no scatter to be told; the means do not differ"
    assert (alike.cochran_words, alike.grubbs_words) == ("", "")
