"""Uncertainties of many specimens: the engine in one call against the package `uncertainties` one by one."""

import datetime as dt
import math
import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from uncertainties import ufloat, umath

from bench.handbook import DEMO
from notchbook.evaluation.records import evaluate_record
from notchbook.evaluation.uncertainty import RecordUncertainty, record_uncertainty
from notchbook.handbook import open_handbook

SPECIMENS = 10_000
SAMPLE = 200
"""So many by the package, whose time is then scaled up."""
_RECORD = "2026-10-05-g1-pp-h-notched"
_DAY = dt.date(2026, 11, 2)
_AGREEMENT = 1e-9


@dataclass(frozen=True, slots=True)
class Measured:
    """What the uncertainties of all specimens cost, in seconds."""

    engine: float
    package: float


def measure_uncertainty(repeat: int) -> Measured:
    """Median of the runs of each, taken in turn.

    Raises:
        ValueError: The two do not agree on an uncertainty, so that their times mean nothing.
    """
    propagate = _many()
    found = propagate()
    sample = [_by_package(found, place) for place in range(SAMPLE)]
    for own, other in zip(found.strength.expanded, sample, strict=False):
        if own is None or not math.isclose(own, 2.0 * other, rel_tol=_AGREEMENT):
            raise ValueError(f"the engine finds an expanded uncertainty of {own}, the package one of {2.0 * other}")
    engine, package = [], []
    for _ in range(repeat):
        engine.append(_seconds(lambda: propagate().strength.expanded))
        one_by_one = _seconds(lambda: [_by_package(found, place) for place in range(SAMPLE)])
        package.append(one_by_one * SPECIMENS / SAMPLE)
    return Measured(statistics.median(engine), statistics.median(package))


def _seconds(run: Callable[[], object]) -> float:
    started = time.perf_counter()
    run()
    return time.perf_counter() - started


def _many() -> Callable[[], RecordUncertainty]:
    """The call that is measured, for a record of the demo with its bars over and over, each a little different."""
    handbook = open_handbook(DEMO, day=_DAY)
    library, evaluation = handbook.library, handbook.evaluation
    record = library.records[_RECORD]
    bars = tuple(
        replace(
            record.specimens[place % len(record.specimens)],
            id=str(place),
            rise_angle_deg=120.0 + 10.0 * place / SPECIMENS,
        )
        for place in range(SPECIMENS)
    )
    record = replace(record, specimens=bars)
    hammer = evaluation.hammers[record.rig, record.hammer]
    method = library.methods[hammer.method]
    verification = evaluation.verification_in_force(record.rig, record.hammer, record.date)
    assert verification is not None  # noqa: S101  # the demo has one
    swings = record.free_swings or verification.free_swings
    losses = evaluation.verifications[verification.id].losses
    result = evaluate_record(record, hammer, method, losses, verification.id)
    rig, exercise = library.rigs[record.rig], library.exercises[record.exercise]
    drift = evaluation.loss_drift(record)

    def propagate() -> RecordUncertainty:
        found = record_uncertainty(record, result, rig, hammer, method, swings, exercise, drift)
        assert found is not None  # noqa: S101  # the losses are known
        return found

    return propagate


def _by_package(found: RecordUncertainty, place: int) -> float:
    """Standard uncertainty of one specimen's strength by the same formulae, with the same uncertainties."""
    taken: dict[str, Any] = {
        each.name: ufloat(float(each.values[place]), each.taken.standard) for each in found.strength.inputs
    }
    # the losses are those of a verification, whose swings had the zero of their own day
    taken["rise-angle"] += taken["zero"] + taken["bar-marks"]
    for name in ("first-rise", "second-rise"):
        taken[name] += taken["swing-marks"]
    drifted = taken["loss-drift"] / taken["loss-drift"].nominal_value
    moment, alpha, beta = taken["moment"], taken["release-angle"], taken["rise-angle"]
    if "gravity" in taken:
        # what the masses add to the moment follows from gravity
        names = [each.name for each in found.energy.inputs]
        moment_slope, gravity_slope = (found.energy.slopes[names.index(each), place] for each in ("moment", "gravity"))
        gravity = taken["gravity"]
        moment += float(gravity_slope / moment_slope) * (gravity - gravity.nominal_value)
    cos = {name: umath.cos(umath.radians(each)) for name, each in taken.items() if name.endswith(("rise", "angle"))}
    indicator = moment * (cos["first-rise"] - cos["second-rise"])
    swing = moment * (cos["second-rise"] - cos["release-angle"])
    loss = drifted * (swing + beta / alpha * (swing + 2 * indicator)) / 2
    energy = moment * (cos["rise-angle"] - cos["release-angle"]) - loss
    strength = 1000 * energy / (taken["thickness"] * taken["remaining-width"])
    return float(strength.std_dev)
