"""Which repairs of a rig concern a hammer."""

import datetime as dt

from notchbook.evaluation.hammers import chain
from notchbook.model.rig import Repair, Rig


def repairs_of(rig: Rig, hammer: str) -> list[Repair]:
    """The repairs of all hammers, and those of this one or of one that it is built on, by date."""
    own = {each.id for each in chain(rig, hammer) or ()}
    return sorted((each for each in rig.repairs if each.hammer is None or each.hammer in own), key=lambda each: each.on)


def last_repair(rig: Rig, hammer: str, day: dt.date) -> dt.date | None:
    """The day of the last repair that concerns a hammer, up to a day; None where there was none."""
    return max((each.on for each in repairs_of(rig, hammer) if each.on <= day), default=None)
