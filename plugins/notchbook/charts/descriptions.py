"""What the charts say, in sentences, for those who cannot see them."""

from collections.abc import Mapping, Sequence

from notchbook.charts import style
from notchbook.charts.kinds import BreakKind
from notchbook.charts.shown import (
    ComparisonChart,
    ComparisonRow,
    SetMark,
    SpecimenMark,
    SpecimensChart,
    WindowChart,
)
from notchbook.model.quantity import IMPACT_STRENGTH
from notchbook.wording.lists import counted, listed
from notchbook.wording.numbers import interval_ends, short_figures

_UNIT = IMPACT_STRENGTH.unit
_MOST_SPECIMENS = 40
"""More are not read out one by one; the page has them in a table."""


def break_word(letter: str, kinds: Mapping[str, BreakKind]) -> str:
    """Title and letter of a break type, or the letter alone where it is none of the kinds."""
    return f"{kinds[letter].title} ({letter})" if letter in kinds else letter


def mean_with_interval(mean: float, interval: tuple[float, float] | None) -> str:
    """Mean and interval with their unit."""
    text = f"{short_figures(mean, style.FIGURES)} {_UNIT}"
    if interval is None:
        return text
    low, high = interval_ends(*interval)
    return f"{text}, 95 % interval {low} to {high} {_UNIT}"


def describe_specimens(chart: SpecimensChart) -> str:
    """Number of specimens, mean and interval of each set, then specimen by specimen."""
    sentences = [f"{IMPACT_STRENGTH.title} of {counted(len(chart.specimens), 'specimen')}."]
    if chart.unbroken_words:
        sentences.append(f"{chart.unbroken_words} did not break.")
    sentences += [_set_sentence(each, chart) for each in chart.sets]
    if not chart.sets:
        sentences.append("There is no mean.")
    return " ".join([*sentences, *_one_by_one([_specimen_words(each) for each in chart.specimens])])


def _one_by_one(specimens: Sequence[str]) -> list[str]:
    sentences = [f"Specimens: {'; '.join(specimens[:_MOST_SPECIMENS])}."]
    left = len(specimens) - _MOST_SPECIMENS
    return sentences + ([f"{counted(left, 'more specimen')} not listed here."] if left > 0 else [])


def _set_sentence(each: SetMark, chart: SpecimensChart) -> str:
    types = listed(break_word(letter, chart.kinds) for letter in each.breaks)
    mean = mean_with_interval(each.mean_kJ_m2, each.interval_kJ_m2)
    return f"Break type {types}: mean of {each.n} is {mean}."


def _specimen_words(each: SpecimenMark) -> str:
    strength = each.strength_kJ_m2
    value = "no value" if strength is None else short_figures(strength, style.FIGURES)
    return ", ".join([f"{each.id} {each.break_type} {value}", *(["excluded"] if each.excluded else [])])


def describe_comparison(chart: ComparisonChart, left_out: int) -> str:
    """Row by row under each heading, as far as the rows are shown."""
    sentences = [f"{IMPACT_STRENGTH.title}, mean and 95 % interval of each result."]
    for group in chart.groups:
        if group.rows:
            rows = "; ".join(_row_words(row, chart) for row in group.rows)
            sentences.append(f"{group.heading}: {rows}." if group.heading else f"{rows}.")
    if chart.middle_kJ_m2 is not None:
        sentences.append(f"Mean of all bars: {mean_with_interval(chart.middle_kJ_m2, None)}.")
    if left_out:
        sentences.append(f"{counted(left_out, 'more result')} not shown.")
    return " ".join(sentences)


def _row_words(row: ComparisonRow, chart: ComparisonChart) -> str:
    value = "no value"
    if row.mean_kJ_m2 is not None:
        value = mean_with_interval(row.mean_kJ_m2, row.interval_kJ_m2)
    types = listed(break_word(letter, chart.kinds) for letter in row.breaks)
    share = f" ({row.share})" if row.share else ""
    return ", ".join([f"{row.label} {types}{share} {value}", *(["departs from the procedure"] if row.deviates else [])])


def describe_window(chart: WindowChart) -> str:
    """The window, how many of the specimens that count lie in it, then specimen by specimen."""
    counting = [each for each in chart.specimens if not each.excluded]
    inside = sum(chart.window.holds(each.used_pct) for each in counting)
    specimens = [
        f"{each.id} {each.break_type} {short_figures(each.used_pct, 3)}{', excluded' if each.excluded else ''}"
        for each in chart.specimens
    ]
    sentences = [
        "Energy used by each specimen in percent of the pendulum's energy.",
        f"Allowed: {chart.window.low_pct:g} % to {chart.window.high_pct:g} %.",
        f"{inside} of {counted(len(counting), 'specimen')} that count lie inside.",
        *_one_by_one(specimens),
    ]
    return " ".join(sentences)
