"""The data folder of the site: every record, result, verification and look-up table, and what their columns mean."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from notchbook.facts.facts import Facts
from notchbook.facts.records import RecordFacts
from notchbook.pages.data.columns import (
    bars_table,
    lookup_columns,
    results_table,
    sets_table,
    swings_table,
    verifications_table,
)
from notchbook.pages.data.descriptions import descriptions
from notchbook.pages.data.objects import (
    bar_rows,
    lookup_rows,
    published,
    record_object,
    set_rows,
    swings_row,
    verification_object,
    verification_row,
)
from notchbook.pages.data.table import Table
from notchbook.pages.sheets.lookups import HammerSheet
from notchbook.reading.document import Document
from notchbook.results_data import (
    CSV_COLUMNS,
    about_test,
    csv_rows_of,
    of_comparison,
    of_notches,
    of_swings,
    of_test,
    of_verification,
)
from notchbook.unchanged import Unchanged, made
from notchbook.wording.csv_text import csv_rows, csv_table
from notchbook.wording.json_text import json_text, object_text

RECORDS, VERIFICATIONS = "data/records", "data/verifications"
RESULTS, SETS, VERIFICATION_LIST = "data/results.csv", "data/sets.csv", "data/verifications.csv"
SWINGS_LIST = "data/swings.csv"
RESULTS_JSON = "data/results.json"
_DESCRIPTION = "csv-metadata"


def data_uri(folder: str, object_id: str, form: str) -> str:
    """Path of the data of one record or verification.

    No id holds an underscore, so that one whose JSON would be taken for the description of a table has another name.
    """
    return f"{folder}/{object_id}{'_' if object_id.endswith(_DESCRIPTION) else ''}.{form}"


@dataclass(frozen=True, slots=True)
class _RecordTexts:
    """One record as it stands in the files of the folder."""

    own_json: str
    own_csv: str
    result: str
    """Of it, as JSON."""
    rows: str
    """Of the table of all results."""
    sets: str
    """Rows of the table of all sets."""


def data_files(facts: Facts, sheets: Sequence[HammerSheet], unchanged: Unchanged | None = None) -> dict[str, str]:
    """All files of the data folder, by path.

    Arguments:
        facts: those of the handbook whose data they are.
        sheets: the look-up tables.
        unchanged: what the caller holds of an earlier time.
    """
    records = {
        line.record.id: _record_texts(line, facts.document("test", line.record.id), unchanged)
        for line in facts.records.values()
    }
    found = {each: published(of_verification(case)) for each, case in facts.verifications.items()}
    verifications = {
        each: verification_object(case, facts.document("verification", each), found[each])
        for each, case in facts.verifications.items()
    }
    swings = {each: published(of_swings(case)) for each, case in facts.swings.items()}
    results = {
        "tests": object_text({each: texts.result for each, texts in records.items()}),
        "verifications": object_text({each: json_text(result) for each, result in found.items()}),
        "swings": object_text({each: json_text(result) for each, result in swings.items()}),
        "comparisons": json_text(published(list(map(of_comparison, facts.comparisons)))),
        "notch_sensitivity": json_text(published(of_notches(facts))),
    }
    files = {
        RESULTS_JSON: object_text(results),
        RESULTS: csv_table(CSV_COLUMNS, []) + "".join(each.rows for each in records.values()),
        SETS: _csv(sets_table(), []) + "".join(each.sets for each in records.values()),
        VERIFICATION_LIST: _csv(verifications_table(), map(verification_row, verifications.values())),
    }
    tables = {RESULTS: results_table(CSV_COLUMNS), SETS: sets_table(), VERIFICATION_LIST: verifications_table()}
    if swings:
        tables[SWINGS_LIST] = swings_table()
        rows = (swings_row(each, facts.document("swings", each), result) for each, result in swings.items())
        files[SWINGS_LIST] = _csv(swings_table(), rows)
    for record_id, texts in records.items():
        files[data_uri(RECORDS, record_id, "json")] = texts.own_json
        uri = data_uri(RECORDS, record_id, "csv")
        files[uri], tables[uri] = texts.own_csv, bars_table()
    for verification_id, verification in verifications.items():
        files[data_uri(VERIFICATIONS, verification_id, "json")] = json_text(verification)
        uri = data_uri(VERIFICATIONS, verification_id, "csv")
        files[uri], tables[uri] = _csv(verifications_table(), [verification_row(verification)]), verifications_table()
    for sheet in sheets:
        table = tables[sheet.data_uri] = lookup_table(sheet)
        names = [each.name for each in table.columns]
        files[sheet.data_uri] = made(
            unchanged, sheet.data_uri, (sheet.every, names), partial(_csv, table, lookup_rows(sheet, names))
        )
    return files | descriptions(tables, facts.notice)


def _record_texts(line: RecordFacts, document: Document, unchanged: Unchanged | None) -> _RecordTexts:
    def texts() -> _RecordTexts:
        result = published(of_test(line))
        record = record_object(line, document, result)
        return _RecordTexts(
            json_text(record),
            _csv(bars_table(), bar_rows(record)),
            json_text(result | about_test(line)),
            csv_rows(CSV_COLUMNS, csv_rows_of(line.record, result)),
            _csv(sets_table(), set_rows(record), head=False),
        )

    return made(unchanged, ("data", line.record.id), (line, document), texts)


def lookup_table(sheet: HammerSheet) -> Table:
    """The kind of a look-up table: tables with the same columns are of one kind."""
    sections = [(each.notched, each.section.width_mm, each.words) for each in sheet.strengths]
    columns = lookup_columns(sheet.table.reads, sections)
    parts = [f"{'notched' if notched else 'plain'}-{width_mm:g}" for notched, width_mm, _ in sections]
    name = "-".join(["lookup", sheet.table.reads, *parts])
    return Table(name, "Look-up table of a hammer", "one division of the scale", columns, (columns[0].name,))


def _csv(table: Table, rows: Iterable[Mapping[str, object]], *, head: bool = True) -> str:
    names = [each.name for each in table.columns]
    nothing = dict.fromkeys(names)
    return (csv_table if head else csv_rows)(names, (nothing | dict(each) for each in rows))
