"""The values of a test record that a hand-written page may show: of the record, of one of its sets, of one bar."""

import re
from collections.abc import Callable
from typing import Literal

from notchbook.evaluation.records import SpecimenResult
from notchbook.facts.records import RecordFacts, ReportedSet
from notchbook.facts.toss import Toss, toss_of
from notchbook.model.record import Specimen
from notchbook.pages.written.filled import MissingValueError, UnknownValueError, with_unit
from notchbook.wording.dates import day_words
from notchbook.wording.nearest import nearest
from notchbook.wording.numbers import to_decimals

_STRENGTH = "kJ/m²"
_SHARE_OF_MEAN = 0.05
"""How well the mean is to be known where the number of bars for it is asked."""
_BAR = re.compile(r"bar (?P<id>\S+) (?P<name>.+)\Z")
_SET = re.compile(r"(?P<letters>[A-Za-z0-9+]+) (?P<name>.+)\Z")


def _summary(name: str, figures: int, unit: str) -> Callable[[ReportedSet], str | None]:
    return lambda found: with_unit(getattr(found.result.summary, name), figures, unit)


def _bars_for_mean(found: ReportedSet) -> str | None:
    number = found.bars_for(_SHARE_OF_MEAN)
    return None if number is None else str(number)


_OF_SET: dict[str, Callable[[ReportedSet], str | None]] = {
    "result": lambda found: f"{found.reported}\N{NO-BREAK SPACE}{_STRENGTH}",
    "mean": _summary("mean", 3, _STRENGTH),
    "standard deviation": _summary("standard_deviation", 2, _STRENGTH),
    "variation": _summary("variation_pct", 2, "%"),
    "interval": lambda found: found.interval_words or None,
    "half-width": lambda found: with_unit(found.expanded_kJ_m2, 2, _STRENGTH),
    "interval from scatter alone": lambda found: found.scatter_interval_words or None,
    "half-width from scatter alone": lambda found: with_unit(found.half_width_kJ_m2(found.n), 2, _STRENGTH),
    "bars for 5 %": _bars_for_mean,
    "n": lambda found: str(found.n),
    "breaks": lambda found: found.words,
}


_OF_RECORD: dict[str, Callable[[RecordFacts], str | None]] = {
    "unbroken": lambda line: str(line.unbroken),
    "counted": lambda line: str(line.counted),
    "designation": lambda line: line.designation,
    "date": lambda line: day_words(line.date),
    "group": lambda line: line.record.group,
    "material": lambda line: line.material_name,
    "hammer": lambda line: line.hammer.title if line.hammer else None,
    "temperature": lambda line: with_unit(line.record.test_atmosphere.temperature_C, None, "°C"),
    "notch radius": lambda line: with_unit(line.record.notch_radius_mm, None, "mm"),
    "clamp torque": lambda line: with_unit(line.record.clamp_torque_Nm, None, "Nm"),
    "transfer time": lambda line: with_unit(line.record.transfer_s, None, "s"),
    "state": lambda line: line.record.conditioning.state,
    "conditioning temperature": lambda line: with_unit(line.record.conditioning.temperature_C, None, "°C"),
}


def _indicated(_: Specimen, found: SpecimenResult) -> str | None:
    """The energy that the rise alone gives, before any loss is taken off."""
    if found.energy_J is None or found.loss_J is None:
        return None
    return with_unit(found.energy_J + found.loss_J, 3, "J")


def _energy_per_thickness(bar: Specimen, found: SpecimenResult) -> str | None:
    return None if found.energy_J is None else with_unit(1000.0 * found.energy_J / bar.thickness_mm, 3, "J/m")


def _mm(value: float | None) -> str | None:
    return None if value is None else f"{to_decimals(value, 2)}\N{NO-BREAK SPACE}mm"


_OF_BAR: dict[str, Callable[[Specimen, SpecimenResult], str | None]] = {
    "width": lambda bar, _: _mm(bar.width_mm),
    "thickness": lambda bar, _: _mm(bar.thickness_mm),
    "remaining width": lambda bar, _: _mm(bar.remaining_width_mm),
    "section": lambda bar, _: with_unit(bar.thickness_mm * (bar.remaining_width_mm or bar.width_mm), 3, "mm²"),
    "rise": lambda _, found: None if found.rise_angle_deg is None else f"{to_decimals(found.rise_angle_deg, 1)}°",
    "indicated energy": _indicated,
    "loss": lambda _, found: with_unit(found.loss_J, 2, "J"),
    "energy": lambda _, found: with_unit(found.energy_J, 3, "J"),
    "energy per thickness": _energy_per_thickness,
    "used": lambda _, found: with_unit(found.used_pct, 3, "%"),
    "strength": lambda _, found: with_unit(found.strength_kJ_m2, 3, _STRENGTH),
    "break": lambda bar, _: bar.break_type,
}
_OF_TOSS: dict[str, Callable[[Toss, float], str | None]] = {
    "mass": lambda toss, _: with_unit(1000.0 * toss.mass_kg, 3, "g"),
    "least toss energy": lambda toss, _: with_unit(toss.least_J, 2, "J"),
    "most toss energy": lambda toss, _: with_unit(toss.most_J, 2, "J"),
    "least toss share": lambda toss, energy_J: with_unit(100.0 * toss.least_J / energy_J, 2, "%"),
    "most toss share": lambda toss, energy_J: with_unit(100.0 * toss.most_J / energy_J, 2, "%"),
}
"""What flies off, and its share of the energy that the bar absorbed."""
_LOSS_FORMS: dict[str, Literal["plastics", "metals"]] = {"plastics loss": "plastics", "metals loss": "metals"}
_BAR_NAMES = (*_OF_BAR, *_OF_TOSS, *_LOSS_FORMS)
NAMES = (*_OF_SET, *_OF_RECORD, *(f"bar ID {each}" for each in _BAR_NAMES), *(f"LETTERS {each}" for each in _OF_SET))
"""As a page may write them; for the largest set unless the letters of another are put first."""


def record_value(line: RecordFacts, name: str, pictures: list[str]) -> str | None:
    """The value of that name, None where it cannot be had; raises UnknownValueError.

    Arguments:
        line: the record.
        name: the value's name.
        pictures: names of the record's pictures, which a hint may offer.
    """
    if bar := _BAR.match(name):
        return _bar_value(line, bar["id"], bar["name"])
    if name in _OF_RECORD:
        return _OF_RECORD[name](line)
    if name == "result" and line.unbroken_lead:
        means = [f"{_OF_SET[name](each)} of {each.n} ({each.letters})" for each in line.sets]
        return "; ".join([f"{line.unbroken_words} bars did not break", *means])
    if name in _OF_SET:
        return _OF_SET[name](line.sets[0]) if line.sets else None
    if (chosen := _SET.match(name)) and chosen["name"] in _OF_SET:
        return _OF_SET[chosen["name"]](_set_of(line, chosen["letters"]))
    bars = [f"bar {line.record.specimens[0].id} {each}" for each in _BAR_NAMES]
    raise UnknownValueError(f"a test has no value '{name}'", nearest(name, [*_OF_SET, *_OF_RECORD, *pictures, *bars]))


def _set_of(line: RecordFacts, letters: str) -> ReportedSet:
    found = {each.letters: each for each in line.sets}
    if letters not in found:
        raise MissingValueError(f"test '{line.record.id}' has no mean of '{letters}'", nearest(letters, found))
    return found[letters]


def _bar_value(line: RecordFacts, bar_id: str, name: str) -> str | None:
    record, result = line.record, line.result
    places = {each.id: index for index, each in enumerate(record.specimens)}
    if bar_id not in places:
        raise UnknownValueError(f"test '{record.id}' has no bar '{bar_id}'", nearest(bar_id, places))
    if name not in _BAR_NAMES:
        raise UnknownValueError(f"a bar has no value '{name}'", nearest(name, _BAR_NAMES))
    if result is None:
        return None
    found = result.specimens[places[bar_id]]
    if name in _OF_BAR:
        return _OF_BAR[name](record.specimens[places[bar_id]], found)
    if name in _OF_TOSS:
        toss = toss_of(line, record.specimens[places[bar_id]])
        return _OF_TOSS[name](toss, found.energy_J) if toss is not None and found.energy_J else None
    if result.losses is None or found.rise_angle_deg is None:
        return None
    loss_J = result.losses.in_test_J(_LOSS_FORMS[name], found.rise_angle_deg)
    return None if loss_J is None else with_unit(float(loss_J), 3, "J")
