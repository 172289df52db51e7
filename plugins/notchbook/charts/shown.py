"""What the charts of bars and of results are given to show."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from notchbook.charts.kinds import BreakKind
from notchbook.model.method import EnergyWindow


@dataclass(frozen=True, slots=True)
class Shown:
    """What every chart and drawing has."""

    id_prefix: str
    """Starts every id in the SVG; no other on the page may have the same."""
    title: str


@dataclass(frozen=True, slots=True)
class SpecimenMark:
    """One specimen."""

    id: str
    break_type: str
    """Letter of its break type."""
    strength_kJ_m2: float | None
    """None for one that gave no value, such as one that did not break."""
    excluded: bool = False


@dataclass(frozen=True, slots=True)
class SetMark:
    """Mean of the specimens that broke in one way, or in ways that share a mean."""

    breaks: tuple[str, ...]
    n: int
    mean_kJ_m2: float
    interval_kJ_m2: tuple[float, float] | None
    """Two-sided 95 % confidence interval of the mean; None for a single specimen."""


@dataclass(frozen=True, slots=True)
class SpecimensChart(Shown):
    """What a chart of single specimens shows."""

    specimens: tuple[SpecimenMark, ...]
    """In the order in which they were broken, at least one."""
    sets: tuple[SetMark, ...]
    kinds: Mapping[str, BreakKind] = field(default_factory=dict)
    """The break types of the methods, by letter."""
    unbroken_words: str = ""
    """How many did not break, as `8 of 10`, where they are more than broke in any one way."""


@dataclass(frozen=True, slots=True)
class WindowMark:
    """One specimen."""

    id: str
    break_type: str
    """Letter of its break type."""
    used_pct: float
    """Absorbed energy in percent of the pendulum's potential energy."""
    excluded: bool = False


@dataclass(frozen=True, slots=True)
class WindowChart(Shown):
    """What a chart of the energies used shows."""

    specimens: tuple[WindowMark, ...]
    """In the order in which they were broken, at least one."""
    window: EnergyWindow
    """The share of the pendulum's energy that a test may use."""
    kinds: Mapping[str, BreakKind] = field(default_factory=dict)
    """The break types of the methods, by letter."""


@dataclass(frozen=True, slots=True)
class ComparisonRow:
    """One set of one record."""

    label: str
    breaks: tuple[str, ...]
    """Letters of its break types, at least one; the first gives the mark its shape."""
    mean_kJ_m2: float | None
    """None where no specimen gave a value."""
    interval_kJ_m2: tuple[float, float] | None
    """Two-sided 95 % confidence interval of the mean; None for a single specimen."""
    deviates: bool = False
    """Whether the record departs from the procedure."""
    share: str = ""
    """How many of the bars it is of, where most of them did not break."""


@dataclass(frozen=True, slots=True)
class ComparisonGroup:
    """Rows under one heading; an empty heading is not drawn."""

    heading: str
    rows: tuple[ComparisonRow, ...]


@dataclass(frozen=True, slots=True)
class ComparisonChart(Shown):
    """What a chart of several results shows."""

    groups: tuple[ComparisonGroup, ...]
    """In the order in which they are drawn, with at least one row in all."""
    kinds: Mapping[str, BreakKind] = field(default_factory=dict)
    """The break types of the methods, by letter."""
    logarithmic: bool = False
    """Whether equal distances are equal ratios, for results of different orders; all means are then greater than 0."""
    middle_kJ_m2: float | None = None
    """Mean of all that is compared, drawn through the rows; None where they have none in common."""
