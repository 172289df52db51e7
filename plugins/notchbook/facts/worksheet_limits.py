"""What a worksheet may take for an entry and what it holds one against: the numbers and patterns of the engine."""

import math
from collections.abc import Iterator, Mapping
from typing import Any

from notchbook.checks.bench_limits import BENCH_RULES, SWINGS_BENCH_RULES, bench_limits, swings_bench_limits
from notchbook.evaluation.budgets import COVERAGE_FACTOR
from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.input_uncertainties import dimension_taken, gravity_taken, moment_taken, reading_taken
from notchbook.evaluation.scale import scale_of
from notchbook.evaluation.uncertainty import release_of
from notchbook.model.method import Method
from notchbook.model.procedure import Exercise
from notchbook.model.rig import Rig
from notchbook.physics.pendulum import ROUNDING
from notchbook.reading import rules
from notchbook.reading.folder import EMAIL
from notchbook.reading.scalars import SMALLEST_NUMBER
from notchbook.reading.schemas import schema
from notchbook.statistics.quantiles import UPPER_PROBABILITY, student_t_quantile

_ENTRY_RULES = (rules.VALUE_TYPE, rules.VALUE_FORM, rules.VALUE_RANGE, rules.DATE_REAL, rules.EMAIL_ADDRESS)
_LAST_POINT = 24
_GROUPS = ("conditioning", "test_atmosphere", "free_swings", "series")
_NOT_TYPED = frozenset(
    {"notch_radius_mm", "clamp_torque_Nm", "transfer_s", "zero_reading_deg", "zero_reading_J", "state"}
)
"""What is measured before or beside the session, and added to the file."""
_UNITS = {"_mm": " mm", "_deg": "°", "_J": " J", "_C": " °C", "_pct": " %", "hours": " h"}
"""What stands behind a number in words, by how its key ends."""
# What the two languages write differently; a script's own `\w` and `\d` know no letters beyond ASCII.
_IN_A_SCRIPT = (
    (r"[^\W\d_]", r"[\p{L}\p{Nl}\p{No}]"),
    (r"[\w.+-]", r"[\p{L}\p{N}_.+\-]"),
    (r"[\w-]", r"[\p{L}\p{N}_\-]"),
)


def told_rules() -> dict[str, str]:
    """How grave each rule is that a worksheet tells, by its id."""
    return _severities(BENCH_RULES)


def told_swings_rules() -> dict[str, str]:
    """The same of the worksheet of free swings."""
    return _severities(SWINGS_BENCH_RULES)


def _severities(of_the_bench: Mapping[str, str]) -> dict[str, str]:
    entries = {each.id: str(each.severity) for each in _ENTRY_RULES}
    return entries | {rule: str(severity) for rule, severity in of_the_bench.items()}


def dimension_uncertainty_mm(exercise: Exercise, method: Method) -> float:
    """Standard uncertainty of a measured thickness or width."""
    return dimension_taken(exercise, method).standard


def hammer_uncertainties(rig: Rig, hammer: SwungHammer) -> list[float | None]:
    """Standard uncertainties of moment, release angle and one reading of a hammer; None where one is not known.

    In N m with gravity in it, in degrees, and in the unit of the scale, whose zero and marks have the same.
    """
    moment, scale = moment_taken(rig, hammer.id), scale_of(rig, hammer)
    if moment is None:
        return [None, None, None]
    moment_Nm = math.hypot(moment.moment.standard, moment.added_kg_m * gravity_taken(rig).standard)
    found = (moment_Nm, release_of(rig, hammer).standard, reading_taken(scale).standard)
    return [each if math.isfinite(each) else None for each in found]


def student_t() -> list[float]:
    """Student's t at Chebyshev points of 1 over the degrees of freedom, from endless freedom to one degree.

    A polynomial through so many is right to 1e-13 for all degrees between.
    """
    places = (math.sin(math.pi * each / (2 * _LAST_POINT)) ** 2 for each in range(_LAST_POINT + 1))
    return [student_t_quantile(UPPER_PROBABILITY, 1.0 / each if each else math.inf) for each in places]


def worksheet_limits() -> dict[str, Any]:
    """Every number and pattern that holds for any exercise with bars, by what it is."""
    return bench_limits() | _entry_limits("test")


def swings_limits() -> dict[str, Any]:
    """The same for any exercise about free swings."""
    return swings_bench_limits() | _entry_limits("swings") | {"coverage_factor": COVERAGE_FACTOR}


def _entry_limits(kind: str) -> dict[str, Any]:
    """What a worksheet may take for an entry of a kind of record."""
    entries = dict(_entries(kind))
    return {
        "rounding": ROUNDING,
        # in so many characters nothing can be written that the reader of the file takes for too small
        "longest": -round(math.log10(SMALLEST_NUMBER)),
        "day": _in_a_script(entries["date"]["pattern"].removeprefix("^").removesuffix("$")),
        "email": _in_a_script(EMAIL.pattern),
        "numbers": {
            key: _bounds(key, about) for key, about in entries.items() if about.get("type") in ("number", "integer")
        },
        "lengths": {key: about["maxLength"] for key, about in entries.items() if "maxLength" in about},
    }


def _entries(kind: str) -> Iterator[tuple[str, dict[str, Any]]]:
    """What the schema of a record says of each value that a worksheet may hold, by its keys."""
    return ((key, about) for key, about in _values(kind) if key.rpartition(".")[2] not in _NOT_TYPED)


def _values(kind: str) -> Iterator[tuple[str, dict[str, Any]]]:
    for key, about in schema(kind)["properties"].items():
        if key in _GROUPS:
            for name, each in about["properties"].items():
                yield f"{key}.{name}", each.get("items", each)
        elif key == "specimens":
            yield from ((f"{key}.{name}", each) for name, each in about["items"]["properties"].items())
        else:
            yield key, about


def _bounds(key: str, about: dict[str, Any]) -> dict[str, Any]:
    """Between what a number lies, its unit in words, whether it lies above the least and whether it is whole."""
    above, whole = "exclusiveMinimum" in about, about["type"] == "integer"
    return {
        "low": about["exclusiveMinimum" if above else "minimum"],
        "high": about["maximum"],
        "unit": next((unit for ending, unit in _UNITS.items() if key.endswith(ending)), ""),
        **({"above": True} if above else {}),
        **({"whole": True} if whole else {}),
    }


def _in_a_script(pattern: str) -> str:
    """A pattern as the scripts of a page write it."""
    for python, script in _IN_A_SCRIPT:
        pattern = pattern.replace(python, script)
    return pattern
