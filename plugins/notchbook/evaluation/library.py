"""A whole library evaluated, each record with the losses and the verification it rests on."""

import datetime as dt
from bisect import bisect_left
from dataclasses import dataclass, field
from functools import partial

from notchbook.evaluation.hammers import SwungHammer, swung_hammers
from notchbook.evaluation.input_uncertainties import Taken
from notchbook.evaluation.loss_changes import LossChange, VerifiedLoss, loss_changes, pooled, verified_losses
from notchbook.evaluation.loss_drift import loss_drift
from notchbook.evaluation.losses import VerificationResult, evaluate_verification, find_losses
from notchbook.evaluation.records import RecordResult, evaluate_record
from notchbook.evaluation.scale import scale_of
from notchbook.evaluation.swings import SwingsResult, evaluate_swings
from notchbook.evaluation.uncertainty import RecordUncertainty, record_uncertainty
from notchbook.model.library import Library
from notchbook.model.record import Record
from notchbook.model.rig import Indicator
from notchbook.model.swings import SwingsRecord
from notchbook.model.verification import Verification
from notchbook.unchanged import Unchanged, made


@dataclass(slots=True, eq=False)
class Evaluation:
    """Results of everything in a library that could be evaluated, by id."""

    library: Library
    hammers: dict[tuple[str, str], SwungHammer] = field(default_factory=dict)
    """By the ids of rig and hammer."""
    verifications: dict[str, VerificationResult] = field(default_factory=dict)
    swings: dict[str, SwingsResult] = field(default_factory=dict)
    records: dict[str, RecordResult] = field(default_factory=dict)
    by_hammer: dict[tuple[str, str], list[Verification]] = field(default_factory=dict)
    """Verifications by the ids of rig and hammer, the newest first."""
    _uncertainties: dict[str, RecordUncertainty | None] = field(default_factory=dict, init=False)
    _drifts: dict[str, Taken] = field(default_factory=dict, init=False)
    """By the id of the rig."""
    _verified_losses: dict[str, dict[str, list[list[VerifiedLoss]]]] = field(default_factory=dict, init=False)

    @property
    def scales(self) -> dict[tuple[str, str], Indicator]:
        """The scale that each hammer is read on, by the ids of rig and hammer."""
        return {key: scale_of(self.library.rigs[key[0]], hammer) for key, hammer in self.hammers.items()}

    def hammers_of(self, rig: str) -> dict[str, SwungHammer]:
        """The hammers of a rig by their ids."""
        return {hammer_id: each for (rig_id, hammer_id), each in self.hammers.items() if rig_id == rig}

    def fitted(self, rig: str, hammer: str, method: str | None) -> SwungHammer | None:
        """A hammer as it is fitted for a method, or for its first one where it does not serve that."""
        found = self.hammers.get((rig, hammer))
        return found.fitted(method) if found is not None else None

    def method_asked(self, record: Record | SwingsRecord) -> str | None:
        """Id of the method of a record's exercise, which chooses the fitting of its hammer."""
        exercise = self.library.exercises.get(record.exercise)
        return exercise.method if exercise is not None else None

    def hammer_of(self, record: Record | SwingsRecord) -> SwungHammer | None:
        """The hammer of a record as it was fitted."""
        return self.fitted(record.rig, record.hammer, self.method_asked(record))

    def verification_in_force(self, rig: str, hammer: str, day: dt.date) -> Verification | None:
        """The newest verification of that rig and hammer that covers the day: what a test of that day rests on."""
        listed = self.by_hammer.get((rig, hammer), ())
        return next((each for each in listed if each.holds_on(day)), None)

    def nearest_verification(self, rig: str, hammer: str, day: dt.date) -> Verification | None:
        """The verification in force on the day, else the one that ended last before it, else the first to come."""
        listed = self.by_hammer.get((rig, hammer), [])
        ended = [each for each in listed if each.valid_until < day]
        last = max(ended, key=lambda each: each.valid_until, default=None)
        return self.verification_in_force(rig, hammer, day) or last or next(reversed(listed), None)

    def around_day(self, rig: str, hammer: str, day: dt.date, earlier: int, later: int = 0) -> list[Verification]:
        """The verifications of that rig and hammer that are nearest to a day, the newest first.

        Arguments:
            rig: id of the rig.
            hammer: id of the hammer.
            day: the day.
            earlier: how many at most of that day or before.
            later: how many at most after it.
        """
        listed = self.by_hammer.get((rig, hammer), [])
        place = bisect_left(listed, -day.toordinal(), key=lambda each: -each.date.toordinal())
        return listed[max(0, place - later) : place + earlier]

    def verified_losses(self, rig: str) -> dict[str, list[list[VerifiedLoss]]]:
        """The losses of a rig by hammer, a list for each time between two repairs; found when first asked for."""
        if rig not in self._verified_losses:
            self._verified_losses[rig] = {
                hammer_id: verified_losses(
                    self.library.rigs[rig], hammer, self.by_hammer.get((rig, hammer_id), ()), self.verifications
                )
                for hammer_id, hammer in self.hammers_of(rig).items()
            }
        return self._verified_losses[rig]

    def loss_changes(self, rig: str) -> list[LossChange]:
        """The changes of all losses of a rig from one verification to the next, none across a repair."""
        times = (time for hammer in self.verified_losses(rig).values() for time in hammer)
        return [change for time in times for change in loss_changes(time)]

    def loss_drift(self, record: Record) -> Taken | None:
        """How far a record's losses may have gone since they were verified, as a share; None for those of the day."""
        return None if record.free_swings is not None else self.rig_drift(record.rig)

    def rig_drift(self, rig: str) -> Taken:
        """How far the losses of a rig's hammers may have gone since they were verified, as a share."""
        if rig not in self._drifts:
            self._drifts[rig] = loss_drift(pooled(self.loss_changes(rig)))
        return self._drifts[rig]

    def uncertainty(self, record_id: str) -> RecordUncertainty | None:
        """Uncertainties of a record's results, worked out when they are first asked for.

        None where the record could not be evaluated or the losses of its tests are not known.
        """
        if record_id not in self._uncertainties:
            self._uncertainties[record_id] = self._uncertainty(record_id)
        return self._uncertainties[record_id]

    def _uncertainty(self, record_id: str) -> RecordUncertainty | None:
        result = self.records.get(record_id)
        if result is None:
            return None
        record = self.library.records[record_id]
        swings = record.free_swings
        if swings is None and result.verification is not None:
            swings = self.library.verifications[result.verification].free_swings
        hammer = self.hammer_of(record)
        if swings is None or hammer is None:
            return None
        return record_uncertainty(
            record,
            result,
            self.library.rigs[record.rig],
            hammer,
            self.library.methods[hammer.method],
            swings,
            self.library.exercises.get(record.exercise),
            self.loss_drift(record),
        )


def evaluate_library(library: Library, unchanged: Unchanged | None = None) -> Evaluation:
    """Evaluate what can be: what lacks a rig, a hammer or a method is left out and told by the checks."""
    evaluation = Evaluation(library)
    for rig in library.rigs.values():
        for hammer_id, hammer in swung_hammers(rig).items():
            evaluation.hammers[rig.id, hammer_id] = hammer
    for verification in sorted(library.verifications.values(), key=lambda each: (each.date, each.id), reverse=True):
        key = (verification.rig, verification.hammer)
        evaluation.by_hammer.setdefault(key, []).append(verification)
        verified = evaluation.hammers.get(key)
        if verified is not None:
            result = evaluate_verification(library.rigs[verification.rig], verified, verification)
            evaluation.verifications[verification.id] = result
    for swung in library.swings.values():
        own = evaluation.hammer_of(swung)
        if own is not None:
            evaluation.swings[swung.id] = evaluate_swings(library.rigs[swung.rig], own, swung)
    for record in library.records.values():
        found = _evaluate(library, evaluation, record, unchanged)
        if found is not None:
            evaluation.records[record.id] = found
    return evaluation


def _evaluate(
    library: Library, evaluation: Evaluation, record: Record, unchanged: Unchanged | None
) -> RecordResult | None:
    hammer = evaluation.hammer_of(record)
    method = library.methods.get(hammer.method) if hammer is not None else None
    if hammer is None or method is None:
        return None
    verification = evaluation.verification_in_force(record.rig, record.hammer, record.date)
    losses = None
    if record.free_swings is not None:
        losses = find_losses(hammer, record.free_swings)
    elif verification is not None:
        losses = evaluation.verifications[verification.id].losses
    inputs = (record, hammer, method, losses, verification.id if verification is not None else None)
    return made(unchanged, ("result", record.id), inputs, partial(evaluate_record, *inputs))
