"""The data folder of the site: every record, result, verification and look-up table, and what their columns mean."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.pages.data.columns import (
    Table,
    bars_table,
    lookup_columns,
    results_table,
    sets_table,
    verifications_table,
)
from notchbook.pages.data.descriptions import Described, descriptions
from notchbook.pages.data.objects import bar_rows, data_objects, lookup_rows, set_rows, verification_row
from notchbook.results_data import CSV_COLUMNS, csv_of
from notchbook.wording.csv_text import csv_table
from notchbook.wording.json_text import json_text

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from notchbook.facts.facts import Facts
    from notchbook.pages.sheets.lookups import HammerSheet

RECORDS, VERIFICATIONS = "data/records", "data/verifications"
RESULTS, SETS, VERIFICATION_LIST = "data/results.csv", "data/sets.csv", "data/verifications.csv"
RESULTS_JSON = "data/results.json"
_DESCRIPTION = "csv-metadata"


def data_uri(folder: str, object_id: str, form: str) -> str:
    """Path of the data of one record or verification.

    No id holds an underscore, so that one whose JSON would be taken for the description of a table has another name.
    """
    return f"{folder}/{object_id}{'_' if object_id.endswith(_DESCRIPTION) else ''}.{form}"


def data_files(facts: Facts, sheets: Sequence[HammerSheet]) -> dict[str, str]:
    """All files of the data folder, by path.

    Arguments:
        facts: those of the handbook whose data they are.
        sheets: the look-up tables.
    """
    objects = data_objects(facts)
    files = {RESULTS_JSON: json_text(objects.results), RESULTS: csv_of(facts, objects.results)}
    tables = [
        Described(RESULTS, results_table(CSV_COLUMNS)),
        Described(SETS, sets_table()),
        Described(VERIFICATION_LIST, verifications_table()),
    ]
    files[SETS] = _csv(sets_table(), (row for each in objects.records.values() for row in set_rows(each)))
    files[VERIFICATION_LIST] = _csv(verifications_table(), map(verification_row, objects.verifications.values()))
    for record_id, record in objects.records.items():
        files[data_uri(RECORDS, record_id, "json")] = json_text(record)
        uri = data_uri(RECORDS, record_id, "csv")
        files[uri] = _csv(bars_table(), bar_rows(record))
        tables.append(Described(uri, bars_table()))
    for verification_id, verification in objects.verifications.items():
        files[data_uri(VERIFICATIONS, verification_id, "json")] = json_text(verification)
        uri = data_uri(VERIFICATIONS, verification_id, "csv")
        files[uri] = _csv(verifications_table(), [verification_row(verification)])
        tables.append(Described(uri, verifications_table()))
    for sheet in sheets:
        table = lookup_table(sheet)
        files[sheet.data_uri] = _csv(table, lookup_rows(sheet, [each.name for each in table.columns]))
        tables.append(Described(sheet.data_uri, table))
    return files | descriptions(tables, facts.notice)


def lookup_table(sheet: HammerSheet) -> Table:
    """The kind of a look-up table: tables with the same columns are of one kind."""
    sections = [(each.notched, each.section.width_mm, each.words) for each in sheet.strengths]
    columns = lookup_columns(sheet.table.reads, sections)
    parts = [f"{'notched' if notched else 'plain'}-{width_mm:g}" for notched, width_mm, _ in sections]
    name = "-".join(["lookup", sheet.table.reads, *parts])
    return Table(name, "Look-up table of a hammer", "one division of the scale", columns, (columns[0].name,))


def _csv(table: Table, rows: Iterable[Mapping[str, object]]) -> str:
    names = [each.name for each in table.columns]
    nothing = dict.fromkeys(names)
    return csv_table(names, (nothing | dict(each) for each in rows))
