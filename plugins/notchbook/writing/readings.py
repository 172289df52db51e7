"""A file of readings, whatever it was saved as, to the tables of the records in it."""

from collections.abc import Container, Sequence

from notchbook.writing.csv_readings import read_sheet
from notchbook.writing.fields import Keys
from notchbook.writing.table_columns import known_heads
from notchbook.writing.table_records import MOST_RECORDS, TableRecords, records_in
from notchbook.writing.trouble import Trouble
from notchbook.writing.workbook_readings import is_workbook, read_workbook


def records_in_file(raw: bytes, skipped: Sequence[str], given: Container[Keys] = ()) -> TableRecords:
    """The tables of the records in a file: text with separators, or a workbook with one or several sheets.

    Skipped heads or letters of columns are left out; what was given by options tells no records apart. Raises
    UnreadableError where the file is neither.
    """
    sheets, remarks = read_workbook(raw, known_heads) if is_workbook(raw) else ([read_sheet(raw, known_heads)], [])
    found = TableRecords(remarks=remarks)
    for sheet in sheets:
        records_in(sheet, skipped, given, found)
    if len(found.sheets) > MOST_RECORDS:
        message = f"the rows are of {len(found.sheets):,} records; a file may be of {MOST_RECORDS}"
        found.troubles = [Trouble("", message, "see that each column has its own head, or split the table")]
        found.sheets = []
    return found
