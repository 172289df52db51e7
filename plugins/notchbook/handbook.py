"""A whole handbook in memory: read, evaluated, checked. Both doors hold one in their hands."""

import datetime as dt
import os
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

from notchbook.checks.registry import BY_SUBJECT
from notchbook.checks.registry import RULES as CHECK_RULES
from notchbook.checks.run import run_checks
from notchbook.checks.verdict import Placed, Verdicts
from notchbook.commit_time import commit_time
from notchbook.evaluation.library import Evaluation, evaluate_library
from notchbook.findings import Finding, Rule, Severity
from notchbook.model.library import Library
from notchbook.model.settings import Settings
from notchbook.reading import nodes
from notchbook.reading.document import Document
from notchbook.reading.library import ReadHandbook, read_library
from notchbook.reading.rules import RULES as READING_RULES
from notchbook.site_reading.settings import read_settings
from notchbook.site_reading.site_config import config_path, read_site_config
from notchbook.site_reading.site_rules import RULES as SITE_RULES
from notchbook.unchanged import Unchanged

_LONGEST_EPOCH = 11
"""Digits of the seconds up to the year 5138; a longer number is no date of a build."""
RULES_BY_SUBJECT: dict[str, tuple[Rule, ...]] = BY_SUBJECT | {"Every file": (*READING_RULES, *SITE_RULES)}
"""Every rule of the handbook by what it looks at; one that looks at several kinds of file stands under each."""
RULES: dict[str, Rule] = {rule.id: rule for rule in (*READING_RULES, *SITE_RULES)} | CHECK_RULES
"""The same by id: those of a file as such first."""


@dataclass(frozen=True, slots=True)
class Handbook:
    """Everything that is known of a handbook."""

    root: Path
    settings: Settings
    library: Library
    documents: dict[tuple[str, str], Document]
    """By kind and id."""
    evaluation: Evaluation
    verdicts: Verdicts
    findings: tuple[Finding, ...]
    """All findings, sorted by place."""
    files: int
    """How many data files were looked at."""
    day: dt.date
    """The day that dates were held against."""

    def count(self, severity: Severity) -> int:
        """How many findings have that severity."""
        return sum(finding.severity is severity for finding in self.findings)

    def findings_in(self, kind: str, object_id: str) -> tuple[Finding, ...]:
        """The findings in the file of one object."""
        document = self.documents.get((kind, object_id))
        return tuple(each for each in self.findings if document is not None and each.path == document.path)


def today() -> dt.date:
    """The day that dates are held against: SOURCE_DATE_EPOCH's where it is set, so that a build can be repeated."""
    epoch = os.environ.get("SOURCE_DATE_EPOCH", "")
    if epoch.isascii() and epoch.isdigit() and len(epoch) <= _LONGEST_EPOCH:
        return dt.datetime.fromtimestamp(int(epoch), tz=dt.UTC).date()
    return dt.datetime.now().astimezone().date()


def day_of(root: Path) -> dt.date:
    """The day that the dates of a handbook are held against, by check, review and build alike.

    That of the commit that its files are, so that a commit is judged the same whenever it is; today's where they are
    no commit's, or where SOURCE_DATE_EPOCH says which day it is.
    """
    committed = commit_time(root, read_site_config(config_path(root)).site_dir)
    return committed.day if committed is not None else today()


def open_handbook(
    root: Path,
    settings: Settings | None = None,
    found: Iterable[Finding] = (),
    *,
    day: dt.date | None = None,
    advance: Callable[[], None] = lambda: None,
    unchanged: Unchanged | None = None,
) -> Handbook:
    """Read, evaluate and check everything under the root.

    Arguments:
        root: the folder that holds the folders of procedures and results.
        settings: those of the plugin; read from the root's mkdocs.yml where left out.
        found: findings about the settings, where these are given.
        day: the day after which a date is in the future; today where left out.
        advance: called once for each record that was checked, for a progress bar.
        unchanged: what the caller holds of earlier readings, where the same handbook is opened again and again.
    """
    if settings is None:
        settings, found = read_settings(root)
    read = read_library(root, settings, unchanged)
    return handbook_of(root, settings, read, found, day=day, advance=advance, unchanged=unchanged)


def handbook_of(
    root: Path,
    settings: Settings,
    read: ReadHandbook,
    found: Iterable[Finding] = (),
    *,
    day: dt.date | None = None,
    advance: Callable[[], None] = lambda: None,
    unchanged: Unchanged | None = None,
) -> Handbook:
    """Evaluate and check what was read; `found` are findings from elsewhere, the rest is as for a whole handbook."""
    evaluation = evaluate_library(read.library, unchanged)
    day = day or today()
    verdicts = run_checks(read.library, evaluation, day, settings.deviations, advance, unchanged)
    everything = {*found, *read.findings, *_located(verdicts.placed, read.documents)}
    return Handbook(
        root,
        settings,
        read.library,
        read.documents,
        evaluation,
        verdicts,
        tuple(sorted(everything, key=lambda each: each.order)),
        read.files,
        day,
    )


def _located(placed: list[Placed], documents: dict[tuple[str, str], Document]) -> list[Finding]:
    """The complaints as findings at their places; each file's nodes are composed once."""
    by_document: dict[tuple[str, str], list[Placed]] = {}
    for each in placed:
        by_document.setdefault((each.kind, each.id), []).append(each)
    found = []
    for key, complaints in by_document.items():
        document = documents[key]
        node = nodes.compose(document.text)
        for each in complaints:
            complaint = each.complaint
            line, column = nodes.position(node, complaint.keys) if node is not None else (1, 1)
            found.append(
                Finding(each.rule.id, each.severity, document.path, line, column, complaint.message, complaint.hint)
            )
    return found
