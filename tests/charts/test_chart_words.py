"""Numbers, texts and ticks of the charts."""

import math

from hypothesis import given
from hypothesis import strategies as st

from notchbook.charts.scale import Scale, nice_ticks, tick_labels
from notchbook.charts.words import estimated_width_px, shortened


def test_tick_labels_have_the_decimals_of_their_step():
    assert tick_labels([0.0, 5.0, 10.0]) == ["0", "5", "10"]
    assert tick_labels([13.0, 13.5, 14.0]) == ["13.0", "13.5", "14.0"]
    assert tick_labels([-0.02, 0.0, 0.02]) == ["−0.02", "0.00", "0.02"]


@given(st.lists(st.floats(-1e6, 1e6).map(lambda value: round(value, 6)), min_size=1, max_size=20))
def test_ticks_take_in_all_values_and_tell_themselves_apart(values):
    ticks = nice_ticks(values, [])
    slack = 1e-9 * max(map(abs, values))  # far below what can be seen on an axis
    assert ticks[0] <= min(values) + slack
    assert ticks[-1] >= max(values) - slack
    assert list(ticks) == sorted(set(ticks))
    assert 3 <= len(ticks) <= 8
    assert len(set(tick_labels(ticks))) == len(ticks)


def test_an_axis_starts_at_zero_where_values_come_near_it():
    assert nice_ticks([2.0, 14.0], [])[0] == 0.0
    assert nice_ticks([13.0, 14.0], [])[0] > 10.0


def test_an_interval_stretches_the_axis_only_so_far():
    assert nice_ticks([10.0, 11.0], [(9.5, 11.5)]) == (9.5, 10.0, 10.5, 11.0, 11.5)
    ticks = nice_ticks([10.0, 11.0], [(-30.0, 51.0)])
    assert ticks[0] >= 9.0
    assert ticks[-1] <= 12.0


def test_small_scatter_is_not_drawn_as_if_it_were_large():
    ticks = nice_ticks([100.0, 100.1], [])
    assert ticks[-1] - ticks[0] >= 10.0


def test_a_scale_is_straight_and_keeps_within():
    scale = Scale((0.0, 5.0, 10.0), 100.0, 0.0)
    assert [scale.px(each) for each in (0.0, 2.5, 10.0)] == [100.0, 75.0, 0.0]
    assert [scale.within(each) for each in (-1.0, 3.0, 11.0)] == [0.0, 3.0, 10.0]


@given(st.text(max_size=60), st.floats(20.0, 200.0), st.booleans())
def test_a_shortened_text_has_room(text, width, keep_end):
    short = shortened(text, width, 11.0, keep_end=keep_end)
    assert short == text or estimated_width_px(short, 11.0) <= width
    assert math.isfinite(estimated_width_px(short, 11.0))
    kept = short.strip("…")
    assert (text.endswith(kept) if keep_end else text.startswith(kept)) or short == text


def test_shortening_keeps_the_asked_end():
    assert shortened("polypropylene-07", 60.0, 11.0).startswith("polyp")
    assert shortened("polypropylene-07", 60.0, 11.0, keep_end=True).endswith("-07")
