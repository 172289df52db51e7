"""Marks of single specimens, by the way they broke."""

from collections.abc import Mapping, Sequence

from notchbook.charts import style
from notchbook.charts.kinds import BreakKind, look_of
from notchbook.charts.outlines import Point
from notchbook.charts.sheet import Sheet
from notchbook.charts.shown import SpecimenMark, WindowMark
from notchbook.charts.words import identifier


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
