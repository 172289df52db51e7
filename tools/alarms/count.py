"""What the check says of records that are sound."""

from __future__ import annotations

import datetime as dt
import tempfile
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np

from alarms.laboratory import YEARS, laboratory, write_laboratory
from alarms.sessions import write_records
from notchbook.findings import Severity
from notchbook.handbook import open_handbook

RECORDS_A_LABORATORY = 250
_DAY = dt.date(YEARS[-1] + 1, 9, 1)


@dataclass(slots=True)
class Tally:
    """How many files there were, and how many of them each rule found something in."""

    records: int = 0
    verifications: int = 0
    warned: Counter[str] = field(default_factory=Counter)
    """Records by the rule that warns of them."""
    refused: Counter[str] = field(default_factory=Counter)
    """Records by the rule that refuses them."""
    elsewhere: Counter[str] = field(default_factory=Counter)
    """Other files by the rule that warns of them or refuses them."""
    any_warned: int = 0
    any_refused: int = 0
    findings: list[str] = field(default_factory=list)
    """What was said, a line each."""

    def add(self, other: Tally) -> None:
        """Count the files of another tally too."""
        self.records += other.records
        self.verifications += other.verifications
        for mine, its in (
            (self.warned, other.warned),
            (self.refused, other.refused),
            (self.elsewhere, other.elsewhere),
        ):
            mine.update(its)
        self.any_warned += other.any_warned
        self.any_refused += other.any_refused
        self.findings += other.findings


def tally_laboratory(seed: int, records: int) -> Tally:
    """Make up one laboratory with so many records or a few more, and check it."""
    random = np.random.default_rng([seed, 0])
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        made = laboratory(random)
        write_laboratory(made, root, random)
        write_records(made, root, records, random)
        handbook = open_handbook(root, day=_DAY)
    tally = Tally(len(handbook.library.records), len(handbook.library.verifications))
    seen: dict[Severity, set[tuple[str, str]]] = {Severity.ERROR: set(), Severity.WARNING: set()}
    elsewhere: set[tuple[str, str]] = set()
    for each in handbook.findings:
        if each.severity is Severity.NOTE:
            continue
        tally.findings.append(f"laboratory {seed}: {each}")
        is_record = each.path.startswith("results/tests/")
        (seen[each.severity] if is_record else elsewhere).add((each.path, each.rule))
    tally.warned.update(rule for _, rule in seen[Severity.WARNING])
    tally.refused.update(rule for _, rule in seen[Severity.ERROR])
    tally.elsewhere.update(rule for _, rule in elsewhere)
    tally.any_warned = len({path for path, _ in seen[Severity.WARNING]})
    tally.any_refused = len({path for path, _ in seen[Severity.ERROR]})
    return tally
