"""`notchbook compare`: what several handbooks found of the same material, as a round robin of laboratories."""

from collections.abc import Iterator
from pathlib import Path

import click

from notchbook.commands.opening import format_option, open_for_command
from notchbook.commands.output import NOTHING_DONE, RefusalError, say, write
from notchbook.facts.comparisons import Comparison
from notchbook.facts.consistency import Consistency
from notchbook.facts.laboratories import RoundRobin, round_robin
from notchbook.reading.files import Refused, is_folder, text_of
from notchbook.reading.published_results import (
    LARGEST_BYTES,
    PublishedTest,
    ResultsError,
    published_tests,
    results_of_text,
)
from notchbook.results_data import of_comparison, results_data
from notchbook.wording.json_text import json_text
from notchbook.wording.lines import printable
from notchbook.wording.lists import counted, listed
from notchbook.wording.numbers import plain, to_figures

_MOST_SOURCES = 40
"""As many as there are critical values for."""


@click.command()
@click.argument("sources", metavar="SOURCE...", nargs=-1, required=True, type=click.Path(path_type=Path))
@format_option(("text", "json"), "text: for people; json: as `comparisons` in the results of a handbook.")
def compare(sources: tuple[Path, ...], form: str) -> None:
    """Compare what several handbooks found of the same material, a laboratory a SOURCE.

    A SOURCE is the folder of a handbook, or the file data/results.json of a site. Tests that keep to their method are
    held together where material, standard, bars, nominal speed and break types are the same. A batch that several
    sources broke is compared by itself. What one source has alone is said. Ids of materials and names of batches have
    to be agreed on: nothing is guessed.

    \b
    Exit status: 0  everything was read
                 2  a source could not be read, or not all could be printed
    """  # noqa: D301  # the mark that keeps the lines of the list apart
    if len(sources) < 2:
        raise RefusalError("one source has nothing to be compared with; name two or more")
    if len(sources) > _MOST_SOURCES:
        raise RefusalError(f"{len(sources)} sources are too many; name {_MOST_SOURCES} at most")
    laboratories = _laboratories(sources)
    found = round_robin(laboratories)
    if form == "json":
        alone = [{"source": name, "what": what, "reason": reason} for name, what, reason in found.alone]
        write(json_text({"comparisons": list(map(of_comparison, found.comparisons)), "not_compared": alone}))
    else:
        write("".join(f"{printable(line)}\n" for line in _lines(found)))
    for name, tests in laboratories.items():
        departing = sum(not each.conforms for each in tests)
        if departing:
            say(f"{name}: {counted(departing, 'test')} not in keeping with the method left out")


def _laboratories(sources: tuple[Path, ...]) -> dict[str, list[PublishedTest]]:
    """The tests of all sources by their names; ends the command where one could not be read, having told of each."""
    found: dict[str, list[PublishedTest]] = {}
    refused = False
    for source in sources:
        name = source.as_posix()
        troubles = ["is named twice"] if name in found else []
        if not troubles:
            try:
                found[name] = published_tests(_data(source))
            except ResultsError as error:
                troubles = error.troubles
        for each in troubles:
            say(f"Error: {name}: {each}")
        refused = refused or bool(troubles)
    if refused:
        raise click.exceptions.Exit(NOTHING_DONE)
    return found


def _data(source: Path) -> object:
    """The results of one source."""
    if is_folder(source):
        try:
            return results_data(open_for_command(source))
        except RefusalError as error:
            raise ResultsError([error.format_message()]) from error
    text = text_of(source, LARGEST_BYTES)
    if isinstance(text, Refused):
        raise ResultsError([f"{text.message}; {text.hint}"])
    return results_of_text(text)


def _lines(found: RoundRobin) -> Iterator[str]:
    if not found.comparisons:
        yield "There is nothing that two sources broke alike."
    for comparison, batches in zip(found.comparisons, found.batches, strict=True):
        yield from _comparison_lines(comparison, batches)
        yield ""
    if found.comparisons:
        yield (
            "Laboratories differ in more than their pendulums: bars, notching, conditioning and staff. Every bar is "
            "broken once, so that repeatability holds the differences of the bars."
        )
    if found.alone:
        yield "Not compared:"
        for name, what, reason in found.alone:
            yield f"  {name}: {what}: {reason}"


def _comparison_lines(comparison: Comparison, batches: list[str]) -> Iterator[str]:
    about = comparison.subject
    bars = f"type {about.specimen.type}, {about.specimen.notch_words}, {about.specimen.direction}"
    of_batch = f"batch {batches[0]}" if len(batches) == 1 else "different batches"
    at = f"{plain(about.speed_m_s)} m/s, {'/'.join(comparison.breaks)}"
    yield f"{about.material}, {of_batch}, {about.method}, {bars}, {at}"
    if len(batches) > 1:
        yield f"  Batches {listed(batches)}: part of what differs is the material."
    beside = Consistency(
        comparison.precision, [each.label for each in comparison.cells], ("laboratory", "laboratories")
    )
    for (cell, summary, _, _), words in zip(comparison.rows, beside.words, strict=True):
        interval = ""
        if cell.interval is not None:
            interval = f" ({to_figures(cell.interval[0], 3)} to {to_figures(cell.interval[1], 3)})"
        bars_number = counted(summary.n, "bar")
        yield f"  {cell.label}: {to_figures(summary.mean, 3)} kJ/m²{interval}, {bars_number}; {words}"
    for part in beside.parts:
        share = f", {to_figures(part.share_pct, 2)} % of the mean" if part.share_pct is not None else ""
        yield f"  {part.words}: {to_figures(part.deviation, 2)} kJ/m²{share}"
    for told in (beside.cochran_words, beside.grubbs_words):
        if told:
            yield f"  {told}"
