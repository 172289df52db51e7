"""`python -m coverage`: how often each interval that is shown holds what it is meant to hold."""

import multiprocessing
import time

import click

from coverage import comparisons, means
from coverage.count import Case, Covered, cover


def _cover(job: tuple[Case, int, int]) -> Covered:
    return cover(*job)


@click.command(context_settings={"help_option_names": ["-h", "--help"]})
@click.option("--classes", type=click.IntRange(min=1), default=20_000, show_default=True, help="Of each kind.")
@click.option("--seed", default=1, show_default=True, help="Which classes are made up.")
@click.option("--processes", type=click.IntRange(min=1), help="How many work at once.  [default: one a processor]")
def main(classes: int, seed: int, processes: int | None) -> None:
    """Simulate classes of every kind and count how often their 95 % intervals hold the truth, in percent."""
    started = time.monotonic()
    jobs = [(case, classes, seed) for case in (*means.CASES, *comparisons.CASES)]
    with multiprocessing.Pool(processes) as pool:
        found = pool.map(_cover, jobs, chunksize=1)
    names: list[str] = []
    for each in found:
        if each.names != names:
            names = each.names
            click.echo(f"\n{'':<64}" + "".join(f"{name:>15}" for name in names))
        click.echo(f"{each.title:<64}" + "".join(f"{each.pct(name):>15.1f}" for name in names))
    margin = found[0].margin_pct(found[0].names[0])
    click.echo(f"\n{classes:,} classes each; chance moves a number by {margin:.1f}. {time.monotonic() - started:.0f} s")


if __name__ == "__main__":
    main()
