"""A plan and a seed to the readings of a group, the same for the same seed."""

from typing import Any

import numpy as np

from notchbook.evaluation.after_break import reading_after_break
from notchbook.evaluation.scale import Section
from notchbook.model.method import Climate
from notchbook.model.practice import PRACTICE
from notchbook.practice.plan import NotPlannedError, Plan, Trap

_BETWEEN_GROUPS = 0.02
"""How far the means of groups lie apart, as a share (common practice, no source)."""
_CALIPER_mm, _STEP_mm = 0.015, 0.01
"""How far bars of one sheet differ, and what a micrometer shows."""
_OFF = 1.5
"""By how many tolerances the bar of a trap is too wide."""
_SPREAD_C, _SPREAD_pct = 0.3, 2.0
"""Of a climate in a room that is kept (common practice, no source)."""
_TRIES = 200


def readings(plan: Plan, group: int, seed: int, trap: Trap | None) -> dict[str, Any]:
    """The record of one group, as its file would hold it.

    Arguments:
        plan: what the bars are of.
        group: its number, from 1.
        seed: of chance.
        trap: `dimension` for a bar that the method does not allow.

    Raises:
        NotPlannedError: where such bars stop the pendulum, so that nothing could be read.
    """
    chance = np.random.default_rng([seed, group])
    level = plan.mean_kJ_m2 * (1.0 + _BETWEEN_GROUPS * chance.standard_normal())
    bars = [_bar(plan, number, level, chance) for number in range(1, plan.bars + 1)]
    if trap == "dimension":
        asked = plan.dimensions["width_mm"]
        bars[int(chance.integers(len(bars)))]["width_mm"] = _measured(asked.value + _OFF * asked.above)
    chosen, method = plan.exercise.specimen, plan.method
    hours = method.conditioning.hours
    return {
        "kind": "test",
        "date": plan.day.isoformat(),
        "group": f"G{group}",
        "exercise": plan.exercise.id,
        "rig": plan.line.rig.id,
        "hammer": plan.line.hammer.id,
        "material": plan.material.id,
        "batch": PRACTICE,
        "specimen": {"type": chosen.type, "notch": chosen.notch, "direction": chosen.direction} if chosen else {},
        "conditioning": _climate(method.conditioning, chance)
        | {"hours": (hours.value if hours is not None else 0.0) + int(chance.integers(1, 24))},
        "test_atmosphere": _climate(method.test_atmosphere, chance),
        "specimens": bars,
        "notes": PRACTICE,
    }


def _bar(plan: Plan, number: int, level_kJ_m2: float, chance: np.random.Generator) -> dict[str, Any]:
    """One bar with what the scale shows of it, to its marks."""
    line, scale = plan.line, plan.line.scale_read
    sizes = {
        name: _measured(asked.value + _CALIPER_mm * float(np.clip(chance.standard_normal(), -2.0, 2.0)))
        for name, asked in plan.dimensions.items()
    }
    section = Section(sizes["thickness_mm"], sizes.get("remaining_width_mm", sizes["width_mm"]))
    # strengths scatter in proportion and are never below 0
    shape = float(np.sqrt(np.log1p(plan.variation**2)))
    for _ in range(_TRIES):
        strength = level_kJ_m2 * float(np.exp(shape * chance.standard_normal() - shape**2 / 2.0))
        shown = reading_after_break(
            scale, line.hammer, line.losses, plan.method.loss_correction, section.energy_J(strength)
        )
        if shown is not None and scale.division is not None:
            read = round(round(shown / scale.division) * scale.division, 6)
            key = "rise_angle_deg" if scale.reads == "angle" else "indicated_energy_J"
            return {"id": f"{number:02}", **sizes, key: read, "break": plan.breaks}
    raise NotPlannedError("such bars stop the pendulum", "choose another material")


def _measured(value_mm: float) -> float:
    return round(round(value_mm / _STEP_mm) * _STEP_mm, 6)


def _climate(asked: Climate, chance: np.random.Generator) -> dict[str, float]:
    """A climate as it is read, near what is asked for."""

    def near(value: float, spread: float) -> float:
        return value + spread * float(np.clip(chance.standard_normal(), -2.0, 2.0))

    humidity_pct = min(max(near(asked.humidity_pct.value, _SPREAD_pct), 0.0), 100.0)
    return {
        "temperature_C": round(near(asked.temperature_C.value, _SPREAD_C), 1), "humidity_pct": round(humidity_pct, 1),
    }  # fmt: skip
