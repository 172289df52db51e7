"""Invented sets to practise on, which are no records of tests."""

from collections.abc import Iterator

from notchbook.checks.subject import Check, Complaint, RecordCase
from notchbook.findings import Rule
from notchbook.model.practice import PRACTICE

PRACTICE_SET = Rule(
    "practice-set",
    "A record holds readings and no practice set",
    "Invented readings among real ones make every mean, comparison and chart a lie.",
    "contract of the data files",
    "Delete the record; practise in a copy of the handbook that is not published.",
)


def practice_set(case: RecordCase) -> Iterator[Complaint]:
    """Records that are marked as invented."""
    for key, text in (("batch", case.record.batch), ("notes", case.record.notes)):
        if text is not None and PRACTICE in text.casefold():
            yield Complaint((key,), f"the record is marked '{PRACTICE}'", "delete it: it is no test")
            return


RECORD_CHECKS = (Check(PRACTICE_SET, practice_set),)
