"""Energy, velocity and angle of a pendulum that swings without losses.

Angles are in degrees from the pendulum hanging at rest, positive on the release side and on the rise side. Where a
difference of cosines is needed it is written as a product of sines, which keeps its digits when the angles are close.
"""

from collections.abc import Sequence

import numpy as np

from notchbook.physics.arrays import FloatArray, Floats

ROUNDING = 1e-15
"""A squared sine this far below 0 is still taken for 0."""


def potential_energy_J(moment_Nm: Floats, release_angle_deg: Floats) -> Floats:
    """Energy stored in the pendulum held at its release angle, relative to hanging at rest.

    ``E = M (1 - cos alpha) = 2 M sin^2(alpha/2)``; ISO 13802:1999, 5.2.

    Args:
        moment_Nm: Horizontal moment M, weighed with the pendulum level: force times its distance from the axis.
        release_angle_deg: Release angle alpha.

    Returns:
        Energy in J, in the common shape of the arguments.
    """
    return 2.0 * moment_Nm * np.sin(np.radians(release_angle_deg) / 2.0) ** 2


def moment_of_energy_Nm(energy_J: Floats, release_angle_deg: Floats) -> Floats:
    """Moment of what stores an energy at a release angle: ``M = E / (1 - cos alpha)``, from :func:`potential_energy_J`.

    Args:
        energy_J: Energy relative to hanging at rest.
        release_angle_deg: Release angle alpha, not 0.

    Returns:
        Moment in N m, in the common shape of the arguments.
    """
    return energy_J / (2.0 * np.sin(np.radians(release_angle_deg) / 2.0) ** 2)


def impact_velocity_m_s(striking_length_m: Floats, release_angle_deg: Floats, gravity_m_s2: Floats) -> Floats:
    """Velocity of the striking edge at the lowest point of the swing.

    ``v = sqrt(2 g L (1 - cos alpha)) = 2 sqrt(g L) sin(alpha/2)``; ISO 13802:1999, 5.2.

    Args:
        striking_length_m: Distance L from the axis of rotation to the centre of strike, not negative.
        release_angle_deg: Release angle alpha.
        gravity_m_s2: Acceleration of free fall g, not negative.

    Returns:
        Velocity in m/s, in the common shape of the arguments.
    """
    return 2.0 * np.sqrt(gravity_m_s2 * striking_length_m) * np.abs(np.sin(np.radians(release_angle_deg) / 2.0))


def highest_velocity_m_s(striking_length_m: Floats, gravity_m_s2: Floats) -> Floats:
    """Velocity that no release angle can exceed: that of a pendulum released from straight above its axis.

    ``v = sqrt(4 g L)``, from :func:`impact_velocity_m_s` at 180 deg.

    Args:
        striking_length_m: Distance L from the axis of rotation to the centre of strike, not negative.
        gravity_m_s2: Acceleration of free fall g, not negative.

    Returns:
        Velocity in m/s, in the common shape of the arguments.
    """
    return 2.0 * np.sqrt(gravity_m_s2 * striking_length_m)


def energy_from_rise_J(moment_Nm: Floats, release_angle_deg: Floats, rise_angle_deg: Floats) -> Floats:
    """Energy missing from the pendulum after its swing, losses included: released energy less the energy of the rise.

    ``W = M (cos beta - cos alpha)``; the total absorbed energy of ISO 148-1, 8.2, and ISO 13802:1999, 5.1. Negative
    where the pendulum rises higher than its release.

    Args:
        moment_Nm: Horizontal moment M.
        release_angle_deg: Release angle alpha.
        rise_angle_deg: Angle of rise beta.

    Returns:
        Energy in J, in the common shape of the arguments.
    """
    half_sum = np.radians(np.add(release_angle_deg, rise_angle_deg)) / 2.0
    half_difference = np.radians(np.subtract(release_angle_deg, rise_angle_deg)) / 2.0
    energy: Floats = 2.0 * moment_Nm * np.sin(half_sum) * np.sin(half_difference)
    return energy


def rise_from_energy_deg(moment_Nm: Floats, release_angle_deg: Floats, energy_J: Floats) -> Floats:
    """Angle to which a pendulum without losses rises after it gave off an energy; inverse of the energy from the rise.

    ``cos beta = cos alpha + W / M``, taken by its half angle so that no digits are lost near 0 and 180 deg.

    Args:
        moment_Nm: Horizontal moment M, greater than 0.
        release_angle_deg: Release angle alpha.
        energy_J: Energy W given off between release and rise.

    Returns:
        Angle of rise in degrees, 0 to 180, in the common shape of the arguments. NaN where no such angle exists: more
        energy than the pendulum holds, or so much gained that it would pass the top.
    """
    half_release = np.radians(release_angle_deg) / 2.0
    share = np.divide(energy_J, moment_Nm) / 2.0
    sine_squared = np.sin(half_release) ** 2 - share
    cosine_squared = np.cos(half_release) ** 2 + share
    exists = (sine_squared >= -ROUNDING) & (cosine_squared >= -ROUNDING)
    half_rise = np.arctan2(np.sqrt(np.maximum(sine_squared, 0.0)), np.sqrt(np.maximum(cosine_squared, 0.0)))
    rise: Floats = np.where(exists, np.degrees(2.0 * half_rise), np.nan)[()]
    return rise


def added_moment_Nm(
    masses_kg: Sequence[float] | FloatArray, radii_mm: Sequence[float] | FloatArray, gravity_m_s2: float
) -> float:
    """Moment that masses fixed to the pendulum add to it: ``sum(m g r)``.

    Args:
        masses_kg: The added masses, one dimension.
        radii_mm: Distance of the centre of gravity of each from the axis of rotation, in the same order.
        gravity_m_s2: Acceleration of free fall g.

    Returns:
        Moment in Nm; 0 without masses.

    Raises:
        ValueError: There are not as many radii as masses.
    """
    if len(masses_kg) != len(radii_mm):
        raise ValueError(f"each added mass needs one radius, got {len(masses_kg)} masses and {len(radii_mm)} radii")
    return float(np.dot(masses_kg, radii_mm)) * gravity_m_s2 / 1000.0


_MEAN_STEPS = 12  # the mean doubles its digits each step: 12 reach double precision for every amplitude below 180 deg


def period_ratio(amplitude_deg: Floats) -> Floats:
    """Period of a swing of finite amplitude over that of a vanishingly small one.

    ``T/T0 = (2/pi) K(sin(theta/2)) = 1 / AGM(1, cos(theta/2))``, exact, by the arithmetic-geometric mean of Gauss.

    Args:
        amplitude_deg: Largest angle theta of the swing to each side.

    Returns:
        Ratio without unit, 1 or greater, in the shape of the argument. NaN at 180 deg and beyond, where the pendulum
        does not swing.
    """
    amplitude = np.abs(amplitude_deg)
    swings = amplitude < 180.0
    arithmetic = np.ones_like(amplitude, dtype=np.float64)
    geometric = np.cos(np.radians(np.where(swings, amplitude, 0.0)) / 2.0)
    for _ in range(_MEAN_STEPS):
        arithmetic, geometric = (arithmetic + geometric) / 2.0, np.sqrt(arithmetic * geometric)
    ratio: Floats = np.where(swings, 1.0 / arithmetic, np.nan)[()]
    return ratio


def pendulum_length_mm(period_s: Floats, gravity_m_s2: Floats, amplitude_deg: Floats) -> Floats:
    """Length of the simple pendulum that has the same period: the distance from the axis to the centre of percussion.

    ``L_P = g T0^2 / (4 pi^2)``, ISO 13802:1999, 5.2, with ``T0 = T / (T/T0)`` taken back to vanishing amplitude.

    Args:
        period_s: Period T of one full swing, forth and back.
        gravity_m_s2: Acceleration of free fall g.
        amplitude_deg: Largest angle of the swing to each side while it was timed; 0 takes the period as it is.

    Returns:
        Length in mm, in the common shape of the arguments; NaN where the amplitude is 180 deg or more.
    """
    small_swing_period_s = period_s / period_ratio(amplitude_deg)
    return 1000.0 * gravity_m_s2 * small_swing_period_s**2 / (4.0 * np.pi**2)
