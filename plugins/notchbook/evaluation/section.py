"""The part of a bar that breaks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from notchbook.physics.strength import impact_strength_kJ_m2

if TYPE_CHECKING:
    from notchbook.model.method import Method
    from notchbook.model.procedure import SpecimenChoice


@dataclass(frozen=True, slots=True)
class Section:
    """The part of a bar that breaks, at its nominal dimensions."""

    thickness_mm: float
    width_mm: float
    """What is left under a notch, the whole width without one."""

    def energy_J(self, strength_kJ_m2: float) -> float:
        """Energy that a bar of that strength absorbs: ``W = a h b``."""
        return strength_kJ_m2 / float(impact_strength_kJ_m2(1.0, self.thickness_mm, self.width_mm))


def nominal_section(method: Method, specimen: SpecimenChoice) -> Section | None:
    """The nominal section of a method's specimen; None where the method has no such type or notch."""
    return bar_section(method, specimen.type, specimen.notch)


def bar_section(method: Method, type_id: str, notch_id: str) -> Section | None:
    """The nominal section of a type with a notch, or with `none`; None where the method has no such type or notch."""
    bar, notch = method.specimen_type(type_id), method.notch(notch_id)
    if bar is None or (notch is None and notch_id != "none"):
        return None
    width = bar.width_mm if notch is None else notch.remaining_width_mm
    return Section(bar.thickness_mm.value, width.value)
