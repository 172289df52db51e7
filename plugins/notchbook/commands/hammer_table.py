"""What `notchbook hammer` says of one exercise: a table of hammers, which to take, and why."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.facts import hammer_words
from notchbook.wording.lines import cells, printable
from notchbook.wording.numbers import plain, to_figures

if TYPE_CHECKING:
    from collections.abc import Sequence

    from notchbook.evaluation.hammer_choice import Outlook
    from notchbook.facts.exercises import RigChoice
    from notchbook.facts.facts import Facts
    from notchbook.facts.hammers import HammerFacts

_GAP = "  "


def exercise_part(facts: Facts, rig_id: str, material_id: str, exercise_id: str) -> str:
    """What is said of one exercise; empty where it breaks no bars or the rig has no hammer of its method."""
    found = facts.exercises[exercise_id]
    chosen, method, hammers = found.exercise.specimen, found.method, found.hammers_of(rig_id)
    if method is None or chosen is None or not hammers:
        return ""
    row = next(each for each in found.material_rows if each.material.id == material_id)
    choice = next(each for each in row.choices if each.rig.id == rig_id)
    head = f"{found.exercise.title} ({exercise_id}), {method.designation(chosen)}"
    energy = hammer_words.span((row.expected.low_J, row.expected.high_J), 2) if row.expected else ""
    expected = f"Expected: {f'{energy} J, ' if energy else ''}{row.known_from}"
    outlooks = [(each, found.outlook(each, row.expected)) for each in hammers]
    return "".join(f"{printable(each)}\n" for each in [head, expected, *_table(choice, outlooks), *_taken(choice)])


def _table(choice: RigChoice, outlooks: Sequence[tuple[HammerFacts, Outlook | None]]) -> list[str]:
    """A line a hammer under a head; the hammer to take has a mark before it."""
    window = f"in {plain(choice.window.low_pct)} to {plain(choice.window.high_pct)} %"
    division = f"{hammer_words.division(choice.rig.indicator)} is, kJ/m²"
    rows = [["hammer", "energy, J", "bars take, %", window, "rise, °", division]]
    for line, seen in outlooks:
        rows.append([
            printable(line.hammer.id),
            to_figures(line.hammer.potential_energy_J, 4),
            hammer_words.decimals(seen.share_pct, 1) if seen else "–",
            hammer_words.held(seen) if seen else "–",
            hammer_words.decimals(seen.rise_deg, 1) if seen else "–",
            hammer_words.span(seen.division_kJ_m2, 2) if seen else "–",
        ])  # fmt: skip
    widths = [max(map(cells, column)) for column in zip(*rows, strict=True)]
    none = choice.choice.reason == "outside"
    marks = [" ", *("*" if each is choice.line and not none else " " for each, _ in outlooks)]
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
