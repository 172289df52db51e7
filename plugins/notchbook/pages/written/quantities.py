"""Every computed value that a hand-written page may show, by the kind of thing, its id and the value's name."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from markupsafe import Markup

from notchbook.pages import text
from notchbook.pages.written.pictures import PICTURES
from notchbook.pages.written.quantity import UnknownValueError, with_unit
from notchbook.pages.written.record_quantities import NAMES as RECORD_NAMES
from notchbook.pages.written.record_quantities import record_value
from notchbook.wording.dates import day_words
from notchbook.wording.nearest import nearest
from notchbook.wording.numbers import plain, to_figures

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from notchbook.evaluation.hammers import SwungHammer
    from notchbook.evaluation.verifications import VerificationResult
    from notchbook.handbook import Handbook
    from notchbook.model.method import Notch


_Place = tuple["Handbook", str]


@dataclass(frozen=True, slots=True)
class Shown:
    """A value as a page shows it."""

    html: Markup
    block: bool = False
    """Whether it is a picture that stands by itself rather than words in a sentence."""


def find(handbook: Handbook, kind: str, object_id: str, name: str, prefix: str) -> Shown:
    """The value of that name; raises UnknownValueError.

    Arguments:
        handbook: what is known.
        kind: the kind of thing: test, hammer, verification, rig, material, exercise; tests for several together.
        object_id: its id; a hammer's is that of its rig, a slash, and its own; those of tests have commas between.
        name: the value's name.
        prefix: starts the ids in a picture, different for each on a page.
    """
    picture = PICTURES.get((kind, name))
    if picture is not None:
        _known(handbook, kind, object_id)
        try:
            drawn = picture(handbook, object_id, prefix)
        except ValueError as error:
            raise UnknownValueError(
                f"'{name}' of {kind} '{object_id}' cannot be drawn: {error}", "mend it first"
            ) from None
        if not drawn:
            raise UnknownValueError(f"{kind} '{object_id}' has nothing to draw for '{name}'", "choose another one")
        return Shown(drawn, block=True)
    if kind not in _NAMES:
        raise UnknownValueError(f"there are no values of '{kind}'", nearest(kind, _NAMES))
    found = _known(handbook, kind, object_id)
    pictures = [each for of, each in PICTURES if of == kind]
    words = record_value(handbook, object_id, name, pictures) if kind == "test" else _value(kind, found, name, pictures)
    if words is None:
        raise UnknownValueError(f"'{name}' of {kind} '{object_id}' cannot be had", "choose another value")
    return Shown(Markup('<span class="nb-quantity">{}</span>').format(text.shown(words)))


def _known(handbook: Handbook, kind: str, object_id: str) -> _Place:
    """The place of a thing that exists, or of several with commas between; raises UnknownValueError."""
    library = handbook.library
    known: dict[str, Mapping[str, object]] = {
        "test": library.records,
        "tests": library.records,
        "hammer": {f"{rig}/{hammer}": None for rig, hammer in handbook.evaluation.hammers},
        "verification": library.verifications,
        "rig": library.rigs,
        "material": library.materials,
        "exercise": library.exercises,
    }
    ids = known.get(kind, {})
    for each in object_id.split(",") if kind == "tests" else [object_id]:
        if each not in ids:
            raise UnknownValueError(f"there is no {kind.removesuffix('s')} '{each}'", nearest(each, ids))
    return handbook, object_id


def _value(kind: str, place: _Place, name: str, pictures: list[str]) -> str | None:
    values = _VALUES.get(kind, {})
    if name not in values:
        raise UnknownValueError(f"a {kind} has no value '{name}'", nearest(name, [*values, *pictures]))
    return values[name](place)


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
    "nominal energy": lambda place: f"{plain(_hammer(place).nominal_energy_J)}\N{NO-BREAK SPACE}J",
    "moment": lambda place: with_unit(_hammer(place).moment_Nm, 5, "Nm"),
    "release angle": lambda place: f"{plain(_hammer(place).release_angle_deg)}°",
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
    "date": lambda place: day_words(place[0].library.verifications[place[1]].date),
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
    "striking length": lambda place: f"{plain(place[0].library.rigs[place[1]].striking_length_mm)}\N{NO-BREAK SPACE}mm",
    "gravity": lambda place: with_unit(place[0].library.rigs[place[1]].gravity_m_s2, 5, "m/s²"),
}

_MATERIAL: dict[str, Callable[[_Place], str | None]] = {
    "title": lambda place: place[0].library.materials[place[1]].title,
    "symbol": lambda place: place[0].library.materials[place[1]].symbol,
}


def _notch(place: _Place) -> Notch | None:
    """The notch of an exercise's bars, or None where they have none."""
    exercise = place[0].library.exercises[place[1]]
    method = place[0].library.methods.get(exercise.method)
    return method.notch(exercise.specimen.notch) if method and exercise.specimen else None


def _notch_depth_mm(place: _Place) -> float | None:
    """How deep the notch is where bar and remaining width are as the method asks for them."""
    exercise, notch = place[0].library.exercises[place[1]], _notch(place)
    method = place[0].library.methods.get(exercise.method)
    bar = method.specimen_type(exercise.specimen.type) if method and exercise.specimen else None
    return bar.width_mm.value - notch.remaining_width_mm.value if notch and bar else None


def _notch_radius(place: _Place) -> str | None:
    notch = _notch(place)
    return f"{plain(notch.base_radius_mm.value)}\N{NO-BREAK SPACE}mm" if notch else None


def _notch_depth(place: _Place) -> str | None:
    depth_mm = _notch_depth_mm(place)
    return None if depth_mm is None else f"{plain(depth_mm)}\N{NO-BREAK SPACE}mm"


def _stress_factor(place: _Place) -> str | None:
    """Peak over mean stress by the rule for an elliptical hole, ``1 + 2 sqrt(depth/radius)`` (Inglis)."""
    notch, depth_mm = _notch(place), _notch_depth_mm(place)
    if notch is None or depth_mm is None or depth_mm < 0.0 or notch.base_radius_mm.value <= 0.0:
        return None
    return to_figures(1.0 + 2.0 * math.sqrt(depth_mm / notch.base_radius_mm.value), 2)


_EXERCISE: dict[str, Callable[[_Place], str | None]] = {
    "title": lambda place: place[0].library.exercises[place[1]].title,
    "notch radius": _notch_radius,
    "notch depth": _notch_depth,
    "stress factor": _stress_factor,
}

_VALUES: dict[str, dict[str, Callable[[_Place], str | None]]] = {
    "hammer": _HAMMER,
    "verification": _VERIFICATION,
    "rig": _RIG,
    "material": _MATERIAL,
    "exercise": _EXERCISE,
}
_NAMES: dict[str, tuple[str, ...]] = {
    "test": RECORD_NAMES,
    "tests": (),
    **{kind: tuple(values) for kind, values in _VALUES.items()},
}


def names() -> dict[str, list[str]]:
    """The names of all values and pictures by kind, for the guide."""
    return {kind: [*values, *(name for of, name in PICTURES if of == kind)] for kind, values in _NAMES.items()}
