"""Pages of the test records, and their index."""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from functools import partial
from typing import Any

from markupsafe import Markup

from notchbook.charts.kinds import kinds_of
from notchbook.charts.shown import SetMark, SpecimenMark, SpecimensChart, WindowChart, WindowMark
from notchbook.charts.specimens import specimens_chart
from notchbook.charts.window import window_chart
from notchbook.facts import hammer_words
from notchbook.facts.facts import Facts
from notchbook.facts.records import RecordFacts
from notchbook.findings import Finding
from notchbook.model.rig import Indicator
from notchbook.pages.data.dataset import Dataset, record_dataset
from notchbook.pages.page import NAVIGATION, Page, page_uri
from notchbook.pages.record.filters import record_filters
from notchbook.pages.record.handling import handling, state
from notchbook.pages.record.report import report_items
from notchbook.pages.record.uncertainty import uncertainty_section
from notchbook.pages.record.worked import worked_specimen
from notchbook.wording.dates import day_words

INDEX = "records/index.md"
FOLDER = "records"
_NEWEST = 0.25
"""By how much a search prefers the newest record to the oldest: less than one more of the words sought weighs."""


def record_pages(facts: Facts) -> Iterator[Page]:
    """One page a record, in the order of their ids."""
    days = sorted({each.date for each in facts.records.values()})
    for line in facts.records.values():
        yield _record_page(facts, line, 1.0 + _NEWEST * bisect_left(days, line.date) / len(days))


def records_index(facts: Facts) -> Page:
    """The table of all records, the newest first, with what it can be filtered by."""
    lines = facts.newest_records
    breaks = kinds_of(line.method for line in lines)
    values = {"lines": lines, "filters": record_filters(facts, lines), "breaks": breaks}
    return Page(INDEX, "records.html.j2", "Test records", values, hidden=NAVIGATION)


def _record_page(facts: Facts, line: RecordFacts, boost: float) -> Page:
    """A page whose values are worked out of the record and its file alone, so that an equal one has equal values."""
    record, document = line.record, facts.document("test", line.record.id)
    title = f"{line.material_name}, {line.exercise_name}, {day_words(record.date)}, {record.group}"
    findings = facts.handbook.findings_in("test", record.id)
    dataset = record_dataset(line, document.data, facts.notice, title)
    return Page(
        page_uri(FOLDER, record.id),
        "record.html.j2",
        title,
        source=document.path,
        hidden=NAVIGATION,
        boost=round(boost, 4),
        made_of=(line, findings, dataset),
        work_out=partial(_values, line, findings, dataset),
    )


def _values(line: RecordFacts, findings: Sequence[Finding], dataset: Dataset) -> dict[str, Any]:
    return {
        "line": line,
        "record": line.record,
        "rig": line.rig,
        "verification": line.verification,
        "losses": line.losses,
        "rows": line.bars,
        "energy": hammer_words.energy(line.hammer, line.verification) if line.hammer is not None else "",
        "reading": _reading(line.scale_read),
        "outlying": line.outlying,
        "charts": [chart for chart in (bars_chart(line, "bars"), used_chart(line, "used")) if chart],
        "worked": worked_specimen(line),
        "uncertainty": uncertainty_section(line),
        "report": report_items(line),
        "handling": handling(line),
        "state": state(line),
        "findings": findings,
        "dataset": dataset,
        "rules": {each.rule for each in line.verdict.deviations},
    }


def _reading(scale: Indicator | None) -> dict[str, Any]:
    """How the readings of a scale are set: the key, the head of the column, and the decimals of its division."""
    decimals = _decimals(scale.division if scale is not None else None)
    if scale is not None and scale.reads == "energy":
        return {"key": "indicated_energy_J", "head": "Indicated, J", "decimals": decimals}
    return {"key": "rise_angle_deg", "head": "Rise, °", "decimals": decimals}


def _decimals(division: float | None) -> int:
    """How many decimals a reading to that division has."""
    return len(f"{division:.10f}".rstrip("0").partition(".")[2]) if division else 1


def bars_chart(line: RecordFacts, prefix: str) -> str:
    """The chart of the single specimens."""
    if line.result is None or line.method is None:
        return ""
    marks = tuple(
        SpecimenMark(each.id, each.break_type, each.strength_kJ_m2, each.excluded is not None)
        for each in line.result.specimens
    )
    sets = tuple(SetMark(each.result.breaks, each.n, each.result.summary.mean, each.interval) for each in line.sets)
    title = f"Single bars of {line.material_name}, {day_words(line.date)}"
    unbroken = line.unbroken_words if line.unbroken_lead else ""
    chart = SpecimensChart(prefix, title, marks, sets, kinds_of([line.method]), unbroken)
    return Markup(specimens_chart(chart))  # noqa: S704  # the chart escapes its texts


def used_chart(line: RecordFacts, prefix: str) -> str:
    """The chart of the share of the hammer's energy that each bar used."""
    if line.result is None or line.method is None:
        return ""
    marks = tuple(
        WindowMark(each.id, each.break_type, each.used_pct, each.excluded is not None)
        for each in line.result.specimens
        if each.used_pct is not None
    )
    if not marks:
        return ""
    title = f"Energy used of the hammer, {line.material_name}, {day_words(line.date)}"
    chart = WindowChart(prefix, title, marks, line.method.energy_window, kinds_of([line.method]))
    return Markup(window_chart(chart))  # noqa: S704  # the chart escapes its texts
