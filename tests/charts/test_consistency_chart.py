"""The chart of h and k, read back from its SVG."""

import math
from dataclasses import replace

import pytest
from svg_reading import SVG, Chart

from notchbook.charts.consistency import MOST_ROWS, ConsistencyChart, ConsistencyRow, consistency_chart
from notchbook.charts.words import estimated_width_px

ROWS = (
    ConsistencyRow("G1 2026-10-05", -0.4, 0.9), ConsistencyRow("G2 2026-10-07", 1.6, 1.1),
    ConsistencyRow("G3 2026-10-12", -0.2, 1.9), ConsistencyRow("G4 2026-10-14", None, None),
)  # fmt: skip
CHART = ConsistencyChart("hk", "Groups beside their limits", ROWS, (1.48, 1.72), (1.33, 1.47))
COLOURS = {"none", "currentColor", *(f"var(--nb-{each},currentColor)" for each in ("complete", "hinge", "quiet"))}


def drawn(chart):
    return Chart(consistency_chart(chart), chart.id_prefix)


def test_is_fit_for_a_page():
    chart = drawn(CHART)
    ids = [each.get("id") for each in chart.elements if each.get("id")]
    assert len(ids) == len(set(ids))
    assert all(each.startswith("hk-") for each in ids)
    assert {each.get(name, "none") for each in chart.elements for name in ("fill", "stroke")} <= COLOURS
    assert chart.root.get("viewBox").startswith("0 0 340 ")
    assert chart.source.count("http") == 1  # the name space
    # no text begins left of the chart or ends right of it
    for each in (each for each in chart.elements if each.tag == f"{SVG}text"):
        half = estimated_width_px(each.text, 11.0) / 2.0
        left = float(each.get("x")) - (half if each.get("text-anchor") == "middle" else 0.0)
        assert left >= 0.0
        assert left + 2.0 * half <= 341.0


def test_what_lies_outside_is_a_diamond_and_what_is_not_known_is_not_drawn():
    chart = drawn(CHART)
    assert (len(chart.points("h-inside")), len(chart.points("h-outside"))) == (2, 1)
    assert (len(chart.points("k-inside")), len(chart.points("k-outside"))) == (2, 1)
    assert chart.shape("h-inside") != chart.shape("h-outside")
    # a mark stands beside its label, whose base line lies 4 px below
    (x, y) = chart.points("h-outside")[0]
    assert y == pytest.approx(chart.text("G2 2026-10-07")[1] - 4.0)
    # outside the limit and inside the panel: the label of the limit stands above its line
    assert x > chart.text("1.48")[0]
    assert chart.points("k-outside")[0][0] > chart.text("1.33")[0]
    assert chart.text("−1.48")[0] < chart.points("h-inside")[0][0] < chart.text("0")[0]


def test_description_has_limits_and_rows():
    description = drawn(CHART).description
    assert "h beyond 1.48 in one of twenty and beyond 1.72 in one of a hundred" in description
    assert "G3 2026-10-12 h −0.20, k 1.90" in description
    assert "G4 2026-10-14 h none, k none" in description


def test_two_groups_have_no_limits_of_h():
    chart = drawn(replace(CHART, rows=ROWS[:2], h_limits=(), k_limits=()))
    assert "no limits for so few groups" in chart.texts()
    assert len(chart.points("h-inside")) == 2


def test_more_rows_than_are_read_are_counted():
    rows = tuple(ConsistencyRow(f"G{place}", 0.1, 1.0) for place in range(MOST_ROWS + 3))
    chart = drawn(replace(CHART, rows=rows))
    assert "and 3 more groups, not shown" in chart.texts()
    assert len(chart.points("h-inside")) == MOST_ROWS
    assert "3 more groups not shown" in chart.description


@pytest.mark.parametrize("rows", [(), (ConsistencyRow("a", math.nan, 1.0),), (ConsistencyRow("a", 1.0, math.inf),)])
def test_what_cannot_be_drawn_is_refused(rows):
    with pytest.raises(ValueError, match="finite"):
        consistency_chart(replace(CHART, rows=rows))


def test_foreign_text_is_text():
    source = consistency_chart(replace(CHART, rows=(ConsistencyRow("<script>x</script>\n", 0.0, 1.0),)))
    assert "<script" not in source
    assert "\n" not in source
