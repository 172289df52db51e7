"""Every computed value that a hand-written page may show, by the kind of thing, its id and the value's name."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from markupsafe import Markup

from notchbook.checks.words import nearest
from notchbook.pages import text
from notchbook.pages.pictures import PICTURES
from notchbook.pages.results import result_line

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from notchbook.evaluation.hammers import SwungHammer
    from notchbook.evaluation.records import SpecimenResult
    from notchbook.evaluation.verifications import VerificationResult
    from notchbook.handbook import Handbook
    from notchbook.model.record import Record, Specimen


class UnknownValueError(LookupError):
    """A value that does not exist; the hint names what does."""

    def __init__(self, message: str, hint: str) -> None:
        super().__init__(message)
        self.hint = hint


@dataclass(frozen=True, slots=True)
class Shown:
    """A value as a page shows it."""

    html: Markup
    block: bool = False
    """Whether it is a picture that stands by itself rather than words in a sentence."""


_BAR = re.compile(r"bar (?P<id>\S+) (?P<name>.+)\Z")


def find(handbook: Handbook, kind: str, object_id: str, name: str, prefix: str) -> Shown:
    """The value of that name; raises UnknownValueError.

    Arguments:
        handbook: what is known.
        kind: the kind of thing: test, bar of a test, hammer, verification, rig, material, exercise.
        object_id: its id; a hammer's is that of its rig, a slash, and its own.
        name: the value's name.
        prefix: starts the ids in a picture, different for each on a page.
    """
    picture = PICTURES.get((kind, name))
    if picture is not None:
        _known(handbook, kind, object_id)
        drawn = picture(handbook, object_id, prefix)
        if not drawn:
            raise UnknownValueError(f"{kind} '{object_id}' has nothing to draw for '{name}'", "choose another one")
        return Shown(drawn, block=True)
    values = _VALUES.get(kind)
    if values is None:
        raise UnknownValueError(f"there are no values of '{kind}'", nearest(kind, _VALUES))
    found = _known(handbook, kind, object_id)
    bar = _BAR.match(name) if kind == "test" else None
    words = _bar_value(handbook, object_id, bar) if bar else _value(values, kind, found, name)
    if words is None:
        raise UnknownValueError(f"'{name}' of {kind} '{object_id}' cannot be had", "choose another value")
    return Shown(Markup('<span class="nb-quantity">{}</span>').format(text.shown(words)))


def _known(handbook: Handbook, kind: str, object_id: str) -> tuple[Handbook, str]:
    """The place of a thing that exists; raises UnknownValueError."""
    library = handbook.library
    known: dict[str, Mapping[str, object]] = {
        "test": library.records,
        "hammer": {f"{rig}/{hammer}": None for rig, hammer in handbook.evaluation.hammers},
        "verification": library.verifications,
        "rig": library.rigs,
        "material": library.materials,
        "exercise": library.exercises,
    }
    ids = known.get(kind, {})
    if object_id not in ids:
        raise UnknownValueError(f"there is no {kind} '{object_id}'", nearest(object_id, ids))
    return handbook, object_id


_Place = tuple["Handbook", str]


def _value(values: Mapping[str, Callable[[_Place], str | None]], kind: str, place: _Place, name: str) -> str | None:
    if name not in values:
        names = [*values, *(each for of, each in PICTURES if of == kind)]
        if kind == "test":
            names += [f"bar {place[0].library.records[place[1]].specimens[0].id} {each}" for each in _BAR_VALUES]
        raise UnknownValueError(f"a {kind} has no value '{name}'", nearest(name, names))
    return values[name](place)


def with_unit(value: float | None, figures: int, unit: str) -> str | None:
    """A number to so many significant figures with its unit, joined so that no line breaks between them."""
    if value is None:
        return None
    gap = "" if unit == "°" else "\N{NO-BREAK SPACE}"
    return f"{text.significant(value, figures)}{gap}{unit}"


def _record(place: _Place) -> Record:
    return place[0].library.records[place[1]]


def _main(place: _Place, name: str, figures: int, unit: str) -> str | None:
    """A value of the largest set of a record."""
    sets = result_line(place[0], _record(place)).sets
    return with_unit(getattr(sets[0].result.summary, name), figures, unit) if sets else None


def _reported(place: _Place) -> str | None:
    sets = result_line(place[0], _record(place)).sets
    return f"{sets[0].reported}\N{NO-BREAK SPACE}kJ/m²" if sets else None


def _interval(place: _Place) -> str | None:
    sets = result_line(place[0], _record(place)).sets
    interval = sets[0].result.summary.interval if sets else None
    if interval is None:
        return None
    return f"{text.significant(interval[0], 3)} to {text.significant(interval[1], 3)}\N{NO-BREAK SPACE}kJ/m²"


_TEST: dict[str, Callable[[_Place], str | None]] = {
    "result": _reported,
    "mean": lambda place: _main(place, "mean", 3, "kJ/m²"),
    "standard deviation": lambda place: _main(place, "standard_deviation", 2, "kJ/m²"),
    "variation": lambda place: _main(place, "variation_pct", 2, "%"),
    "interval": _interval,
    "n": lambda place: str(sets[0].n) if (sets := result_line(place[0], _record(place)).sets) else None,
    "breaks": lambda place: sets[0].words if (sets := result_line(place[0], _record(place)).sets) else None,
    "unbroken": lambda place: str(result_line(place[0], _record(place)).unbroken),
    "designation": lambda place: result_line(place[0], _record(place)).designation,
    "date": lambda place: text.day(_record(place).date),
    "group": lambda place: _record(place).group,
    "material": lambda place: result_line(place[0], _record(place)).material_name,
    "temperature": lambda place: f"{text.plain(_record(place).test_atmosphere.temperature_C)}\N{NO-BREAK SPACE}°C",
    "conditioning temperature": lambda place: (
        f"{text.plain(_record(place).conditioning.temperature_C)}\N{NO-BREAK SPACE}°C"
    ),
}

_BAR_VALUES: dict[str, Callable[[Specimen, SpecimenResult], str | None]] = {
    "width": lambda bar, _: f"{text.number(bar.width_mm, 2)}\N{NO-BREAK SPACE}mm",
    "thickness": lambda bar, _: f"{text.number(bar.thickness_mm, 2)}\N{NO-BREAK SPACE}mm",
    "remaining width": lambda bar, _: (
        None if bar.remaining_width_mm is None else f"{text.number(bar.remaining_width_mm, 2)}\N{NO-BREAK SPACE}mm"
    ),
    "rise": lambda _, found: None if found.rise_angle_deg is None else f"{text.number(found.rise_angle_deg, 1)}°",
    "loss": lambda _, found: with_unit(found.loss_J, 2, "J"),
    "energy": lambda _, found: with_unit(found.energy_J, 3, "J"),
    "used": lambda _, found: with_unit(found.used_pct, 3, "%"),
    "strength": lambda _, found: with_unit(found.strength_kJ_m2, 3, "kJ/m²"),
    "break": lambda bar, _: bar.break_type,
}


def _bar_value(handbook: Handbook, record_id: str, bar: re.Match[str]) -> str | None:
    record, result = handbook.library.records[record_id], handbook.evaluation.records.get(record_id)
    places = {each.id: index for index, each in enumerate(record.specimens)}
    if bar["id"] not in places:
        raise UnknownValueError(f"test '{record_id}' has no bar '{bar['id']}'", nearest(bar["id"], places))
    if bar["name"] not in _BAR_VALUES:
        raise UnknownValueError(f"a bar has no value '{bar['name']}'", nearest(bar["name"], _BAR_VALUES))
    if result is None:
        return None
    place = places[bar["id"]]
    return _BAR_VALUES[bar["name"]](record.specimens[place], result.specimens[place])


def _hammer(place: _Place) -> SwungHammer:
    rig, _, hammer = place[1].partition("/")
    return place[0].evaluation.hammers[rig, hammer]


def _window_end(place: _Place, end: str) -> str | None:
    hammer = _hammer(place)
    method = place[0].library.methods.get(hammer.method)
    share = getattr(method.energy_window, end) if method else None
    return None if share is None else with_unit(hammer.potential_energy_J * share / 100.0, 2, "J")


_HAMMER: dict[str, Callable[[_Place], str | None]] = {
    "energy": lambda place: with_unit(_hammer(place).potential_energy_J, 4, "J"),
    "nominal energy": lambda place: f"{text.plain(_hammer(place).nominal_energy_J)}\N{NO-BREAK SPACE}J",
    "moment": lambda place: with_unit(_hammer(place).moment_Nm, 5, "Nm"),
    "release angle": lambda place: f"{text.plain(_hammer(place).release_angle_deg)}°",
    "velocity": lambda place: with_unit(_hammer(place).velocity_m_s, 3, "m/s"),
    "lowest energy": lambda place: _window_end(place, "low_pct"),
    "highest energy": lambda place: _window_end(place, "high_pct"),
    "title": lambda place: _hammer(place).title,
}


def _verified(place: _Place) -> VerificationResult | None:
    return place[0].evaluation.verifications.get(place[1])


def _loss(place: _Place, name: str, figures: int, unit: str) -> str | None:
    found = _verified(place)
    return with_unit(getattr(found.losses, name), figures, unit) if found and found.losses else None


def _length(place: _Place) -> str | None:
    found = _verified(place)
    return with_unit(found.pendulum_length_mm, 4, "mm") if found else None


_VERIFICATION: dict[str, Callable[[_Place], str | None]] = {
    "date": lambda place: text.day(place[0].library.verifications[place[1]].date),
    "first rise": lambda place: _loss(place, "first_rise_deg", 4, "°"),
    "second rise": lambda place: _loss(place, "second_rise_deg", 4, "°"),
    "indicator loss": lambda place: _loss(place, "indicator_loss_J", 3, "J"),
    "swing loss": lambda place: _loss(place, "swing_loss_J", 3, "J"),
    "half swing loss": lambda place: _loss(place, "half_swing_loss_J", 3, "J"),
    "loss share": lambda place: _loss(place, "loss_pct", 3, "%"),
    "pendulum length": _length,
}

_RIG: dict[str, Callable[[_Place], str | None]] = {
    "title": lambda place: place[0].library.rigs[place[1]].title,
    "striking length": lambda place: (
        f"{text.plain(place[0].library.rigs[place[1]].striking_length_mm)}\N{NO-BREAK SPACE}mm"
    ),
    "gravity": lambda place: with_unit(place[0].library.rigs[place[1]].gravity_m_s2, 5, "m/s²"),
}

_MATERIAL: dict[str, Callable[[_Place], str | None]] = {
    "title": lambda place: place[0].library.materials[place[1]].title,
    "symbol": lambda place: place[0].library.materials[place[1]].symbol,
}

_EXERCISE: dict[str, Callable[[_Place], str | None]] = {
    "title": lambda place: place[0].library.exercises[place[1]].title,
}

_VALUES: dict[str, dict[str, Callable[[_Place], str | None]]] = {
    "test": _TEST,
    "hammer": _HAMMER,
    "verification": _VERIFICATION,
    "rig": _RIG,
    "material": _MATERIAL,
    "exercise": _EXERCISE,
}


def names() -> dict[str, list[str]]:
    """The names of all values and pictures by kind, for the guide."""
    return {
        kind: [*values, *(f"bar ID {each}" for each in _BAR_VALUES if kind == "test")]
        + [name for of, name in PICTURES if of == kind]
        for kind, values in _VALUES.items()
    }
