"""Period of a pendulum and the length that follows from it."""

import numpy as np

from notchbook.physics.arrays import Floats

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

    ``L_P = g T0^2 / (4 pi^2)``, ISO 13802, 5.2, with ``T0 = T / (T/T0)`` taken back to vanishing amplitude.

    Args:
        period_s: Period T of one full swing, forth and back.
        gravity_m_s2: Acceleration of free fall g.
        amplitude_deg: Largest angle of the swing to each side while it was timed; 0 takes the period as it is.

    Returns:
        Length in mm, in the common shape of the arguments; NaN where the amplitude is 180 deg or more.
    """
    small_swing_period_s = period_s / period_ratio(amplitude_deg)
    return 1000.0 * gravity_m_s2 * small_swing_period_s**2 / (4.0 * np.pi**2)
