"""Swings of a group that die away: on the scale of the rig, and each lower than the one before."""

from collections.abc import Iterator
from itertools import pairwise

from notchbook.checks.subject import Check, Complaint, SwingsCase
from notchbook.evaluation.losses import series_energies_J
from notchbook.findings import Rule

SERIES_SCALE = Rule(
    "series-scale",
    "A series of swings was read on the scale of the rig",
    "An indicator that reads angles shows no energies; whoever types them has worked them out or read another rig.",
    "contract of the data files",
    "Write the angles that the indicator showed, under `rises_deg`.",
)
DYING_AWAY = Rule(
    "dying-away",
    "A pendulum that swings on rises less from swing to swing",
    "Nothing gives energy back to it. A swing as high as the one before was not read, or the indicator stood where it "
    "was.",
    "conservation of energy",
    "See whether a reading was written twice; if the indicator was not pushed back, take the series again.",
)


def series_scale(case: SwingsCase) -> Iterator[Complaint]:
    """Energies from a scale of angles."""
    series, rig = case.record.series, case.rig
    if series is not None and rig is not None and rig.indicator.reads == "angle" and series.indicated_energies_J:
        yield Complaint(
            ("series", "indicated_energies_J"),
            f"rig '{rig.id}' reads angles, but the series has indicated energies",
            "write the angles that were read, under rises_deg",
        )


def dying_away(case: SwingsCase) -> Iterator[Complaint]:
    """Swings that rise as high as the one before, or as the release."""
    series, hammer = case.record.series, case.hammer
    if series is None or hammer is None:
        return
    key = "rises_deg" if series.rises_deg else "indicated_energies_J"
    lost_J = series_energies_J(hammer, series)
    if lost_J[0] < 0.0:
        yield Complaint(("series", key, 0), "the first swing rises above the release angle", "read it again")
    for place, (before, after) in enumerate(pairwise(lost_J), start=1):
        if after <= before:
            yield Complaint(
                ("series", key, place),
                "the swing rises as high as the one before or higher",
                "see whether one was left out, and whether the indicator was pushed back",
            )


SWINGS_CHECKS = (Check(SERIES_SCALE, series_scale), Check(DYING_AWAY, dying_away))
