"""The free swings of a group: what came of them, and what the checks say."""

from dataclasses import dataclass

from notchbook.evaluation.losses import EnergyLeft
from notchbook.evaluation.resolved import ResolvedSwings


@dataclass(frozen=True, slots=True, kw_only=True)
class SwingsFacts(ResolvedSwings):
    """Free swings of one group."""

    conforms: bool
    """Whether the checks find no error in its file."""

    @property
    def energy_left(self) -> EnergyLeft | None:
        """How the pendulum's energy died away; None without later swings, or with ones that cannot have been."""
        return self.result.energy_left if self.result is not None else None

    @property
    def allowed_share_pct(self) -> float | None:
        """Its loss in percent of the loss that the method allows; None where one of them is not known."""
        if self.losses is None or self.asked is None:
            return None
        return 100.0 * self.losses.loss_pct / self.asked.loss_pct
