"""Data of methods, rigs, materials, exercises and hazards, as the schemas let it through, to model."""

from __future__ import annotations

import math
from typing import Any

from notchbook.model.method import (
    Arrangement,
    Breaks,
    BreakType,
    Climate,
    EdgeRequirement,
    EnergyWindow,
    Method,
    Notch,
    PendulumClass,
    Pendulums,
    Reporting,
    SpecimenNumber,
    SpecimenType,
)
from notchbook.model.procedure import Deviation, Exercise, Hazard, Material, SpecimenChoice, Step, TypicalStrength
from notchbook.model.requirement import Origin, Requirement
from notchbook.model.rig import AddedMass, Clamp, Hammer, Indicator, Rig, StrikingEdge, Supports
from notchbook.physics.gravity import STANDARD_GRAVITY_m_s2, normal_gravity_m_s2

Data = dict[str, Any]


def optional_float(value: float | None) -> float | None:
    """The number as a float, or None where there is none."""
    return None if value is None else float(value)


def _origin(data: Data) -> Origin:
    return Origin(data["clause"], data["source"], data["confidence"], data.get("certainty"))


def _requirement(data: Data) -> Requirement:
    origin = _origin(data)
    if "at_least" in data:
        return Requirement(float(data["at_least"]), 0.0, math.inf, origin)
    if "at_most" in data:
        return Requirement(float(data["at_most"]), math.inf, 0.0, origin)
    return Requirement(float(data["value"]), float(data["below"]), float(data["above"]), origin)


def _optional_requirement(data: Data | None) -> Requirement | None:
    return None if data is None else _requirement(data)


def method(method_id: str, data: Data) -> Method:
    """A method from its file."""
    edge = data["striking_edge"]
    breaks = data["breaks"]
    window = data["energy_window"]
    number = data["specimen_number"]
    reporting = data["reporting"]
    return Method(
        id=method_id,
        title=data["title"],
        standard=data["standard"],
        editions=data["editions"],
        text_seen=data["text_seen"],
        support=data["support"],
        principle=data["principle"],
        specimen_types=tuple(_specimen_type(key, each) for key, each in data["specimen_types"].items()),
        notches=tuple(_notch(key, each) for key, each in data["notches"].items()),
        striking_edge=EdgeRequirement(_requirement(edge["radius_mm"]), _optional_requirement(edge.get("angle_deg"))),
        support_edge_radius_mm=_optional_requirement(data.get("support_edge_radius_mm")),
        strike_height_mm=_optional_requirement(data.get("strike_height_mm")),
        jaw_edge_radius_mm=_optional_requirement(data.get("jaw_edge_radius_mm")),
        pendulums=_pendulums(data["pendulums"]),
        energy_window=EnergyWindow(float(window["low_pct"]), float(window["high_pct"]), _origin(window)),
        specimen_number=SpecimenNumber(
            number["number"], number["fewer"], float(number["fewer_below_variation_pct"]), _origin(number)
        ),
        conditioning=_climate(data["conditioning"]),
        test_atmosphere=_climate(data["test_atmosphere"]),
        breaks=Breaks(
            tuple(
                BreakType(letter, each["title"], each["meaning"], each["has_strength"])
                for letter, each in breaks["types"].items()
            ),
            tuple(tuple(group) for group in breaks["averaged_together"]),
            _origin(breaks),
        ),
        loss_correction=data["loss_correction"],
        loss_origin=_origin(data["loss_origin"]),
        reporting=Reporting(reporting["quantity"], reporting["significant_figures"], _origin(reporting)),
        test_report=tuple(data["test_report"]),
        equipment_hazards=tuple(data["equipment_hazards"]),
        specimen_hazards=tuple(data["specimen_hazards"]),
        sources=dict(data["sources"]),
    )


def _specimen_type(type_id: str, data: Data) -> SpecimenType:
    return SpecimenType(
        type_id,
        _requirement(data["length_mm"]),
        _requirement(data["width_mm"]),
        _requirement(data["thickness_mm"]),
        _optional_requirement(data.get("span_mm")),
        tuple(
            Arrangement(each["direction"], each["notch"], each["designation"], each["symbol"], _origin(each))
            for each in data["arrangements"]
        ),
    )


def _notch(notch_id: str, data: Data) -> Notch:
    return Notch(
        notch_id,
        _requirement(data["base_radius_mm"]),
        _requirement(data["angle_deg"]),
        _requirement(data["remaining_width_mm"]),
    )


def _pendulums(data: Data) -> Pendulums:
    return Pendulums(
        tuple(
            PendulumClass(
                float(each["nominal_energy_J"]), float(each["velocity_m_s"]), float(each["loss_pct"]), _origin(each)
            )
            for each in data["classes"]
        ),
        _requirement(data["velocity_tolerance_pct"]),
        _requirement(data["potential_energy_tolerance_pct"]),
        _requirement(data["length_agreement_pct"]),
        _requirement(data["frame_mass_ratio"]),
        _requirement(data["period_amplitude_deg"]),
    )


def _climate(data: Data) -> Climate:
    return Climate(
        _requirement(data["temperature_C"]),
        _requirement(data["humidity_pct"]),
        _optional_requirement(data.get("hours")),
    )


def rig(rig_id: str, data: Data) -> Rig:
    """A rig from its file; gravity is worked out from the place where only the place is given."""
    gravity, basis = STANDARD_GRAVITY_m_s2, "standard value, because the rig states none"
    if "gravity_m_s2" in data:
        gravity, basis = float(data["gravity_m_s2"]), "stated for the rig"
    elif "gravity_at" in data:
        place = data["gravity_at"]
        gravity = float(normal_gravity_m_s2(place["latitude_deg"], place["height_m"]))
        basis = f"normal gravity (WGS 84) at {place['latitude_deg']:g}° and {place['height_m']:g} m"
    supports, clamp, indicator = data.get("supports"), data.get("clamp"), data["indicator"]
    return Rig(
        id=rig_id,
        title=data["title"],
        location=data.get("location"),
        gravity_m_s2=gravity,
        gravity_basis=basis,
        gravity_stated_twice="gravity_m_s2" in data and "gravity_at" in data,
        striking_length_mm=float(data["striking_length_mm"]),
        indicator=Indicator(
            indicator["reads"],
            optional_float(indicator.get("division_deg")),
            optional_float(indicator.get("division_J")),
        ),
        supports=Supports(float(supports["span_mm"]), optional_float(supports.get("edge_radius_mm")))
        if supports
        else None,
        clamp=Clamp(float(clamp["strike_height_mm"]), optional_float(clamp.get("jaw_edge_radius_mm")))
        if clamp
        else None,
        frame_mass_kg=optional_float(data.get("frame_mass_kg")),
        hammers={key: _hammer(key, each) for key, each in data["hammers"].items()},
        gravity_assumed="gravity_m_s2" not in data and "gravity_at" not in data,
        release_angle_uncertainty_deg=optional_float(data.get("release_angle_uncertainty_deg")),
    )


def _hammer(hammer_id: str, data: Data) -> Hammer:
    edge = data.get("striking_edge")
    return Hammer(
        id=hammer_id,
        title=data.get("title"),
        base=data.get("base"),
        method=data.get("method"),
        nominal_energy_J=optional_float(data.get("nominal_energy_J")),
        release_angle_deg=optional_float(data.get("release_angle_deg")),
        moment_Nm=optional_float(data.get("moment_Nm")),
        striking_edge=StrikingEdge(float(edge["radius_mm"]), optional_float(edge.get("angle_deg"))) if edge else None,
        pendulum_mass_kg=optional_float(data.get("pendulum_mass_kg")),
        added_masses=tuple(
            AddedMass(float(each["mass_kg"]), float(each["radius_mm"])) for each in data.get("added_masses", ())
        ),
        moment_uncertainty_Nm=optional_float(data.get("moment_uncertainty_Nm")),
    )


def material(material_id: str, data: Data) -> Material:
    """A material from its file."""
    return Material(
        material_id,
        data["title"],
        data["symbol"],
        data.get("form"),
        tuple(
            TypicalStrength(
                each["method"],
                each["notch"],
                (float(each["strength_kJ_m2"][0]), float(each["strength_kJ_m2"][1])),
                each["source"],
            )
            for each in data.get("typical", ())
        ),
        data.get("notes"),
    )


def specimen_choice(data: Data) -> SpecimenChoice:
    """Type, notch and direction of the specimens of an exercise or a record."""
    return SpecimenChoice(data["type"], data["notch"], data["direction"])


def deviations(data: list[Data]) -> tuple[Deviation, ...]:
    """Declared deviations of an exercise or a record."""
    return tuple(Deviation(each["rule"], each["reason"], each["accepted_by"]) for each in data)


def exercise(exercise_id: str, data: Data) -> Exercise:
    """An exercise from its file."""
    return Exercise(
        id=exercise_id,
        title=data["title"],
        method=data["method"],
        specimen=specimen_choice(data["specimen"]) if "specimen" in data else None,
        aim=data["aim"],
        outcomes=tuple(data["outcomes"]),
        hazards=tuple(data["hazards"]),
        needs=tuple(data["needs"]),
        prepare=_steps(data["prepare"]),
        steps=_steps(data["steps"]),
        finish=_steps(data["finish"]),
        questions=tuple(data["questions"]),
        duration_min=float(data["duration_min"]),
        number_of_specimens=data.get("number_of_specimens"),
        accepted_deviations=deviations(data.get("accepted_deviations", [])),
        dimension_uncertainty_mm=optional_float(data.get("dimension_uncertainty_mm")),
    )


def _steps(data: list[Data]) -> tuple[Step, ...]:
    return tuple(Step(each["do"], each.get("look_for"), each.get("hazard")) for each in data)


def hazards(data: Data) -> tuple[Hazard, ...]:
    """The department's list of hazards, in the order of the file."""
    return tuple(
        Hazard(
            each["id"],
            each["title"],
            each["harm"],
            each["whom"],
            *(tuple(each["controls"].get(kind, ())) for kind in ("remove", "guard", "arrange", "wear")),
        )
        for each in data["hazards"]
    )
