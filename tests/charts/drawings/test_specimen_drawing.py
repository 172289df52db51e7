"""The drawing of a specimen, read back from its SVG."""

import itertools
import math
from dataclasses import replace

import pytest
from drawing_reading import Drawing, arc_centre, assert_fit_for_a_page, assert_readable, mm

from notchbook.charts.drawings.specimen import SpecimenDrawing, specimen_drawing
from notchbook.charts.drawings.values import BarShape, Dimension, NotchShape
from notchbook.model.method import Notch, SpecimenType
from notchbook.model.requirement import Origin, Requirement

TOLERANCE_PX = 0.05
BAR = BarShape(Dimension(80.0, "80 ± 2"), Dimension(10.0, "10 ± 0.2"), Dimension(4.0, "4 ± 0.2"))
NOTCH = NotchShape("A", Dimension(0.25, "0.25 ± 0.05"), Dimension(45.0, "45 ± 1°"), Dimension(8.0, "8 ± 0.2"))
SPECIMEN = SpecimenDrawing("bar", "Specimen of type 1", BAR, NOTCH)


def drawn(drawing):
    return Drawing(specimen_drawing(drawing), drawing.id_prefix)


def notched(radius=0.25, angle=45.0, remaining=8.0):
    return NotchShape("A", *map(mm, (radius,)), Dimension(angle, f"{angle:g} ± 1°"),
                      Dimension(remaining, f"{remaining:g} ± 0.2"))  # fmt: skip


def test_is_fit_for_a_page():
    assert_fit_for_a_page(drawn(SPECIMEN))
    assert_fit_for_a_page(drawn(replace(SPECIMEN, notch=None)))


@pytest.mark.parametrize(("length", "width", "thickness"), [(80, 10, 4), (120, 15, 10), (50, 6, 4), (63.5, 12.7, 3.2)])
def test_bar_is_drawn_to_scale_in_both_views(length, width, thickness):
    bar = BarShape(*map(mm, (length, width, thickness)))
    drawing = drawn(SpecimenDrawing("bar", "t", bar, None))
    scale = drawing.scale("side-view")
    assert drawing.scale("end-view") == scale
    left, top, right, bottom = drawing.extent("bar")
    assert right - left == pytest.approx(length * scale, abs=TOLERANCE_PX)
    assert bottom - top == pytest.approx(width * scale, abs=TOLERANCE_PX)
    end_left, end_top, end_right, end_bottom = drawing.extent("section")
    assert end_right - end_left == pytest.approx(thickness * scale, abs=TOLERANCE_PX)
    assert (end_top, end_bottom) == pytest.approx((top, bottom), abs=TOLERANCE_PX)


def test_dimension_lines_end_where_the_bar_ends():
    drawing = drawn(SPECIMEN)
    left, top, right, bottom = drawing.extent("bar")
    assert drawing.extent("length")[::2] == pytest.approx((left, right), abs=TOLERANCE_PX)
    assert drawing.extent("width")[1::2] == pytest.approx((top, bottom), abs=TOLERANCE_PX)
    end_left, _, end_right, _ = drawing.extent("section")
    # a short dimension has its heads outside, at the second and third corner of its line
    assert [x for x, _ in drawing.corners("thickness")][1:3] == pytest.approx([end_left, end_right], abs=TOLERANCE_PX)


@pytest.mark.parametrize(
    ("radius", "angle", "remaining"), [(0.25, 45, 8.0), (1.0, 45, 8.0), (0.1, 45, 8.0), (0.25, 60, 6.0), (1, 30, 7)]
)
def test_notch_is_drawn_to_scale(radius, angle, remaining):
    drawing = drawn(replace(SPECIMEN, notch=notched(radius, angle, remaining)))
    for view, name in (("notch-view", "notch"), ("side-view", "bar")):
        scale = drawing.scale(view)
        size, start, end, clockwise = drawing.arc(name)
        assert size == pytest.approx(radius * scale, abs=TOLERANCE_PX)
        assert clockwise
        centre = arc_centre(start, end, size, large=False, clockwise=True)
        _, top, _, _ = drawing.extent(name)
        depth = (10.0 - remaining) * scale
        # two rounded ends of a short arc leave its centre a little uncertain
        assert centre[1] + size - top == pytest.approx(depth, abs=3 * TOLERANCE_PX)
        # both flanks stand at half the included angle to the axis
        corners = drawing.corners(name)
        place = corners.index(start)
        flanks = (corners[place - 1], corners[place]), (corners[place + 2], corners[place + 1])
        if view == "notch-view":
            for high, low in flanks:
                lean = math.degrees(math.atan2(abs(high[0] - low[0]), low[1] - high[1]))
                assert lean == pytest.approx(angle / 2.0, abs=0.5)
        assert start[0] + end[0] == pytest.approx(flanks[0][0][0] + flanks[1][0][0], abs=2 * TOLERANCE_PX)


def test_notch_is_at_mid_length():
    drawing = drawn(SPECIMEN)
    left, _, right, _ = drawing.extent("bar")
    _, start, end, _ = drawing.arc("bar")
    assert (start[0] + end[0]) / 2.0 == pytest.approx((left + right) / 2.0, abs=TOLERANCE_PX)


def test_opening_of_a_v_notch_by_hand():
    """Notch A of ISO 179-1, 2 mm deep: x = r cos 22.5 + (d - r + r sin 22.5) tan 22.5 = 0.996 mm to each side."""
    drawing = drawn(SPECIMEN)
    scale = drawing.scale("notch-view")
    xs = sorted(x for x, _ in drawing.corners("notch"))
    assert xs[-2] - xs[1] == pytest.approx(2 * 0.9956 * scale, abs=0.1)


@pytest.mark.parametrize("remaining", [6.0, 7.5, 8.0, 10.0])
def test_remaining_width_is_dimensioned_from_the_base_of_the_notch(remaining):
    bar = replace(BAR, width=mm(12.7))
    drawing = drawn(SpecimenDrawing("bar", "t", bar, notched(remaining=remaining)))
    _, top, _, bottom = drawing.extent("remaining-width")
    scale = drawing.scale("notch-view")
    assert bottom - top == pytest.approx(remaining * scale, abs=TOLERANCE_PX)
    assert bottom == pytest.approx(drawing.extent("notched-part")[3], abs=TOLERANCE_PX)


def test_magnification_is_what_the_caption_says():
    drawing = drawn(SPECIMEN)
    times = drawing.scale("notch-view") / drawing.scale("side-view")
    assert f"X, {times:g} times as large: notch A" in drawing.texts()
    assert f"drawn {times:g} times as large" in drawing.description()


def test_labels_carry_value_and_tolerance():
    texts = drawn(SPECIMEN).texts()
    assert {"length 80 ± 2", "width 10 ± 0.2", "thickness 4 ± 0.2", "45 ± 1°", "R 0.25 ± 0.05", "8 ± 0.2"} <= set(texts)
    assert "Dimensions in mm" in texts


def test_a_bar_without_a_notch_has_no_enlarged_view():
    drawing = drawn(replace(SPECIMEN, notch=None))
    assert not drawing.has("notch-view")
    assert len(drawing.corners("bar")) == 4
    assert "otch" not in drawing.description()


def test_description_gives_the_numbers():
    drawing = drawn(SPECIMEN)
    words = drawing.description()
    for number in (
        "length 80 ± 2 mm", "width 10 ± 0.2 mm", "thickness 4 ± 0.2 mm", "2 mm deep", "base radius 0.25 ± 0.05 mm",
        "included angle 45 ± 1°", "remaining width 8 ± 0.2 mm",
    ):  # fmt: skip
        assert number in words
    assert drawing.named("title").text == "Specimen of type 1"


def test_is_made_from_a_method():
    origin = Origin("1", "house", "department")

    def asked(value, below, above):
        return Requirement(value, below, above, origin)

    bar = SpecimenType("1", asked(80, 2, 2), asked(10, 0.2, 0.2), asked(4, 0.2, 0.2), None, ())
    notch = Notch("A", asked(0.25, 0.05, 0.05), asked(45, 1, 1), asked(8, 0, 0.1))
    made = SpecimenDrawing.of(bar, notch, id_prefix="bar", title="Specimen of type 1")
    assert made.bar == BAR
    assert made.notch == replace(NOTCH, remaining_width=Dimension(8, "8 (+0.1/0)"))
    assert SpecimenDrawing.of(bar, None, id_prefix="bar", title="t").notch is None


@pytest.mark.parametrize(
    ("width", "thickness", "radius", "angle", "remaining"),
    [
        *itertools.product([10.0], [4.0], [0.1, 0.25, 1.0], [30.0, 45.0, 60.0, 90.0], [6.0, 7.0, 8.0, 9.0]),
        *itertools.product([12.7, 15.0], [3.2, 12.7], [0.25, 2.0], [0.0, 45.0, 120.0], [6.0, 10.0]),
        (10.0, 4.0, 3.0, 45.0, 9.5),
    ],
)
def test_labels_are_clear_of_each_other_and_of_all_lines(width, thickness, radius, angle, remaining):
    bar = BarShape(
        Dimension(80.0, "80 ± 2"), Dimension(width, f"{width:g} ± 0.2"), Dimension(thickness, f"{thickness:g} ± 0.2")
    )
    drawing = drawn(SpecimenDrawing("bar", "t", bar, notched(radius, angle, remaining)))
    assert_readable(drawing)
    assert_fit_for_a_page(drawing)


def test_one_sided_tolerances_have_room():
    bar = BarShape(Dimension(80, "80 (+2/−0.5)"), Dimension(10, "10 (+0.2/−0.1)"), Dimension(4, "4 (+0.2/−0.1)"))
    notch = replace(NOTCH, base_radius=Dimension(0.25, "0.25 (+0.05/0)"), remaining_width=Dimension(8, "8 (+0.2/−0.1)"))
    drawing = drawn(SpecimenDrawing("bar", "t", bar, notch))
    assert_readable(drawing)
    assert not any("…" in each for each in drawing.texts())


@pytest.mark.parametrize("remaining", [10.0, 11.0])
def test_refuses_a_notch_without_depth(remaining):
    with pytest.raises(ValueError, match="depth of a notch"):
        specimen_drawing(replace(SPECIMEN, notch=notched(remaining=remaining)))


@pytest.mark.parametrize("value", [0.0, -1.0, math.nan, math.inf])
def test_refuses_what_has_no_size(value):
    with pytest.raises(ValueError, match="above 0"):
        BarShape(Dimension(value, "x"), BAR.width, BAR.thickness)
    with pytest.raises(ValueError, match="above 0"):
        notched(radius=value)


@pytest.mark.parametrize("angle", [-1.0, 180.0, math.nan])
def test_refuses_a_notch_without_an_angle(angle):
    with pytest.raises(ValueError, match="between 0 and 180"):
        notched(angle=angle)
