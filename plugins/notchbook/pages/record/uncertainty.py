"""How sure a record's result is, and what the uncertainty comes from."""

from dataclasses import dataclass

from markupsafe import Markup

from notchbook.charts.shares import SharesChart, shares_chart
from notchbook.evaluation.budgets import Budget, Contribution, SetUncertainty
from notchbook.evaluation.uncertainty import RecordUncertainty
from notchbook.facts.records import RecordFacts
from notchbook.wording.lists import counted
from notchbook.wording.numbers import decimals_of, to_decimals, to_figures

_WORDS = {
    "scatter": "Scatter of the bars",
    "moment": "Moment of the pendulum",
    "gravity": "Gravity",
    "release-angle": "Release angle",
    "rise-angle": "Reading of the rise",
    "first-rise": "First free swing",
    "second-rise": "Second free swing",
    "later-rise": "Later free swing",
    "indicated-energy": "Reading of the energy",
    "first-indicated-energy": "First free swing",
    "second-indicated-energy": "Second free swing",
    "later-indicated-energy": "Later free swing",
    "zero": "Zero of the scale",
    "bar-marks": "Marks of the scale, at the bars",
    "swing-marks": "Marks of the scale, at the free swings",
    "loss-drift": "Losses since they were verified",
    "thickness": "Thickness",
    "width": "Width",
    "remaining-width": "Width under the notch",
}
# A share below this is shown as less than it.
_LEAST_SHARE_PCT = 0.1
_AS_GOOD_AS_INFINITE = 1000
"""Degrees of freedom above which no number of them is told."""


@dataclass(frozen=True, slots=True)
class MeanLine:
    """The uncertainty of the mean of the largest set."""

    mean: str
    """With as many decimals as the expanded uncertainty."""
    expanded: str
    """In kJ/m², to two significant figures."""
    factor: str
    """Coverage factor and what it rests on, in words."""
    n: int
    words: str
    shares: tuple[tuple[str, str, str], ...]
    """Source, contribution in kJ/m², share in percent; the largest first."""
    chart: Markup
    """The shares as bars."""


@dataclass(frozen=True, slots=True)
class SingleResult:
    """A result of one bar, with as many decimals as its expanded uncertainty."""

    value: str
    standard: str
    """Standard uncertainty, to two significant figures."""
    expanded: str
    """Expanded uncertainty, k = 2, to two significant figures."""


@dataclass(frozen=True, slots=True)
class BudgetRow:
    """What one input brings to the uncertainty of one bar's strength."""

    name: str
    value: str
    standard: str
    """Standard uncertainty of the input."""
    sensitivity: str
    """Change of the strength for a change of the input, in kJ/m² over the unit of the input."""
    brings: str
    """To the standard uncertainty of the strength, in kJ/m²."""
    share: str
    """Of the variance, in percent."""
    basis: str
    """What the standard uncertainty rests on."""


@dataclass(frozen=True, slots=True)
class BarLine:
    """The budget of one bar."""

    id: str
    strength: SingleResult
    energy: SingleResult | None
    inputs: tuple[BudgetRow, ...]
    """The largest share first."""
    chart: Markup
    """The shares as bars."""


@dataclass(frozen=True, slots=True)
class UncertaintySection:
    """What a record's page says about its uncertainty."""

    mean: MeanLine | None
    bar: BarLine | None


def uncertainty_section(line: RecordFacts) -> UncertaintySection | None:
    """The uncertainty of the largest set's mean and the budget of its first bar; None where neither can be had."""
    found = line.uncertainty if line.sets else None
    if found is None:
        return None
    main = line.sets[0]
    mean = None if main.uncertainty is None else _mean(line, main.uncertainty)
    bar = _bar(line, found, main.result.members[0])
    return UncertaintySection(mean, bar) if mean or bar else None


def _mean(line: RecordFacts, found: SetUncertainty) -> MeanLine:
    main = line.sets[0]
    expanded = to_figures(found.expanded, 2)
    ordered = sorted(found.shares, key=lambda each: -each.share_pct)
    return MeanLine(
        mean=to_decimals(main.result.summary.mean, decimals_of(expanded)),
        expanded=expanded,
        factor=_factor(found, main.n),
        n=main.n,
        words=main.words,
        shares=tuple(
            (_WORDS[each.source], to_figures(abs(each.contribution_kJ_m2), 2), share(each.share_pct))
            for each in ordered
        ),
        chart=_chart(
            "mean-shares",
            "What the uncertainty of the mean comes from",
            [(_WORDS[each.source], each.share_pct) for each in ordered],
        ),
    )


def _factor(found: SetUncertainty, n: int) -> str:
    k = f"k = {to_decimals(found.coverage_factor, 2)}"
    if found.is_of_scatter:
        return f"{k}, by Student's t for the {counted(n - 1, 'degree')} of freedom of the scatter alone, which is more"
    freedom = found.effective_degrees_of_freedom
    words = to_figures(freedom, 3) if freedom < _AS_GOOD_AS_INFINITE else f"more than {_AS_GOOD_AS_INFINITE}"
    return f"{k}, by Student's t for {words} effective degrees of freedom"


def _bar(line: RecordFacts, found: RecordUncertainty, place: int) -> BarLine | None:
    budget = found.strength.budget(place)
    if budget is None:
        return None
    of_energy = found.energy.budget(place)
    ordered = sorted(budget.contributions, key=lambda each: -each.share_pct)
    return BarLine(
        id=line.record.specimens[place].id,
        strength=_single(budget),
        energy=None if of_energy is None else _single(of_energy),
        inputs=tuple(map(_row, ordered)),
        chart=_chart(
            "bar-shares",
            f"What the uncertainty of bar {line.record.specimens[place].id} comes from",
            [(_WORDS[each.input], each.share_pct) for each in ordered],
        ),
    )


def _single(budget: Budget) -> SingleResult:
    expanded = to_figures(budget.expanded, 2)
    return SingleResult(to_decimals(budget.value, decimals_of(expanded)), to_figures(budget.standard, 2), expanded)


def _row(line: Contribution) -> BudgetRow:
    return BudgetRow(
        name=_WORDS[line.input],
        value=_with_unit(line, line.value, 5),
        standard=_with_unit(line, line.standard, 2),
        sensitivity=f"{to_figures(line.sensitivity, 3)} per {line.unit}",
        brings=to_figures(abs(line.contribution), 2),
        share=share(line.share_pct),
        basis=line.basis,
    )


def _chart(prefix: str, title: str, shares: list[tuple[str, float]]) -> Markup:
    return Markup(shares_chart(SharesChart(prefix, title, tuple(shares))))  # noqa: S704  # the chart escapes its texts


def _with_unit(line: Contribution, value: float, figures: int) -> str:
    gap = "" if line.unit == "°" else " "
    return f"{to_figures(value, figures) if value else 0}{gap}{line.unit}"


def share(percent: float) -> str:
    """A share in percent; a small one only as small."""
    return to_decimals(percent, 1) if percent >= _LEAST_SHARE_PCT else f"below {_LEAST_SHARE_PCT}"
