"""The drawing of a bar under the blow, read back from its SVG."""

import itertools
import math
from dataclasses import replace

import pytest
from drawing_reading import Drawing, arc_centre, assert_fit_for_a_page, assert_readable, mm
from test_specimen_drawing import BAR, NOTCH, TOLERANCE_PX, notched

from notchbook.charts.drawings.support import support_drawing
from notchbook.charts.drawings.support_values import SupportDrawing
from notchbook.charts.drawings.values import BarShape, Cantilever, Dimension, EdgeShape, ThreePoint

EDGE = EdgeShape(Dimension(2.0, "2 ± 0.5"), Dimension(30.0, "30 ± 1°"))
ROUND_EDGE = EdgeShape(Dimension(0.8, "0.8 ± 0.2"), None)
SPAN = ThreePoint(Dimension(62.0, "62 (+0.5/0)"), Dimension(1.0, "1 ± 0.1"))
CLAMP = Cantilever(Dimension(22.0, "22 ± 0.2"), Dimension(0.2, "0.2 ± 0.1"))
CHARPY = SupportDrawing("blow", "Bar on two supports", BAR, NOTCH, "edgewise", EDGE, SPAN)
IZOD = SupportDrawing("blow", "Bar in the clamp", BAR, NOTCH, "edgewise", ROUND_EDGE, CLAMP)


def drawn(drawing):
    return Drawing(support_drawing(drawing), drawing.id_prefix)


def of_span(span):
    return ThreePoint(Dimension(span, f"{span:g} (+0.5/0)"), SPAN.edge_radius)


def of_height(height):
    return Cantilever(Dimension(height, f"{height:g} ± 0.2"), CLAMP.jaw_edge_radius)


@pytest.mark.parametrize("drawing", [CHARPY, IZOD])
def test_is_fit_for_a_page(drawing):
    assert_fit_for_a_page(drawn(drawing))


@pytest.mark.parametrize("span", [40.0, 55.0, 62.0, 62.3, 70.0])
def test_supports_stand_at_the_span(span):
    drawing = drawn(replace(CHARPY, support=of_span(span)))
    scale = drawing.scale("plan")
    (left, _), (right, _) = drawing.corners("left-support")[1], drawing.corners("right-support")[1]
    assert right - left == pytest.approx(span * scale, abs=TOLERANCE_PX)
    assert (left + right) / 2.0 == pytest.approx(170.0, abs=TOLERANCE_PX)
    assert drawing.extent("span")[::2] == pytest.approx((left, right), abs=TOLERANCE_PX)
    for name in ("left-support", "right-support"):
        assert drawing.arc(name)[0] == pytest.approx(1.0 * scale, abs=TOLERANCE_PX)


@pytest.mark.parametrize(("direction", "depth"), [("edgewise", 10.0), ("flatwise", 4.0)])
def test_bar_on_two_supports_is_drawn_to_scale(direction, depth):
    drawing = drawn(replace(CHARPY, direction=direction))
    scale = drawing.scale("plan")
    left, top, right, bottom = drawing.extent("bar")
    assert right - left == pytest.approx(80.0 * scale, abs=TOLERANCE_PX)
    assert bottom - top == pytest.approx(depth * scale, abs=TOLERANCE_PX)
    assert drawing.extent("left-support")[1] == pytest.approx(bottom, abs=TOLERANCE_PX)


def test_notch_opens_away_from_the_striking_edge_on_two_supports():
    drawing = drawn(CHARPY)
    scale = drawing.scale("plan")
    _, _, _, bottom = drawing.extent("bar")
    radius, start, end, clockwise = drawing.arc("bar")
    centre = arc_centre(start, end, radius, large=False, clockwise=clockwise)
    assert centre == pytest.approx((170.0, bottom - 1.75 * scale), abs=3 * TOLERANCE_PX)
    assert drawing.extent("striking-edge")[3] < drawing.extent("bar")[1]


@pytest.mark.parametrize(("radius_mm", "angle"), [(2.0, 30.0), (1.5, 30.0), (2.5, 45.0), (8.0, 30.0)])
def test_striking_edge_arrives_at_mid_span_with_its_own_shape(radius_mm, angle):
    edge = EdgeShape(mm(radius_mm), Dimension(angle, f"{angle:g}°"))
    drawing = drawn(replace(CHARPY, striking_edge=edge))
    scale = drawing.scale("plan")
    radius, start, end, clockwise = drawing.arc("striking-edge")
    assert radius == pytest.approx(radius_mm * scale, abs=TOLERANCE_PX)
    centre = arc_centre(start, end, radius, large=False, clockwise=clockwise)
    assert centre[0] == pytest.approx(170.0, abs=2 * TOLERANCE_PX)
    assert centre[1] + radius < drawing.extent("bar")[1] < centre[1] + radius + 8.0
    corners = drawing.corners("striking-edge")
    lean = math.degrees(math.atan2(corners[1][0] - corners[2][0], corners[2][1] - corners[1][1]))
    assert abs(lean) == pytest.approx(angle / 2.0, abs=0.5)
    # the blow goes towards the supports
    (x, y), (tip_x, tip_y) = drawing.corners("blow")
    assert x == tip_x
    assert tip_y > y


@pytest.mark.parametrize("height", [12.0, 22.0, 22.2, 30.0])
def test_clamped_bar_is_struck_at_its_height(height):
    drawing = drawn(replace(IZOD, support=of_height(height)))
    scale = drawing.scale("elevation")
    left, top, right, bottom = drawing.extent("bar")
    clamp_top = drawing.extent("front-jaw")[1]
    assert bottom - top == pytest.approx(80.0 * scale, abs=TOLERANCE_PX)
    assert right - left == pytest.approx(10.0 * scale, abs=TOLERANCE_PX)
    assert clamp_top == pytest.approx((top + bottom) / 2.0, abs=TOLERANCE_PX)
    assert drawing.extent("back-jaw")[1] == pytest.approx(clamp_top, abs=TOLERANCE_PX)
    radius, start, end, clockwise = drawing.arc("striking-edge")
    assert radius == pytest.approx(0.8 * scale, abs=TOLERANCE_PX)
    centre = arc_centre(start, end, radius, large=False, clockwise=clockwise)
    assert clamp_top - centre[1] == pytest.approx(height * scale, abs=3 * TOLERANCE_PX)
    assert centre[0] + radius < left < centre[0] + radius + 8.0
    _, line_top, _, line_bottom = drawing.extent("strike-height")
    assert line_bottom - line_top == pytest.approx(height * scale, abs=TOLERANCE_PX)
    (x, y), (tip_x, tip_y) = drawing.corners("blow")
    assert y == tip_y
    assert tip_x > x


def test_notch_is_level_with_the_clamp_and_faces_the_striking_edge():
    drawing = drawn(IZOD)
    scale = drawing.scale("elevation")
    left = drawing.extent("bar")[0]
    radius, start, end, clockwise = drawing.arc("bar")
    centre = arc_centre(start, end, radius, large=False, clockwise=clockwise)
    clamp_top = drawing.extent("front-jaw")[1]
    assert centre == pytest.approx((left + 1.75 * scale, clamp_top), abs=3 * TOLERANCE_PX)
    assert drawing.extent("striking-edge")[2] < left
    # jaws touch the bar on both sides
    assert drawing.extent("front-jaw")[2] == pytest.approx(left, abs=TOLERANCE_PX)
    assert drawing.extent("back-jaw")[0] == pytest.approx(left + 10.0 * scale, abs=TOLERANCE_PX)


def test_labels_carry_the_values():
    texts = set(drawn(CHARPY).texts())
    assert {"span 62 (+0.5/0)", "R 1 ± 0.1", "R 2 ± 0.5", "30 ± 1°", "notch A", "blow", "Seen from above"} <= texts
    texts = set(drawn(IZOD).texts())
    assert {"22 ± 0.2", "R 0.2 ± 0.1", "striking edge R 0.8 ± 0.2", "notch A", "blow", "Seen from the side"} <= texts


def test_descriptions_give_the_numbers():
    words = drawn(CHARPY).description()
    for number in (
        "length 80 ± 2 mm", "span of 62 (+0.5/0) mm", "radius 1 ± 0.1 mm", "angle 30 ± 1°", "radius 2 ± 0.5 mm",
        "narrow face: edgewise", "remaining width 8 ± 0.2 mm", "face away from the blow",
    ):  # fmt: skip
        assert number in words
    words = drawn(IZOD).description()
    for number in (
        "At 22 ± 0.2 mm above the clamp", "no stated angle", "radius 0.8 ± 0.2 mm", "faces the striking edge",
    ):  # fmt: skip
        assert number in words


def test_a_flatwise_bar_shows_no_notch():
    for each in (CHARPY, IZOD):
        drawing = drawn(replace(each, direction="flatwise"))
        assert "notch A" not in drawing.texts()
        assert "not seen here" in drawing.description()
        assert "wide face: flatwise" in drawing.description()


def test_what_is_not_stated_is_not_drawn():
    drawing = drawn(replace(CHARPY, striking_edge=ROUND_EDGE, support=ThreePoint(mm(62), None)))
    assert not drawing.has("striking-edge-angle")
    assert [each for each in drawing.texts() if each.startswith("R ")] == ["R 0.8 ± 0.2"]
    drawing = drawn(replace(IZOD, support=Cantilever(mm(22), None)))
    assert not any(each.startswith("R ") for each in drawing.texts())


@pytest.mark.parametrize(
    ("span", "remaining", "radius", "edge", "direction"),
    list(
        itertools.product(
            [40.0, 50.0, 62.0, 70.0, 78.0], [6.0, 8.0, 9.5], [0.25, 1.0], [EDGE, ROUND_EDGE], ["edgewise", "flatwise"]
        )
    ),
)
def test_labels_on_two_supports_are_clear(span, remaining, radius, edge, direction):
    notch = notched(radius, 45.0, remaining)
    drawing = drawn(replace(CHARPY, support=of_span(span), notch=notch, striking_edge=edge, direction=direction))
    assert_readable(drawing)


@pytest.mark.parametrize(
    ("height", "remaining", "radius", "edge", "direction"),
    list(
        itertools.product(
            [14.0, 22.0, 32.0, 50.0], [6.0, 8.0], [0.25, 1.0], [EDGE, ROUND_EDGE], ["edgewise", "flatwise"]
        )
    ),
)
def test_labels_at_the_clamp_are_clear(height, remaining, radius, edge, direction):
    notch = notched(radius, 45.0, remaining)
    drawing = drawn(replace(IZOD, support=of_height(height), notch=notch, striking_edge=edge, direction=direction))
    assert_readable(drawing)


@pytest.mark.parametrize("edge_deg", [0.0, 20.0, 60.0, 90.0, 120.0])
@pytest.mark.parametrize("drawing", [CHARPY, IZOD])
def test_striking_edges_of_any_angle_have_room(drawing, edge_deg):
    edge = EdgeShape(Dimension(2.0, "2 (+0.5/−0.25)"), Dimension(edge_deg, f"{edge_deg:g} ± 1°"))
    assert_readable(drawn(replace(drawing, striking_edge=edge)))


@pytest.mark.parametrize(("length", "width", "thickness"), [(120, 15, 10), (63.5, 12.7, 12.7), (50, 6, 4)])
def test_bars_of_other_sizes_have_room(length, width, thickness):
    bar = BarShape(*map(mm, (length, width, thickness)))
    for each, direction in itertools.product((CHARPY, IZOD), ("edgewise", "flatwise")):
        support = of_span(0.7 * length) if each is CHARPY else CLAMP
        assert_readable(drawn(replace(each, bar=bar, notch=None, support=support, direction=direction)))


def test_refuses_a_direction_that_it_cannot_draw():
    with pytest.raises(ValueError, match="edgewise or flatwise, not sideways"):
        replace(CHARPY, direction="sideways")


@pytest.mark.parametrize("value", [0.0, -62.0, math.nan])
def test_refuses_supports_without_size(value):
    with pytest.raises(ValueError, match="above 0"):
        ThreePoint(Dimension(value, "x"), None)
    with pytest.raises(ValueError, match="above 0"):
        Cantilever(Dimension(value, "x"), None)
    with pytest.raises(ValueError, match="above 0"):
        EdgeShape(Dimension(value, "x"), None)
