"""`python -m bench`: one table of what a check and a build cost, measured in one run."""

import os
import platform
import sys
import tempfile
from dataclasses import dataclass, field
from pathlib import Path

import click

from bench import commands
from bench.handbook import SPECIMENS, write_handbook
from bench.measure import Command, Cost, measure
from bench.uncertainty import SAMPLE, measure_uncertainty
from bench.uncertainty import SPECIMENS as UNCERTAIN
from bench.weights import INDEX, MOST_EXERCISE_kB, MOST_FIRST_VISIT_kB, kept, loaded, travelling_kB

# A handbook this small costs what starting up costs; it still makes the engine load all that it needs.
_FEWEST = 2
MOST_BUILD_MB = 300.0
"""Of a build of a thousand records, so that the smallest runner of a pipeline has room for it."""


@dataclass(slots=True)
class Table:
    """Lines of the report, printed at the end so that they stand together."""

    lines: list[str] = field(default_factory=list)

    def ratio(self, name: str, value: float, limit: float, decimals: int = 2) -> None:
        """A ratio beside its target."""
        verdict = "met" if value <= limit else "MISSED"
        self.lines.append(f"{name:<58} {value:7.{decimals}f}   at most {limit:.2f}: {verdict}")

    def weights(self, name: str, site: Path) -> None:
        """What a phone loads of a site, and what it keeps."""
        exercises = [f"exercises/{each.parent.name}/index.html" for each in site.glob("exercises/*/index.html")]
        pages = {each: travelling_kB(site, loaded(site, each)) for each in ("index.html", *sorted(exercises))}
        largest = max(exercises, key=lambda each: (site / each).stat().st_size)
        visit, background = max(pages, key=pages.__getitem__), kept(site)
        self.lines.append("")
        self.ratio(f"{name}, home: first visit, kB compressed", pages["index.html"], MOST_FIRST_VISIT_kB, 0)
        self.ratio("  heaviest exercise: first visit, kB compressed", pages[visit], MOST_FIRST_VISIT_kB, 0)
        self.ratio("  largest exercise: its HTML, kB", (site / largest).stat().st_size / 1000.0, MOST_EXERCISE_kB, 0)
        self.lines += [
            f"  with the first search, kB compressed: {travelling_kB(site, [INDEX]):.0f} more",
            f"  kept for when there is no network: {background.files} of {background.all_files} files, "
            f"{background.travels_kB / 1000:.1f} MB compressed, {background.holds_kB / 1000:.1f} MB on the phone",
        ]

    def costs(self, name: str, sizes: list[int], costs: list[Cost]) -> None:
        """Seconds and memory at each size, and how the cost of one record grows between them."""
        head = "".join(f"{size:>9}" for size in sizes)
        self.lines += [
            "",
            f"{name + ', records':<22}{head}",
            f"{'  seconds':<22}" + "".join(f"{cost.seconds:9.2f}" for cost in costs),
            f"{'  peak memory, MB':<22}" + "".join(f"{cost.memory_MB:9.0f}" for cost in costs),
        ]
        each = [
            1000.0 * (cost.seconds - costs[0].seconds) / (size - sizes[0])
            for size, cost in zip(sizes[1:], costs[1:], strict=True)
        ]
        self.lines += [
            f"{'  ms a record':<22}{'':9}" + "".join(f"{milliseconds:9.2f}" for milliseconds in each),
            f"  linearity: a record costs {each[-1] / each[0]:.2f} times at {sizes[-1]} what it costs at {sizes[1]}",
        ]


@click.command(context_settings={"help_option_names": ["-h", "--help"]})
@click.option("--records", type=click.IntRange(min=100), default=1000, show_default=True, help="Size of the handbook.")
@click.option("--only", type=click.Choice(["check", "build", "uncertainty"]), help="Measure one.  [default: all]")
@click.option(
    "--repeat", type=click.IntRange(min=1), default=3, show_default=True, help="Runs of each check; builds run once."
)
@click.option(
    "--write", type=click.Path(path_type=Path), help="Write the handbook into this new folder and measure nothing."
)
def main(records: int, only: str | None, repeat: int, write: Path | None) -> None:
    """Measure `notchbook check`, `mkdocs build` and the uncertainties, as ratios to bare tools.

    Ratios hold from machine to machine; seconds and megabytes are those of this one.
    """
    if write is not None:
        write.mkdir(parents=True)
        write_handbook(write, records)
        return
    table = Table()
    if only in (None, "uncertainty"):
        measure_uncertainties(table, repeat)
    if only != "uncertainty":
        measure_handbooks(table, records, only, repeat)
    click.echo(
        f"{platform.python_implementation()} {platform.python_version()}, {os.cpu_count()} processors, "
        f"{records} records of {SPECIMENS} bars"
    )
    click.echo("\n".join(table.lines))


def measure_uncertainties(table: Table, repeat: int) -> None:
    """The uncertainties of many specimens in one call, against the package that differentiates by itself."""
    say(f"uncertainties of {UNCERTAIN} specimens, by the package of {SAMPLE} of them")
    cost = measure_uncertainty(repeat)
    table.ratio(f"uncertainty of {UNCERTAIN} bars / uncertainties, bar by bar", cost.engine / cost.package, 0.01, 4)
    table.lines.append(f"  that is {cost.package / cost.engine:.0f} times faster")


def measure_handbooks(table: Table, records: int, only: str | None, repeat: int) -> None:
    """Check and build of made-up handbooks of several sizes."""
    with tempfile.TemporaryDirectory(prefix="notchbook-bench-") as name:
        roots = {size: Path(name) / str(size) for size in (_FEWEST, records // 10, 3 * records // 10, records)}
        for size, root in roots.items():
            root.mkdir()
            write_handbook(root, size)
        if only != "build":
            measure_check(table, roots, repeat)
        if only != "check":
            measure_build(table, roots, Path(name) / "plain")


def measure_check(table: Table, roots: dict[int, Path], repeat: int) -> None:
    """The check at every size, and at the largest against what reads or validates the same files."""
    *smaller, largest = roots
    say(f"check, {repeat} runs at each size")
    costs = measure([commands.check(roots[size]) for size in smaller], repeat)
    rivals: list[Command] = [command(roots[largest]) for command in (commands.bare_reader, commands.schema_checker)]
    full, bare, schemas = measure([commands.check(roots[largest]), *rivals], repeat)
    table.ratio("check / the same files composed and validated", full.seconds / bare.seconds, 1.2)
    table.ratio("check / check-jsonschema, once for each kind", full.seconds / schemas.seconds, 1 / 3)
    table.costs("check", list(roots), [*costs, full])


def measure_build(table: Table, roots: dict[int, Path], plain: Path) -> None:
    """The cold build at every size, and at the largest against MkDocs alone with the same pages."""
    say("build, once at each size, then MkDocs alone; this takes a minute or two")
    pages = commands.write_plain_site(roots[max(roots)], plain)
    largest = roots[max(roots)]
    exported = commands.export(largest, plain.with_name("exported"))
    *costs, export, bare = measure([*map(commands.build, roots.values()), exported, commands.build(plain)], 1)
    table.ratio(f"build / MkDocs alone, the same {pages} pages as Markdown", costs[-1].seconds / bare.seconds, 0.5)
    table.ratio("  its peak memory, MB", costs[-1].memory_MB, MOST_BUILD_MB, 0)
    table.ratio("export --html / MkDocs alone, the same pages", export.seconds / bare.seconds, 0.35)
    say("a preview after a changed reading")
    table.ratio("changed reading in a preview / build", commands.preview_seconds(largest) / costs[-1].seconds, 0.1)
    table.costs("build", list(roots), costs)
    table.weights(f"site of {max(roots)} records", roots[max(roots)] / "site")


def say(what: str) -> None:
    """Progress, out of the way of the table."""
    click.echo(f"measuring {what} ...", err=True)


if __name__ == "__main__":
    sys.exit(main())
