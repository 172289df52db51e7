"""`notchbook hammer`: which hammer of a rig to take for a material, and what the others would show."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from notchbook.checks.words import nearest
from notchbook.commands.opening import open_for_command, root_option, write
from notchbook.findings import Severity
from notchbook.pages import hammer_words, text
from notchbook.pages.exercise_hammers import every_outlook, material_rows, rigs_with_hammers
from notchbook.pages.results import result_lines

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from pathlib import Path

    from notchbook.handbook import Handbook
    from notchbook.pages.exercise_hammers import HammerOutlook, RigChoice

_GAP = "  "
_CAUTION = (
    "Let staff fit the hammer, and try a spare bar first. The local risk assessment and the responsible person come\n"
    "before this table.\n"
)


class _NotKnownError(click.ClickException):
    """Something named on the command line does not exist: one line, and exit status 2."""

    exit_code = 2


@click.command()
@click.argument("rig")
@click.argument("material")
@root_option
@click.option("--exercise", metavar="ID", help="Only this exercise.  [default: all that the rig has hammers for]")
def hammer(rig: str, material: str, root: Path, exercise: str | None) -> None:
    r"""Say which hammer of a rig to take for a material.

    RIG and MATERIAL are names of files without their ending: bench-1 for procedures/rigs/bench-1.yaml, pp-h for
    procedures/materials/pp-h.yaml.

    For each exercise it prints the energy that a bar is expected to take, and a line a hammer: its own energy, the
    share of it that the bars take, which bars lie in the window of the method, the angle of rise after them, and what
    one division of the scale is worth in strength for a bar of nominal size. A dash stands for a bar that the pendulum
    would not pass. Below stands the hammer to take, and why.

    \b
    Exit status: 0  the handbook has no errors
                 1  it has; what can be computed is printed all the same
                 2  the handbook could not be opened, or it has no such rig, material or exercise
    """
    handbook = open_for_command(root)
    library = handbook.library
    _known("rig", rig, library.rigs)
    _known("material", material, library.materials)
    if exercise is not None:
        _known("exercise", exercise, library.exercises)
    parts = [
        each
        for exercise_id in ([exercise] if exercise is not None else sorted(library.exercises))
        if (each := _exercise_part(handbook, rig, material, exercise_id))
    ]
    if not parts:
        which = f"exercise '{exercise}' breaks no bars or" if exercise is not None else "no exercise breaks bars, or"
        raise _NotKnownError(f"{which} rig '{rig}' has no hammer of its method")
    title = f"{library.materials[material].symbol} on {library.rigs[rig].title}"
    write("\n".join([_printable(title) + "\n", _CAUTION, *parts]))
    errors = handbook.count(Severity.ERROR)
    if errors:
        click.echo(f"{text.counted(errors, 'error')}: run `notchbook check`", err=True)
    sys.exit(1 if errors else 0)


def _known(what: str, name: str, names: Iterable[str]) -> None:
    """Refuse a name that does not exist and say which does."""
    known = list(names)
    if name not in known:
        raise _NotKnownError(f"there is no {what} '{_printable(name)}'; {nearest(name, known)}")


def _exercise_part(handbook: Handbook, rig_id: str, material_id: str, exercise_id: str) -> str:
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
    return "".join(f"{_printable(each)}\n" for each in [head, expected, *_table(choice, outlooks), *_taken(choice)])


def _table(choice: RigChoice, outlooks: Sequence[HammerOutlook]) -> list[str]:
    """A line a hammer under a head; the hammer to take has a mark before it."""
    window = f"in {text.plain(choice.window.low_pct)} to {text.plain(choice.window.high_pct)} %"
    division = f"{hammer_words.division(choice.rig.indicator)} is, kJ/m²"
    rows = [["hammer", "energy, J", "bars take, %", window, "rise, °", division]]
    for each in outlooks:
        seen = each.outlook
        rows.append([
            each.line.hammer.id,
            text.significant(each.line.hammer.potential_energy_J, 4),
            hammer_words.decimals(seen.share_pct, 1) if seen else "–",
            hammer_words.held(seen) if seen else "–",
            hammer_words.decimals(seen.rise_deg, 1) if seen else "–",
            hammer_words.span(seen.division_kJ_m2, 2) if seen else "–",
        ])  # fmt: skip
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    none = choice.choice.reason == "outside"
    marks = [" ", *("*" if each.line is choice.line and not none else " " for each in outlooks)]
    return [
        f"  {mark} {_GAP.join(cell.ljust(width) for cell, width in zip(row, widths, strict=True))}".rstrip()
        for mark, row in zip(marks, rows, strict=True)
    ]


def _taken(choice: RigChoice) -> list[str]:
    """The hammer to take and why; whether it has to be verified first."""
    hammer, why = choice.choice.hammer, hammer_words.reason(choice.choice, choice.window)
    if choice.choice.reason == "outside":
        return [f"Take none: {why}, {hammer.id}"]
    said = [f"Take {hammer.id}: {why}"]
    if not choice.line.in_force:
        said.append(f"{hammer.id}: {choice.line.state}: {hammer_words.VERIFY_FIRST}")
    return said


def _printable(words: str) -> str:
    """Text of a file on one line, without what would steer a terminal."""
    return "".join(each if each.isprintable() else "\N{REPLACEMENT CHARACTER}" for each in words)
