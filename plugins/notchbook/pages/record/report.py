"""What a test report needs to contain, and what of it a record shows."""

import re
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from notchbook.facts.records import RecordFacts, ReportedSet
from notchbook.model.record import Specimen
from notchbook.pages.record.handling import clamp_torque, notch_radius, state, transfer
from notchbook.wording.dates import day_words
from notchbook.wording.lists import counted
from notchbook.wording.numbers import plain, to_decimals, to_figures

_YEAR = re.compile(r"\b(?:19|20)[0-9]{2}\b")


@dataclass(frozen=True, slots=True)
class ReportItem:
    """One item of a test report."""

    title: str
    value: str
    """What the record says, empty where it says nothing."""
    missing: str = ""
    """What it does not say, empty where nothing is missing."""
    anchor: str = ""
    """Part of the record's page that has the details, empty where there are no others."""


def report_items(line: RecordFacts) -> list[ReportItem]:
    """The items in the order in which a report gives them; ISO 179-1 and ISO 180, test report (from memory)."""
    return [
        _standard(line),
        _material(line),
        _specimens(line),
        _notch(line),
        ReportItem("Dimensions", _dimensions(line.record.specimens), anchor="specimens"),
        _conditions(line),
        *_clamp(line),
        _number(line),
        _pendulum(line),
        _means(line),
        _breaks(line),
        *_spread(line),
        _deviations(line),
        ReportItem("Date of the test", day_words(line.date)),
    ]


def _standard(line: RecordFacts) -> ReportItem:
    title = "Standard and designation"
    if line.method is None:
        return ReportItem(title, "", "the hammer's method is not known")
    missing = "" if _YEAR.search(line.method.standard) else "the year of the edition"
    return ReportItem(title, f"{line.method.standard}, {line.designation}", missing)


def _material(line: RecordFacts) -> ReportItem:
    known = f"{line.material.title} ({line.material.symbol})" if line.material else ""
    parts = [*([known] if known else []), *([f"batch {line.record.batch}"] if line.record.batch else [])]
    missing = [*([] if known else ["the material"]), *([] if line.record.batch else ["the batch"])]
    return ReportItem("Material", ", ".join(parts), " and ".join(missing))


def _specimens(line: RecordFacts) -> ReportItem:
    chosen = line.record.specimen
    form = line.material.form if line.material else None
    value = f"type {chosen.type}, struck {chosen.direction}{f'; {form}' if form else ''}"
    return ReportItem("Specimens", value, "" if form else "how they were made")


def _notch(line: RecordFacts) -> ReportItem:
    if line.record.specimen.notch == "none":
        return ReportItem("Notch", "none")
    radius = notch_radius(line)
    return ReportItem("Notch", f"{line.notch_words}{f', radius at its base {radius}' if radius else ''}")


def _dimensions(specimens: tuple[Specimen, ...]) -> str:
    parts = [
        ("width", [each.width_mm for each in specimens]),
        ("thickness", [each.thickness_mm for each in specimens]),
        ("remaining width", [each.remaining_width_mm for each in specimens if each.remaining_width_mm is not None]),
    ]
    return ", ".join(f"{name} {_range(values)} mm" for name, values in parts if values)


def _range(values: list[float]) -> str:
    low, high = to_decimals(min(values), 2), to_decimals(max(values), 2)
    return low if low == high else f"{low} to {high}"


def _conditions(line: RecordFacts) -> ReportItem:
    both = line.record.conditioning, line.record.test_atmosphere
    before, during = (_climate(each.temperature_C, each.humidity_pct) for each in both)
    moisture, moved = state(line), transfer(line)
    kept = f"{plain(line.record.conditioning.hours)} h {before}{f', {moisture}' if moisture else ''}"
    value = f"{kept}; tested {during}{f', {moved} after' if moved else ''}"
    return ReportItem("Conditioning and atmosphere", value, anchor="conditions")


def _clamp(line: RecordFacts) -> list[ReportItem]:
    torque = clamp_torque(line)
    return [ReportItem("Clamp torque", torque)] if torque else []


def _climate(temperature_C: float, humidity_pct: float) -> str:
    return f"at {plain(temperature_C)} °C and {plain(humidity_pct)} %"


def _number(line: RecordFacts) -> ReportItem:
    excluded = len(line.record.specimens) - line.counted
    apart = f", and {counted(excluded, 'more')} that {'does' if excluded == 1 else 'do'} not count"
    return ReportItem("Number tested", f"{counted(line.counted, 'bar')}{apart if excluded else ''}")


def _pendulum(line: RecordFacts) -> ReportItem:
    if line.hammer is None:
        return ReportItem("Pendulum", "", "the hammer is not known")
    energy, velocity = plain(line.hammer.nominal_energy_J), to_decimals(line.hammer.velocity_m_s, 2)
    value = f"nominal energy {energy} J, velocity at impact {velocity} m/s"
    return ReportItem("Pendulum", value, anchor="what-it-rests-on")


def _means(line: RecordFacts) -> ReportItem:
    title = "Mean for each break type"
    means = _of_sets(line.sets, lambda each: f"{each.reported} {each.result.quantity.unit}")
    if line.unbroken_lead:
        rest = f"; of the others {means}" if means else ", and so there is none"
        return ReportItem(title, f"{line.unbroken_words} bars did not break ({line.unbroken_name}){rest}")
    return ReportItem(title, means, "" if means else "no strength is known")


def _of_sets(sets: Iterable[ReportedSet], words: Callable[[ReportedSet], str]) -> str:
    return "; ".join(f"{each.letters}: {words(each)}" for each in sets)


def _breaks(line: RecordFacts) -> ReportItem:
    counts = Counter(each.break_type for each in line.record.specimens if each.excluded is None)
    shares = [
        f"{count} {letter} ({to_figures(100.0 * count / line.counted, 2)} %)" for letter, count in counts.most_common()
    ]
    return ReportItem("How the bars broke", ", ".join(shares))


def _spread(line: RecordFacts) -> list[ReportItem]:
    """Single values, and standard deviation and interval of each set of two bars and more."""
    spread = [each for each in line.sets if each.result.summary.standard_deviation is not None]
    single = [each.letters for each in line.sets if each.result.summary.standard_deviation is None]
    missing = f"one bar alone ({', '.join(single)}) has none" if single else ""
    if not line.sets:
        missing = "without a mean there is none"
    return [
        ReportItem("Single values", "in the table of specimens", anchor="specimens"),
        ReportItem("Standard deviation", _of_sets(spread, _deviation), missing),
        ReportItem("95 % interval of the mean", _of_sets(spread, _interval), missing, anchor="uncertainty"),
        ReportItem("The same from scatter alone", _of_sets(spread, lambda each: each.scatter_interval_words), missing),
    ]


def _deviation(each: ReportedSet) -> str:
    return f"{to_figures(each.result.summary.standard_deviation, 2)} {each.result.quantity.unit}"


def _interval(each: ReportedSet) -> str:
    impossible = ", of which what is below 0 cannot be" if each.interval_below_zero else ""
    return f"{each.interval_words}{impossible}"


def _deviations(line: RecordFacts) -> ReportItem:
    title = "Departures from the method"
    if line.verdict.deviations:
        return ReportItem(title, ", ".join(each.rule for each in line.verdict.deviations))
    return ReportItem(title, "none found by the checks" if line.verdict.conforms else "see what the checks say")
