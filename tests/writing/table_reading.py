"""A table read in the setting of the demo: notched bars on the bench pendulum with a scale of angles."""

from notchbook.writing.bars import bar_form
from notchbook.writing.csv_bars import record_of_table
from notchbook.writing.csv_columns import known_heads
from notchbook.writing.csv_readings import read_sheet
from notchbook.writing.draft import record_text
from notchbook.writing.given import common_of
from notchbook.writing.trouble import UnreadableError, lines

OPTIONS = {
    ("date",): "2026-11-03",
    ("group",): "G2",
    ("exercise",): "notched-charpy",
    ("rig",): "bench-1",
    ("hammer",): "charpy-1",
    ("material",): "pp-h",
    ("conditioning", "temperature_C"): "23.0",
    ("conditioning", "humidity_pct"): "50",
    ("conditioning", "hours"): "48",
    ("test_atmosphere", "temperature_C"): "23.4",
    ("test_atmosphere", "humidity_pct"): "47",
}


def read(raw, handbook, options=OPTIONS, deviations=(), skipped=(), exercise="notched-charpy", rig="bench-1"):
    """The draft of the record of a table; raises UnreadableError."""
    sheet = read_sheet(raw, known_heads)
    library = handbook.library
    about = library.exercises[exercise]
    form = bar_form(about, library.methods[about.method], library.rigs[rig])
    return record_of_table(sheet, common_of(sheet, options, deviations), form, about.specimen, skipped)


def told(raw, handbook, **setting):
    """The text of the record of a table, or a line for each thing that stands in its way."""
    try:
        draft = read(raw, handbook, **setting)
    except UnreadableError as error:
        return lines([error.trouble])
    return lines(draft.troubles) or record_text(draft.values)
