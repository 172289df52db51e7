"""Published means that are other ones now, by how much, and what that comes from."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from notchbook.review.changes import ResultMove

if TYPE_CHECKING:
    from collections.abc import Mapping

    from notchbook.evaluation.records import SetResult
    from notchbook.facts.facts import Facts
    from notchbook.review.changes import Review

_SAME = 1e-12
"""Relative: two computations of the same numbers may differ in their last bits."""


def result_moves(old: Facts, new: Facts, renamed: Mapping[str, str], review: Review) -> list[ResultMove]:
    """The sets of published records whose mean moved, came or went.

    Arguments:
        old: what was known of the handbook.
        new: what is known of it now.
        renamed: older ids of the records that have another one now.
        review: the changes of files that were found, which the moves come from.
    """
    found = []
    changed = _Changed.of(review)
    for record_id in new.records:
        before_id = renamed.get(record_id, record_id)
        if before_id not in old.records:
            continue
        before, after = _sets(old, before_id), _sets(new, record_id)
        causes: tuple[str, ...] | None = None
        for breaks in [*after, *(each for each in before if each not in after)]:
            was, now = before.get(breaks), after.get(breaks)
            if was and now and math.isclose(was.summary.mean, now.summary.mean, rel_tol=_SAME):
                continue
            causes = causes or tuple(_causes(old, new, before_id, record_id, changed))
            found.append(
                ResultMove(
                    record_id,
                    breaks,
                    was.summary.mean if was else None,
                    now.summary.mean if now else None,
                    _expanded(old, before_id, was) or _expanded(new, record_id, now),
                    causes,
                )
            )
    return found


def _sets(facts: Facts, record_id: str) -> dict[tuple[str, ...], SetResult]:
    result = facts.record(record_id).result
    return {each.breaks: each for each in result.sets} if result else {}


def _expanded(facts: Facts, record_id: str, of_set: SetResult | None) -> float | None:
    uncertainty = facts.record(record_id).uncertainty if of_set is not None else None
    found = uncertainty.of_set(of_set) if uncertainty is not None and of_set is not None else None
    return found.expanded if found is not None else None


@dataclass(frozen=True, slots=True)
class _Changed:
    """What of a review a move may come from."""

    readings: frozenset[str]
    """Paths of the files with other readings."""
    identities: frozenset[str]
    """Paths of the files that say something else was tested."""
    setup: dict[str, list[str]]
    """What each record rests on and was changed."""

    @classmethod
    def of(cls, review: Review) -> _Changed:
        setup: dict[str, list[str]] = {}
        for change in review.setup:
            for record_id in change.dependents:
                setup.setdefault(record_id, []).append(f"{change.kind} {change.id}")
        return cls(
            frozenset(each.path for each in review.readings), frozenset(each.path for each in review.identities), setup
        )


def _causes(old: Facts, new: Facts, before_id: str, record_id: str, changed: _Changed) -> list[str]:
    """What the record rests on and what of it changed."""
    path = new.document("test", record_id).path
    causes = []
    if path in changed.readings:
        causes.append("its readings")
    if path in changed.identities:
        causes.append("what it says was tested")
    was, now = old.record(before_id).result, new.record(record_id).result
    if was is not None and now is not None and not now.own_free_swings:
        if was.verification != now.verification:
            causes.append(f"another verification in force, {now.verification or 'none'}")
        elif now.verification is not None:
            path = new.document("verification", now.verification).path
            if path in changed.readings or path in changed.identities:
                causes.append(f"verification {now.verification}")
    return list(dict.fromkeys([*causes, *changed.setup.get(record_id, ()), *changed.setup.get(before_id, ())]))
