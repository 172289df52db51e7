"""Pages of the methods: every number with its clause and how sure it is."""

from collections.abc import Iterator

from notchbook.facts.facts import Facts
from notchbook.model.method import Method, Notch, SpecimenType
from notchbook.model.requirement import Requirement
from notchbook.pages.page import OF_MANY_RECORDS, Page, page_uri
from notchbook.physics import units

INDEX = "methods/index.md"
FOLDER = "methods"

Row = tuple[str, str, Requirement]
"""What is asked, in which unit, and how much."""


def method_pages(facts: Facts) -> Iterator[Page]:
    """One page a method."""
    for method_id, method in facts.methods.items():
        values = {
            "method": method,
            "specimens": [(each, _specimen_rows(each)) for each in method.specimen_types],
            "notches": [(each, _notch_rows(each)) for each in method.notches],
            "machine": _machine_rows(method),
            "climate": _climate_rows(method),
            "base": facts.methods.get(method.based_on or ""),
            "derived_from": [(each, method) for each in facts.methods.values() if each.based_on == method_id],
            "exercises": [each.exercise for each in facts.exercises.values() if each.exercise.method == method_id],
        }
        document = facts.document("method", method_id)
        source = document.path if document.path.startswith(facts.handbook.settings.procedures) else None
        yield Page(
            page_uri(FOLDER, method_id), "method.html.j2", method.standard, values, source, boost=OF_MANY_RECORDS
        )


def _specimen_rows(each: SpecimenType) -> list[Row]:
    rows = [("Length", "mm", each.length_mm), ("Width", "mm", each.width_mm), ("Thickness", "mm", each.thickness_mm)]
    return rows + ([("Span between the supports", "mm", each.span_mm)] if each.span_mm else [])


def _notch_rows(each: Notch) -> list[Row]:
    return [
        ("Radius at the base", "mm", each.base_radius_mm),
        ("Angle", "°", each.angle_deg),
        ("Remaining width", "mm", each.remaining_width_mm),
    ]


def _machine_rows(method: Method) -> list[Row]:
    pendulums = method.pendulums
    rows: list[tuple[str, str, Requirement | None]] = [
        ("Radius of the striking edge", "mm", method.striking_edge.radius_mm),
        ("Angle of the striking edge", "°", method.striking_edge.angle_deg),
        ("Radius of the supports' edges", "mm", method.support_edge_radius_mm),
        ("Strike above the clamp", "mm", method.strike_height_mm),
        ("Radius of the clamp's edges", "mm", method.jaw_edge_radius_mm),
        ("Thickness and width as they are measured, off by", "mm", method.dimension_accuracy_mm),
        ("Velocity, departure from nominal", "%", pendulums.velocity_tolerance_pct),
        ("Potential energy, departure from nominal", "%", pendulums.potential_energy_tolerance_pct),
        ("Striking length against pendulum length", "%", pendulums.length_agreement_pct),
        ("Mass of the frame over that of the pendulum", "times", pendulums.frame_mass_ratio),
        ("Amplitude for timing the period, each side", "°", pendulums.period_amplitude_deg),
    ]
    return [(name, unit, requirement) for name, unit, requirement in rows if requirement is not None]


def _climate_rows(method: Method) -> list[Row]:
    rows: list[Row] = []
    for name, climate in (("Conditioning", method.conditioning), ("Test", method.test_atmosphere)):
        rows.append((f"{name}, temperature", "°C", climate.temperature_C))
        rows.append((f"{name}, relative humidity", "%", climate.humidity_pct))
        if climate.hours is not None:
            rows.append((f"{name}, time", "h", climate.hours))
    for name, unit, asked in (
        ("Conditioning to blow", "s", method.transfer_s),
        ("Clamp torque", "Nm", method.clamp_torque_Nm),
    ):
        if asked is not None:
            rows.append((name, unit, asked))
    return rows


def methods_index(facts: Facts) -> Page:
    """The list of methods, and factors for reading older tables."""
    methods = list(facts.methods.values())
    factors = [
        ("ft·lbf/in", units.J_PER_M_PER_FT_LBF_PER_IN, "J/m", "energy over the width of the notch"),
        ("kgf·cm/cm", units.J_PER_M_PER_KGF_CM_PER_CM, "J/m", "energy over the width of the notch"),
        ("ft·lbf/in²", units.KJ_M2_PER_FT_LBF_PER_IN2, "kJ/m²", "energy over the broken section"),
        ("kgf·cm/cm²", units.KJ_M2_PER_KGF_CM_PER_CM2, "kJ/m²", "energy over the broken section"),
    ]
    return Page(INDEX, "methods.html.j2", "Methods", {"methods": methods, "factors": factors})
