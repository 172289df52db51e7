"""What a file's name says against what stands in it, and codes of groups against each other."""

import datetime as dt
import re
from collections import ChainMap
from collections.abc import Iterator, Mapping

from notchbook.checks.customs import bare
from notchbook.checks.subject import Check, Complaint, RecordCase, Surroundings, SwingsCase, VerificationCase
from notchbook.findings import Rule, Severity
from notchbook.wording.lists import counted

_DATE = re.compile(r"(?<![0-9])[0-9]{4}-[0-9]{2}-[0-9]{2}(?![0-9])")

_LETTERS = re.compile(r"[A-Za-z]{1,6}(?=-?[0-9])")

NAME_AGREES = Rule(
    "name-agrees",
    "Date, group, material, rig and hammer in a file's name are those in the file",
    "A file that was copied for the next test keeps what was not changed; a year that was typed by habit puts a test "
    "under another verification.",
    "contract of the data files: a name may hold these, and has to hold none",
    "Compare both with the sheet of the day; correct the value, or rename the file.",
    Severity.WARNING,
)
GROUP_SPELLING = Rule(
    "group-spelling",
    "A group's code is spelled the same in all its records",
    "Records under two spellings are listed as those of two groups.",
    "common practice, no source",
    "Write the code as the other records do.",
    Severity.WARNING,
)


def _date(name: str, day: dt.date) -> Iterator[Complaint]:
    for found in _DATE.findall(name):
        try:
            named = dt.date.fromisoformat(found)
        except ValueError:
            continue
        if named != day:
            yield Complaint(
                ("date",),
                f"the file is named for {named}, its date is {day}",
                "compare with the sheet of the day; correct the date or rename the file",
            )
        return


def _runs(name: str) -> list[str]:
    """Every run of the parts of a name between its hyphens, the longest first."""
    parts = name.split("-")
    ends = range(len(parts), 0, -1)
    return ["-".join(parts[end - length : end]) for length in ends for end in range(length, len(parts) + 1)]


def _part(runs: list[str], key: str, own: str, known: Mapping[str, str]) -> Iterator[Complaint]:
    """A complaint where the longest id of the kind that the name holds is another than the file's own.

    The ids are known by how a name holds them.
    """
    named = next((known[each] for each in runs if each in known), None)
    if named is None or bare(named) == bare(own) or own.casefold() not in known:
        return
    # a name may hold both, but the pp of pp-h is no material by itself
    if own.casefold() in runs and own.casefold() not in _runs(named.casefold()):
        return
    yield Complaint(
        (key,),
        f"the file is named for {key} '{named}', its {key} is '{own}'",
        f"compare with the sheet of the day; correct the {key} or rename the file",
    )


def record_name(case: RecordCase) -> Iterator[Complaint]:
    """Test records."""
    record, around = case.record, case.around
    yield from _date(record.id, record.date)
    runs = _runs(record.id)
    yield from _part(runs, "material", record.material, around.names.materials)
    yield from _group(runs, record.group, around)


def swings_name(case: SwingsCase) -> Iterator[Complaint]:
    """Free swings of groups."""
    record, around = case.record, case.around
    yield from _date(record.id, record.date)
    runs = _runs(record.id)
    yield from _equipment(runs, case, record.rig, record.hammer)
    yield from _group(runs, record.group, around)


def _group(runs: list[str], group: str, around: Surroundings) -> Iterator[Complaint]:
    """A complaint where the name holds the code of another group."""
    letters = _LETTERS.match(group)
    codes = re.compile(rf"{letters.group().casefold()}-?[0-9]{{1,4}}[a-z]?\Z") if letters else None
    # a code like the record's own, though no other record is of that group
    strangers = {each: each.upper() for each in runs if codes is not None and codes.match(each)}
    yield from _part(runs, "group", group, ChainMap(around.names.groups, strangers))


def verification_name(case: VerificationCase) -> Iterator[Complaint]:
    """Verifications."""
    verification = case.verification
    yield from _date(verification.id, verification.date)
    yield from _equipment(_runs(verification.id), case, verification.rig, verification.hammer)


def _equipment(runs: list[str], case: SwingsCase | VerificationCase, rig: str, hammer: str) -> Iterator[Complaint]:
    """Complaints where the name holds another rig, or another of its hammers."""
    yield from _part(runs, "rig", rig, case.around.names.rigs)
    if case.rig is not None:
        yield from _part(runs, "hammer", hammer, {each: each for each in case.rig.hammers})


def group_spelling(case: RecordCase) -> Iterator[Complaint]:
    """Codes that others write otherwise."""
    own, spellings = case.record.group, case.around.names.spellings[bare(case.record.group)]
    usual = max(spellings, key=lambda each: (spellings[each], each))
    if usual != own:
        yield Complaint(
            ("group",),
            f"the group is '{own}' here and '{usual}' in {counted(spellings[usual], 'other record')}",
            f"write '{usual}' if it is the same group",
        )


RECORD_CHECKS = (Check(NAME_AGREES, record_name), Check(GROUP_SPELLING, group_spelling))
VERIFICATION_CHECKS = (Check(NAME_AGREES, verification_name),)
SWINGS_CHECKS = (Check(NAME_AGREES, swings_name),)
