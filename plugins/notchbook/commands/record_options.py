"""What the commands about records share: options for what is common to the bars, and what the handbook knows of it."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click

from notchbook.commands.opening import root_option
from notchbook.facts.facts import Facts
from notchbook.model.procedure import SpecimenChoice
from notchbook.wording.nearest import nearest
from notchbook.wording.quoting import shown
from notchbook.writing.bars import BarForm, bar_form
from notchbook.writing.blank_record import Setting
from notchbook.writing.draft import Draft
from notchbook.writing.fields import FIELDS, Keys
from notchbook.writing.meant import meant_by
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
            help="File to write; - prints the record.  [default: results/tests/DATE-GROUP-MATERIAL-EXERCISE.yaml, "
            "of free swings results/swings/DATE-GROUP-EXERCISE-RIG-HAMMER.yaml]",
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
    without_bars: bool
    """Whether the exercise breaks no bars: then the record is one of free swings."""
    troubles: tuple[Trouble, ...]


def known_of(facts: Facts, draft: Draft) -> Known:
    """Look up what was named; what does not exist is told with the nearest that does.

    In the draft an id takes the place of a title or a symbol.
    """
    troubles: list[Trouble] = []

    def look_up(kind: str, titles: Mapping[str, Sequence[str]], whose: str = "there is no") -> str | None:
        """The id of what was named, by the ids there are and the other names of each; None where it is not one."""
        name = draft.values.get(kind)
        if name is None:
            return None
        meant = meant_by(name, titles)
        if len(meant) == 1:
            draft.values[kind] = meant[0]
            return meant[0]
        message, hint = f"{whose} {kind} {shown(name)}", nearest(name, titles)
        if meant:
            message, hint = f"{kind} {shown(name)} may be {' or '.join(meant)}", "write the one that is meant"
        elif name in facts.unreadable(kind):
            message, hint = f"{kind} {shown(name)} cannot be read", "run `notchbook check` and mend its file first"
        troubles.append(Trouble(draft.places[kind,], message, hint))
        return None

    of_exercise = facts.exercises.get(
        look_up("exercise", {each: [about.exercise.title] for each, about in facts.exercises.items()}) or ""
    )
    of_rig = facts.rigs.get(look_up("rig", {each: [about.rig.title] for each, about in facts.rigs.items()}) or "")
    look_up("material", {each: [about.symbol, about.title] for each, about in facts.materials.items()})
    exercise, method = (of_exercise.exercise, of_exercise.method) if of_exercise else (None, None)
    rig = of_rig.rig if of_rig else None
    if exercise and method is None:
        message = f"the method {shown(exercise.method)} of exercise {shown(exercise.id)} is not known"
        troubles.append(Trouble(draft.places["exercise",], message, "run `notchbook check` and mend it first"))
    of_rigs = {name: each for (rig_id, name), each in facts.hammers.items() if rig and rig_id == rig.id}
    of_method = tuple(name for name, each in of_rigs.items() if method and method.id in each.hammer.methods)
    if rig:
        titles = {name: [each.hammer.title] for name, each in of_rigs.items()}
        hammer = look_up("hammer", titles, f"rig {shown(rig.id)} has no")
        if hammer and method and hammer not in of_method:
            message = f"hammer {shown(hammer)} is not one of {method.standard}, which the exercise follows"
            hint = (
                f"rig {shown(rig.id)} has {', '.join(of_method)} for it" if of_method else "see that the rig is right"
            )
            troubles.append(Trouble(draft.places["hammer",], message, hint))
    specimen, form = exercise.specimen if exercise else None, bar_form(exercise, method, rig)
    setting = None
    if exercise and method and rig:
        setting = Setting(exercise, method, rig, specimen, form, of_method, list(facts.materials))
    return Known(specimen, form, setting, exercise is not None and specimen is None, tuple(troubles))

