"""`notchbook hammer`: which hammer of a rig to take for a material, and what the others would show."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from notchbook.commands.hammer_table import exercise_part
from notchbook.commands.opening import open_for_command, root_option
from notchbook.commands.output import RefusalError, say, write
from notchbook.facts.facts import Facts
from notchbook.findings import Severity
from notchbook.wording.lines import printable
from notchbook.wording.lists import counted
from notchbook.wording.nearest import nearest

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

_CAUTION = (
    "Let staff fit the hammer, and try a spare bar first. The local risk assessment and the responsible person come\n"
    "before this table.\n"
)


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
    share of it that the bars take, which bars lie in the window of the method, the angle of rise after them, and what
    one division of the scale is worth in strength for a bar of nominal size. A dash stands for a bar that the pendulum
    would not pass. Below stands the hammer to take, and why.

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
    errors = handbook.count(Severity.ERROR)
    if errors:
        say(f"{counted(errors, 'error')}: run `notchbook check`")
    sys.exit(1 if errors else 0)


def _known(what: str, name: str, names: Iterable[str]) -> None:
    """Refuse a name that does not exist and say which does."""
    known = list(names)
    if name not in known:
        raise RefusalError(f"there is no {what} '{name}'; {nearest(name, known)}")
