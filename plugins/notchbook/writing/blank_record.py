"""A blank record of an exercise: every key in the order of the contract, with what belongs there beside it.

A blank is a key with nothing behind it. The reader of data files takes that for no value and points at it.
"""

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from notchbook.model.method import Method
from notchbook.model.procedure import Exercise, SpecimenChoice
from notchbook.model.rig import Rig
from notchbook.reading.schemas import schema
from notchbook.wording.lines import printable
from notchbook.writing.bars import ANGLE, BarForm
from notchbook.writing.draft import Values, key_lines
from notchbook.writing.table_swings import KIND

_WIDTH = 118
_HEAD = (
    "Fill in every blank, then run `notchbook check`: it points at each one that is left. What is not needed stands "
    "behind a mark like the one of this line, with an example: delete the mark with the space behind it, and write the "
    "value. Energies and strengths are not typed in; they are computed."
)


@dataclass(frozen=True, slots=True)
class Setting:
    """What a blank record is made for."""

    exercise: Exercise
    method: Method
    rig: Rig
    specimen: SpecimenChoice | None
    """None where the exercise breaks no bars: then the record is one of free swings."""
    form: BarForm
    hammers: Sequence[str]
    """Ids of the rig's hammers of that method."""
    materials: Sequence[str]
    """Ids of the materials to choose from."""

    @property
    def kind(self) -> str:
        """The kind of record."""
        return "test" if self.specimen is not None else KIND


def blank_record(setting: Setting, known: Values, head: str = "") -> str:
    """The text of a blank record: what is known, under the keys of the contract and with those of the setting.

    The head is lines of comment before the first key, each with its line end.
    """
    about = schema(setting.kind)
    values = _filled(setting, known, about)
    lines = _comment(_HEAD)
    for key, part in about["properties"].items():
        words = _words(key, part, setting)
        if key in values:
            lines += [*words, *(each.rstrip() for each in key_lines(key, values[key], part))]
        else:
            lines += [*words, *(f"# {each}" for each in key_lines(key, _example(key, part, setting), part))]
    return head + "".join(f"{line}\n" for line in lines)


def _filled(setting: Setting, known: Values, about: dict[str, Any]) -> Values:
    """What is known, and nothing under every other key that a record must have."""
    required = about["required"]
    values: Values = {key: dict.fromkeys(about["properties"][key].get("required", ())) or None for key in required} | {
        "kind": setting.kind
    }
    specimen = setting.specimen
    if specimen is None:
        values["free_swings"] = dict.fromkeys(_scale_keys(setting))
    else:
        number = setting.form.number or 1
        digits = max(2, len(str(number)))
        values["specimen"] = {"type": specimen.type, "notch": specimen.notch, "direction": specimen.direction}
        values["specimens"] = [
            dict.fromkeys(setting.form.keys) | {"id": f"{place:0{digits}}"} for place in range(1, number + 1)
        ]
    for key, value in known.items():
        blank = values.get(key)
        values[key] = blank | value if isinstance(blank, dict) and isinstance(value, dict) else value
    return values


def _scale_keys(setting: Setting) -> tuple[str, str]:
    """The keys of the two free swings on the scale of the rig."""
    ending = "rise_deg" if setting.form.reading == ANGLE else "indicated_energy_J"
    return f"first_{ending}", f"second_{ending}"


def _words(key: str, part: dict[str, Any], setting: Setting) -> list[str]:
    """What belongs under a key, as lines of comment."""
    if key == "kind":
        return []
    required = schema(setting.kind)["required"]
    optional = "" if key in required else " May be left out."
    lines = _comment(f"{part['title']}: {part['description']}{_asked(key, setting)}{optional}")
    if key == "specimens":
        for name in (*setting.form.keys, "excluded"):
            inner = part["items"]["properties"][name]
            about = inner["description"] if name != "break" else "Letter for the way the specimen broke."
            lines += _comment(f"{name}: {about}{_asked(name, setting)}", indent="  ")
    elif "properties" in part and key in required and key != "specimen":
        names = _scale_keys(setting) if key == "free_swings" else part["properties"]
        for name, inner in ((each, part["properties"][each]) for each in names):
            lines += _comment(f"{name}: {inner['description']}{_asked(f'{key}.{name}', setting)}", indent="  ")
    return lines


def _asked(key: str, setting: Setting) -> str:
    """What the exercise, its method and the rig ask for under a key, as sentences."""
    method, rig = setting.method, setting.rig
    specimen = setting.specimen
    bar = method.specimen_type(specimen.type) if specimen is not None else None
    notch = method.notch(specimen.notch) if specimen is not None else None
    climate, room = method.conditioning, method.test_atmosphere
    asked = {
        "width_mm": bar.width_mm.text("mm") if bar else "",
        "thickness_mm": bar.thickness_mm.text("mm") if bar else "",
        "remaining_width_mm": notch.remaining_width_mm.text("mm") if notch else "",
        "conditioning.temperature_C": climate.temperature_C.text("°C"),
        "conditioning.humidity_pct": climate.humidity_pct.text("%"),
        "conditioning.hours": climate.hours.text("h") if climate.hours else "",
        "notch_radius_mm": notch.base_radius_mm.text("mm") if notch else "",
        "clamp_torque_Nm": method.clamp_torque_Nm.text("Nm") if method.clamp_torque_Nm else "",
        "transfer_s": method.transfer_s.text("s") if method.transfer_s else "",
        "test_atmosphere.temperature_C": room.temperature_C.text("°C"),
        "test_atmosphere.humidity_pct": room.humidity_pct.text("%"),
    }.get(key, "")
    if asked:
        return f" {method.standard} asks for {asked}."
    return {
        "date": " Year, month and day, such as 2026-10-06.",
        "group": " Capitals and a number, such as G2.",
        "exercise": f" Here: {setting.exercise.title}.",
        "rig": f" Here: {rig.title}.",
        "hammer": f" Of this method the rig has {', '.join(setting.hammers)}.",
        "material": f" It can be {', '.join(setting.materials)}." if setting.materials else "",
        "specimen": " As the exercise asks.",
        "break": f" It can be {', '.join(f'{letter} {title}' for letter, title in setting.form.breaks.items())}.",
        "excluded": ' Only for a bar that does not count, behind its break type: break: C, excluded: "the reason".',
    }.get(key, "")


def _example(key: str, part: dict[str, Any], setting: Setting) -> Any:
    """An example of what may be left out, in the readings of the rig."""
    if key == "series":
        readings = "rises_deg" if setting.form.reading == ANGLE else "indicated_energies_J"
        names: tuple[str, ...] = (readings, "half_swings_between")
    elif key in ("free_swings", "reported"):
        names = _scale_keys(setting) if key == "free_swings" else ("mean_kJ_m2", "standard_deviation_kJ_m2")
    else:
        return part["examples"][0]
    return {name: part["properties"][name]["examples"][0] for name in names}


def _comment(words: str, indent: str = "") -> list[str]:
    """Words as lines of comment; what would end a line early is made visible."""
    return textwrap.wrap(
        printable(words),
        _WIDTH,
        initial_indent=f"# {indent}",
        subsequent_indent=f"# {indent}{indent}",
        break_long_words=False,
        break_on_hyphens=False,
    )
