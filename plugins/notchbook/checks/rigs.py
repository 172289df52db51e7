"""A rig's supports, clamp, edges, frame and gravity against the methods of its hammers."""

from collections.abc import Iterator
from dataclasses import replace

from notchbook.checks.hammers import stated_key
from notchbook.checks.subject import Check, Complaint, RigCase
from notchbook.checks.words import departs, outside
from notchbook.evaluation.hammers import edge_stated_by
from notchbook.findings import Rule
from notchbook.model.method import Method
from notchbook.model.requirement import Requirement
from notchbook.wording.numbers import number

_OWN_EDGE = "state the striking edge of this hammer as it was measured, or correct its base or its method"
_LOWEST_GRAVITY_m_s2, _HIGHEST_GRAVITY_m_s2 = 9.76, 9.84
_OLDER_GAP_mm, _NEAR_mm = 60.0, 0.5
"""The gap of texts of the 1982 family for the same bar."""

RIG_SUPPORT = Rule(
    "rig-support",
    "A rig has what its hammers' methods hold the bar with",
    "A three-point bar lies on two supports, a cantilever is clamped.",
    "ISO 179-1, 5.1; ISO 180, 5.1",
    "Add the supports or the clamp to the rig's file, or correct the hammer's method.",
)
SUPPORT_SPAN = Rule(
    "support-span",
    "The span between the supports is the method's",
    "A longer span bends the bar further before it breaks.",
    "ISO 179-1, Table 1",
    "Set the supports with a gauge, measure again and write down what was measured.",
    declarable=True,
)
SUPPORT_EDGE = Rule(
    "support-edge",
    "The supports' or the clamp's edge has the method's radius",
    "A sharp edge bites into the bar, a round one lets it slide.",
    "ISO 13802:1999, 5.7; ISO 180, Figure 2",
    "Measure the edge again; if it is right, have the supports or jaws replaced.",
    declarable=True,
)
STRIKING_EDGE = Rule(
    "striking-edge",
    "The striking edge has the method's radius and angle",
    "A blunt edge spreads the blow, a sharp one cuts.",
    "ISO 13802:1999, 5.8",
    "Measure the edge again; if it is right, have it reground or replaced.",
    declarable=True,
)
STRIKE_HEIGHT = Rule(
    "strike-height",
    "The clamped bar is struck at the method's height",
    "The height is the lever arm of the blow.",
    "ISO 180, 5; ISO 13802:1999, 5.8",
    "Set the clamp with its gauge and measure again.",
    declarable=True,
)
FRAME_MASS = Rule(
    "frame-mass",
    "The frame is heavy enough for its hammers",
    "A light frame recoils and takes energy that is then counted as the bar's.",
    "ISO 180, 5; ISO 13802:2015, Annex D",
    "Have the frame fixed to a heavier base and count that, or correct the mass.",
    declarable=True,
)
GRAVITY = Rule(
    "gravity",
    "Gravity is stated once, and is one of this planet",
    "It ranges from 9.76 to 9.84 m/s² between the equator's heights and the poles.",
    "WGS 84 normal gravity",
    "Keep either the value or the place, and look the value up for the place.",
)


def rig_support(case: RigCase) -> Iterator[Complaint]:
    """Supports or clamp that are not there."""
    for hammer, method in case.with_methods():
        missing = {"three-point": case.rig.supports is None, "cantilever": case.rig.clamp is None}[method.support]
        if missing:
            what = "supports" if method.support == "three-point" else "clamp"
            yield Complaint(
                ("hammers", hammer.id, stated_key(case, hammer, "methods" if hammer.edges else "method")),
                f"hammer '{hammer.id}' is one of {method.standard} ({method.support}), but the rig states no '{what}'",
                f"add '{what}', or correct the method",
                hammers=(hammer.id,),
                method=method.id,
            )


def support_span(case: RigCase) -> Iterator[Complaint]:
    """Spans that no specimen type of the method has."""
    if case.rig.supports is None:
        return
    for method in case.methods():
        spans = [each.span_mm for each in method.specimen_types if each.span_mm is not None]
        if spans and not any(span.allows(case.rig.supports.span_mm) for span in spans):
            yield Complaint(
                ("supports", "span_mm"),
                departs("the span", case.rig.supports.span_mm, "mm", spans[0], method.standard),
                f"set the supports to the span with a gauge{_older_gap(case.rig.supports.span_mm)}",
                method=method.id,
            )


def _older_gap(span_mm: float) -> str:
    """What to say of a span that is the gap of older texts."""
    return f"; a gap of {_OLDER_GAP_mm:g} mm is that of other texts" if abs(span_mm - _OLDER_GAP_mm) <= _NEAR_mm else ""


def _form(
    keys: tuple[str, ...],
    name: str,
    value: float | None,
    asked: Requirement | None,
    method: Method,
    hammers: tuple[str, ...] = (),
) -> Iterator[Complaint]:
    """A complaint where a dimension of the equipment that is stated is not the method's."""
    hint = "measure it again, or put the equipment right"
    for complaint in outside(keys, name, value, asked, method.standard, hint):
        yield replace(complaint, hammers=hammers, method=method.id)


def support_edge(case: RigCase) -> Iterator[Complaint]:
    """Edges of supports and clamp."""
    for method in case.methods():
        if case.rig.supports is not None and method.support == "three-point":
            keys, value = ("supports", "edge_radius_mm"), case.rig.supports.edge_radius_mm
            yield from _form(keys, "the support edge's radius", value, method.support_edge_radius_mm, method)
        if case.rig.clamp is not None and method.support == "cantilever":
            keys, value = ("clamp", "jaw_edge_radius_mm"), case.rig.clamp.jaw_edge_radius_mm
            yield from _form(keys, "the jaw edge's radius", value, method.jaw_edge_radius_mm, method)


def striking_edge(case: RigCase) -> Iterator[Complaint]:
    """Striking edges, each told once for all hammers of a method that have it.

    It is told where it is stated, or else at the hammer that takes it over for another method than it was made for.
    """
    sharing: dict[tuple[str, str], list[str]] = {}
    for hammer, method in case.with_methods():
        stated = edge_stated_by(case.rig, hammer.id, method.id)
        if stated is not None:
            sharing.setdefault((stated, method.id), []).append(hammer.id)
    for (stating, method_id), hammers in sharing.items():
        method, edge = case.around.library.methods[method_id], case.hammers[hammers[0]].fitted(method_id).striking_edge
        asked, here, whose = method.striking_edge, stating in hammers, "the striking edge's"
        if not here:
            whose = f"the striking edge of hammer '{hammers[0]}' is that of its base '{stating}'; its"
        parts = (
            ("radius_mm", "radius", edge.radius_mm, asked.radius_mm),
            ("angle_deg", "angle", edge.angle_deg, asked.angle_deg),
        )
        for key, name, value, required in parts:
            of_method = method_id in case.rig.hammers[stating].fittings
            keys = ("hammers", stating, *(("fittings", method_id) if of_method else ()), "striking_edge", key)
            for told in _form(keys, f"{whose} {name}", value, required, method, tuple(hammers)):
                yield told if here else replace(told, keys=("hammers", hammers[0], "base"), hint=_OWN_EDGE)


def strike_height(case: RigCase) -> Iterator[Complaint]:
    """The height of the blow above the clamp."""
    if case.rig.clamp is not None:
        for method in case.methods():
            value = case.rig.clamp.strike_height_mm
            keys = ("clamp", "strike_height_mm")
            yield from _form(keys, "the strike height", value, method.strike_height_mm, method)


def frame_mass(case: RigCase) -> Iterator[Complaint]:
    """Frames that are too light."""
    mass = case.rig.frame_mass_kg
    if mass is None:
        return
    for hammer, method in case.with_methods():
        asked = method.pendulums.frame_mass_ratio
        if hammer.pendulum_mass_kg is not None and not asked.allows(mass / hammer.pendulum_mass_kg):
            yield Complaint(
                ("frame_mass_kg",),
                f"the frame has {number(mass)} kg, {mass / hammer.pendulum_mass_kg:.1f} times the "
                f"{number(hammer.pendulum_mass_kg)} kg of hammer '{hammer.id}'; {method.standard} asks for "
                f"{asked.text()} times ({asked.origin.clause}, {asked.origin.words})",
                "fix the frame to a heavy bench and count it, or correct the mass",
                hammers=(hammer.id,),
                method=method.id,
            )


def gravity(case: RigCase) -> Iterator[Complaint]:
    """Gravity that is none of this planet."""
    if not _LOWEST_GRAVITY_m_s2 <= case.rig.gravity_m_s2 <= _HIGHEST_GRAVITY_m_s2:
        yield Complaint(
            ("gravity_m_s2",) if case.rig.gravity_basis == "stated for the rig" else ("gravity_at",),
            f"gravity is {number(case.rig.gravity_m_s2)} m/s²; on this planet it is {_LOWEST_GRAVITY_m_s2} to "
            f"{_HIGHEST_GRAVITY_m_s2}",
            "look it up for the place, or give latitude and height",
        )
    if case.rig.gravity_stated_twice:
        yield Complaint(
            ("gravity_at",), "gravity is given twice, as a value and by the place", "keep the value or the place"
        )


RIG_CHECKS = (
    Check(RIG_SUPPORT, rig_support),
    Check(SUPPORT_SPAN, support_span),
    Check(SUPPORT_EDGE, support_edge),
    Check(STRIKING_EDGE, striking_edge),
    Check(STRIKE_HEIGHT, strike_height),
    Check(FRAME_MASS, frame_mass),
    Check(GRAVITY, gravity),
)
