"""A verification: what it found, what the checks say of it, and how its loss lies among earlier ones."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Self

from notchbook.checks.verdict import Placed
from notchbook.evaluation.library import Evaluation
from notchbook.evaluation.loss_history import LossHistory, newest_history
from notchbook.evaluation.losses import EnergyLeft, energy_left
from notchbook.evaluation.resolved import ResolvedVerification


@dataclass(frozen=True, slots=True, kw_only=True)
class VerificationFacts(ResolvedVerification):
    """One verification."""

    conforms: bool
    """Whether the checks find no error in its own file; its rig may be at fault all the same."""
    placed: Sequence[Placed] = field(repr=False)
    """What the checks say of its file and of its rig's."""
    evaluation: Evaluation = field(repr=False)

    @property
    def fitted(self) -> list[Self]:
        """The same for each method that the hammer serves."""
        return self.for_each_fitting(self.evaluation.library.methods)

    @property
    def history(self) -> LossHistory | None:
        """Its loss among earlier ones, where it is the hammer's newest verification and there are enough."""
        return newest_history(self.evaluation, self.verification)

    @property
    def energy_left(self) -> EnergyLeft | None:
        """How the pendulum's energy died away; None without later swings, or with ones that cannot have been."""
        return energy_left(self.hammer, self.own_swings) if self.hammer is not None else None

    @property
    def stands(self) -> bool:
        """Whether the hammer may be used by it: it conforms, or departs only as is declared."""
        own = (each for each in self.placed if each.kind == "verification")
        return not any(each.severity == "error" for each in own)

    def broken(self, rules: Sequence[str], key: str = "") -> list[Placed]:
        """What the checks say of the verification by these rules, and of its rig where that concerns its hammer.

        Arguments:
            rules: ids of rules.
            key: last key of the measured value that is meant, where a rule looks at several or at the rig's file too.
        """
        return [
            each
            for each in self.placed
            if each.rule.id in rules
            and self._concerned(each)
            and (not key or (each.kind == "verification" and key in each.complaint.keys))
        ]

    def _concerned(self, told: Placed) -> bool:
        method = self.method.id if self.method is not None else None
        return told.complaint.concerns(self.verification.hammer, method)
