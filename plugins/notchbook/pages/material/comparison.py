"""Results of several records on one chart; those that depart from their method are left out."""

from collections.abc import Callable, Sequence

from markupsafe import Markup

from notchbook.charts.comparison import comparison_chart
from notchbook.charts.kinds import kinds_of
from notchbook.charts.shown import ComparisonChart, ComparisonGroup, ComparisonRow
from notchbook.facts.records import RecordFacts

# A chart of more rows than this is no longer read; the newest are shown and the table has them all.
MOST_ROWS = 30
# From this ratio of the largest mean to the smallest on, a straight axis would crowd the small ones together.
_RATIO_FOR_LOGARITHMIC = 4.0


def by_material(title: str, lines: Sequence[RecordFacts], prefix: str = "results") -> list[str]:
    """One chart of the records, the newest ones, under their materials; none without results."""
    groups = _grouped(lines, lambda line: line.material_name)
    return _chart(prefix, title, dict(sorted(groups.items())), lines)


def by_test(title: str, lines: Sequence[RecordFacts], prefix: str = "results") -> list[str]:
    """One chart of the records of one material, the newest ones, under the designations of their tests.

    The methods follow each other, and in each the bars from the one without a notch to the one with the sharpest.
    """
    ordered = sorted(lines, key=lambda line: (line.method.standard if line.method else "", -line.notch_radius_mm))
    return _chart(prefix, title, _grouped(ordered, lambda line: f"{line.designation}, {line.notch_words}"), lines)


def _grouped(lines: Sequence[RecordFacts], group_of: Callable[[RecordFacts], str]) -> dict[str, list[ComparisonRow]]:
    conforming = [each for each in lines if each.verdict.conforms and (each.sets or each.unbroken)]
    newest = {each.record.id for each in sorted(conforming, key=lambda each: each.date, reverse=True)[:MOST_ROWS]}
    groups: dict[str, list[ComparisonRow]] = {}
    for line in [each for each in conforming if each.record.id in newest]:
        label = f"{line.date:%Y-%m-%d} {line.record.group}"
        rows = groups.setdefault(group_of(line), [])
        for each in line.sets:
            summary = each.result.summary
            rows.append(ComparisonRow(label, each.result.breaks, summary.mean, summary.interval))
        if line.unbroken:
            rows.append(ComparisonRow(label, line.unbroken_letters, None, None))
    return groups


def _chart(prefix: str, title: str, groups: dict[str, list[ComparisonRow]], lines: Sequence[RecordFacts]) -> list[str]:
    if not groups:
        return []
    drawn = tuple(ComparisonGroup(heading, tuple(rows)) for heading, rows in groups.items())
    means = [row.mean_kJ_m2 for rows in groups.values() for row in rows if row.mean_kJ_m2 is not None]
    wide = bool(means) and min(means) > 0.0 and max(means) > _RATIO_FOR_LOGARITHMIC * min(means)
    chart = ComparisonChart(prefix, title, drawn, kinds_of(line.method for line in lines), logarithmic=wide)
    return [Markup(comparison_chart(chart))]  # noqa: S704  # the chart escapes its texts
