"""A bar that stands apart is told with the slips that would explain it.

Which slips are made is common practice, no source: a decimal point that slipped, two digits that changed places, a
scale read from its other end, the number beside the pointer, another hammer, a swing that met no bar, and two bars
whose readings changed places.
"""

from typing import Literal

import pytest

from conftest import Bench

POM = "results/tests/2026-10-13-g3-pom.yaml"


def _session(bench: Bench, rises_deg: list[float], letters: str = "", declared: str = "") -> str:
    head, _, _ = (bench.root / POM).read_text(encoding="utf-8").partition("specimens:")
    rows = [
        f'  - {{id: "{place + 1:02}", width_mm: {10 + place % 3 / 100:.2f}, thickness_mm: {4 - place % 4 / 100:.2f}, '
        f"remaining_width_mm: {8 + place % 5 / 100:.2f}, rise_angle_deg: {rise}, "
        f"break: {letters[place] if letters else 'C'}}}"
        for place, rise in enumerate(rises_deg)
    ]
    text = "\n".join([f"{head}specimens:", *rows, ""])
    if declared:
        text += f"deviations: [{{rule: {declared}, reason: No other hammer., accepted_by: LT-1}}]\n"
    (bench.root / POM).write_text(text, encoding="utf-8")
    treatment: Literal["refuse", "label"] = "label" if declared else "refuse"
    return bench.findings("set-outlier", treatment)[0].hint


WEAK = [90.4, 90.8, 90.2, 90.6, 91.0, 90.0, 90.8, 90.2, 90.6]
MIDDLE = [83.4, 83.6, 83.0, 83.8, 83.2, 83.6, 83.4, 83.8, 83.2]
STRONG = [66.0, 66.4, 65.6, 66.8, 66.2, 65.8, 66.6, 66.0, 66.4]


@pytest.mark.parametrize(
    ("others", "odd", "slip"),
    [
        (MIDDLE, 38.4, "two digits that changed places (83.4°)"),
        (MIDDLE, 81.0, "the number beside the right one (83°)"),
        (STRONG, 31.0, "the other end of the scale taken for its zero (66°)"),
        # the 2 J hammer rises to 83 degrees where the 1 J one rises to 66: E = M (cos beta - cos alpha)
        (STRONG, 83.0, "a swing of hammer 'charpy-2'"),
    ],
)
def test_slip_of_a_reading_is_named(bench: Bench, others: list[float], odd: float, slip: str) -> None:
    # a share of the hammer that no window allows is declared, so that it is no error of its own
    hint = _session(bench, [*others, odd], declared="energy-window")
    assert hint.startswith("see on the sheet of the day whether it is ")
    assert slip in hint


def test_slipped_point_is_named_where_the_window_is_declared(bench: Bench) -> None:
    assert "a slipped decimal point (90.6°)" in _session(bench, [*WEAK, 9.06], declared="energy-window")


def test_swing_without_a_bar_is_named(bench: Bench) -> None:
    # the free swing of the base handbook rises to 95.8 degrees
    assert "a swing that did not meet the bar" in _session(bench, [*MIDDLE, 95.6], declared="energy-window")


def test_exchanged_readings_of_two_kinds_of_break_are_named(bench: Bench) -> None:
    rises = [*MIDDLE[:8], 46.0, 83.2, 46.4, 46.2, 46.6, 46.8, 46.0]
    hint = _session(bench, rises, "CCCCCCCCCPPPPPP", declared="energy-window").split("; if")[0]
    assert hint.endswith("a reading exchanged with that of bar 10 (83.2°)")


def test_bar_that_no_slip_explains_is_told_all_the_same(bench: Bench) -> None:
    hint = _session(bench, [*MIDDLE, 50.0])
    assert hint.startswith("compare point, hammer and the rows beside it with the sheet of the day")
