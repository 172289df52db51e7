"""Records, verifications and hammers with what they refer to, found once: whatever is asked of them is asked here.

What is not there, or could not be read, is None. Nothing here knows of rules or verdicts, so that the checks use it as
well as whoever shows a handbook.
"""

from dataclasses import dataclass
from typing import Any, Self

from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.library import Evaluation
from notchbook.evaluation.losses import Losses, VerificationResult
from notchbook.evaluation.records import RecordResult
from notchbook.evaluation.scale import division_worth_J
from notchbook.model.method import Arrangement, Method, Notch, PendulumClass, SpecimenType
from notchbook.model.procedure import Exercise, Material
from notchbook.model.record import Record
from notchbook.model.rig import Rig
from notchbook.model.verification import FreeSwings, Verification


@dataclass(frozen=True, slots=True, kw_only=True)
class Swung:
    """A hammer on its rig, with the method that it is for."""

    rig: Rig | None
    hammer: SwungHammer | None
    method: Method | None
    """The hammer's method."""

    @classmethod
    def on(cls, evaluation: Evaluation, rig_id: str, hammer_id: str, /, **more: Any) -> Self:
        """The hammer of those ids; more are the values of what a subclass adds."""
        hammer = evaluation.hammers.get((rig_id, hammer_id))
        method = evaluation.library.methods.get(hammer.method) if hammer is not None else None
        return cls(rig=evaluation.library.rigs.get(rig_id), hammer=hammer, method=method, **more)

    @property
    def asked(self) -> PendulumClass | None:
        """What the method asks of a pendulum of that nominal energy; None where it has none."""
        if self.method is None or self.hammer is None:
            return None
        return self.method.pendulums.of_energy(self.hammer.nominal_energy_J)

    @property
    def window_J(self) -> tuple[float, float] | None:
        """The energies that a test with this hammer may absorb."""
        if self.method is None or self.hammer is None:
            return None
        return self.method.energy_window.ends_J(self.hammer.potential_energy_J)

    def division_worth_J(self, rise_deg: float) -> float:
        """What one division of the rig's scale is worth at a rise, losses left out; 0 where that is not known."""
        if self.rig is None or self.hammer is None:
            return 0.0
        return division_worth_J(self.rig.indicator, self.hammer, rise_deg)


@dataclass(frozen=True, slots=True, kw_only=True)
class ResolvedRecord(Swung):
    """A test record."""

    record: Record
    exercise: Exercise | None
    material: Material | None
    verification: Verification | None
    """The verification in force on the day."""
    result: RecordResult | None

    @classmethod
    def of(cls, evaluation: Evaluation, record: Record, /, **more: Any) -> Self:
        """The record with what it refers to; more are the values of what a subclass adds."""
        return cls.on(
            evaluation,
            record.rig,
            record.hammer,
            record=record,
            exercise=evaluation.library.exercises.get(record.exercise),
            material=evaluation.library.materials.get(record.material),
            verification=evaluation.verification_in_force(record.rig, record.hammer, record.date),
            result=evaluation.records.get(record.id),
            **more,
        )

    @property
    def specimen_type(self) -> SpecimenType | None:
        """The method's type of the bars."""
        return self.method.specimen_type(self.record.specimen.type) if self.method is not None else None

    @property
    def notch(self) -> Notch | None:
        """The method's notch of the bars, None also for bars without one."""
        return self.method.notch(self.record.specimen.notch) if self.method is not None else None

    @property
    def arrangement(self) -> Arrangement | None:
        """How the method strikes such bars."""
        return self.method.arrangement(self.record.specimen) if self.method is not None else None

    @property
    def own_swings(self) -> FreeSwings | None:
        """The free swings of its own file: those of the day."""
        return self.record.free_swings

    @property
    def free_swings(self) -> FreeSwings | None:
        """The free swings that its losses come from: those of the day, else of the verification in force."""
        if self.record.free_swings is not None or self.verification is None:
            return self.record.free_swings
        return self.verification.free_swings

    @property
    def losses(self) -> Losses | None:
        """The losses by those free swings."""
        return self.result.losses if self.result is not None else None


@dataclass(frozen=True, slots=True, kw_only=True)
class ResolvedVerification(Swung):
    """A verification."""

    verification: Verification
    result: VerificationResult | None

    @classmethod
    def of(cls, evaluation: Evaluation, verification: Verification, /, **more: Any) -> Self:
        """The verification with what it refers to; more are the values of what a subclass adds."""
        result = evaluation.verifications.get(verification.id)
        return cls.on(
            evaluation, verification.rig, verification.hammer, verification=verification, result=result, **more
        )

    @property
    def own_swings(self) -> FreeSwings:
        """The free swings of its file."""
        return self.verification.free_swings

    @property
    def losses(self) -> Losses | None:
        """The losses by those free swings."""
        return self.result.losses if self.result is not None else None
