"""Impact strength of a bar."""

from notchbook.physics.arrays import Floats


def impact_strength_kJ_m2(energy_J: Floats, thickness_mm: Floats, width_mm: Floats) -> Floats:
    """Energy absorbed over the area of the section that broke.

    ``a = W / (h b)``; ISO 179-1, 8.1 (unnotched) and 8.2 (notched), ISO 180, 8. J over mm2 gives kJ/m2 after
    multiplication by 1000.

    Args:
        energy_J: Absorbed energy W, corrected for losses.
        thickness_mm: Thickness h, greater than 0.
        width_mm: Width b of a bar without a notch, remaining width b_N under the notch of a notched bar; greater
            than 0.

    Returns:
        Impact strength in kJ/m2, in the common shape of the arguments.
    """
    return 1000.0 * energy_J / (thickness_mm * width_mm)
