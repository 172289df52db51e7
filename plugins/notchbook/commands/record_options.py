"""What the commands about records share: options for what is common to the bars, and what the handbook knows of it."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click

from notchbook.commands.opening import root_option
from notchbook.facts.exercises import ExerciseFacts
from notchbook.facts.facts import Facts
from notchbook.facts.hammers import RigFacts
from notchbook.model.procedure import SpecimenChoice
from notchbook.wording.nearest import nearest
from notchbook.wording.quoting import shown
from notchbook.writing.bars import BarForm, bar_form
from notchbook.writing.blank_record import Setting
from notchbook.writing.draft import Draft
from notchbook.writing.fields import FIELDS, Keys
from notchbook.writing.trouble import Trouble

_NAMES = {field.option.removeprefix("--").replace("-", "_"): field for field in FIELDS}


def record_options(command: Callable[..., None]) -> Callable[..., None]:
    """Every option for what all bars of a record share, and where the record goes."""
    options = [root_option]
    for field in FIELDS:
        about = f"{field.title}.{'' if field.is_required else '  [may be left out]'}"
        options.append(click.option(field.option, metavar=field.form, help=about))
    options += [
        click.option(
            "--deviation",
            type=(str, str, str),
            multiple=True,
            metavar="RULE REASON CODE",
            help="A known departure from the method, why, and who accepted it; may be given again.",
        ),
        click.option(
            "--output",
            type=click.Path(dir_okay=False, allow_dash=True, path_type=Path),
            metavar="FILE",
            help="File to write; - prints the record.  [default: results/tests/DATE-GROUP-MATERIAL.yaml]",
        ),
        click.option("--force", is_flag=True, help="Write over a file that is there already."),
    ]
    for option in reversed(options):
        command = option(command)
    return command


def typed(values: dict[str, Any]) -> tuple[dict[Keys, str], Sequence[Sequence[str]]]:
    """The values that were typed, by the keys of the record, and the deviations."""
    texts = {field.keys: values[name] for name, field in _NAMES.items() if values[name] is not None}
    return texts, values["deviation"]


@dataclass(frozen=True, slots=True)
class Known:
    """What the handbook knows of a record's exercise, rig and hammer."""

    specimen: SpecimenChoice | None
    """Type, notch and direction of the bars."""
    form: BarForm
    setting: Setting | None
    """What a blank record is made for, where all of it is known."""
    troubles: tuple[Trouble, ...]


def known_of(facts: Facts, draft: Draft) -> Known:
    """Look up what was named; what does not exist is told with the nearest that does."""
    troubles: list[Trouble] = []

    def look_up(kind: str, objects: Mapping[str, Any]) -> Any:
        name = draft.values.get(kind)
        if name is None:
            return None
        if name not in objects:
            there = name in facts.unreadable(kind)
            message = f"{kind} {shown(name)} cannot be read" if there else f"there is no {kind} {shown(name)}"
            hint = "run `notchbook check` and mend its file first" if there else nearest(name, objects)
            troubles.append(Trouble(draft.places[kind,], message, hint))
        return objects.get(name)

    of_exercise: ExerciseFacts | None = look_up("exercise", facts.exercises)
    of_rig: RigFacts | None = look_up("rig", facts.rigs)
    look_up("material", facts.materials)
    exercise, method = (of_exercise.exercise, of_exercise.method) if of_exercise else (None, None)
    rig = of_rig.rig if of_rig else None
    if exercise and exercise.specimen is None:
        message = f"exercise {shown(exercise.id)} breaks no bars, so there is no record of it"
        with_bars = [name for name, each in facts.exercises.items() if each.exercise.specimen]
        troubles.append(
            Trouble(draft.places["exercise",], message, f"those that do are {', '.join(with_bars) or 'none'}")
        )
    elif exercise and method is None:
        message = f"the method {shown(exercise.method)} of exercise {shown(exercise.id)} is not known"
        troubles.append(Trouble(draft.places["exercise",], message, "run `notchbook check` and mend it first"))
    names = [name for rig_id, name in facts.hammers if rig and rig_id == rig.id]
    of_method = tuple(each for each in names if rig and method and facts.hammers[rig.id, each].method is method)
    hammer = draft.values.get("hammer")
    if rig and hammer:
        if hammer not in names:
            message, hint = f"rig {shown(rig.id)} has no hammer {shown(hammer)}", nearest(hammer, names)
            troubles.append(Trouble(draft.places["hammer",], message, hint))
        elif method and hammer not in of_method:
            message = f"hammer {shown(hammer)} is not one of {method.standard}, which the exercise follows"
            hint = (
                f"rig {shown(rig.id)} has {', '.join(of_method)} for it" if of_method else "see that the rig is right"
            )
            troubles.append(Trouble(draft.places["hammer",], message, hint))
    specimen, form = exercise.specimen if exercise else None, bar_form(exercise, method, rig)
    setting = None
    if exercise and method and rig and specimen:
        setting = Setting(exercise, method, rig, specimen, form, of_method, list(facts.materials))
    return Known(specimen, form, setting, tuple(troubles))
