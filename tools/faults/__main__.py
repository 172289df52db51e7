"""`python -m faults`: the numbers of the demo changed one at a time, and what the check says."""

import multiprocessing
import random
import sys
import time
from pathlib import Path

import click

from faults.changes import KINDS, changes
from faults.explanations import PAGE, PageError, read_explanations
from faults.leaves import numeric_leaves, path_pattern
from faults.table import Outcome, Table
from faults.workbench import NotCleanError, Workbench
from notchbook.handbook import open_handbook
from notchbook.reading.nodes import place_at

DEMO = Path(__file__).resolve().parents[2]
Job = tuple[int, int]
"""Which document of the workbench, and which of its numbers."""

_benches: list[Workbench] = []
"""The workbench of this process."""


def _open_bench() -> None:
    _benches[:] = [Workbench(open_handbook(DEMO))]


def _outcomes(job: Job) -> list[Outcome]:
    """Every change of one number, and what the check says of it."""
    (bench,) = _benches
    document = bench.documents[job[0]]
    leaves = numeric_leaves(document.text)
    leaf = leaves[job[1]]
    number = path_pattern(document.kind, document.data, leaf.keys)
    line, column = place_at(document.text, leaf.start)
    place = f"{document.path}:{line}:{column}"
    found = []
    for change, text in changes(document.kind, document.text, leaf, leaves):
        try:
            severity = bench.gravest(document, text)
        except Exception as error:
            raise RuntimeError(f"the check stops at {number} {change}, {place}") from error
        found.append(Outcome(number, change, place, severity))
    return found


@click.command(context_settings={"help_option_names": ["-h", "--help"]})
@click.option("--sample", type=click.IntRange(min=1), help="Change only so many numbers.  [default: all]")
@click.option("--seed", default=1, show_default=True, help="Which numbers a sample takes.")
@click.option("--processes", type=click.IntRange(min=1), help="How many work at once.  [default: one a processor]")
def main(sample: int | None, seed: int, processes: int | None) -> None:
    r"""Change every number of the demo, one at a time and in every way, and see what the check says.

    The guide's page of limits must explain every change that is missed, and nothing else.

    \b
    Exit status: 0  every miss is explained, and every explanation is needed
                 1  one is not, or the demo as it is has errors or warnings
    """
    started = time.monotonic()
    try:
        explanations = read_explanations(PAGE.read_text(encoding="utf-8"))
        _open_bench()
    except (PageError, NotCleanError) as error:
        raise click.ClickException(str(error)) from error
    documents = _benches[0].documents
    jobs = [(index, place) for index, each in enumerate(documents) for place in range(len(numeric_leaves(each.text)))]
    if sample is not None and sample < len(jobs):
        jobs = sorted(random.Random(seed).sample(jobs, sample))  # noqa: S311  # which numbers are tried is no secret
    click.echo(f"changing {len(jobs)} numbers of {len(documents)} files ...", err=True)
    with multiprocessing.Pool(processes, _open_bench) as pool:
        outcomes = [each for found in pool.imap_unordered(_outcomes, jobs, chunksize=20) for each in found]
    table = Table(outcomes, explanations)
    trouble = table.trouble(whole=sample is None)
    click.echo("\n".join(f"{name:<12}{words}" for name, words in KINDS.items()) + "\n")
    click.echo("\n".join([*table.summary(), *table.explained()]))
    click.echo(f"\n{len(outcomes)} changes in {time.monotonic() - started:.0f} s")
    if trouble:
        click.echo("\n" + "\n".join(trouble), err=True)
        sys.exit(1)


if __name__ == "__main__":
    main()
