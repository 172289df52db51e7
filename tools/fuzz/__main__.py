"""`python -m fuzz`: a hundred thousand inputs for all that reads what somebody wrote."""

import ast
import concurrent.futures
import multiprocessing
import os
import random
import sys
import time
from concurrent.futures.process import BrokenProcessPool
from pathlib import Path

import click

from fuzz import coverage_guided
from fuzz.running import FOLDER, Outcome, run
from fuzz.targets import TARGETS

_INPUTS = 100_000
# A worker that a crash ends takes only its own part with it.
_PARTS = 4


@click.command()
@click.option("--inputs", "number", default=_INPUTS, show_default=True, help="How many, over all targets.")
@click.option("--only", type=click.Choice(list(TARGETS)), multiple=True, help="Only this target; can be repeated.")
@click.option("--seed", type=int, help="Start of the random numbers.  [default: another one each time]")
@click.option("--jobs", default=os.cpu_count() or 1, show_default=True, help="How many processes.")
@click.option(
    "--replay", type=click.Path(exists=True, dir_okay=False, path_type=Path), help="Give one kept input again."
)
def main(number: int, only: tuple[str, ...], seed: int | None, jobs: int, replay: Path | None) -> None:
    """Give random input to the reader, the model with its checks, the notation of pages and the settings.

    No exception may escape, every finding stands at a place in its file, every number in the results is finite or
    missing, and no input takes longer than its size accounts for. What fails is kept in .fuzz/ as small as it gets.
    """
    if replay is not None:
        name, _, value = replay.read_text(encoding="utf-8").partition("\n")
        TARGETS[name].give(ast.literal_eval(value))
        click.echo("nothing fails")
        return
    start = random.SystemRandom().randrange(2**31) if seed is None else seed
    chosen = only or tuple(TARGETS)
    shares = {name: TARGETS[name].share for name in chosen}
    began = time.monotonic()
    outcomes: list[Outcome] = []
    click.echo(f"seed {start}, {jobs} {'process' if jobs == 1 else 'processes'}")
    for name in chosen:
        part = -(-number * shares[name] // (sum(shares.values()) * _PARTS))
        outcomes += _run_parts(name, part, start, jobs)
        _report(name, [each for each in outcomes if each.target == name])
    if not only or "reader" in only:
        click.echo(coverage_guided.run(number // 10))
    total = sum(each.inputs for each in outcomes)
    failures = [each.failure for each in outcomes if each.failure]
    click.echo(f"{total:,} inputs in {time.monotonic() - began:.0f} s, {len(failures)} failures")
    sys.exit(1 if failures else 0)


def _run_parts(name: str, part: int, start: int, jobs: int) -> list[Outcome]:
    with concurrent.futures.ProcessPoolExecutor(jobs, multiprocessing.get_context("spawn")) as pool:
        waiting = [pool.submit(run, name, part, start + 7_919 * each) for each in range(_PARTS)]
        outcomes = []
        for each in waiting:
            try:
                outcomes.append(each.result())
            except BrokenProcessPool:
                outcomes.append(Outcome(name, 0, 0.0, 0.0, _crashed(name)))
                break
    return outcomes


def _crashed(name: str) -> str:
    kept = sorted(FOLDER.glob(f"running-{name}-*"))
    return f"a process crashed; what it was given is one of {', '.join(map(str, kept))}"


def _report(name: str, outcomes: list[Outcome]) -> None:
    number, seconds = sum(each.inputs for each in outcomes), sum(each.seconds for each in outcomes)
    slowest = max((each.slowest_seconds for each in outcomes), default=0.0)
    click.echo(f"{name:<9}{number:>8,} inputs {seconds:8.1f} s, the slowest {slowest:.2f} s")
    for each in outcomes:
        if each.failure:
            click.echo(f"  FAILED: {each.failure}")


if __name__ == "__main__":
    main()
