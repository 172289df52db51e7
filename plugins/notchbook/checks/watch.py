"""The everyday material of a rig on its control chart."""

from collections.abc import Iterator

from notchbook.checks.subject import Check, Complaint, RecordCase
from notchbook.evaluation.watch import FEWEST_JUDGED, watch_of
from notchbook.findings import Rule, Severity
from notchbook.statistics.control import SIGNAL_WORDS

WATCH_CHART = Rule(
    "watch-chart",
    "The everyday material of a rig gives what it gave before",
    "A pendulum, a notching knife or a habit that changes shows first in the material that everybody breaks.",
    "control chart of the means of records in their order, ISO 7870-2:2013 and ISO 8258:1991, from memory: a mean "
    "beyond three standard deviations, nine in a row on one side, or seven in a row that rise or fall, from "
    f"{FEWEST_JUDGED} records since the last repair on; one in a hundred at most where nothing has changed",
    "Look at the rig's page for what changed with it: batch, notching, hammer, repair; acknowledge what explains it.",
    Severity.WARNING,
)


def watch_chart(case: RecordCase) -> Iterator[Complaint]:
    """A record of the everyday material that was a signal when it came."""
    around, record = case.around, case.record
    if case.rig is None:
        return
    if record.rig not in around.watches:
        watch = watch_of(around.evaluation, record.rig)
        around.watches[record.rig] = watch.signals() if watch is not None else {}
    for kind in around.watches[record.rig].get(record.id, ()):
        yield Complaint(
            ("material",),
            f"on the control chart of '{record.material}' on this rig the mean of this record {SIGNAL_WORDS[kind]}",
            "look on the rig's page for what changed with it; acknowledge it where that explains it",
        )


RECORD_CHECKS = (Check(WATCH_CHART, watch_chart),)
