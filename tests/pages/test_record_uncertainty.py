"""The uncertainty on a record's page is the one that was worked out, to the digits shown."""

import re

import pytest

from notchbook.facts.facts import Facts
from notchbook.pages.record.uncertainty import share, uncertainty_section


def section(handbook, record_id):
    return uncertainty_section(Facts(handbook).record(record_id))


def as_number(words):
    return float(words.replace("−", "-"))


def test_every_mean_is_shown_with_its_expanded_uncertainty(demo):
    shown = 0
    for record_id, result in demo.evaluation.records.items():
        if not result.sets or result.sets[0].summary.n == 1:
            continue
        found = section(demo, record_id).mean
        of_set = demo.evaluation.uncertainty(record_id).of_set(result.sets[0])
        shown += 1
        assert as_number(found.expanded) == pytest.approx(of_set.expanded, rel=0.05)  # two significant figures
        factor = float(re.match(r"k = ([0-9.]+), by Student's t for ", found.factor)[1])
        assert factor == pytest.approx(of_set.coverage_factor, abs=0.005)
        assert found.factor.endswith("alone, which is more" if of_set.is_of_scatter else "effective degrees of freedom")
        decimals = len(found.expanded.partition(".")[2])
        assert found.mean == f"{result.sets[0].summary.mean:.{decimals}f}"
    assert shown > 30


def test_the_largest_source_comes_first_and_the_shares_add_up(demo):
    for record_id in demo.evaluation.records:
        found = section(demo, record_id)
        if found is None or found.mean is None:
            continue
        percents = [as_number(each[2].replace("below ", "")) for each in found.mean.shares]
        assert percents == sorted(percents, reverse=True)
        # each of up to nine shares is rounded to a tenth, or shown as a tenth where it is less
        assert sum(percents) == pytest.approx(100.0, abs=1.0)


def test_a_record_without_breaks_has_no_uncertainty(demo):
    unbroken = [each for each, result in demo.evaluation.records.items() if not result.sets]
    assert unbroken
    assert all(section(demo, each) is None for each in unbroken)


def test_a_small_share_is_not_shown_as_nothing():
    assert share(0.04) == "below 0.1"
    assert share(0.1) == "0.1"
    assert share(97.86) == "97.9"


def test_a_single_bar_has_its_energy_and_a_whole_budget(demo):
    record_id = "2026-10-05-g1-pp-h-notched"
    found, exact = section(demo, record_id).bar, demo.evaluation.uncertainty(record_id)
    place = [each.id for each in demo.library.records[record_id].specimens].index(found.id)
    for shown, budget in ((found.energy, exact.energy.budget(place)), (found.strength, exact.strength.budget(place))):
        assert as_number(shown.standard) == pytest.approx(budget.standard, rel=0.05)
        assert as_number(shown.expanded) == pytest.approx(2.0 * budget.standard, rel=0.05)
        assert as_number(shown.value) == pytest.approx(budget.value, abs=as_number(shown.expanded) / 10.0)
    # each contribution is its sensitivity times its standard uncertainty, and their squares add up
    brings = [as_number(each.brings) for each in found.inputs]
    for row, part in zip(found.inputs, brings, strict=True):
        standard = as_number(row.standard.rstrip("°").partition(" ")[0])
        assert part == pytest.approx(abs(as_number(row.sensitivity.partition(" ")[0])) * standard, rel=0.1)
    assert sum(each**2 for each in brings) ** 0.5 == pytest.approx(as_number(found.strength.standard), rel=0.05)


def test_a_page_without_breaks_says_why_it_has_no_uncertainty(demo, demo_pages):
    for record_id, result in demo.evaluation.records.items():
        if not result.sets:
            assert "no strength to be unsure of" in demo_pages[f"records/{record_id}.md"].text


def test_shares_stand_as_bars_beside_the_tables(demo, demo_pages):
    found = section(demo, "2026-10-05-g1-pp-h-notched")
    page = demo_pages["records/2026-10-05-g1-pp-h-notched.md"]
    for prefix, rows in (
        ("mean-shares", [(each[0], each[2]) for each in found.mean.shares]),
        ("bar-shares", [(each.name, each.share) for each in found.bar.inputs]),
    ):
        (drawn,) = [each for each in page.all("svg") if each.attributes["aria-labelledby"].startswith(prefix)]
        listed = "; ".join(f"{name} {percent}" for name, percent in rows)
        assert drawn.one("desc").text == f"Shares of the variance in percent: {listed}."
