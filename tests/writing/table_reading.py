"""A table read in the setting of the demo: notched bars on the bench pendulum with a scale of angles."""

from notchbook.writing.bars import bar_form
from notchbook.writing.draft import record_text
from notchbook.writing.given import common_of
from notchbook.writing.readings import records_in_file
from notchbook.writing.table_bars import record_of_table
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


def drafts_of(
    raw, handbook, options=OPTIONS, deviations=(), skipped=(), exercise="notched-charpy", rig="bench-1"
):
    """The troubles of a table as a whole, and the drafts of the records in it."""
    found = records_in_file(raw, skipped, options)
    library = handbook.library
    about = library.exercises[exercise]
    form = bar_form(about, library.methods[about.method], library.rigs[rig])
    drafts = [
        record_of_table(each, common_of(each, options, deviations, skipped), form, about.specimen, skipped)
        for each in found.sheets
    ]
    return found, drafts


def read(raw, handbook, **setting):
    """The draft of the one record of a table; raises UnreadableError."""
    found, (draft,) = drafts_of(raw, handbook, **setting)
    draft.troubles += found.troubles
    draft.remarks += found.remarks
    return draft


def told(raw, handbook, **setting):
    """The texts of the records of a table, or a line for each thing that stands in its way."""
    try:
        found, drafts = drafts_of(raw, handbook, **setting)
    except UnreadableError as error:
        return lines([error.trouble])
    troubles = [*found.troubles, *(each for draft in drafts for each in draft.troubles)]
    return lines(troubles) or "---\n".join(record_text(draft.values) for draft in drafts)
