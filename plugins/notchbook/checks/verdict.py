"""Complaints weighed: what a record declares, what it inherits from its rig and verification, and what is left."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from notchbook.checks.subject import Complaint
    from notchbook.findings import Rule, Severity
    from notchbook.model.procedure import Deviation


@dataclass(frozen=True, slots=True)
class Placed:
    """A complaint of a rule about one object, before it is given a line and a column."""

    kind: str
    id: str
    rule: Rule
    severity: Severity
    complaint: Complaint
    declared: bool = False
    """Whether it is a departure from the method that was declared and is published with its mark."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether a record conforms to its method, and what was declared where it does not."""

    conforms: bool
    deviations: tuple[Deviation, ...]
    """Declared deviations that really occur, published with the result."""


@dataclass(slots=True)
class Verdicts:
    """What all checks came to."""

    placed: list[Placed] = field(default_factory=list)
    records: dict[str, Verdict] = field(default_factory=dict)
    verifications: dict[str, bool] = field(default_factory=dict)
    """Whether each verification conforms."""
