"""The worksheet of an exercise: what its page computes and checks with while a group types what it reads."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Literal

from markupsafe import Markup

from notchbook.facts.exercises import ExerciseFacts
from notchbook.facts.facts import Facts
from notchbook.facts.hammers import HammerFacts, RigFacts
from notchbook.facts.verifications import VerificationFacts
from notchbook.facts.worksheet_limits import (
    dimension_uncertainty_mm,
    hammer_uncertainties,
    student_t,
    swings_limits,
    told_rules,
    told_swings_rules,
    worksheet_limits,
)
from notchbook.model.method import Climate, Method
from notchbook.model.procedure import Exercise, Material, SpecimenChoice
from notchbook.model.requirement import Requirement
from notchbook.model.rig import Rig
from notchbook.pages.exercise.embedded_json import embedded

_SHARED = (
    "numbers", "physics", "summary", "equipment", "reader", "checks_day", "checks_swings", "yaml_text", "csv_text",
    "progress", "state", "form", "told",
)  # fmt: skip
_OWN = {
    "test": (
        "uncertainty", "evaluation", "record", "checks_bars", "checks_series", "checks_session", "record_yaml",
        "record_csv", "words", "results",
    ),
    "swings": (
        "swings_record", "swings_evaluation", "swings_checks", "swings_files", "swings_words", "swings_results",
    ),
}  # fmt: skip
SCRIPTS = {
    kind: tuple(f"assets/worksheet/{name}.js" for name in (*_SHARED, *own, kind, "start")) for kind, own in _OWN.items()
}
"""By the kind of record, in the order in which they need each other."""
MOST_BARS = 40
"""Bars that a worksheet takes at least; more only where the exercise asks for more."""
_FIRST_SWINGS, _MOST_SWINGS = 6, 60
"""Readings of a series that the form begins with, and that it takes: a pendulum that dies away is read no longer."""


@dataclass(frozen=True, slots=True)
class Worksheet:
    """The form of one exercise."""

    kind: Literal["test", "swings"]
    """Of the record that it makes."""
    data: Markup
    """JSON that may stand in a script element of a Markdown page."""
    rigs: tuple[Rig, ...]
    materials: tuple[Material, ...]
    """To choose from; none where no bars are broken."""
    folder: str
    """Where the file of a record belongs, from the handbook's root."""

    @property
    def scripts(self) -> tuple[str, ...]:
        """What the form needs, by the addresses of the site."""
        return SCRIPTS[self.kind]


def worksheet(facts: Facts, exercise: ExerciseFacts) -> Worksheet | None:
    """The worksheet of an exercise; None where nothing could be worked out from its bars, or its free swings."""
    chosen, method, results = exercise.exercise.specimen, exercise.method, facts.handbook.settings.results
    if method is None or not exercise.rigs:
        return None
    rigs = tuple(each.rig for each in exercise.rigs)
    if chosen is None:
        data = swings_data(exercise.exercise, method, exercise.rigs)
        return Worksheet("swings", embedded(data), rigs, (), f"{results}/swings")
    if exercise.specimen_type is None:
        return None
    data = worksheet_data(exercise.exercise, chosen, method, exercise.rigs)
    materials = tuple(sorted(facts.materials.values(), key=lambda each: (each.symbol, each.id)))
    return Worksheet("test", embedded(data), rigs, materials, f"{results}/tests")


def swings_data(exercise: Exercise, method: Method, rigs: Sequence[RigFacts]) -> dict[str, Any]:
    """What the scripts of a worksheet of free swings are given."""
    return {
        "kind": "swings",
        "exercise": exercise.id,
        "rows": {"first": _FIRST_SWINGS, "most": _MOST_SWINGS},
        "method": {"standard": method.standard, "loss_correction": method.loss_correction},
        "rigs": {each.rig.id: _rig(each) for each in rigs},
        "rules": told_swings_rules(),
        "limits": swings_limits(),
    }


def worksheet_data(
    exercise: Exercise, chosen: SpecimenChoice, method: Method, rigs: Sequence[RigFacts]
) -> dict[str, Any]:
    """What the scripts of a worksheet are given: the exercise, its method and rigs, and the engine's own numbers."""
    bars = exercise.number_of_specimens or method.specimen_number.number
    return {
        "kind": "test",
        "exercise": exercise.id,
        "rows": {"first": bars, "most": max(bars, MOST_BARS)},
        "specimen": {"type": chosen.type, "notch": chosen.notch, "direction": chosen.direction},
        "method": _method(method, chosen),
        "rigs": {each.rig.id: _rig_of_bars(each) for each in rigs},
        "student_t": student_t(),
        "dimension_mm": dimension_uncertainty_mm(exercise, method),
        "rules": told_rules(),
        "limits": worksheet_limits(),
    }


def _method(method: Method, chosen: SpecimenChoice) -> dict[str, Any]:
    """What the method asks of the bars of the exercise."""
    specimen_type, notch = method.specimen_type(chosen.type), method.notch(chosen.notch)
    dimensions = {}
    if specimen_type is not None:
        dimensions["width_mm"] = _asked(specimen_type.width_mm, "mm")
        dimensions["thickness_mm"] = _asked(specimen_type.thickness_mm, "mm")
    if notch is not None:
        dimensions["remaining_width_mm"] = _asked(notch.remaining_width_mm, "mm")
    number = method.specimen_number
    return {
        "standard": method.standard,
        "dimensions": dimensions,
        "conditioning": _climate(method.conditioning),
        "test_atmosphere": _climate(method.test_atmosphere),
        "window_pct": [method.energy_window.low_pct, method.energy_window.high_pct],
        "takes_largest": method.takes_largest,
        "specimen_number": {
            "number": number.number, "fewer": number.fewer, "below_pct": number.fewer_below_variation_pct,
        },
        "breaks": {
            each.letter: {
                "title": each.title,
                "group": method.breaks.group_of(each.letter),
                "role": method.breaks.role_of(each.letter),
                "has_strength": each.has_strength,
            }
            for each in method.breaks.types
        },
        "loss_correction": method.loss_correction,
        "significant_figures": method.reporting.significant_figures,
        "energy_tolerance_pct": method.pendulums.potential_energy_tolerance_pct.highest,
    }  # fmt: skip


def _climate(climate: Climate) -> dict[str, Any]:
    asked = {"temperature_C": _asked(climate.temperature_C, "°C"), "humidity_pct": _asked(climate.humidity_pct, "%")}
    return asked | ({"hours": _asked(climate.hours, "h")} if climate.hours is not None else {})


def _asked(requirement: Requirement, unit: str) -> dict[str, Any]:
    """A required value with its bounds, null where there is none, and its words."""
    return {
        "value": requirement.value,
        "low": _finite(requirement.lowest),
        "high": _finite(requirement.highest),
        "text": requirement.text(unit),
    }


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None


def _rig(rig: RigFacts) -> dict[str, Any]:
    """The scale of a rig and its hammers of the method, the lightest first."""
    indicator = rig.rig.indicator
    return {
        "reads": indicator.reads,
        "pointer": indicator.pointer,
        "hammers": {line.hammer.id: _hammer(line) for line in rig.hammers},
    }


def _rig_of_bars(rig: RigFacts) -> dict[str, Any]:
    """The same with what the strengths of bars are unsure by."""
    found = _rig(rig) | {"loss_drift": rig.loss_drift}
    for line in rig.hammers:
        found["hammers"][line.hammer.id]["uncertain"] = hammer_uncertainties(line.rig, line.hammer)
    return found


def _hammer(line: HammerFacts) -> dict[str, Any]:
    """A hammer with the division that it is read to, and its verifications, the newest first."""
    hammer, scale = line.hammer, line.scale_read
    return {
        "title": hammer.title,
        "division_deg": scale.division_deg,
        "division_J": scale.division_J,
        "nominal_J": hammer.nominal_energy_J,
        "potential_J": hammer.potential_energy_J,
        "moment_Nm": hammer.moment_Nm,
        "release_deg": hammer.release_angle_deg,
        "loss_pct": line.asked.loss_pct if line.asked is not None else None,
        "verifications": [_verification(each) for each in line.verifications],
    }


def _verification(case: VerificationFacts) -> dict[str, Any]:
    """When a verification holds, and its losses: both rises, indicator, one swing, one half swing of the later ones."""
    verification, losses = case.verification, case.losses
    found = None
    if losses is not None:
        found = [
            losses.first_rise_deg, losses.second_rise_deg,
            losses.indicator_loss_J, losses.swing_loss_J, losses.half_swing_loss_J,
        ]  # fmt: skip
    return {
        "date": verification.date.isoformat(),
        "valid_until": verification.valid_until.isoformat(),
        "losses": found,
    }
