"""`python -m alarms`: how many sound records the check warns of, by rule."""

import multiprocessing
import sys
import time

import click

from alarms.count import RECORDS_A_LABORATORY, Tally, tally_laboratory

MOST_WARNED_pct = 1.0


def _tally(job: tuple[int, int]) -> Tally:
    return tally_laboratory(*job)


@click.command(context_settings={"help_option_names": ["-h", "--help"]})
@click.option("--records", type=click.IntRange(min=1), default=2500, show_default=True, help="How many at least.")
@click.option("--seed", default=1, show_default=True, help="Which laboratories are made up.")
@click.option("--processes", type=click.IntRange(min=1), help="How many work at once.  [default: one a processor]")
@click.option("--show", is_flag=True, help="Print what was said, a line each.")
def main(records: int, seed: int, processes: int | None, show: bool) -> None:
    r"""Make up sound records of several laboratories over five years, and count those that the check warns of.

    \b
    Exit status: 0  at most one record in a hundred is warned of, and none is refused
                 1  more are
    """
    started = time.monotonic()
    each, total = min(records, RECORDS_A_LABORATORY), Tally()
    jobs = [(1000 * seed + place, each) for place in range(-(-records // each))]
    with multiprocessing.Pool(processes) as pool:
        for tally in pool.imap(_tally, jobs):
            total.add(tally)
    if show:
        click.echo("\n".join(total.findings))
    click.echo("\n".join(lines(total)))
    click.echo(f"\n{time.monotonic() - started:.0f} s")
    sys.exit(total.any_refused > 0 or 100.0 * total.any_warned > MOST_WARNED_pct * total.records)


def lines(total: Tally) -> list[str]:
    """The table: a line a rule, the most frequent first."""
    found = [f"{total.records} records, {total.verifications} verifications", ""]
    found.append(f"{'rule':<28}{'records':>8}{'share':>10}")
    rows = [*total.warned.most_common(), ("any warning", total.any_warned), ("any error", total.any_refused)]
    rows += [(f"refused: {rule}", number) for rule, number in total.refused.most_common()]
    found += [f"{name:<28}{number:>8}{100.0 * number / total.records:>8.2f} %" for name, number in rows]
    found += [f"elsewhere: {rule}, {number} files" for rule, number in total.elsewhere.most_common()]
    return found


if __name__ == "__main__":
    main()
