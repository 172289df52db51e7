"""`notchbook difference`: two sets of records against each other, with the interval of their difference."""

from pathlib import Path
from typing import Any

import click

from notchbook.commands.opening import end_told, format_option, open_for_command, root_option
from notchbook.commands.output import RefusalError, write
from notchbook.facts.facts import Facts
from notchbook.facts.records import ReportedSet
from notchbook.facts.two_sets import NoSetError, TwoSets, two_sets
from notchbook.wording.json_text import json_text
from notchbook.wording.lines import printable
from notchbook.wording.lists import counted

_JOINED = "\N{NO-BREAK SPACE}"


def as_text(found: TwoSets) -> str:
    """The comparison as lines."""
    lines = [_set_line(found.first), _set_line(found.second), ""]
    if found.obstacles:
        lines += [f"{found.told[:1].upper()}{found.told[1:]}.", found.meaning]
    else:
        lines += [f"The first is {found.told}.", f"The interval is {found.basis}. {found.meaning}"]
    return "".join(f"{printable(each.replace(_JOINED, ' '))}\n" for each in lines)


def _set_line(found: ReportedSet) -> str:
    summary, unit = found.result.summary, found.result.quantity.unit
    spread = "" if summary.standard_deviation is None else f", standard deviation {summary.standard_deviation:.3g}"
    line = found.line
    return (
        f"{line.record.id}, {line.material_name}, {line.designation}, {counted(found.n, 'bar')} {found.letters}: "
        f"mean {summary.mean:.4g}{spread} {unit}"
    )


def as_json(found: TwoSets) -> str:
    """The comparison as an object; what cannot be had is null."""
    apart, times = found.difference, found.ratio
    return json_text(
        {
            "first": _set_data(found.first),
            "second": _set_data(found.second),
            "comparable": not found.obstacles,
            "obstacles": list(found.obstacles),
            "difference_kJ_m2": apart.difference if apart else None,
            "interval_kJ_m2": apart.interval if apart else None,
            "t": apart.t if apart else None,
            "degrees_of_freedom": apart.degrees_of_freedom if apart else None,
            "contains_zero": None if apart is None or apart.interval is None else not apart.excludes_zero,
            "ratio": times.ratio if times else None,
            "ratio_interval": times.interval if times else None,
            "basis": found.basis,
            "differs_beside": found.differs_beside,
            "told": found.told,
            "meaning": found.meaning,
        }
    )


def _set_data(found: ReportedSet) -> dict[str, Any]:
    summary = found.result.summary
    return {
        "record": found.line.record.id,
        "breaks": found.letters,
        "n": found.n,
        "mean_kJ_m2": summary.mean,
        "standard_deviation_kJ_m2": summary.standard_deviation,
    }


FORMS = {"text": as_text, "json": as_json}


@click.command()
@click.argument("first")
@click.argument("second")
@root_option
@format_option(FORMS, "Form.")
def difference(first: str, second: str, root: Path, form: str) -> None:
    """Set two sets of bars against each other.

    FIRST and SECOND are test records by the names of their files without the ending, each with the break types of one
    of its sets behind a colon where another than the largest is meant: 2026-10-06-g2-pp-h:C.

    It prints by how much the first mean is higher or lower than the second, the 95 % interval of the difference after
    Welch, whether that contains 0, and what it says and does not say. Sets of other break types, speeds, methods or
    departures are not compared; it says why.

    \b
    Exit status: 0  the handbook has no errors
                 1  it has; what can be computed is printed all the same
                 2  the handbook could not be opened, it has no such record or set, or not all could be printed
    """  # noqa: D301  # the mark that keeps the lines of the list apart
    handbook = open_for_command(root)
    try:
        found = two_sets(Facts(handbook).records, first, second)
    except NoSetError as error:
        raise RefusalError(f"{error}; {error.hint}") from error
    write(FORMS[form](found))
    end_told(handbook)
