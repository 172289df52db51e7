"""Climate before and during the test."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.checks.subject import Check, Complaint
from notchbook.checks.words import departs
from notchbook.findings import Rule

if TYPE_CHECKING:
    from collections.abc import Iterator

    from notchbook.checks.subject import RecordCase
    from notchbook.model.method import Climate, Method
    from notchbook.model.record import Atmosphere, Conditioning

_WHY = "Temperature and moisture change how plastics break, some of them by a factor."

CONDITIONING = Rule(
    "conditioning",
    "The bars were kept in the method's climate long enough",
    _WHY,
    "ISO 179-1, 6.5; ISO 180, 6.5; ISO 291",
    "Check the log of the climate; if it is right, condition new bars for the full time and test them.",
    declarable=True,
)
TEST_ATMOSPHERE = Rule(
    "test-atmosphere",
    "The bars were tested in the method's climate",
    _WHY,
    "ISO 291, Table 2",
    "Check the reading of the room; if it is right, test again when the climate is right.",
    declarable=True,
)

_UNITS = {"temperature_C": ("the temperature", "°C"), "humidity_pct": ("the humidity", "%"), "hours": ("the time", "h")}


def _climate(
    method: Method, measured: Conditioning | Atmosphere, asked: Climate, key: str, hint: str
) -> Iterator[Complaint]:
    for name, (words, unit) in _UNITS.items():
        requirement, value = getattr(asked, name), getattr(measured, name, None)
        if requirement is not None and value is not None and not requirement.allows(value):
            yield Complaint((key, name), departs(words, value, unit, requirement, method.standard), hint)


def conditioning(case: RecordCase) -> Iterator[Complaint]:
    """The climate before the test."""
    if case.method is not None:
        hint = "condition the bars again, or declare the deviation"
        yield from _climate(case.method, case.record.conditioning, case.method.conditioning, "conditioning", hint)


def test_atmosphere(case: RecordCase) -> Iterator[Complaint]:
    """The climate during the test."""
    if case.method is not None:
        measured, asked = case.record.test_atmosphere, case.method.test_atmosphere
        yield from _climate(
            case.method, measured, asked, "test_atmosphere", "check the reading, or declare the deviation"
        )


RECORD_CHECKS = (Check(CONDITIONING, conditioning), Check(TEST_ATMOSPHERE, test_atmosphere))
