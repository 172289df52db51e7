"""The drawing of a pendulum, read back from its SVG."""

import itertools
import math
from dataclasses import replace

import pytest
from drawing_reading import Drawing, assert_fit_for_a_page, assert_readable
from test_specimen_drawing import TOLERANCE_PX

from notchbook.charts.drawings.pendulum import pendulum_drawing
from notchbook.charts.drawings.swing import PendulumDrawing
from repeating import repeated

LONG = PendulumDrawing("swing", "Bench pendulum", 395.0, 150.0, 149.4, 131.2)
SHORT = replace(LONG, striking_length_mm=230.0)
EDGE_TIP = 5
"""Place of the striking edge's tip among the corners of a hammer."""


def drawn(drawing):
    return Drawing(pendulum_drawing(drawing), drawing.id_prefix)


def centre(drawing):
    axis = drawing.named("axis")
    return float(axis.get("cx")), float(axis.get("cy"))


@pytest.mark.parametrize("drawing", [LONG, SHORT, replace(LONG, free_rise_deg=None, break_rise_deg=None)])
def test_is_fit_for_a_page(drawing):
    assert_fit_for_a_page(drawn(drawing))


@pytest.mark.parametrize("length", [150.0, 230.0, 395.0, 500.0, 700.0])
@pytest.mark.parametrize(("release", "free", "broken"), [(150, 149.4, 131.2), (95.7, 94.6, 86.4), (60, 58.0, 5.0)])
def test_positions_are_drawn_to_scale(length, release, free, broken):
    drawing = drawn(PendulumDrawing("swing", "t", length, release, free, broken))
    scale = drawing.scale("pendulum")
    x, y = centre(drawing)
    # release on the left, rises on the right
    for name, angle in (("release", -release), ("free-rise", free), ("break-rise", broken), ("rest", 0.0)):
        tip = drawing.corners(f"{name}-hammer")[EDGE_TIP]
        turn = math.radians(angle)
        expected = x + length * scale * math.sin(turn), y + length * scale * math.cos(turn)
        assert tip == pytest.approx(expected, abs=TOLERANCE_PX)
        axis_end = drawing.corners(f"{name}-rod")[0]
        assert axis_end == pytest.approx((x, y), abs=TOLERANCE_PX)


@pytest.mark.parametrize(("release", "broken"), [(150.0, 131.2), (90.0, 45.0), (120.0, 60.0)])
def test_heights_are_dimensioned_to_scale(release, broken):
    """h = L (1 - cos angle), the height that a pendulum of length L gains."""
    drawing = drawn(replace(LONG, release_angle_deg=release, free_rise_deg=None, break_rise_deg=broken))
    scale = drawing.scale("pendulum")
    for name, angle in (("release-height", release), ("rise-height", broken)):
        _, top, _, bottom = drawing.extent(name)
        height = 395.0 * (1.0 - math.cos(math.radians(angle)))
        assert bottom - top == pytest.approx(height * scale, abs=TOLERANCE_PX)
        assert f"h {height:.0f} mm" in drawing.texts() or f"h {height:.1f} mm" in drawing.texts()
    assert drawing.extent("release-height")[0] < 170.0 < drawing.extent("rise-height")[0]


def test_height_by_hand():
    """A quarter turn lifts the centre of strike by the whole length, 120 degrees by half as much again."""
    assert LONG.height_mm(90.0) == pytest.approx(395.0)
    assert LONG.height_mm(120.0) == pytest.approx(1.5 * 395.0)


def test_rigs_share_one_scale_so_that_the_shorter_looks_shorter():
    long, short = drawn(LONG), drawn(SHORT)
    assert long.scale("pendulum") == short.scale("pendulum")
    assert short.height < long.height - 80.0
    assert long.source != short.source
    for drawing in (long, short):
        left, _, right, _ = drawing.extent("scale-bar")
        assert right - left == pytest.approx(100.0 * drawing.scale("pendulum"), abs=TOLERANCE_PX)
    assert "100 mm" in long.texts()


def test_a_pendulum_longer_than_usual_still_fits():
    drawing = drawn(replace(LONG, striking_length_mm=825.0))
    assert drawing.scale("pendulum") < drawn(LONG).scale("pendulum")
    assert_readable(drawing)


def test_everything_that_swings_lies_in_the_marked_circle():
    for each in (LONG, SHORT):
        drawing = drawn(each)
        marked = drawing.named("keep-clear")
        x, y, radius = (float(marked.get(name)) for name in ("cx", "cy", "r"))
        for name in ("release", "free-rise", "break-rise", "rest"):
            assert all(math.dist((x, y), corner) < radius for corner in drawing.corners(f"{name}-hammer"))
        assert x - radius > 0.0
        assert x + radius < 340.0
        assert "keep clear" in drawing.texts()


def test_angle_arcs_start_at_rest_and_end_at_the_rod():
    drawing = drawn(LONG)
    x, y = centre(drawing)
    for name, angle in (("alpha", -150.0), ("beta", 131.2), ("beta-free", 149.4)):
        corners = drawing.corners(name)
        turns = [math.degrees(math.atan2(at_x - x, at_y - y)) for at_x, at_y in (corners[0], corners[-1])]
        assert turns == pytest.approx([0.0, angle], abs=0.1)


def test_labels_carry_the_values():
    texts = drawn(LONG).texts()
    assert {"α 150°", "β 131.2°", "β₁ 149.4°", "h 737 mm", "h 655 mm"} <= set(texts)
    assert any("Striking length L 395 mm" in each for each in texts)


def test_description_gives_the_numbers():
    words = drawn(LONG).description()
    for number in (
        "striking length of 395 mm", "alpha 150°, 737 mm above the bar", "beta 131.2°, 655 mm above the bar",
        "beta 1 149.4°, 735 mm above the bar", "keep clear",
    ):  # fmt: skip
        assert number in words
    words = drawn(replace(LONG, break_rise_deg=None)).description()
    assert "typical break" not in words


def test_without_a_break_the_rise_of_the_free_swing_is_dimensioned():
    drawing = drawn(replace(LONG, break_rise_deg=None))
    assert not drawing.has("break-rise-rod")
    assert "h 735 mm" in drawing.texts()
    drawing = drawn(replace(LONG, break_rise_deg=None, free_rise_deg=None))
    assert not drawing.has("rise-height")
    assert_readable(drawing)


def test_a_pendulum_that_the_bar_stops_has_no_rise_to_dimension():
    drawing = drawn(replace(LONG, break_rise_deg=0.0))
    assert not drawing.has("rise-height")
    assert not drawing.has("beta")
    assert "β 0°" in drawing.texts()
    assert_readable(drawing)


SWINGS = list(itertools.product(
    [150.0, 230.0, 330.0, 395.0, 500.0],
    [60.0, 75.0, 90.0, 95.7, 110.0, 125.5, 150.0, 160.0, 170.0],
    [None, 0.0, 0.2, 0.5, 0.8, 0.95, 0.995],
))  # fmt: skip


# every eleventh holds each length, each angle and each share
@pytest.mark.parametrize(("length", "release", "share"), repeated(SWINGS, but=SWINGS[::11]))
def test_labels_are_clear_of_each_other_and_of_all_lines(length, release, share):
    broken = None if share is None else round(max(5.0, share * release), 1)
    drawing = drawn(PendulumDrawing("swing", "t", length, release, round(0.996 * release, 1), broken))
    assert_readable(drawing)
    labels = [each for each in drawing.texts() if each[0] in "αβ"]
    assert len(labels) == (2 if share is None else 3)
    assert "keep clear" in drawing.texts()


@pytest.mark.parametrize("angle", [-1.0, 180.0, math.nan])
def test_refuses_an_angle_that_no_pendulum_has(angle):
    with pytest.raises(ValueError, match="angle"):
        replace(LONG, release_angle_deg=angle)
    with pytest.raises(ValueError, match="between 0 and 180"):
        replace(LONG, free_rise_deg=angle)


def test_refuses_a_pendulum_without_length():
    with pytest.raises(ValueError, match="striking length"):
        replace(LONG, striking_length_mm=0.0)
