"""Results of several records on one chart; those that depart from their method are left out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from markupsafe import Markup

from notchbook.charts.comparison import ComparisonChart, ComparisonGroup, ComparisonRow, comparison_chart

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from notchbook.pages.results import ResultLine

# A chart of more rows than this is no longer read; the newest are shown and the table has them all.
MOST_ROWS = 30


def by_material(title: str, lines: Sequence[ResultLine], prefix: str = "results") -> list[str]:
    """One chart of the records, the newest ones, under their materials; none without results."""
    groups = _grouped(lines, lambda line: line.material_name)
    if not groups:
        return []
    drawn = tuple(ComparisonGroup(name, tuple(rows)) for name, rows in sorted(groups.items()))
    return [_chart(prefix, title, drawn)]


def by_designation(title: str, lines: Sequence[ResultLine], prefix: str = "results") -> list[str]:
    """A chart for each designation: tests of different bars and methods share no axis."""
    groups = _grouped(lines, lambda line: line.designation)
    return [
        _chart(f"{prefix}-{number}", f"{title}, {name}", (ComparisonGroup(name, tuple(rows)),))
        for number, (name, rows) in enumerate(sorted(groups.items()))
    ]


def _grouped(lines: Sequence[ResultLine], group_of: Callable[[ResultLine], str]) -> dict[str, list[ComparisonRow]]:
    groups: dict[str, list[ComparisonRow]] = {}
    for line in [each for each in lines if each.verdict.conforms and each.sets][:MOST_ROWS]:
        for each in line.sets:
            summary = each.result.summary
            row = ComparisonRow(
                f"{line.date:%Y-%m-%d} {line.record.group}", each.result.breaks, summary.mean, summary.interval
            )
            groups.setdefault(group_of(line), []).append(row)
    return groups


def _chart(prefix: str, title: str, groups: tuple[ComparisonGroup, ...]) -> str:
    return Markup(comparison_chart(ComparisonChart(prefix, title, groups)))  # noqa: S704  # the chart escapes its texts
