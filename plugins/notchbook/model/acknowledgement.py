"""A warning that is true and stays, as the file itself says."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Acknowledgement:
    """A warning that somebody looked into."""

    rule: str
    reason: str
    """Why nothing has to be put right."""
    by: str
    """Code of the role that looked into it."""
