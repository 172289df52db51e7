"""Marks by the way in which bars broke, and the key under a chart, which says what they mean."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from notchbook.charts import style
from notchbook.charts.kinds import BreakKind, look_of
from notchbook.charts.outlines import Point
from notchbook.charts.sheet import Sheet
from notchbook.charts.shown import SpecimenMark, WindowMark
from notchbook.charts.style import Look, Paint
from notchbook.charts.words import estimated_width_px, identifier, shortened
from notchbook.wording.lines import one_line

_SAMPLE_PX = 14.0
_BAND_SAMPLE_PX = 26.0
_GAP_PX = 12.0


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of a key: a sample and what it means."""

    sample: Literal["mark", "hollow", "struck out", "band", "line", "interval"]
    text: str
    look: Look = style.PLAIN

    @property
    def sample_px(self) -> float:
        """Room that the sample takes, with the space up to the text."""
        return _SAMPLE_PX if self.sample in ("mark", "hollow", "struck out") else _BAND_SAMPLE_PX


def draw_by_type(
    sheet: Sheet, points: Sequence[tuple[SpecimenMark | WindowMark, Point]], kinds: Mapping[str, BreakKind], name: str
) -> None:
    """Marks of one break type together, those of excluded specimens hollow and struck out."""
    for letter in dict.fromkeys(each.break_type for each, _ in points):
        look, suffix = look_of(letter, kinds), identifier(letter)
        of_type = [(each.excluded, point) for each, point in points if each.break_type == letter]
        sheet.marks((point for excluded, point in of_type if not excluded), look, name=f"{name}-{suffix}")
        struck_out = [point for excluded, point in of_type if excluded]
        sheet.marks(struck_out, look, hollow=True, name=f"{name}-{suffix}-excluded")
        sheet.marks(struck_out, style.STROKE_OUT, hollow=True)


def break_entries(break_types: Iterable[str], kinds: Mapping[str, BreakKind]) -> list[Entry]:
    """An entry for each break type that occurs, in the order of the kinds; one of no kind has only its letter."""
    present = list(dict.fromkeys(break_types))
    known = [each for each in kinds if each in present]
    entries = [Entry("mark", f"{each} {kinds[each].title}", look_of(each, kinds)) for each in known]
    return entries + [Entry("mark", each, look_of(each, kinds)) for each in present if each not in kinds]


def bar_entries(bars: Sequence[SpecimenMark | WindowMark], kinds: Mapping[str, BreakKind]) -> list[Entry]:
    """An entry for each break type of single specimens, and one for those that do not count."""
    excluded = [Entry("struck out", "excluded")] if any(each.excluded for each in bars) else []
    return break_entries((each.break_type for each in bars), kinds) + excluded


def draw_legend(sheet: Sheet, entries: Sequence[Entry], top_px: float) -> float:
    """Draws the entries in as many rows as they need; returns the height that they took."""
    x, base = 0.0, top_px + style.FONT_PX
    for entry in entries:
        text = shortened(one_line(entry.text), style.WIDTH_PX - entry.sample_px, style.FONT_PX)
        width = entry.sample_px + estimated_width_px(text, style.FONT_PX)
        if x and x + width > style.WIDTH_PX:
            x, base = 0.0, base + style.LINE_PX
        _draw_sample(sheet, entry, x, base - 0.36 * style.FONT_PX)
        sheet.text((x + entry.sample_px, base), text)
        x += width + _GAP_PX
    return base - style.FONT_PX + style.LINE_PX - top_px if entries else 0.0


def _draw_sample(sheet: Sheet, entry: Entry, left: float, middle: float) -> None:
    right = left + _BAND_SAMPLE_PX - 5.0
    centre = left + 5.0, middle
    if entry.sample == "mark":
        sheet.marks([centre], entry.look)
    elif entry.sample == "interval":
        sheet.line(*whisker((left, False), (right, False), middle), width_px=style.MEAN_WIDTH_PX)
        sheet.marks([((left + right) / 2.0, middle)], entry.look)
    elif entry.sample in ("band", "line"):
        if entry.sample == "band":
            sheet.area((left, middle - 5.0), (right, middle + 5.0), Paint.BAND)
        sheet.line([(left, middle), (right, middle)], width_px=style.MEAN_WIDTH_PX)
    else:
        sheet.marks([centre], entry.look, hollow=True)
        if entry.sample == "struck out":
            sheet.marks([centre], style.STROKE_OUT, hollow=True)


def whisker(
    left: tuple[float, bool], right: tuple[float, bool], y: float, *, gap: tuple[float, float] | None = None
) -> list[list[Point]]:
    """An interval as polylines: a bar at each end, or an arrow head where it goes on beyond.

    Args:
        left: Where it begins and whether it goes on beyond.
        right: Where it ends and whether it goes on beyond.
        y: Its height.
        gap: Part that is left out for a hollow mark.
    """
    strokes: list[list[Point]] = []
    for (x, goes_on), inwards in ((left, 4.0), (right, -4.0)):
        if gap is not None and gap[0] <= x <= gap[1]:
            continue
        back = x + inwards if goes_on else x
        strokes.append([(back, y - 3.0), (x, y), (back, y + 3.0)])
    parts = [(left[0], right[0])] if gap is None else [(left[0], gap[0]), (gap[1], right[0])]
    return strokes + [[(start, y), (end, y)] for start, end in parts if start < end]
