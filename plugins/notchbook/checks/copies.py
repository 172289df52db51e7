"""Readings that look copied."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.checks.subject import Check, Complaint
from notchbook.findings import Rule, Severity

if TYPE_CHECKING:
    from collections.abc import Iterator

    from notchbook.checks.subject import RecordCase
    from notchbook.model.library import Library
    from notchbook.model.record import Record

# Shorter series of whole scale divisions agree by chance.
_SHORTEST_SERIES = 5

REPEATED_READINGS = Rule(
    "repeated-readings",
    "No two bars of a record have the same dimensions and reading",
    "That all numbers of two bars agree is rare; that a row was copied and not changed is not.",
    "common practice, no source",
    "Compare both rows with the sheet of the day; leave them if they really are alike.",
    Severity.WARNING,
)
COPIED_SERIES = Rule(
    "copied-series",
    "No two records have the same series of readings",
    "That a whole series agrees in its order does not happen by chance.",
    "common practice, no source",
    "Compare both records with their sheets; delete the one that was never measured.",
    Severity.WARNING,
)


def series(record: Record) -> tuple[float, ...]:
    """The readings of a record in their order; empty where they are too few to say anything."""
    readings = tuple(
        specimen.rise_angle_deg if specimen.rise_angle_deg is not None else specimen.indicated_energy_J or 0.0
        for specimen in record.specimens
    )
    return readings if len(readings) >= _SHORTEST_SERIES else ()


def series_of(library: Library) -> dict[tuple[float, ...], list[str]]:
    """Ids of the records by their series, in the order of their ids."""
    found: dict[tuple[float, ...], list[str]] = {}
    for record_id in sorted(library.records):
        readings = series(library.records[record_id])
        if readings:
            found.setdefault(readings, []).append(record_id)
    return found


def repeated_readings(case: RecordCase) -> Iterator[Complaint]:
    """Bars that agree in every number."""
    first: dict[tuple[float | None, ...], str] = {}
    for index, each in enumerate(case.record.specimens):
        row = (
            each.width_mm,
            each.thickness_mm,
            each.remaining_width_mm,
            each.rise_angle_deg,
            each.indicated_energy_J,
        )
        if each.rise_angle_deg is None and each.indicated_energy_J is None:
            continue
        if row in first:
            yield Complaint(
                ("specimens", index),
                f"specimen {each.id} has the same dimensions and reading as specimen {first[row]}: it looks copied",
                "compare with the sheet that was written at the pendulum",
            )
        first.setdefault(row, each.id)


def copied_series(case: RecordCase) -> Iterator[Complaint]:
    """Records with the series of another."""
    others = [each for each in case.around.series.get(series(case.record), ()) if each != case.record.id]
    if others:
        yield Complaint(
            ("specimens",),
            f"the readings are the same, in the same order, as those of {', '.join(others[:3])}: they look copied",
            "compare with the sheets that were written at the pendulum",
        )


RECORD_CHECKS = (Check(REPEATED_READINGS, repeated_readings), Check(COPIED_SERIES, copied_series))
