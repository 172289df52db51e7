"""How the energy that a specimen absorbed answers to small changes of what it is worked out from.

The energy is ``W = M (cos beta - cos alpha) - W_f(beta)``, with the loss W_f of `notchbook.physics.losses` written out
in the angles of the free swings. Angles are in degrees from the pendulum hanging at rest.
"""

from dataclasses import dataclass

import numpy as np

from notchbook.physics.arrays import Floats
from notchbook.physics.losses import half_swing_loss_J, indicator_loss_J, metals_loss_J, plastics_loss_J, swing_loss_J
from notchbook.physics.pendulum import energy_from_rise_J

_RADIANS = np.pi / 180.0


@dataclass(frozen=True, slots=True)
class EnergySlopes:
    """Partial derivatives of the absorbed energy, all other inputs held.

    Angles are inputs here, so that a change of the moment or of the release angle changes every energy that follows
    from a rise. An energy scale is no exception: it is a scale of angles, ruled in energy for one moment and release.
    """

    moment_J_per_Nm: Floats
    release_J_per_deg: Floats
    rise_J_per_deg: Floats
    first_rise_J_per_deg: Floats
    second_rise_J_per_deg: Floats
    later_rise_J_per_deg: Floats | None
    """None in the form of the plastics methods, which read no later rise."""


def plastics_energy_slopes(
    moment_Nm: Floats,
    release_angle_deg: Floats,
    rise_angle_deg: Floats,
    first_rise_deg: Floats,
    second_rise_deg: Floats,
) -> EnergySlopes:
    """Partial derivatives of the absorbed energy with the loss in the form of the plastics methods.

    Args:
        moment_Nm: Horizontal moment M, greater than 0.
        release_angle_deg: Release angle alpha, greater than 0.
        rise_angle_deg: Angle of rise beta in the test.
        first_rise_deg: Rise beta_1 of the free swing that carries the indicator.
        second_rise_deg: Rise beta_2 of the free swing that does not.

    Returns:
        The derivatives, each in the common shape of the arguments that it depends on.
    """
    indicator = indicator_loss_J(moment_Nm, first_rise_deg, second_rise_deg)
    swing = swing_loss_J(moment_Nm, second_rise_deg, release_angle_deg)
    loss = plastics_loss_J(rise_angle_deg, release_angle_deg, indicator, swing)
    share = rise_angle_deg / release_angle_deg
    # the part of the loss that grows with the rise, at a rise as high as the release, per degree
    risen_J_per_deg = (swing + 2.0 * indicator) / (2.0 * release_angle_deg)
    return EnergySlopes(
        moment_J_per_Nm=(energy_from_rise_J(moment_Nm, release_angle_deg, rise_angle_deg) - loss) / moment_Nm,
        release_J_per_deg=0.5 * (1.0 - share) * rise_slope_J_per_deg(moment_Nm, release_angle_deg)
        + share * risen_J_per_deg,
        rise_J_per_deg=-rise_slope_J_per_deg(moment_Nm, rise_angle_deg) - risen_J_per_deg,
        first_rise_J_per_deg=share * rise_slope_J_per_deg(moment_Nm, first_rise_deg),
        second_rise_J_per_deg=0.5 * (1.0 - share) * rise_slope_J_per_deg(moment_Nm, second_rise_deg),
        later_rise_J_per_deg=None,
    )


def metals_energy_slopes(
    moment_Nm: Floats,
    release_angle_deg: Floats,
    rise_angle_deg: Floats,
    first_rise_deg: Floats,
    second_rise_deg: Floats,
    later_rise_deg: Floats,
    half_swings: Floats,
) -> EnergySlopes:
    """Partial derivatives of the absorbed energy with the loss in the form of the metals methods.

    Args:
        moment_Nm: Horizontal moment M, greater than 0.
        release_angle_deg: Release angle alpha.
        rise_angle_deg: Angle of rise beta in the test.
        first_rise_deg: Rise beta_1 of the free swing that carries the indicator, greater than 0.
        second_rise_deg: Rise beta_2 of the free swing that does not.
        later_rise_deg: Rise beta_3 after further half swings.
        half_swings: Number n of half swings from the second to the later rise, greater than 0.

    Returns:
        The derivatives, each in the common shape of the arguments that it depends on.
    """
    indicator = indicator_loss_J(moment_Nm, first_rise_deg, second_rise_deg)
    half_swing = half_swing_loss_J(moment_Nm, second_rise_deg, later_rise_deg, half_swings)
    loss = metals_loss_J(rise_angle_deg, release_angle_deg, first_rise_deg, second_rise_deg, indicator, half_swing)
    full_travel = release_angle_deg + second_rise_deg
    carried = rise_angle_deg / first_rise_deg
    travelled = (release_angle_deg + rise_angle_deg) / full_travel
    return EnergySlopes(
        moment_J_per_Nm=(energy_from_rise_J(moment_Nm, release_angle_deg, rise_angle_deg) - loss) / moment_Nm,
        release_J_per_deg=rise_slope_J_per_deg(moment_Nm, release_angle_deg)
        - half_swing * (second_rise_deg - rise_angle_deg) / full_travel**2,
        rise_J_per_deg=-rise_slope_J_per_deg(moment_Nm, rise_angle_deg)
        - indicator / first_rise_deg
        - half_swing / full_travel,
        first_rise_J_per_deg=carried * (rise_slope_J_per_deg(moment_Nm, first_rise_deg) + indicator / first_rise_deg),
        second_rise_J_per_deg=travelled * half_swing / full_travel
        - (carried + travelled / half_swings) * rise_slope_J_per_deg(moment_Nm, second_rise_deg),
        later_rise_J_per_deg=travelled / half_swings * rise_slope_J_per_deg(moment_Nm, later_rise_deg),
    )


def rise_slope_J_per_deg(moment_Nm: Floats, angle_deg: Floats) -> Floats:
    """Energy that the pendulum gains for one more degree of its angle: ``M sin(angle) pi/180``.

    Divided by it, a slope or an uncertainty passes between an angle of rise and the energy that an energy scale shows
    at it, the moment and the release angle held; the energy falls as the rise grows.

    Args:
        moment_Nm: Horizontal moment M.
        angle_deg: Angle from the pendulum hanging at rest.

    Returns:
        J/deg, in the common shape of the arguments.
    """
    slope: Floats = moment_Nm * np.sin(np.radians(angle_deg)) * _RADIANS
    return slope
