"""Groups compared: a page for each material in an exercise and half-year, and their index."""

from collections.abc import Iterator
from functools import partial
from typing import Any

from markupsafe import Markup

from notchbook.charts.comparison import comparison_chart
from notchbook.charts.consistency import ConsistencyChart, ConsistencyRow, consistency_chart
from notchbook.charts.kinds import kinds_of
from notchbook.charts.shown import ComparisonChart, ComparisonGroup, ComparisonRow
from notchbook.facts.comparisons import Comparison, TermComparisons
from notchbook.facts.consistency import DIFFERENCE_LIMIT, E691, OUTLIER, STRAGGLER, Consistency
from notchbook.facts.facts import Facts
from notchbook.model.method import Method
from notchbook.pages.page import TOC, Page

FOLDER = "comparisons"
INDEX = f"{FOLDER}/index.md"
_MOST_LINKS = 4
"""Pages that another one names: they grow more every year, and the index has them all."""


def comparison_uri(each: TermComparisons) -> str:
    """Path of its page; no id holds an underscore."""
    return f"{FOLDER}/{each.exercise}_{each.material}_{each.term.id}.md"


def comparison_pages(facts: Facts) -> Iterator[Page]:
    """The pages of all half-years, the newest first."""
    for each in facts.term_comparisons:
        exercise, material = names(facts, each)
        title = f"{material}, {exercise}, {each.term.words}"
        method = facts.methods.get(each.found[0].subject.method)
        yield Page(
            comparison_uri(each), "comparison.html.j2", title, hidden=TOC, made_of=(each, exercise, material, method),
            work_out=partial(_values, each, exercise, material, method),
        )  # fmt: skip


def comparisons_index(facts: Facts) -> Page:
    """The list of these pages."""
    rows = [(each, *names(facts, each), comparison_uri(each)) for each in facts.term_comparisons]
    return Page(INDEX, "comparisons.html.j2", "Groups compared", {"rows": rows})


def links_to(facts: Facts, key: str, object_id: str) -> list[tuple[str, str]]:
    """The newest of these pages of an exercise or a material, by the key that names it: paths with titles."""
    own = [each for each in facts.term_comparisons if getattr(each, key) == object_id][:_MOST_LINKS]
    other = 1 if key == "exercise" else 0
    return [(comparison_uri(each), f"{names(facts, each)[other]}, {each.term.words}") for each in own]


def names(facts: Facts, each: TermComparisons) -> tuple[str, str]:
    """Title of the exercise and symbol of the material, or their ids where they are not known."""
    exercise, material = facts.exercises.get(each.exercise), facts.materials.get(each.material)
    return exercise.exercise.title if exercise else each.exercise, material.symbol if material else each.material


def _values(each: TermComparisons, exercise: str, material: str, method: Method | None) -> dict[str, Any]:
    return {
        "of_term": each,
        "exercise": exercise,
        "material": material,
        "sections": [_section(found, f"c{place}", method) for place, found in enumerate(each.found, start=1)],
        "limit": DIFFERENCE_LIMIT,
    }


def _section(found: Comparison, prefix: str, method: Method | None) -> dict[str, Any]:
    labels = [each.label for each in found.cells]
    beside = Consistency(found.precision, labels)
    return {
        "found": found,
        "precision": found.precision,
        "beside": beside,
        "means": Markup(_means_chart(found, prefix, method)),  # noqa: S704  # the charts escape their texts
        "consistency": Markup(_consistency_chart(beside, f"{prefix}k")),  # noqa: S704
        "limits": [
            (words, beside.h_limit(significance), beside.k_limit(significance))
            for words, significance in (
                ("ISO 5725-2, one in 20", STRAGGLER),
                ("ISO 5725-2, one in 100", OUTLIER),
                ("ASTM E691, one in 200", E691),
            )
        ],
    }


def _means_chart(found: Comparison, prefix: str, method: Method | None) -> str:
    rows = tuple(
        ComparisonRow(cell.label, cell.breaks, summary.mean, cell.interval, bool(found.subject.departure.words))
        for cell, summary, _, _ in found.rows
    )
    return comparison_chart(
        ComparisonChart(
            prefix, f"Means of the groups, {found.title}", (ComparisonGroup("", rows),), kinds_of([method]),
            middle_kJ_m2=found.precision.mean,
        )
    )  # fmt: skip


def _consistency_chart(beside: Consistency, prefix: str) -> str:
    def limits(of: list[float | None]) -> tuple[float, ...]:
        return tuple(each for each in of if each is not None)

    rows = (ConsistencyRow(*each) for each in zip(beside.labels, beside.found.h, beside.found.k, strict=True))
    chart = ConsistencyChart(
        prefix,
        "Means and scatter of the groups beside their limits",
        tuple(rows),
        limits([beside.h_limit(STRAGGLER), beside.h_limit(OUTLIER)]),
        limits([beside.k_limit(STRAGGLER), beside.k_limit(OUTLIER)]),
    )
    return consistency_chart(chart)
