"""What `notchbook hammer` says of one exercise; apart from the command, because it takes half of the pages to load."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.pages.exercise import hammer_words
from notchbook.pages.exercise.hammers import every_outlook, material_rows, rigs_with_hammers
from notchbook.pages.results import result_lines
from notchbook.wording.lines import cells, printable
from notchbook.wording.numbers import plain, to_figures

if TYPE_CHECKING:
    from collections.abc import Sequence

    from notchbook.handbook import Handbook
    from notchbook.pages.exercise.hammers import HammerOutlook, RigChoice

_GAP = "  "


def exercise_part(handbook: Handbook, rig_id: str, material_id: str, exercise_id: str) -> str:
    """What is said of one exercise; empty where it breaks no bars or the rig has no hammer of its method."""
    exercise = handbook.library.exercises[exercise_id]
    method = handbook.library.methods.get(exercise.method)
    rigs = [each for each in rigs_with_hammers(handbook, exercise.method) if each.rig.id == rig_id]
    if method is None or exercise.specimen is None or not rigs:
        return ""
    lines = [each for each in result_lines(handbook) if each.record.exercise == exercise_id]
    rows = material_rows(handbook, exercise, method, lines, rigs)
    row = next(each for each in rows if each.material.id == material_id)
    (choice,) = row.choices
    bar = method.specimen_type(exercise.specimen.type)
    arrangement = bar.arrangement(exercise.specimen.direction, exercise.specimen.notch) if bar else None
    head = f"{exercise.title} ({exercise_id}), {arrangement.designation if arrangement else method.standard}"
    energy = hammer_words.span((row.expected.low_J, row.expected.high_J), 2) if row.expected else ""
    expected = f"Expected: {f'{energy} J, ' if energy else ''}{row.known_from}"
    outlooks = every_outlook(rigs[0], exercise, method, row.expected)
    return "".join(f"{printable(each)}\n" for each in [head, expected, *_table(choice, outlooks), *_taken(choice)])


def _table(choice: RigChoice, outlooks: Sequence[HammerOutlook]) -> list[str]:
    """A line a hammer under a head; the hammer to take has a mark before it."""
    window = f"in {plain(choice.window.low_pct)} to {plain(choice.window.high_pct)} %"
    division = f"{hammer_words.division(choice.rig.indicator)} is, kJ/m²"
    rows = [["hammer", "energy, J", "bars take, %", window, "rise, °", division]]
    for each in outlooks:
        seen = each.outlook
        rows.append([
            printable(each.line.hammer.id),
            to_figures(each.line.hammer.potential_energy_J, 4),
            hammer_words.decimals(seen.share_pct, 1) if seen else "–",
            hammer_words.held(seen) if seen else "–",
            hammer_words.decimals(seen.rise_deg, 1) if seen else "–",
            hammer_words.span(seen.division_kJ_m2, 2) if seen else "–",
        ])  # fmt: skip
    widths = [max(map(cells, column)) for column in zip(*rows, strict=True)]
    none = choice.choice.reason == "outside"
    marks = [" ", *("*" if each.line is choice.line and not none else " " for each in outlooks)]
    lines = [
        _GAP.join(cell + " " * (width - cells(cell)) for cell, width in zip(row, widths, strict=True)) for row in rows
    ]
    return [f"  {mark} {line}".rstrip() for mark, line in zip(marks, lines, strict=True)]


def _taken(choice: RigChoice) -> list[str]:
    """The hammer to take and why; whether it has to be verified first."""
    hammer, why = choice.choice.hammer, hammer_words.reason(choice.choice, choice.window)
    if choice.choice.reason == "outside":
        return [f"Take none: {why}, {hammer.id}"]
    said = [f"Take {hammer.id}: {why}"]
    if not choice.line.in_force:
        said.append(f"{hammer.id}: {choice.line.state}: {hammer_words.VERIFY_FIRST}")
    return said
