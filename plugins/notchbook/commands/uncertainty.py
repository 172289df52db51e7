"""`notchbook uncertainty`: the mean of a record with its interval, by the first order and by drawn values."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from notchbook.commands.opening import end_told, format_option, open_for_command, root_option
from notchbook.commands.output import RefusalError, write
from notchbook.facts.drawn import DrawnBeside, drawn_of
from notchbook.facts.facts import Facts
from notchbook.facts.records import RecordFacts, ReportedSet
from notchbook.wording.json_text import json_text
from notchbook.wording.lines import printable
from notchbook.wording.lists import counted
from notchbook.wording.nearest import nearest
from notchbook.wording.numbers import decimals_of, figures_text, interval_ends, to_decimals, to_figures

_FEWEST_DRAWS, _DRAWS, _MOST_DRAWS = 1_000, 1_000_000, 10_000_000
"""A million is what JCGM 101:2008, 7.2.1, expects to give 95 % intervals to one or two figures."""
_MOST_SEED = 2**63 - 1


def _row(each: ReportedSet, draws: int, seed: int) -> dict[str, Any]:
    """One set by both ways; None where it cannot be had."""
    summary, found = each.result.summary, each.uncertainty
    beside = drawn_of(each, draws, seed)
    drawn = beside.drawn if beside is not None else None
    return {
        "breaks": list(each.result.breaks),
        "n": each.n,
        "mean_kJ_m2": summary.mean,
        "standard_uncertainty_kJ_m2": found.standard if found else None,
        "expanded_uncertainty_kJ_m2": found.expanded if found else None,
        "drawn_mean_kJ_m2": drawn.mean if drawn else None,
        "drawn_standard_uncertainty_kJ_m2": drawn.standard if drawn else None,
        "drawn_interval_kJ_m2": [drawn.low, drawn.high] if drawn else None,
        "agrees": beside.agrees if beside else None,
    }


def _as_json(line: RecordFacts, draws: int, seed: int) -> str:
    sets = [_row(each, draws, seed) for each in line.sets]
    return json_text({"test": line.record.id, "draws": draws, "seed": seed, "sets": sets})


def _as_text(line: RecordFacts, draws: int, seed: int) -> str:
    head = f"{line.record.id}: mean strength at 95 %, kJ/m²"
    return "\n".join([printable(head), *(part for each in line.sets for part in _said(each, draws, seed)), ""])


def _said(each: ReportedSet, draws: int, seed: int) -> list[str]:
    title, found = f"{each.letters}, {counted(each.n, 'bar')}", each.uncertainty
    if found is None:
        why = "one bar has no scatter" if each.n == 1 else "that of its bars is not known"
        return [printable(f"{title}: no uncertainty, as {why}")]
    mean = each.result.summary.mean
    lines = [f"{title}:", _line("first order", mean, found.standard, mean - found.expanded, mean + found.expanded)]
    beside = drawn_of(each, draws, seed)
    if beside is None:
        return [printable(line) for line in [*lines, "  drawn values: some give no strength"]]
    drawn = beside.drawn
    lines.append(_line(f"{draws:,} draws, seed {seed}", drawn.mean, drawn.standard, drawn.low, drawn.high))
    lines.append(f"  {_agreement(beside)}")
    return [printable(line) for line in lines]


def _line(name: str, mean: float, standard: float, low: float, high: float) -> str:
    ends = interval_ends(low, high)
    return f"  {name}: {to_decimals(mean, decimals_of(ends[0]))}, {ends[0]} to {ends[1]}; u = {to_figures(standard, 2)}"


def _agreement(beside: DrawnBeside) -> str:
    verdict = "they agree" if beside.agrees else "they differ, and the wider one is on the safe side"
    apart, may_be = to_figures(beside.apart_kJ_m2, 2), figures_text(beside.may_be_kJ_m2, 1)
    return f"{verdict}; their ends are up to {apart} apart, {may_be} may be (JCGM 101:2008, 8.1)"


_FORMS: dict[str, Callable[[RecordFacts, int, int], str]] = {"text": _as_text, "json": _as_json}


@click.command()
@click.argument("record")
@root_option
@click.option(
    "--draws",
    type=click.IntRange(_FEWEST_DRAWS, _MOST_DRAWS),
    metavar="NUMBER",
    default=_DRAWS,
    show_default=True,
    help="How many values are drawn.",
)
@click.option(
    "--seed",
    type=click.IntRange(0, _MOST_SEED),
    metavar="NUMBER",
    default=1,
    show_default=True,
    help="Where the draws begin.",
)
@format_option(_FORMS, "How it is printed.")
def uncertainty(record: str, root: Path, draws: int, seed: int, form: str) -> None:
    """Say how sure the means of a record are, by the first order and by drawn values.

    RECORD is the name of its file without the ending. The first order is what every page shows (JCGM 100:2008). Drawn
    values take nothing for linear and nothing for normal (JCGM 101:2008): every input gets an error from its own
    distribution, and all strengths are worked out again. Where the ends of the two intervals differ by more than half
    a unit of the uncertainty's second figure, that is said. The same seed gives the same numbers.

    \b
    Exit status: 0  the handbook has no errors
                 1  it has; what can be computed is printed all the same
                 2  the handbook could not be opened, or it has no such record, or not all could be printed
    """  # noqa: D301  # the mark that keeps the lines of the list apart
    handbook = open_for_command(root)
    facts = Facts(handbook)
    if record not in facts.records:
        raise RefusalError(f"there is no test record '{record}'; {nearest(record, facts.records)}")
    line = facts.records[record]
    if not line.sets:
        raise RefusalError(f"no bar of '{record}' has a strength that counts, so that there is no mean")
    write(_FORMS[form](line, draws, seed))
    end_told(handbook)
