"""Data of every kind of file, as the schemas let it through, to model.

The fields of the model are named as the keys of the files, so that nearly all of it is built by the types of the
fields; what is not so is said here by hand.
"""

import dataclasses
import datetime as dt
import functools
import math
import types
from collections.abc import Callable
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

from notchbook.model.procedure import Hazard
from notchbook.model.record import Record, Reported, Specimen
from notchbook.model.requirement import Origin, Requirement
from notchbook.model.rig import Rig
from notchbook.model.verification import Verification
from notchbook.physics.gravity import STANDARD_GRAVITY_m_s2, normal_gravity_m_s2
from notchbook.reading import rules
from notchbook.reading.nodes import Flaw
from notchbook.reading.scalars import decimal_places

Data = dict[str, Any]
_Model = TypeVar("_Model")


class DateError(ValueError):
    """A date that is in form but not in the calendar."""

    def __init__(self, flaw: Flaw) -> None:
        super().__init__(flaw.message)
        self.flaw = flaw


def built(model: type[_Model], data: Data, name: str | None = None) -> _Model:
    """An object of the model from the data under the names of its fields; raises DateError.

    Arguments:
        model: a dataclass; a field of it that stands in no data is None, empty or its default.
        data: of a mapping in a file.
        name: the object's own, for its first field, where the data hold it as their key or the file's stem.
    """
    values: Data = {}
    for field, build, missing in _fields(model):  # type: ignore[arg-type]
        if field in data:
            values[field] = build(data[field], field)
        elif field == "origin":
            values[field] = built(Origin, data)
        elif missing is not dataclasses.MISSING:
            values[field] = missing
        elif name is not None and not values:
            values[field] = name
        else:
            raise KeyError(field)
    return model(**values)


@functools.cache
def _fields(model: type) -> list[tuple[str, Callable[[Any, str], Any], Any]]:
    """Name of each field, what builds it of its data and its name, and what it is without any."""
    hints, found = get_type_hints(model), []
    for field in dataclasses.fields(model):
        hint, missing = hints[field.name], field.default
        if get_origin(hint) in (Union, types.UnionType):
            hint, missing = get_args(hint)[0], None
        elif get_origin(hint) in (tuple, dict):
            missing = get_origin(hint)()
        found.append((field.name, _builder(hint), missing))
    return found


def _builder(hint: Any) -> Callable[[Any, str], Any]:
    if get_origin(hint) in (tuple, dict):
        return _many(get_origin(hint), get_args(hint))
    if hint is Specimen:
        return lambda data, _: built(Specimen, {**data, "break_type": data["break"]})
    if hint is float:
        return lambda value, _: float(value)
    by_hand: dict[Any, Callable[[Any, str], Any]]
    by_hand = {dt.date: _date, Requirement: _requirement, Reported: _reported}
    if isinstance(hint, type) and hint not in by_hand and dataclasses.is_dataclass(hint):
        return lambda data, _: built(hint, data)
    return by_hand.get(hint, lambda value, _: value)


def _many(many: type, inner: tuple[Any, ...]) -> Callable[[Any, str], Any]:
    """Builds a tuple, of a list or of a mapping whose keys are names, or a mapping of such names."""
    if many is tuple:
        each_of = _builder(inner[0])
        return lambda data, key: tuple(
            (built(inner[0], each, name) for name, each in data.items())
            if isinstance(data, dict)
            else (each_of(each, key) for each in data)
        )
    if dataclasses.is_dataclass(inner[1]):
        return lambda data, _: {name: built(inner[1], each, name) for name, each in data.items()}
    return lambda data, _: dict(data)


def _date(text: str, key: str) -> dt.date:
    try:
        return dt.date.fromisoformat(text)
    except ValueError as error:
        raise DateError(
            Flaw(
                rules.DATE_REAL,
                f"'{key}' is {text}, a day that does not exist",
                "write the day as year-month-day, such as 2026-02-28",
                keys=(key,),
            )
        ) from error


def _requirement(data: Data, _key: str) -> Requirement:
    origin = built(Origin, data)
    if "at_least" in data:
        return Requirement(float(data["at_least"]), 0.0, math.inf, origin)
    if "at_most" in data:
        return Requirement(float(data["at_most"]), math.inf, 0.0, origin)
    return Requirement(float(data["value"]), float(data["below"]), float(data["above"]), origin)


def rig(rig_id: str, data: Data) -> Rig:
    """A rig from its file; gravity is worked out from the place where only the place is given."""
    stated, place = "gravity_m_s2" in data, data.get("gravity_at")
    gravity, basis = STANDARD_GRAVITY_m_s2, "standard value, because the rig states none"
    if stated:
        gravity, basis = float(data["gravity_m_s2"]), "stated for the rig"
    elif place:
        gravity = float(normal_gravity_m_s2(place["latitude_deg"], place["height_m"]))
        basis = f"normal gravity (WGS 84) at {place['latitude_deg']:g}° and {place['height_m']:g} m"
    worked_out = {
        "gravity_m_s2": gravity,
        "gravity_basis": basis,
        "gravity_stated_twice": stated and place is not None,
        "gravity_assumed": not stated and place is None,
    }
    return built(Rig, {**data, **worked_out}, rig_id)


def hazards(data: Data) -> tuple[Hazard, ...]:
    """The department's list of hazards, in the order of the file."""
    return tuple(built(Hazard, {**each, **each["controls"]}) for each in data["hazards"])


def verification(verification_id: str, data: Data) -> Verification:
    """A verification from its file; raises DateError."""
    return built(Verification, {"measured": {}, **data}, verification_id)


def record(record_id: str, data: Data) -> Record:
    """A test record from its file; raises DateError."""
    return built(Record, data, record_id)


def _reported(data: Data, _key: str) -> Reported:
    specimens = data.get("specimens", {})
    own = [key for key in ("mean_kJ_m2", "standard_deviation_kJ_m2") if key in data]
    places: dict[tuple[str, ...], int] = {(key,): decimal_places(data, key) for key in own}
    places |= {("specimens", name, key): decimal_places(each, key) for name, each in specimens.items() for key in each}
    return built(Reported, {"specimens": {}, **data, "digits": places})
