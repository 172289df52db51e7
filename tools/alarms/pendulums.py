"""Pendulums as they really swing, and how they are read: what the files of a rig and of a verification are made from.

The losses are those of a machine and not of a formula: bearings and air take so much a degree of travel, the indicator
so much a degree that it is carried. What a reading is comes from the balance of energies, solved for the rise.
"""

from dataclasses import dataclass

import numpy as np

from notchbook.physics.arrays import FloatArray
from notchbook.physics.losses import indicator_loss_J, plastics_loss_J, swing_loss_J
from notchbook.physics.pendulum import energy_from_rise_J

_GRAVITY = 9.81
_HALVINGS = 48
"""Bisections of the rise: 180 degrees to far below what any scale shows."""
_COARSEST_SHARE = 0.4
"""A scale serves a hammer where a division at the height of release is at most so much of the loss it may have."""
_READING_SPREAD = 0.15
"""Standard deviation of where a needle is seen, in divisions."""


@dataclass(frozen=True, slots=True)
class Scale:
    """What is read, to which mark."""

    reads: str
    division: float
    step: float
    """The division, or half of it where readers estimate."""
    decimals: int


@dataclass(frozen=True, slots=True)
class Hammer:
    """A hammer with its losses in one year."""

    id: str
    method: str
    nominal_J: float
    moment_Nm: float
    release_deg: float
    allowed_pct: float
    travel_J_deg: float
    """What bearings and air take a degree of travel."""
    carried_J_deg: float
    """What the indicator takes a degree that it is carried."""

    @property
    def potential_J(self) -> float:
        """The energy that it is released with."""
        return float(self.moment_Nm * (1.0 - np.cos(np.radians(self.release_deg))))

    def rise_deg(self, absorbed_J: FloatArray, *, carried: bool = True) -> FloatArray:
        """Where the pendulum comes to rest after bars took these energies; 0 where they stopped it."""
        left = self.potential_J - self.travel_J_deg * self.release_deg - absorbed_J
        a_degree = self.travel_J_deg + (self.carried_J_deg if carried else 0.0)
        low, high = np.zeros_like(left), np.full_like(left, self.release_deg)
        for _ in range(_HALVINGS):
            middle = (low + high) / 2.0
            short = self.moment_Nm * (1.0 - np.cos(np.radians(middle))) + a_degree * middle < left
            low, high = np.where(short, middle, low), np.where(short, high, middle)
        return (low + high) / 2.0


def read(hammer: Hammer, scale: Scale, rise_deg: FloatArray, random: np.random.Generator | None = None) -> FloatArray:
    """The readings of these rises; without a random source as somebody reads who looks again."""
    value = rise_deg
    if scale.reads == "energy":
        value = np.asarray(energy_from_rise_J(hammer.moment_Nm, hammer.release_deg, rise_deg))
    seen = value + (random.normal(0.0, _READING_SPREAD * scale.division, value.shape) if random is not None else 0.0)
    return np.asarray(np.round(np.round(seen / scale.step) * scale.step, scale.decimals))


def free_swings(hammer: Hammer, scale: Scale) -> tuple[float, float]:
    """The readings of the two free swings."""
    nothing = np.zeros(1)
    first, second = (read(hammer, scale, hammer.rise_deg(nothing, carried=each))[0] for each in (True, False))
    return float(first), float(second)


def measured_J(hammer: Hammer, scale: Scale, swings: tuple[float, float], readings: FloatArray) -> FloatArray:
    """The energies that follow from the readings; ISO 13802:1999, 5.6."""
    rise, first, second = (_rise(hammer, scale, np.asarray(each)) for each in (readings, *swings))
    moment, release = hammer.moment_Nm, hammer.release_deg
    pointer, travel = indicator_loss_J(moment, first, second), swing_loss_J(moment, second, release)
    indicated = energy_from_rise_J(moment, release, rise)
    return np.asarray(indicated - plastics_loss_J(rise, release, pointer, travel))


def _rise(hammer: Hammer, scale: Scale, readings: FloatArray) -> FloatArray:
    if scale.reads == "angle":
        return readings
    cosine = np.cos(np.radians(hammer.release_deg)) + readings / hammer.moment_Nm
    return np.asarray(np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0))))


def striking_length_mm(velocity_m_s: float, release_deg: float) -> float:
    """The length that gives a velocity from a release angle."""
    return float(round(1000.0 * (velocity_m_s / (2.0 * np.sin(np.radians(release_deg) / 2.0))) ** 2 / _GRAVITY))


def fits(scale: Scale, nominal_J: float, release_deg: float, allowed_pct: float) -> bool:
    """Whether a scale is fine enough to see whether a hammer keeps to the loss that it is allowed."""
    a_division = scale.division
    if scale.reads == "angle":
        radians = np.radians(release_deg)
        a_division = nominal_J * np.sin(radians) / (1.0 - np.cos(radians)) * np.radians(scale.division)
    return bool(a_division <= _COARSEST_SHARE * allowed_pct / 100.0 * nominal_J)


def losing(hammer: Hammer, share: float, pointer: float) -> Hammer:
    """The hammer with losses of a share of what it may lose, of which the indicator takes a part."""
    lost_J = share * hammer.allowed_pct / 100.0 * hammer.nominal_J
    return Hammer(
        hammer.id,
        hammer.method,
        hammer.nominal_J,
        hammer.moment_Nm,
        hammer.release_deg,
        hammer.allowed_pct,
        lost_J * (1.0 - pointer) / (2.0 * hammer.release_deg),
        lost_J * pointer / hammer.release_deg,
    )
