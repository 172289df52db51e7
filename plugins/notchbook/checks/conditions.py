"""Climate before and during the test, against the method and against the other records of the handbook."""

from collections.abc import Iterator

from notchbook.checks.subject import Check, Complaint, RecordCase
from notchbook.checks.words import outside
from notchbook.findings import Rule, Severity
from notchbook.model.method import Climate, Method
from notchbook.model.record import Atmosphere, Conditioning
from notchbook.wording.numbers import number

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

CONDITIONING_HOURS = Rule(
    "conditioning-hours",
    "The hours of conditioning are ones that other records of the method have too",
    "Hours and humidity are of the same size; exchanged, or with a slipped decimal point, both may still be allowed.",
    "the number that stands there is in none of five or more other records, the one that should is in one of them: "
    "common practice, no source",
    "Compare with the log of the chamber; leave it if the bars really were kept so long.",
    Severity.WARNING,
)
CONDITIONING_CLIMATE = Rule(
    "conditioning-climate",
    "A climate that is declared to depart from the method's is still near that of the other records",
    "A declared deviation of the conditioning covers hours, temperature and humidity alike, so that a slip of the "
    "decimal point or of the sign passes below it.",
    "more than 15 °C or 30 % from the middle of six or more records of the method: common practice, no source",
    "Compare with the log of the chamber; acknowledge it if the bars really were kept in that climate.",
    Severity.WARNING,
)
_FEWEST_OTHERS = 5
_FURTHEST = {"temperature_C": 15.0, "humidity_pct": 30.0}
"""From the middle of all records of a method, beyond which a slip is likelier than another climate."""
_BEYOND = 2.0
"""Times the longest, or this part of the shortest, that any other record has, beyond which a slip is likelier."""

_UNITS = {"temperature_C": ("the temperature", "°C"), "humidity_pct": ("the humidity", "%"), "hours": ("the time", "h")}


def _climate(
    method: Method, measured: Conditioning | Atmosphere, asked: Climate, key: str, hint: str
) -> Iterator[Complaint]:
    for name, (words, _) in _UNITS.items():
        found, requirement = getattr(measured, name, None), getattr(asked, name)
        yield from outside((key, name), words, found, requirement, method.standard, hint)


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


def conditioning_hours(case: RecordCase) -> Iterator[Complaint]:
    """Hours that look exchanged with the humidity, or ten times too many or too few."""
    climates = case.around.climates.get(case.exercise.method) if case.exercise is not None else None
    measured = case.record.conditioning
    hours, humidity_pct = measured.hours, measured.humidity_pct
    if climates is None or climates.hours.total() <= _FEWEST_OTHERS or climates.hours[hours] > 1:
        return
    if any(conditioning(case)):
        return
    others = [each for each in climates.hours if each != hours]
    if not others:
        return
    if hours != humidity_pct and humidity_pct in others and climates.humidities_pct[hours]:
        yield Complaint(
            ("conditioning", "hours"),
            f"no other record of this method was conditioned for {number(hours)} h; other records have "
            f"{number(humidity_pct)} h and {number(hours)} % humidity: the two look exchanged",
            "compare with the log of the chamber",
        )
        return
    longest, shortest = max(others), min(others)
    for right, words, slipped in (
        (hours / 10.0, "ten times", hours > _BEYOND * longest and hours % 10.0 == 0.0),
        (hours * 10.0, "a tenth of", hours < shortest / _BEYOND or hours % 1.0 > 0.0),
    ):
        if slipped and any(abs(right - each) <= 1e-6 * each for each in others):
            yield Complaint(
                ("conditioning", "hours"),
                f"{number(hours)} h are {words} the {number(right)} h of other records, and no other record has them",
                "see whether the decimal point slipped; compare with the log of the chamber",
            )
            return


def conditioning_climate(case: RecordCase) -> Iterator[Complaint]:
    """A climate far from all others, which a declared deviation would cover."""
    exercise = case.exercise
    climates = case.around.climates.get(exercise.method) if exercise is not None else None
    if exercise is None or climates is None or climates.hours.total() <= _FEWEST_OTHERS:
        return
    declared = {each.rule for each in (*case.record.deviations, *exercise.accepted_deviations)}
    departing = {complaint.keys[1] for complaint in conditioning(case)} if CONDITIONING.id in declared else set()
    for name, furthest in _FURTHEST.items():
        value, (words, unit) = getattr(case.record.conditioning, name), _UNITS[name]
        if name in departing and abs(value - climates.middle(name)) > furthest:
            yield Complaint(
                ("conditioning", name),
                f"{words} of {number(value)} {unit} lies far from the {number(climates.middle(name))} {unit} of the "
                "other records, further than a declared deviation explains",
                "compare with the log of the chamber",
            )


RECORD_CHECKS = (
    Check(CONDITIONING, conditioning),
    Check(TEST_ATMOSPHERE, test_atmosphere),
    Check(CONDITIONING_HOURS, conditioning_hours),
    Check(CONDITIONING_CLIMATE, conditioning_climate),
)
