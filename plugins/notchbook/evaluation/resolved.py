"""Records, verifications and hammers with what they refer to, found once: whatever is asked of them is asked here.

What is not there, or could not be read, is None. Nothing here knows of rules or verdicts, so that the checks use it as
well as whoever shows a handbook.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Self

from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.library import Evaluation
from notchbook.evaluation.losses import Losses, VerificationResult
from notchbook.evaluation.records import RecordResult
from notchbook.evaluation.scale import division_worth_J, scale_of
from notchbook.evaluation.swings import LossAgreement, SwingsResult, loss_agreement
from notchbook.model.method import Arrangement, Method, Notch, PendulumClass, SpecimenType
from notchbook.model.procedure import Exercise, Material
from notchbook.model.record import Record
from notchbook.model.rig import Indicator, Rig
from notchbook.model.swings import SwingsRecord
from notchbook.model.verification import FreeSwings, Verification


@dataclass(frozen=True, slots=True, kw_only=True)
class Swung:
    """A hammer on its rig, with the method that it is for."""

    rig: Rig | None
    hammer: SwungHammer | None
    method: Method | None
    """The method that the hammer is fitted for."""

    @classmethod
    def on(cls, evaluation: Evaluation, rig_id: str, hammer_id: str, fitting: str | None, /, **more: Any) -> Self:
        """The hammer of those ids as it is fitted for a method; more are the values of what a subclass adds."""
        hammer = evaluation.fitted(rig_id, hammer_id, fitting)
        method = evaluation.library.methods.get(hammer.method) if hammer is not None else None
        return cls(rig=evaluation.library.rigs.get(rig_id), hammer=hammer, method=method, **more)

    @property
    def scale_read(self) -> Indicator | None:
        """The scale that it is read on; that of the rig where the hammer is not known."""
        if self.rig is None or self.hammer is None:
            return self.rig.indicator if self.rig is not None else None
        return scale_of(self.rig, self.hammer)

    @property
    def asked(self) -> PendulumClass | None:
        """What the method asks of a pendulum of that nominal energy; None where it has none."""
        if self.method is None or self.hammer is None:
            return None
        return self.method.pendulums.of_energy(self.hammer.nominal_energy_J)

    @property
    def speed_m_s(self) -> float | None:
        """The nominal velocity that it strikes with: that of its class, else of the nearest that the method allows.

        Where the method has none it is its own to a tenth. Strengths at different speeds are not to be compared, but
        pendulums of one class are, whatever the last digits of their velocities.
        """
        if self.hammer is None or self.method is None:
            return None
        if self.asked is not None:
            return self.asked.velocity_m_s
        own, allowed = self.hammer.velocity_m_s, self.method.pendulums.velocity_tolerance_pct.highest / 100.0
        classes = {each.velocity_m_s for each in self.method.pendulums.classes}
        nearest = min(classes, key=lambda each: abs(each - own), default=math.inf)
        return nearest if abs(nearest - own) <= allowed * nearest < math.inf else round(own, 1)

    @property
    def window_J(self) -> tuple[float, float] | None:
        """The energies that a test with this hammer may absorb."""
        if self.method is None or self.hammer is None:
            return None
        return self.method.energy_window.ends_J(self.hammer.potential_energy_J)

    def division_worth_J(self, rise_deg: float) -> float:
        """What one division of the rig's scale is worth at a rise, losses left out; 0 where that is not known."""
        scale = self.scale_read
        return division_worth_J(scale, self.hammer, rise_deg) if scale is not None and self.hammer is not None else 0.0


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
            evaluation.method_asked(record),
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
        """The verification with what it refers to, the hammer as it was fitted; more are values of a subclass's own."""
        return cls.on(
            evaluation,
            verification.rig,
            verification.hammer,
            verification.measured.fitting,
            verification=verification,
            result=evaluation.verifications.get(verification.id),
            **more,
        )

    @property
    def is_fitted(self) -> bool:
        """Whether the hammer is taken as it was fitted, so that the measured edge is the one of the method."""
        hammer = self.hammer
        return hammer is None or not hammer.edges or hammer.method == self.verification.measured.fitting

    def for_each_fitting(self, methods: Mapping[str, Method]) -> list[Self]:
        """The same for each method that the hammer serves, of those that are known."""
        if self.hammer is None:
            return [self]
        return [replace(self, hammer=each, method=methods.get(each.method)) for each in self.hammer.fittings]

    @property
    def own_swings(self) -> FreeSwings:
        """The free swings of its file."""
        return self.verification.free_swings

    @property
    def losses(self) -> Losses | None:
        """The losses by those free swings."""
        return self.result.losses if self.result is not None else None


@dataclass(frozen=True, slots=True, kw_only=True)
class ResolvedSwings(Swung):
    """Free swings of a group."""

    record: SwingsRecord
    exercise: Exercise | None
    verification: Verification | None
    """The verification in force on the day."""
    verified: Losses | None
    """Its losses."""
    result: SwingsResult | None

    @classmethod
    def of(cls, evaluation: Evaluation, record: SwingsRecord, /, **more: Any) -> Self:
        """The record with what it refers to; more are the values of what a subclass adds."""
        in_force = evaluation.verification_in_force(record.rig, record.hammer, record.date)
        found = evaluation.verifications.get(in_force.id) if in_force is not None else None
        return cls.on(
            evaluation,
            record.rig,
            record.hammer,
            evaluation.method_asked(record),
            record=record,
            exercise=evaluation.library.exercises.get(record.exercise),
            verification=in_force,
            verified=found.losses if found is not None else None,
            result=evaluation.swings.get(record.id),
            **more,
        )

    @property
    def own_swings(self) -> FreeSwings:
        """The free swings of its file."""
        return self.record.free_swings

    @property
    def losses(self) -> Losses | None:
        """The losses by those free swings."""
        return self.result.losses if self.result is not None else None

    @property
    def agreement(self) -> LossAgreement | None:
        """Its loss beside that of the verification in force; None where one of them is not known."""
        if self.rig is None or self.hammer is None or self.losses is None or self.verified is None:
            return None
        return loss_agreement(self.rig, self.hammer, self.losses, self.verified)
