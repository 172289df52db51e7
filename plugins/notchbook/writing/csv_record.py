"""A table of readings to the values of a test record, or to everything that stands in the way."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.writing.csv_bars import bars_of
from notchbook.writing.draft import draft_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from notchbook.model.procedure import SpecimenChoice
    from notchbook.writing.bars import BarForm
    from notchbook.writing.csv_readings import Sheet
    from notchbook.writing.draft import Draft
    from notchbook.writing.given import Common


def record_of_table(
    sheet: Sheet, common: Common, form: BarForm, specimen: SpecimenChoice | None, skipped: Sequence[str] = ()
) -> Draft:
    """The record of a table.

    Arguments:
        sheet: the table.
        common: what all bars share.
        form: what the bars of the exercise have, as far as it is known.
        specimen: type, notch and direction as the exercise asks for them; None where it is not known.
        skipped: heads or letters of columns that are left out.
    """
    draft = draft_of(common)
    values = draft.values
    if specimen is not None:
        values["specimen"] = {"type": specimen.type, "notch": specimen.notch, "direction": specimen.direction}
    bars = bars_of(sheet, form, skipped)
    draft.troubles += bars.troubles
    draft.remarks += bars.remarks
    draft.places |= bars.places
    values["specimens"] = bars.specimens
    if bars.reported:
        values.setdefault("reported", {})["specimens"] = bars.reported
    if bars.notes:
        values["notes"] = " ".join([values["notes"], *bars.notes] if "notes" in values else bars.notes)
    draft.refuse()
    return draft
