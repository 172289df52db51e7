"""Conversion of units met in older tables, each built from the exact definitions of its parts."""

from notchbook.physics.gravity import STANDARD_GRAVITY_m_s2

_POUND_kg = 0.45359237  # international pound, 1959
_FOOT_m = 0.3048  # international foot, 1959
_INCH_m = 0.0254
_CENTIMETRE_m = 0.01

J_PER_FT_LBF = _POUND_kg * STANDARD_GRAVITY_m_s2 * _FOOT_m
"""Joule in one foot pound-force."""

J_PER_M_PER_FT_LBF_PER_IN = J_PER_FT_LBF / _INCH_m
"""Joule per metre in one foot pound-force per inch (of notch)."""

KJ_M2_PER_FT_LBF_PER_IN2 = J_PER_FT_LBF / _INCH_m**2 / 1000.0
"""Kilojoule per square metre in one foot pound-force per square inch."""

KJ_M2_PER_KGF_CM_PER_CM2 = STANDARD_GRAVITY_m_s2 / _CENTIMETRE_m / 1000.0
"""Kilojoule per square metre in one kilogram-force centimetre per square centimetre."""

J_PER_M_PER_KGF_CM_PER_CM = STANDARD_GRAVITY_m_s2
"""Joule per metre in one kilogram-force centimetre per centimetre."""
