"""The small handbook's record with each form of loss and scale, and its energies and strengths by another model.

The model is written apart from the engine, in energies and cosines, for numbers of any kind. An energy scale is one of
angles, ruled in energy for the moment and release angle of the rig's file; these two numbers on the scale are exact,
the pendulum's own are not. Numbers of the handbook are invented.
"""

import math

import numpy as np

from notchbook.physics.pendulum import energy_from_rise_J
from small_handbook import RIG, TEST, TEST_ID, VERIFICATION, files, opened, own_method

MOMENT, RELEASE = 0.9097, 95.7
SWINGS = {"first-rise": 94.6, "second-rise": 95.0, "later-rise": 89.2}
ENERGY_NAMES = {"rise-angle": "indicated-energy"} | {
    name: name.replace("rise", "indicated-energy") for name in SWINGS
}  # fmt: skip
DIVISION_deg, DIVISION_J = 0.2, 0.004
FREE_SWING_J = MOMENT * (math.cos(math.radians(SWINGS["first-rise"])) - math.cos(math.radians(RELEASE)))
"""All that the first free swing lost, by which the losses may have gone since."""


def shown_J(angle):
    """What an energy scale of the hammer shows at an angle of rise."""
    return float(energy_from_rise_J(MOMENT, RELEASE, angle))


def contents(correction="plastics", scale="angle"):
    """The small handbook with that form of loss and that scale."""
    changed = files()
    if correction == "metals":
        method = own_method("loss_correction: plastics", "loss_correction: metals")
        changed["procedures/methods/own.yaml"] = method
        changed[RIG]["hammers"]["charpy-1"]["method"] = "own"
    if scale == "energy":
        changed[RIG]["indicator"] = {"reads": "energy", "division_J": DIVISION_J}
        swings = changed[VERIFICATION]["free_swings"]
        for name in SWINGS:
            key = name.replace("-", "_")
            swings[key.replace("rise", "indicated_energy_J")] = shown_J(swings.pop(f"{key}_deg"))
        for specimen in changed[TEST]["specimens"]:
            specimen["indicated_energy_J"] = shown_J(specimen.pop("rise_angle_deg"))
    return changed


def evaluated(path, changed=None):
    """Uncertainties and results of the small handbook's record."""
    evaluation = opened(path, changed).evaluation
    return evaluation.uncertainty(TEST_ID), evaluation.records[TEST_ID]


def inputs_of(place, scale):
    """Value, standard uncertainty and the half-widths of the rectangular parts of each input of a specimen.

    By the rules that are documented for a handbook that states no uncertainty: half a division to each side; 0.2 % of
    force and of length; 0.02 mm; the release angle as a reading of the scale; zero and marks of the scale as half a
    division each; 30 % of the loss for how far it may have gone since it was verified.
    """
    specimen = files()[TEST]["specimens"][place]
    half = DIVISION_deg / 2
    angles = {"release-angle": (RELEASE, [half]), "rise-angle": (specimen["rise_angle_deg"], [half])} | {
        name: (value, [half]) for name, value in SWINGS.items()
    }
    if scale == "energy":
        per_deg = MOMENT * math.sin(math.radians(RELEASE)) * math.pi / 180
        angles = {"release-angle": (RELEASE, [DIVISION_J / 2 / per_deg])} | {
            ENERGY_NAMES[name]: (shown_J(value), [DIVISION_J / 2])
            for name, (value, _) in angles.items()
            if name != "release-angle"
        }
    unit = half if scale == "angle" else DIVISION_J / 2
    marks = {name: (0.0, [unit]) for name in ("zero", "bar-marks", "swing-marks")}
    # a rig with a single verification
    angles |= marks | {"loss-drift": (FREE_SWING_J, [0.3 * FREE_SWING_J])}
    lengths = {
        "thickness": (specimen["thickness_mm"], [0.02]),
        "remaining-width": (specimen["remaining_width_mm"], [0.02]),
    }
    return {"moment": (MOMENT, [0.002 * MOMENT, 0.002 * MOMENT])} | angles | lengths


def standard(limits):
    return math.sqrt(sum(limit**2 / 3 for limit in limits))


def model(values, correction, functions):
    """Energy and strength from the inputs, each a number, an array or a number with uncertainty."""
    cos, acos, radians = functions.cos, functions.acos, math.pi / 180

    def angle(name):
        """In radians. The bars have the zero of their day and the marks of their place, the free swings other ones."""
        off = values["zero"] + values["bar-marks"] if name == "rise-angle" else values["swing-marks"]
        if name in values:
            return (values[name] + off) * radians
        return acos(math.cos(RELEASE * radians) + (values[ENERGY_NAMES[name]] + off) / MOMENT)

    moment, alpha = values["moment"], values["release-angle"] * radians
    beta, first, second = angle("rise-angle"), angle("first-rise"), angle("second-rise")
    if correction == "plastics":
        after_first, after_second = (moment * (cos(each) - cos(alpha)) for each in (first, second))
        loss = (after_second + beta / alpha * (2 * after_first - after_second)) / 2
    else:
        pointer, later = moment * (cos(first) - cos(second)), angle("later-rise")
        air = moment * (cos(later) - cos(second)) / 10
        loss = pointer * beta / first + air * (alpha + beta) / (alpha + second)
    energy = moment * (cos(beta) - cos(alpha)) - loss * values["loss-drift"] / FREE_SWING_J
    return energy, 1000 * energy / (values["thickness"] * values["remaining-width"])


class Arrays:
    cos, acos = np.cos, np.arccos
