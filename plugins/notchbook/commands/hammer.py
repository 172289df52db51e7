"""`notchbook hammer`: which hammer of a rig to take for a material, what the others would show, and why."""

from collections.abc import Iterable, Sequence
from pathlib import Path

import click

from notchbook.commands.opening import end_told, open_for_command, root_option
from notchbook.commands.output import RefusalError, write
from notchbook.evaluation.hammer_choice import Outlook
from notchbook.facts import hammer_words
from notchbook.facts.exercises import RigChoice
from notchbook.facts.facts import Facts
from notchbook.facts.hammers import HammerFacts
from notchbook.wording.lines import cells, printable
from notchbook.wording.nearest import nearest
from notchbook.wording.numbers import plain

_CAUTION = (
    "Let staff fit the hammer, and try a spare bar first. The local risk assessment and the responsible person come\n"
    "before this table.\n"
)


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
    reads, places = ("rise, °", 1) if choice.rig.indicator.reads == "angle" else ("on the dial, J", 3)
    shared = {line.scale_division for line, _ in outlooks}
    division = f"{choice.line.scale_division} is, kJ/m²" if len(shared) == 1 else "one division is, kJ/m²"
    rows = [["hammer", "energy, J", "bars take, %", window, reads, division]]
    for line, seen in outlooks:
        rows.append([
            printable(line.hammer.id),
            line.energy,
            hammer_words.decimals(seen.share_pct, 1) if seen else "–",
            hammer_words.held(seen) if seen else "–",
            hammer_words.decimals(seen.reading, places) if seen else "–",
            ("" if len(shared) == 1 else f"{line.scale_division}: ") + hammer_words.span(seen.division_kJ_m2, 2)
            if seen
            else "–",
        ])  # fmt: skip
    widths = [max(map(cells, column)) for column in zip(*rows, strict=True)]
    none = choice.choice.reason == "outside"
    marks = [" ", *("*" if each is choice.line and not none else " " for each, _ in outlooks)]
    lines = [
        "  ".join(cell + " " * (width - cells(cell)) for cell, width in zip(row, widths, strict=True)) for row in rows
    ]
    return [f"  {mark} {line}".rstrip() for mark, line in zip(marks, lines, strict=True)]


def _taken(choice: RigChoice) -> list[str]:
    """The hammer to take and why; whether it has to be verified first."""
    hammer, why = choice.choice.hammer, hammer_words.reason(choice.choice, choice.window)
    if choice.choice.reason == "outside":
        said = [f"Take none: {why}, {hammer.id}"]
    else:
        said = [f"Take {hammer.id}: {why}"]
        if not choice.line.usable:
            said.append(f"{hammer.id}: {choice.line.state}: {hammer_words.VERIFY_FIRST}")
    if choice.better is not None:
        said.append(f"{choice.better.hammer.id} would suit better; {choice.better.state}: {hammer_words.VERIFY_FIRST}")
    return said


@click.command()
@click.argument("rig")
@click.argument("material")
@root_option
@click.option("--exercise", metavar="ID", help="Only this exercise.  [default: all that the rig has hammers for]")
def hammer(rig: str, material: str, root: Path, exercise: str | None) -> None:
    """Say which hammer of a rig to take for a material.

    RIG and MATERIAL are names of files without their ending: bench-1 for procedures/rigs/bench-1.yaml, pp-h for
    procedures/materials/pp-h.yaml.

    For each exercise it prints the energy that a bar is expected to take, and a line a hammer: its own energy, the
    share of it that the bars take, which bars lie in the window of the method, what the scale shows after them, the
    losses included, and what one division of it is worth in strength for a bar of nominal size. A dash stands for a
    bar that the pendulum would not pass. Below stands the hammer to take, and why.

    \b
    Exit status: 0  the handbook has no errors
                 1  it has; what can be computed is printed all the same
                 2  the handbook could not be opened, or it has no such rig, material or exercise, or not all could be
                    printed
    """  # noqa: D301  # the mark that keeps the lines of the list apart
    handbook = open_for_command(root)
    facts = Facts(handbook)
    _known("rig", rig, facts.rigs)
    _known("material", material, facts.materials)
    if exercise is not None:
        _known("exercise", exercise, facts.exercises)
    parts = [
        each
        for exercise_id in ([exercise] if exercise is not None else facts.exercises)
        if (each := exercise_part(facts, rig, material, exercise_id))
    ]
    if not parts:
        which = f"exercise '{exercise}' breaks no bars or" if exercise is not None else "no exercise breaks bars, or"
        raise RefusalError(f"{which} rig '{rig}' has no hammer of its method")
    title = f"{facts.materials[material].symbol} on {facts.rigs[rig].rig.title}"
    write("\n".join([printable(title) + "\n", _CAUTION, *parts]))
    end_told(handbook)


def _known(what: str, name: str, names: Iterable[str]) -> None:
    """Refuse a name that does not exist and say which does."""
    known = list(names)
    if name not in known:
        raise RefusalError(f"there is no {what} '{name}'; {nearest(name, known)}")
