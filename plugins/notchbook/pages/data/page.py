"""The page about the data folder: which files there are, how to read them, and what their columns mean."""

from collections.abc import Sequence
from typing import Any

from notchbook.facts.facts import Facts
from notchbook.pages.data import files as data_files
from notchbook.pages.data.columns import bars_table, results_table, sets_table, swings_table, verifications_table
from notchbook.pages.data.descriptions import CAUTION, FILE_NAME
from notchbook.pages.data.objects import PUBLISHED_FIGURES
from notchbook.pages.page import Page
from notchbook.pages.sheets.lookups import DATA_FOLDER as LOOKUPS
from notchbook.pages.sheets.lookups import HammerSheet
from notchbook.results_data import CSV_COLUMNS

URI = "data.md"


def data_page(facts: Facts, sheets: Sequence[HammerSheet]) -> Page:
    """The page; its tables are those that the files and their descriptions are made from."""
    values = {
        "caution": CAUTION,
        "notice": facts.notice,
        "files": _files(facts, sheets),
        "tables": _tables(facts, sheets),
        "description": f"data/{FILE_NAME}",
        "figures": PUBLISHED_FIGURES,
    }
    return Page(URI, "data.html.j2", "Data", values)


def _files(facts: Facts, sheets: Sequence[HammerSheet]) -> list[tuple[str, str, str]]:
    """Each file, or many of one kind with the page that links to them: path, what it holds, page."""
    lines = [
        (data_files.RESULTS, "Every bar of every record, one a row", ""),
        (data_files.SETS, "Means and spreads of every record, one set a row", ""),
        (data_files.VERIFICATION_LIST, "Every verification, one a row: the history of the losses", ""),
        (data_files.RESULTS_JSON, "Results of all records, verifications and free swings, for scripts", ""),
    ]
    if facts.swings:
        lines.insert(-1, (data_files.SWINGS_LIST, "The free swings of every group, one record a row", ""))
    many = (
        (data_files.RECORDS, "One record: its readings, what they rest on, its results", "records/index.md",
         facts.records),
        (data_files.VERIFICATIONS, "One verification: its readings and results", "rigs/index.md", facts.verifications),
    )  # fmt: skip
    for folder, what, index, known in many:
        lines += [(f"{folder}/(id).{form}", what, index) for form in ("csv", "json") if known]
    if sheets:
        lines.append((f"{LOOKUPS}/(rig)--(hammer).csv", "Look-up table of one hammer", "lookup/index.md"))
    return lines


def _tables(facts: Facts, sheets: Sequence[HammerSheet]) -> list[dict[str, Any]]:
    """Each kind of table: its columns that no kind before it has, and `above` those that one has."""
    lookups = [data_files.lookup_table(each) for each in sheets]
    every_lookup = dict.fromkeys(column for each in lookups for column in each.columns)
    kinds = [
        (bars_table(), bars_table().columns, (f"{data_files.RECORDS}/(id).csv",)),
        (results_table(CSV_COLUMNS), results_table(CSV_COLUMNS).columns, (data_files.RESULTS,)),
        (sets_table(), sets_table().columns, (data_files.SETS,)),
        (verifications_table(), verifications_table().columns,
         (data_files.VERIFICATION_LIST, f"{data_files.VERIFICATIONS}/(id).csv")),
        *((each, each.columns, (data_files.SWINGS_LIST,)) for each in [swings_table()] if facts.swings),
        *((each, tuple(every_lookup), (f"{LOOKUPS}/(rig)--(hammer).csv",)) for each in lookups[:1]),
    ]  # fmt: skip
    seen: set[tuple[str, str]] = set()
    parts = []
    for table, columns, files in kinds:
        new = tuple(each for each in columns if (each.name, each.meaning) not in seen)
        above = tuple(each for each in columns if (each.name, each.meaning) in seen)
        parts.append({"title": table.title, "files": files, "row": table.row, "columns": new, "above": above})
        seen.update((each.name, each.meaning) for each in columns)
    return parts
