"""Energy that indicator, bearings and air take from a swing, and the correction of a test for it.

Two free swings without a specimen are read. In the first the indicator starts from the hanging position and is
carried (rise beta_1); in the second it is not reset and is hardly moved (rise beta_2). The metals methods let the
pendulum swing on and read a later rise beta_3. Angles are in degrees from the pendulum hanging at rest, all positive.
"""

from notchbook.physics.arrays import Floats
from notchbook.physics.pendulum import energy_from_rise_J


def indicator_loss_J(moment_Nm: Floats, first_rise_deg: Floats, second_rise_deg: Floats) -> Floats:
    """Energy taken by the indicator in one half swing.

    ``W_P = M (cos beta_1 - cos beta_2)``; ISO 13802:1999, 5.6, p of ISO 148-1, 8.2.

    Args:
        moment_Nm: Horizontal moment M.
        first_rise_deg: Rise beta_1 of the free swing that carries the indicator.
        second_rise_deg: Rise beta_2 of the free swing that does not.

    Returns:
        Energy in J, in the common shape of the arguments; negative where the first rise is the greater one, which
        measurement cannot give on a sound machine.
    """
    return energy_from_rise_J(moment_Nm, second_rise_deg, first_rise_deg)


def swing_loss_J(moment_Nm: Floats, second_rise_deg: Floats, release_angle_deg: Floats) -> Floats:
    """Energy taken by bearings and air in one half swing, from release to rise.

    ``W_AB = M (cos beta_2 - cos alpha)``; ISO 13802:1999, 5.6.

    Args:
        moment_Nm: Horizontal moment M.
        second_rise_deg: Rise beta_2 of the free swing that does not carry the indicator.
        release_angle_deg: Release angle alpha.

    Returns:
        Energy in J, in the common shape of the arguments; negative where the rise exceeds the release.
    """
    return energy_from_rise_J(moment_Nm, release_angle_deg, second_rise_deg)


def half_swing_loss_J(
    moment_Nm: Floats, second_rise_deg: Floats, later_rise_deg: Floats, half_swings: Floats
) -> Floats:
    """Energy taken by bearings and air in one half swing, averaged over several.

    ``p' = M (cos beta_3 - cos beta_2) / n``; ISO 148-1, 8.2, with n = 10 there.

    Args:
        moment_Nm: Horizontal moment M.
        second_rise_deg: Rise beta_2 of the free swing that does not carry the indicator.
        later_rise_deg: Rise beta_3 after further half swings.
        half_swings: Number n of half swings from the second to the later rise, greater than 0.

    Returns:
        Energy in J, in the common shape of the arguments.
    """
    return energy_from_rise_J(moment_Nm, second_rise_deg, later_rise_deg) / half_swings


def plastics_loss_J(
    rise_angle_deg: Floats, release_angle_deg: Floats, indicator_loss_J: Floats, swing_loss_J: Floats
) -> Floats:
    """Energy lost in a test that rises to an angle, in the form of the plastics methods.

    ``W_f = 1/2 [W_AB + (beta/alpha) (W_AB + 2 W_P)]``; ISO 13802:1999, 5.6: half of the swing loss on the way down,
    the other half and the indicator loss in proportion to the rise.

    Args:
        rise_angle_deg: Angle of rise beta in the test.
        release_angle_deg: Release angle alpha, greater than 0.
        indicator_loss_J: Indicator loss W_P of a free swing.
        swing_loss_J: Bearing and air loss W_AB of a free swing.

    Returns:
        Energy in J, in the common shape of the arguments.
    """
    risen_share = rise_angle_deg / release_angle_deg
    return 0.5 * (swing_loss_J + risen_share * (swing_loss_J + 2.0 * indicator_loss_J))


def metals_loss_J(
    rise_angle_deg: Floats,
    release_angle_deg: Floats,
    first_rise_deg: Floats,
    second_rise_deg: Floats,
    indicator_loss_J: Floats,
    half_swing_loss_J: Floats,
) -> Floats:
    """Energy lost in a test that rises to an angle, in the form of the metals methods.

    ``p_beta = p beta/beta_1 + p' (alpha + beta)/(alpha + beta_2)``; ISO 148-1, 8.2.

    Args:
        rise_angle_deg: Angle of rise beta in the test.
        release_angle_deg: Release angle alpha.
        first_rise_deg: Rise beta_1 of the free swing that carries the indicator, greater than 0.
        second_rise_deg: Rise beta_2 of the free swing that does not.
        indicator_loss_J: Indicator loss p of a free swing.
        half_swing_loss_J: Bearing and air loss p' of a half swing.

    Returns:
        Energy in J, in the common shape of the arguments.
    """
    carried_share = rise_angle_deg / first_rise_deg
    travelled_share = (release_angle_deg + rise_angle_deg) / (release_angle_deg + second_rise_deg)
    return indicator_loss_J * carried_share + half_swing_loss_J * travelled_share


def loss_share_pct(indicator_loss_J: Floats, swing_loss_J: Floats, nominal_energy_J: Floats) -> Floats:
    """Losses of one free swing as a share of the nominal energy; ISO 13802:1999, Table 2, limits this share.

    ``100 (W_P + W_AB) / nominal energy``.

    Args:
        indicator_loss_J: Indicator loss W_P of a free swing.
        swing_loss_J: Bearing and air loss W_AB of a free swing.
        nominal_energy_J: Nominal energy of the pendulum, greater than 0.

    Returns:
        Share in percent, in the common shape of the arguments.
    """
    return 100.0 * (indicator_loss_J + swing_loss_J) / nominal_energy_J
