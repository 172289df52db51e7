"""Single records and verifications as plain data: what their files hold, what they rest on and what came of them."""

from collections.abc import Iterator, Sequence
from typing import Any

from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.losses import Losses
from notchbook.facts.hammer_words import is_nominal
from notchbook.facts.records import RecordFacts
from notchbook.facts.verifications import VerificationFacts
from notchbook.model.method import Method
from notchbook.model.verification import Verification
from notchbook.pages.sheets.lookups import HammerSheet
from notchbook.reading.document import Document

Row = dict[str, Any]
PUBLISHED_FIGURES = 10
"""Significant figures of results. Other versions of the packages, and other processors, differ from the 14th on."""
_HAMMER = (
    "title", "nominal_energy_J", "moment_Nm", "release_angle_deg", "potential_energy_J", "velocity_m_s",
)  # fmt: skip
_LOSSES = ("indicator_loss_J", "swing_loss_J", "half_swing_loss_J", "loss_pct")


def published(value: Any) -> Any:
    """Results as they are published: every number with a fraction rounded, also within mappings and lists."""
    if isinstance(value, float):
        return float(f"{value:.{PUBLISHED_FIGURES}g}")
    if isinstance(value, dict):
        return {key: published(each) for key, each in value.items()}
    return [published(each) for each in value] if isinstance(value, list) else value


def _named(thing: SwungHammer | Losses, names: Sequence[str]) -> Row:
    return {name: published(getattr(thing, name)) for name in names}


def record_object(line: RecordFacts, document: Document, found: Row) -> Row:
    """One record with its results as they are published; readings are as they were written."""
    losses = None
    if line.result is not None and line.result.losses is not None:
        source = "free swings of the day" if line.result.own_free_swings else "verification"
        losses = {"from": source, **_named(line.result.losses, _LOSSES)}
    return {
        "test": line.record.id,
        "file": document.path,
        "readings": document.data,
        "method": _method(line.method, {"designation": line.designation, "symbol": line.symbol}),
        "quantity": {"name": line.quantity.name, "unit": line.quantity.unit, "symbol": line.symbol},
        "hammer": _hammer(line.hammer, line.verification),
        "verification": line.result.verification if line.result is not None else None,
        "losses": losses,
        "results": found | {"sets": list(_sets(line, found))},
    }


def _sets(line: RecordFacts, found: Row) -> Iterator[Row]:
    """The sets with their names."""
    for each, row in zip(line.sets, found["sets"], strict=True):
        yield row | {"name": each.letters}


def verification_object(case: VerificationFacts, document: Document, found: Row) -> Row:
    """One verification in the same way."""
    result, allowed = case.result, case.asked
    losses = result.losses if result is not None else None
    return {
        "verification": case.verification.id,
        "file": document.path,
        "readings": document.data,
        "method": _method(case.method, {}),
        "hammer": _hammer(case.hammer, case.verification),
        "results": found
        | {
            "weighed_moment_Nm": published(result.weighed_moment_Nm) if result is not None else None,
            "half_swing_loss_J": published(losses.half_swing_loss_J) if losses is not None else None,
            "allowed_loss_pct": allowed.loss_pct if allowed is not None else None,
        },
    }


def _method(method: Method | None, of_test: Row) -> Row | None:
    return {"id": method.id, "standard": method.standard, **of_test} if method is not None else None


def _hammer(hammer: SwungHammer | None, verification: Verification | None) -> Row | None:
    if hammer is None:
        return None
    return _named(hammer, _HAMMER) | ({"energy_is_nominal": True} if is_nominal(hammer, verification) else {})


def bar_rows(record: Row) -> Iterator[Row]:
    """The bars of a record, readings and results side by side."""
    results = record["results"]["specimens"] or [{}] * len(record["readings"]["specimens"])
    common = {key: record["readings"].get(key) for key in ("notch_radius_mm", "clamp_torque_Nm", "transfer_s")}
    for read, found in zip(record["readings"]["specimens"], results, strict=True):
        yield found | {"excluded": None} | common | read | {"specimen": read["id"]}


def set_rows(record: Row) -> Iterator[Row]:
    """The sets of a record, each with what tells its record from others."""
    method = record["method"]
    for each in record["results"]["sets"]:
        low, high = each["interval_kJ_m2"] or (None, None)
        yield (
            record["readings"]
            | each
            | {
                "test": record["test"],
                "designation": method["designation"] if method is not None else None,
                "breaks": each["name"],
                "reported_kJ_m2": each["reported"],
                "interval_low_kJ_m2": low,
                "interval_high_kJ_m2": high,
                "conforms": record["results"]["conforms"],
            }
        )


def lookup_rows(sheet: HammerSheet, names: Sequence[str]) -> Iterator[Row]:
    """The rows of a look-up table under the names of its columns: reading, loss, energy and strengths."""
    table = sheet.every
    columns = (table.readings, table.loss_J, table.energy_J, *table.strength_kJ_m2)
    for row in zip(*(each.tolist() for each in columns), strict=True):
        yield published(dict(zip(names, row, strict=True)))


def _flat(readings: Row) -> Row:
    """A file on one row: its mappings side by side, numbers that were read one after the other in one field."""
    row: Row = {}
    for key, value in readings.items():
        row |= value if isinstance(value, dict) else {key: value}
    return {key: " ".join(map(repr, value)) if isinstance(value, list) else value for key, value in row.items()}


def swings_row(record_id: str, document: Document, found: Row) -> Row:
    """The free swings of a group on one row, readings and results side by side."""
    return _flat(document.data) | found | {"record": record_id}


def verification_row(verification: Row) -> Row:
    """A verification on one row."""
    nominal = verification["hammer"]["nominal_energy_J"] if verification["hammer"] is not None else None
    results: Row = verification["results"]
    own = {"verification": verification["verification"], "nominal_energy_J": nominal}
    return _flat(verification["readings"]) | results | own
