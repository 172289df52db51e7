"""Which records a rig is watched by, and what its page says of them."""

import copy
import datetime as dt

import pytest

import small_handbook as small
from notchbook.evaluation.watch import watch_of
from notchbook.facts.facts import Facts
from notchbook.facts.watch import WatchFacts
from notchbook.pages.rig.watch import watch_section

FIRST = dt.date(2026, 9, 15)


def handbook(tmp_path, shifts, rig=None, **keys):
    """A record a day, each with its bars a little higher or lower."""
    files = small.files()
    template = files.pop(small.TEST)
    for place, shift in enumerate(shifts):
        record = copy.deepcopy(template) | {"date": str(FIRST + dt.timedelta(days=place)), "group": f"G{place}"} | keys
        for each in record["specimens"]:
            each["rise_angle_deg"] = round(each["rise_angle_deg"] - shift, 1)
        files[f"results/tests/{record['date']}-g{place}.yaml"] = record
    files[small.RIG] |= rig or {}
    return small.opened(tmp_path, files)


def watch(tmp_path, shifts, rig=None, **keys):
    return watch_of(handbook(tmp_path, shifts, rig, **keys).evaluation, "bench-1")


QUIET = [0.0, 0.2, -0.2, 0.2, 0.0, -0.2, 0.2, 0.0, 0.2]


def test_records_of_most_bars_are_watched_where_the_rig_says_nothing(tmp_path):
    found = watch(tmp_path, QUIET[:4])
    assert (found.choice.exercise, found.choice.material, found.is_stated) == ("notched-charpy", "pp-h", False)
    assert [each.record.date for each in found.points] == [FIRST + dt.timedelta(days=place) for place in range(4)]
    # C and H share a mean, P does not: the larger sets are watched
    assert {each.result.name for each in found.points} == {"CH"}
    stated = watch(tmp_path / "stated", QUIET[:2], {"watch": {"exercise": "notched-charpy", "material": "pp-h"}})
    assert stated.is_stated
    assert watch(tmp_path / "none", []) is None


def test_a_record_that_departs_is_left_out(tmp_path):
    departing = [{"rule": "conditioning", "reason": "short", "accepted_by": "LT-1"}]
    assert watch(tmp_path, QUIET[:3], deviations=departing) is None


@pytest.mark.parametrize(("shift", "told"), [(3.0, ["above"]), (0.2, [])])
def test_a_mean_far_off_is_a_signal_from_ten_records_on(tmp_path, shift, told):
    found = watch(tmp_path, [*QUIET, shift])
    assert list(found.signals().values()) == ([told] if told else [])
    assert watch(tmp_path / "few", [*QUIET[:8], shift]).signals() == {}


def test_limits_begin_anew_after_a_repair(tmp_path):
    repair = {"on": str(FIRST + dt.timedelta(days=9)), "what": "New edge.", "by": "LT-1"}
    found = watch(tmp_path, [*QUIET, 3.0, 3.2], {"repairs": [repair]})
    assert [len(each) for each in found.times] == [9, 2]
    assert found.signals() == {}
    assert found.charts[1].centre > found.charts[0].upper


def test_the_page_says_what_the_chart_says(tmp_path):
    opened = handbook(tmp_path, [*QUIET, 3.0])
    facts = Facts(opened)
    rig = facts.rigs["bench-1"]
    section = watch_section(rig, facts.materials)
    chart = rig.watch.charts[-1]
    assert f"{chart.upper:.2f}"[:3] in section.told[0]
    assert any("2026-09-24-g9 lies above the upper limit" in each for each in section.told)
    assert "in exercise notched-charpy, which is broken most often on this rig" in section.caption
    components = rig.watch.components
    assert f"from bar to bar {components.within_sd:.2g}" in section.told[-1]
    assert "year" not in section.told[-1]
    few = Facts(handbook(tmp_path / "few", QUIET[:2]))
    assert watch_section(few.rigs["bench-1"], few.materials) is None
    assert "the check judges from 10 on" in WatchFacts(few.rigs["bench-1"].watch).told[0]
