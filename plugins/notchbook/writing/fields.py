"""What is common to the bars of a record: its keys, the options that give them, and their names in a table."""

from dataclasses import dataclass
from itertools import accumulate
from typing import Any

from notchbook.reading.schemas import schema
from notchbook.writing.heads import UNIT_WORDS, readings_of, words_of

Keys = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Field:
    """One value that all bars of a record share."""

    keys: Keys
    """Where it stands in the record."""
    option: str
    """The option that gives it; its words also name it in a row above a table."""
    form: str
    """What is typed after the option."""
    unit: str = ""
    """Unit of the value as the contract's keys write it; empty for texts."""
    words: tuple[str, ...] = ()
    """Other names that a row above a table may have for it."""

    @property
    def about(self) -> dict[str, Any]:
        """Its part of the schema."""
        return self._parts[-1]

    @property
    def _parts(self) -> list[dict[str, Any]]:
        """The parts of the schema that lead to it, from the whole."""
        return list(accumulate(self.keys, lambda part, key: part["properties"][key], initial=schema("test")))

    @property
    def title(self) -> str:
        """What it is, with what it belongs to and its unit."""
        title, own = schema("test")["properties"][self.keys[0]]["title"], self.about["title"]
        return str(title) if len(self.keys) == 1 else f"{title}: {own[:1].lower()}{own[1:]}"

    @property
    def name(self) -> str:
        """The name that the keys are for a person: their words, without the unit."""
        return " ".join(self.keys).removesuffix(f"_{self.unit}" if self.unit else "")

    @property
    def is_required(self) -> bool:
        """Whether a record must have it."""
        return all(key in part.get("required", ()) for key, part in zip(self.keys, self._parts, strict=False))


SETUP = ("exercise", "rig", "hammer")
"""What decides the bars of a record, their readings and their break types."""
FIELDS = (
    Field(("date",), "--date", "YYYY-MM-DD", words=("date of test", "test date", "day")),
    Field(("group",), "--group", "CODE"),
    Field(("exercise",), "--exercise", "ID"),
    Field(("rig",), "--rig", "ID", words=("pendulum",)),
    Field(("hammer",), "--hammer", "ID"),
    Field(("material",), "--material", "ID"),
    Field(("batch",), "--batch", "TEXT"),
    Field(("conditioning", "temperature_C"), "--conditioning-temperature", "C", "C"),
    Field(("conditioning", "humidity_pct"), "--conditioning-humidity", "PCT", "pct"),
    Field(("conditioning", "hours"), "--conditioning-hours", "H", "h", ("conditioning time",)),
    Field(("conditioning", "state"), "--conditioning-state", "STATE", words=("state", "moisture")),
    Field(("test_atmosphere", "temperature_C"), "--atmosphere-temperature", "C", "C", ("test temperature",)),
    Field(("test_atmosphere", "humidity_pct"), "--atmosphere-humidity", "PCT", "pct", ("test humidity",)),
    Field(("notch_radius_mm",), "--notch-radius", "MM", "mm", ("radius of the notch",)),
    Field(("clamp_torque_Nm",), "--clamp-torque", "NM", "Nm", ("torque of the clamp",)),
    Field(("transfer_s",), "--transfer", "S", "s", ("transfer time",)),
    Field(("zero_reading_deg",), "--zero-angle", "DEG", "deg"),
    Field(("zero_reading_J",), "--zero-energy", "J", "J", ("zero reading j",)),
    Field(("free_swings", "first_rise_deg"), "--first-rise", "DEG", "deg", ("first angle of rise",)),
    Field(("free_swings", "second_rise_deg"), "--second-rise", "DEG", "deg", ("second angle of rise",)),
    Field(("free_swings", "half_swings"), "--half-swings", "N"),
    Field(("free_swings", "later_rise_deg"), "--later-rise", "DEG", "deg", ("later angle of rise",)),
    Field(("free_swings", "first_indicated_energy_J"), "--first-indicated-energy", "J", "J"),
    Field(("free_swings", "second_indicated_energy_J"), "--second-indicated-energy", "J", "J"),
    Field(("free_swings", "later_indicated_energy_J"), "--later-indicated-energy", "J", "J"),
    Field(("reported", "mean_kJ_m2"), "--reported-mean", "KJ_M2", "kJ_m2", ("mean",)),
    Field(
        ("reported", "standard_deviation_kJ_m2"),
        "--reported-standard-deviation",
        "KJ_M2",
        "kJ_m2",
        ("standard deviation",),
    ),
    Field(("notes",), "--notes", "TEXT", words=("note", "remark", "remarks", "record notes")),
)
DEVIATION = ("rule", "reason", "accepted_by")
"""What a declared deviation is made of, in the order in which it is typed."""
_NAMED_ALONE = ("free_swings", "reported")
"""Mappings whose keys mean nothing else anywhere, and are names by themselves."""


def field_of(text: str) -> tuple[Field | None, str]:
    """The field that a name stands for, and what stands where its unit should."""
    text = text.strip().removesuffix(":")
    for name in readings_of(text):
        field = NAMES.get(name.words)
        if field is not None:
            wrong_unit = UNIT_WORDS[name.unit] if name.unit and name.unit != field.unit else ""
            return field, name.other or wrong_unit
    return None, ""


def _names() -> dict[str, Field]:
    """The fields by every name that they have: the words of the option, those of the keys, and others."""
    found: dict[str, Field] = {}
    for field in FIELDS:
        for name in (field.option, field.name, *field.words):
            found.setdefault(words_of(name), field)
        if field.keys[0] in _NAMED_ALONE:
            found.setdefault(words_of(field.name.partition(" ")[2]), field)
    return found


NAMES = _names()
"""The fields by every name that they may have, in small letters."""
