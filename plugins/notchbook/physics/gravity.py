"""Acceleration of free fall."""

import numpy as np

from notchbook.physics.arrays import Floats

STANDARD_GRAVITY_m_s2 = 9.80665
"""Conventional acceleration of free fall; 3rd General Conference on Weights and Measures, 1901."""

# World Geodetic System 1984, formula of Somigliana
_EQUATOR_m_s2 = 9.7803253359
_SOMIGLIANA_CONSTANT = 0.00193185265241
_ECCENTRICITY_SQUARED = 0.00669437999014
# Rate at which gravity falls with height in free air, near the ground
_FREE_AIR_m_s2_per_m = 3.086e-6


def normal_gravity_m_s2(latitude_deg: Floats, height_m: Floats) -> Floats:
    """Gravity to be expected at a place, from its latitude and height.

    ``g = g_e (1 + k sin^2) / sqrt(1 - e^2 sin^2) - 3.086e-6 h``: formula of Somigliana with the constants of WGS 84
    and the linear free-air term. Rock and buildings nearby change gravity by up to some 1e-3 m/s2 (memory).

    Args:
        latitude_deg: Geodetic latitude, -90 to 90.
        height_m: Height above sea level.

    Returns:
        Acceleration in m/s2, in the common shape of the arguments.
    """
    sine_squared = np.sin(np.radians(latitude_deg)) ** 2
    at_sea_level = (
        _EQUATOR_m_s2
        * (1.0 + _SOMIGLIANA_CONSTANT * sine_squared)
        / np.sqrt(1.0 - _ECCENTRICITY_SQUARED * sine_squared)
    )
    gravity: Floats = at_sea_level - _FREE_AIR_m_s2_per_m * height_m
    return gravity
