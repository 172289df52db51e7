"""Bars that do not count: why, and what is not in the record at all."""

import re
from collections.abc import Iterator

from notchbook.checks.specimens import off_dimension
from notchbook.checks.subject import Check, Complaint
from notchbook.evaluation.resolved import ResolvedRecord
from notchbook.findings import Rule, Severity
from notchbook.statistics.outliers import furthest_outlier
from notchbook.wording.lists import listed

# A reason that speaks of the value; one that names a cause as well is good.
_VALUE = re.compile(
    r"\b(?:out-?liers?|(?:high|low|large|small|big)(?:er|est)?|(?:does|did)(?: not|n't) (?:fit|agree|match|suit)|"
    r"deviat\w+|differ\w*|implausible|unlikely|improbable|unexpected|extreme|strange|odd|unusual|suspicious|wrong|bad|"
    r"grubbs|dixon|statistic\w*|spread|scatter\w*|standard deviation|sigma|mean|average|value|result|off)\b",
    re.IGNORECASE,
)
_CAUSE = re.compile(
    r"\b(?:un|mis|over|pre)?(?:crack|void|flaw|defect|bubble|inclusion|pore|slip|scratch|notch|bent|bend|warp|twist|fell|"
    r"fall|drop|screen|touch|support|clamp|vice|struck|strike|hit\b|miss|jam|wedg|stop|stuck|catch|caught|flash|sink|burr|"
    r"spare|setting|damage|broke|chip|cut\b|saw|mill|mould|mold|dirt|wet\b|warm|cold|temperature|condition|humid|latch|"
    r"release|indicator|pointer|needle|drag|read\b|reset|hammer|pendulum|swing|swung|thick|thin|wide|width|narrow|"
    r"dimension|toleranc|remaining|askew|oblique|crooked|centre|center|lost|label|mark|mixed|material|batch|contaminat|"
    r"weld|gate|surface|skin|edge|seat|lean|place|position|turn|direction|upside|twice|practice|trial|vibrat|knock|push|"
    r"air\b|draught|door|power|zero|blow|bounce|rebound|friction|colour|color|plasti|foreign|particle)",
    re.IGNORECASE,
)
_NOTHING = {"yes", "true", "none", "null", "excluded", "not counted", "see note", "see notes", "n a", "unknown"}
_SEPARATORS = re.compile(r"[\W_]+")
_LOOKED_AT = 300
"""Characters of a reason."""
_SIGNIFICANCE = 0.01
MOST_MISSING = 2
"""Numbers that may have been left out of a row; more are a row that was numbered otherwise."""
_SHORTEST = 2
ROW_NUMBER = re.compile(r"[0-9]{1,6}")
"""A number that bars are numbered by."""
_SAID_OUT = re.compile(
    r"\b(?:bar|specimen|no\.?) ?(?:no\.? ?)?([\w-]{1,20}) (?:(?:was|is|has been|had to be|must be|should be) "
    r"(?:\w+ )?(?:excluded|left out|discarded|rejected|not counted|invalid)|(?:does|did) not count|slipped|"
    r"(?:was|had) (?:already )?cracked)\b",
    re.IGNORECASE,
)

EXCLUSION_CAUSE = Rule(
    "exclusion-cause",
    "A bar is excluded for a cause outside its value",
    "A bar left out because it does not suit makes the mean the one that was wished for.",
    "ISO 16269-4 (from memory): a value is discarded where its cause is known; the words: common practice, no source",
    "Write what was seen at the bar or at the pendulum; if nothing was, let it count.",
    Severity.WARNING,
)
BAR_MISSING = Rule(
    "bar-missing",
    "Numbered bars are all there",
    "A bar that was struck and left out without a word makes the mean the one that was wished for.",
    "common practice, no source",
    "Add the bar from the sheet of the day, excluded with its reason where it does not count.",
    Severity.WARNING,
)
NOTES_EXCLUDE = Rule(
    "notes-exclude",
    "A bar that the notes call invalid is excluded",
    "What the notes take back still counts in the mean.",
    "common practice, no source",
    "Exclude the bar with the reason that the notes give, or correct the notes.",
    Severity.WARNING,
)


def exclusion_cause(case: ResolvedRecord) -> Iterator[Complaint]:
    """Reasons that speak of the value alone or of nothing, and outliers that were left out for no visible cause."""
    excluded = [(index, bar) for index, bar in enumerate(case.record.specimens) if bar.excluded is not None]
    outside = off_dimension(case) if excluded else set()
    for index, bar in excluded:
        reason = (bar.excluded or "")[:_LOOKED_AT]
        if _CAUSE.search(reason) or index in outside:
            continue
        words = _SEPARATORS.sub(" ", reason).strip().casefold()
        if len(words) <= _SHORTEST or words in _NOTHING:
            what = "gives no reason"
        elif _VALUE.search(reason):
            what = f"speaks of its value alone: '{reason[:80]}'"
        elif _was_far_off(case, index):
            what = f"names no cause: '{reason[:80]}', and its strength stands apart from those that count"
        else:
            continue
        yield Complaint(
            ("specimens", index, "excluded"),
            f"specimen {bar.id} is excluded, and what is written about it {what}",
            "write what was seen at the bar or at the pendulum, or let it count",
        )


def _was_far_off(case: ResolvedRecord, index: int) -> bool:
    """Whether a bar would be an outlier of the largest set, by Grubbs' test at 1 %."""
    if case.result is None or not case.result.sets:
        return False
    own = case.result.specimens[index].strength_kJ_m2
    members = [case.result.specimens[place].strength_kJ_m2 for place in case.result.sets[0].members]
    strengths = [each for each in (*members, own) if each is not None]
    return own is not None and furthest_outlier(strengths, _SIGNIFICANCE) == len(strengths) - 1


def bar_missing(case: ResolvedRecord) -> Iterator[Complaint]:
    """One or two numbers that are left out of a row of them."""
    ids = [each.id for each in case.record.specimens]
    if not all(ROW_NUMBER.fullmatch(each) for each in ids):
        return
    numbers = {int(each) for each in ids}
    first, last = min(numbers), max(numbers)
    if len(numbers) == len(ids) and 0 < last - first + 1 - len(numbers) <= MOST_MISSING:
        missing = [str(each) for each in range(first, last + 1) if each not in numbers]
        yield Complaint(
            ("specimens",),
            f"the bars are numbered from {first} to {last}, and {listed(missing)} "
            f"{'is' if len(missing) == 1 else 'are'} not there",
            "add it from the sheet of the day, excluded with its reason where it does not count",
        )


def notes_exclude(case: ResolvedRecord) -> Iterator[Complaint]:
    """Bars that the notes say do not count, and that do."""
    said = dict.fromkeys(_SAID_OUT.findall(case.record.notes or ""))
    counting = {_bare(each.id): each.id for each in case.record.specimens if said and each.counts}
    for found in said:
        bar = counting.get(_bare(found))
        if bar is not None:
            yield Complaint(
                ("notes",),
                f"the notes take back specimen {bar}, which counts",
                "exclude it with the reason, or correct the notes",
            )


def _bare(mark: str) -> str:
    return mark.casefold().lstrip("0") or "0"


RECORD_CHECKS = (
    Check(EXCLUSION_CAUSE, exclusion_cause),
    Check(BAR_MISSING, bar_missing),
    Check(NOTES_EXCLUDE, notes_exclude),
)
