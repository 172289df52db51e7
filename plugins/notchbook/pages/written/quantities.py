"""Every computed value that a hand-written page may show, by the kind of thing, its id and the value's name."""

import math
import re
from collections.abc import Callable, Mapping
from typing import Any

from markupsafe import Markup

from notchbook.facts.exercises import ExerciseFacts
from notchbook.facts.facts import Facts
from notchbook.facts.hammers import HammerFacts, RigFacts
from notchbook.facts.swings import SwingsFacts
from notchbook.facts.two_sets import NoSetError, TwoSets, two_sets
from notchbook.facts.verifications import VerificationFacts
from notchbook.model.procedure import Material
from notchbook.pages.written.filled import Filled, MissingValueError, UnknownValueError, with_unit
from notchbook.pages.written.pictures import PICTURES
from notchbook.pages.written.record_quantities import NAMES as RECORD_NAMES
from notchbook.pages.written.record_quantities import record_value
from notchbook.wording.dates import day_words
from notchbook.wording.lines import one_line
from notchbook.wording.nearest import nearest
from notchbook.wording.numbers import to_figures

# Characters that mean something to HTML, and to Markdown, its extensions or an attribute list even inside HTML.
_ACTIVE = re.compile(r"""[&<>"'`{}\[\]$*_~\\^=:|#!+]""")
_FIGURE = Markup('\n\n<figure class="nb-chart" data-search-exclude>{}</figure>\n\n')


def find(facts: Facts, kind: str, object_id: str, name: str, prefix: str) -> Filled:
    """The value of that name, a picture as a figure of its own; raises UnknownValueError.

    Arguments:
        facts: what is known.
        kind: test, hammer, verification, swings, rig, material or exercise; tests for several together.
        object_id: its id; a hammer's is that of its rig, a slash, and its own; those of tests have commas between,
            and the break types of a set behind a slash where a value is asked of two.
        name: the value's name.
        prefix: starts the ids in a picture, different for each on a page.
    """
    picture = PICTURES.get((kind, name))
    if picture is not None:
        _find(facts, kind, object_id)
        try:
            drawn = Markup(picture(facts, object_id, prefix))  # noqa: S704  # they escape their texts
        except ValueError as error:
            raise MissingValueError(
                f"'{name}' of {kind} '{object_id}' cannot be drawn: {error}", "mend it first"
            ) from None
        if not drawn:
            raise MissingValueError(f"{kind} '{object_id}' has nothing to draw for '{name}'", "choose another one")
        return Filled(_FIGURE.format(drawn), is_picture=True)
    if kind not in _NAMES:
        raise UnknownValueError(f"there are no values of '{kind}'", nearest(kind, _NAMES))
    found: Any = _two_sets(facts, object_id) if kind == "tests" else _find(facts, kind, object_id)
    pictures = [each for of, each in PICTURES if of == kind]
    words = record_value(found, name, pictures) if kind == "test" else _value(kind, found, name, pictures)
    if words is None:
        raise MissingValueError(f"'{name}' of {kind} '{object_id}' cannot be had", "choose another value")
    escaped = _ACTIVE.sub(lambda found: f"&#{ord(found.group())};", one_line(words))
    return Filled(f'<span class="nb-quantity">{escaped}</span>')


def things(facts: Facts, kind: str) -> Mapping[str, object]:
    """Everything of that kind by its id; nothing for a kind that there is not."""
    known: dict[str, Mapping[str, object]] = {
        "test": facts.records,
        "tests": facts.records,
        "hammer": {f"{rig}/{hammer}": each for (rig, hammer), each in facts.hammers.items()},
        "verification": facts.verifications,
        "swings": facts.swings,
        "rig": facts.rigs,
        "material": facts.materials,
        "exercise": facts.exercises,
    }
    return known.get(kind, {})


def _find(facts: Facts, kind: str, object_id: str) -> Any:
    """What is known of a thing, or of the last of several with commas between; raises UnknownValueError."""
    ids, found = things(facts, kind), None
    for each in object_id.split(",") if kind == "tests" else [object_id]:
        if each not in ids:
            one = "test" if kind == "tests" else kind
            raise MissingValueError(f"there is no {one} '{each}'", nearest(each, ids))
        found = ids[each]
    return found


def _two_sets(facts: Facts, object_id: str) -> TwoSets:
    """The two sets of tests with a comma between; raises UnknownValueError."""
    references = object_id.split(",")
    if len(references) != 2:
        raise UnknownValueError("a difference is one of two tests", "write two ids with a comma between")
    try:
        return two_sets(facts.records, *references)
    except NoSetError as error:
        raise MissingValueError(str(error), error.hint) from None


def _value(kind: str, found: Any, name: str, pictures: list[str]) -> str | None:
    values = _VALUES.get(kind, {})
    if name not in values:
        raise UnknownValueError(f"a {kind} has no value '{name}'", nearest(name, [*values, *pictures]))
    return values[name](found)


def _window_end(line: HammerFacts, end: int) -> str | None:
    return with_unit(line.window_J[end], 2, "J") if line.window_J is not None else None


_HAMMER: dict[str, Callable[[HammerFacts], str | None]] = {
    "energy": lambda line: f"{line.energy} J",
    "nominal energy": lambda line: with_unit(line.hammer.nominal_energy_J, None, "J"),
    "moment": lambda line: with_unit(line.hammer.moment_Nm, 5, "Nm"),
    "release angle": lambda line: with_unit(line.hammer.release_angle_deg, None, "°"),
    "velocity": lambda line: with_unit(line.hammer.velocity_m_s, 3, "m/s"),
    "lowest energy": lambda line: _window_end(line, 0),
    "highest energy": lambda line: _window_end(line, 1),
    "title": lambda line: line.hammer.title,
}


def _loss(case: VerificationFacts, name: str, figures: int, unit: str) -> str | None:
    return with_unit(getattr(case.losses, name), figures, unit) if case.losses is not None else None


_VERIFICATION: dict[str, Callable[[VerificationFacts], str | None]] = {
    "date": lambda case: day_words(case.verification.date),
    "first rise": lambda case: _loss(case, "first_rise_deg", 4, "°"),
    "second rise": lambda case: _loss(case, "second_rise_deg", 4, "°"),
    "indicator loss": lambda case: _loss(case, "indicator_loss_J", 3, "J"),
    "swing loss": lambda case: _loss(case, "swing_loss_J", 3, "J"),
    "half swing loss": lambda case: _loss(case, "half_swing_loss_J", 3, "J"),
    "loss share": lambda case: _loss(case, "loss_pct", 3, "%"),
    "pendulum length": lambda case: with_unit(case.result.pendulum_length_mm, 4, "mm") if case.result else None,
}

def _losses_J(case: SwingsFacts, name: str) -> str | None:
    return with_unit(getattr(case.losses, name), 3, "J") if case.losses is not None else None


_SWINGS: dict[str, Callable[[SwingsFacts], str | None]] = {
    "date": lambda case: day_words(case.record.date),
    "group": lambda case: case.record.group,
    "indicator loss": lambda case: _losses_J(case, "indicator_loss_J"),
    "swing loss": lambda case: _losses_J(case, "swing_loss_J"),
    "later swing loss": lambda case: with_unit(case.result.later_swing_loss_J, 3, "J") if case.result else None,
    "loss share": lambda case: with_unit(case.losses.loss_pct, 3, "%") if case.losses else None,
    "allowed share": lambda case: with_unit(case.asked.loss_pct, None, "%") if case.asked else None,
}
_RIG: dict[str, Callable[[RigFacts], str | None]] = {
    "title": lambda each: each.rig.title,
    "striking length": lambda each: with_unit(each.rig.striking_length_mm, None, "mm"),
    "gravity": lambda each: with_unit(each.rig.gravity_m_s2, 5, "m/s²"),
}

_TESTS: dict[str, Callable[[TwoSets], str | None]] = {
    "difference": lambda pair: pair.amount or pair.told,
    "interval of difference": lambda pair: pair.interval_words or None,
    "comparison": lambda pair: pair.told,
    "ratio": lambda pair: to_figures(pair.ratio.ratio, 3) if pair.ratio is not None else None,
}

_MATERIAL: dict[str, Callable[[Material], str | None]] = {
    "title": lambda material: material.title,
    "symbol": lambda material: material.symbol,
    "density": lambda material: with_unit(material.density_kg_m3, None, "kg/m³"),
}


def _stress_factor(each: ExerciseFacts) -> str | None:
    """Peak over mean stress by the rule for an elliptical hole, ``1 + 2 sqrt(depth/radius)`` (Inglis)."""
    notch, depth_mm = each.notch, each.notch_depth_mm
    if notch is None or depth_mm is None or depth_mm < 0.0 or notch.base_radius_mm.value <= 0.0:
        return None
    return to_figures(1.0 + 2.0 * math.sqrt(depth_mm / notch.base_radius_mm.value), 2)


_TRUE_VARIATION_PCT = 8.0
"""Of bars that scatter more than lets fewer of them do, where the chance is asked that they do all the same."""

_EXERCISE: dict[str, Callable[[ExerciseFacts], str | None]] = {
    "title": lambda each: each.exercise.title,
    "notch radius": lambda each: with_unit(each.notch.base_radius_mm.value, None, "mm") if each.notch else None,
    "notch depth": lambda each: with_unit(each.notch_depth_mm, None, "mm"),
    "stress factor": _stress_factor,
    "chance of fewer at 8 %": lambda each: with_unit(each.chance_of_fewer_pct(_TRUE_VARIATION_PCT), 2, "%"),
}

_VALUES: dict[str, dict[str, Callable[[Any], str | None]]] = {
    "tests": _TESTS,
    "hammer": _HAMMER,
    "verification": _VERIFICATION,
    "swings": _SWINGS,
    "rig": _RIG,
    "material": _MATERIAL,
    "exercise": _EXERCISE,
}
_NAMES: dict[str, tuple[str, ...]] = {
    "test": RECORD_NAMES,
    **{kind: tuple(values) for kind, values in _VALUES.items()},
}


def names() -> dict[str, list[str]]:
    """The names of all values and pictures by kind, for the guide."""
    return {kind: [*values, *(name for of, name in PICTURES if of == kind)] for kind, values in _NAMES.items()}
