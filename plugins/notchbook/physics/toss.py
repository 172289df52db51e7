"""Energy of the pieces of a bar that fly off."""

from notchbook.physics.arrays import Floats


def toss_energies_J(mass_kg: Floats, velocity_m_s: Floats) -> tuple[Floats, Floats]:
    """Kinetic energy of a broken bar, between the least and the most that its pieces can have at the pendulum's speed.

    ``m v^2 / 6``: each half turns about its outer end, while the broken end moves with the striking edge; the moment of
    inertia of a rod about its end is a third of its mass times its length squared. ``m v^2 / 2``: the whole bar is
    carried along. Mechanics; that these are the ends is the assumption made here.

    Args:
        mass_kg: Mass m of the bar.
        velocity_m_s: Velocity v of the striking edge at the blow.

    Returns:
        Both energies in J, in the common shape of the arguments.
    """
    carried_J = mass_kg * velocity_m_s**2 / 2.0
    return carried_J / 3.0, carried_J
