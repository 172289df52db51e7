"""Results of several records on one chart."""

from collections.abc import Callable, Iterable, Sequence
from itertools import chain

from markupsafe import Markup

from notchbook.charts.comparison import comparison_chart
from notchbook.charts.kinds import kinds_of
from notchbook.charts.shown import ComparisonChart, ComparisonGroup, ComparisonRow
from notchbook.facts.alike import KEPT, alike
from notchbook.facts.facts import Facts
from notchbook.facts.records import RecordFacts
from notchbook.wording.numbers import plain

# A chart of more rows than this is no longer read; the newest are shown and the table has them all.
MOST_ROWS = 30
# From this ratio of the largest mean to the smallest on, a straight axis would crowd the small ones together.
_RATIO_FOR_LOGARITHMIC = 4.0


def by_material(title: str, lines: Sequence[RecordFacts], prefix: str = "results") -> Markup:
    """The newest of the records that keep to their method, under their materials; empty without results."""
    groups = _grouped(lines, lambda line: f"{line.material_name}{_speed(line)}")
    return _chart(prefix, title, sorted(groups.items()), lines)


def by_test(title: str, lines: Sequence[RecordFacts], prefix: str = "results") -> Markup:
    """The same of the records of one material, under the designations of their tests.

    The methods follow each other, and in each the bars from the one without a notch to the one with the sharpest, of
    these the slower blow before the faster one.
    """

    def place(line: RecordFacts) -> tuple[str, float, float]:
        return line.method.standard if line.method else "", -line.notch_radius_mm, line.speed_m_s or 0.0

    ordered = sorted(lines, key=place)
    groups = _grouped(ordered, lambda line: f"{line.designation}, {line.notch_words}{_speed(line)}")
    return _chart(prefix, title, groups.items(), lines)


def chosen_tests(facts: Facts, record_ids: str, prefix: str) -> Markup:
    """The results of some records, their ids with commas between, in that order."""
    lines = [facts.record(each) for each in record_ids.split(",")]
    groups = [(_heading(line), _rows(line)) for line in lines if line.sets or line.unbroken]
    return _chart(prefix, "Results side by side", groups, lines)


def _heading(line: RecordFacts) -> str:
    temperature = plain(line.record.conditioning.temperature_C)
    return f"{line.material_name}, {line.designation}, {line.notch_words}, {temperature} °C{_speed(line)}"


def _speed(line: RecordFacts) -> str:
    """The nominal velocity at the end of a heading: results at different ones are not to be compared."""
    return f", {plain(line.speed_m_s)} m/s" if line.speed_m_s is not None else ""


def _rows(line: RecordFacts) -> list[ComparisonRow]:
    label, deviates = f"{line.date:%Y-%m-%d} {line.record.group}", not line.verdict.conforms
    rows = [
        ComparisonRow(
            label,
            each.result.breaks,
            each.result.summary.mean,
            each.interval,
            deviates,
            f"{each.n} of {line.counted}" if line.unbroken_lead else "",
        )
        for each in line.sets
    ]
    if not line.unbroken:
        return rows
    words = line.unbroken_words if line.unbroken_lead else ""
    unbroken = ComparisonRow(label, line.unbroken_letters, None, None, deviates, words)
    return [unbroken, *rows] if line.unbroken_lead else [*rows, unbroken]


def _grouped(lines: Sequence[RecordFacts], group_of: Callable[[RecordFacts], str]) -> dict[str, list[ComparisonRow]]:
    """The rows by their headings; what departs from a method stands under one of its own, and never alone."""
    kinds = alike(each for each in lines if each.sets or each.unbroken)
    compared = {departure: group for departure, group in kinds.items() if departure is KEPT or group[1:]}
    every = sorted(chain(*compared.values()), key=lambda each: each.date, reverse=True)
    newest = {each.record.id for each in every[:MOST_ROWS]}
    groups: dict[str, list[ComparisonRow]] = {}
    for departure, group in compared.items():
        mark = f" (departs: {departure.words})" if departure.words else ""
        for line in group:
            if line.record.id in newest:
                groups.setdefault(group_of(line) + mark, []).extend(_rows(line))
    return groups


def _chart(
    prefix: str, title: str, groups: Iterable[tuple[str, list[ComparisonRow]]], lines: Iterable[RecordFacts]
) -> Markup:
    drawn = tuple(ComparisonGroup(heading, tuple(rows)) for heading, rows in groups)
    if not drawn:
        return Markup()
    means = [row.mean_kJ_m2 for each in drawn for row in each.rows if row.mean_kJ_m2 is not None]
    wide = bool(means) and min(means) > 0.0 and max(means) > _RATIO_FOR_LOGARITHMIC * min(means)
    chart = ComparisonChart(prefix, title, drawn, kinds_of(line.method for line in lines), logarithmic=wide)
    return Markup(comparison_chart(chart))  # noqa: S704  # the chart escapes its texts
