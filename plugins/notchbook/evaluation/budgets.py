"""Uncertainty budgets by JCGM 100:2008: which input brings how much to the uncertainty of a result."""

from dataclasses import dataclass

import numpy as np

from notchbook.evaluation.input_uncertainties import InputName, Taken
from notchbook.evaluation.known import known
from notchbook.physics import uncertainty as gum
from notchbook.physics.arrays import FloatArray

COVERAGE_FACTOR = 2.0
"""Of a single specimen: about 95 %, as all of its uncertainties are taken as known; JCGM 100:2008, 6.3.3."""


@dataclass(frozen=True, slots=True)
class Contribution:
    """What one input brings to the uncertainty of one result."""

    input: InputName
    value: float
    """Of the input, in its unit."""
    unit: str
    standard: float
    """Standard uncertainty of the input, in its unit."""
    basis: str
    """`stated`, or in words what was taken because nothing was stated."""
    sensitivity: float
    """Change of the result for a change of the input, unit of the result over that of the input."""
    contribution: float
    """Sensitivity times standard uncertainty, with its sign, in the unit of the result."""
    share_pct: float
    """Of the variance of the result; 100 % in sum."""
    shared: bool
    """Whether the same error is in every specimen of the record, rather than one of its own in each."""


@dataclass(frozen=True, slots=True)
class Budget:
    """The uncertainty of one result and what it is made of."""

    value: float
    standard: float
    """Combined standard uncertainty, in the unit of the result."""
    expanded: float
    """`k = 2` times as much."""
    contributions: tuple[Contribution, ...]


@dataclass(frozen=True, slots=True)
class SetShare:
    """What one source brings to the uncertainty of a mean strength."""

    source: str
    """The name of an input that all specimens share, or `scatter`."""
    contribution_kJ_m2: float
    share_pct: float
    """Of the variance of the mean."""


@dataclass(frozen=True, slots=True)
class SetUncertainty:
    """The uncertainty of the mean strength of a set."""

    standard: float
    """Combined standard uncertainty in kJ/m2."""
    expanded: float
    """At 95 %, in kJ/m2: not less than half the interval of the scatter alone."""
    effective_degrees_of_freedom: float
    """Not rounded to a whole number; infinite where nothing but known uncertainties contributes."""
    is_of_scatter: bool
    """Whether the expanded uncertainty is half the interval of the scatter alone, which was the larger."""
    shares: tuple[SetShare, ...]
    """The scatter first; 100 % in sum."""

    @property
    def coverage_factor(self) -> float:
        """Expanded over standard uncertainty."""
        return self.expanded / self.standard


@dataclass(frozen=True, slots=True, eq=False)
class Input:
    """One input of the n results of a record."""

    name: InputName
    unit: str
    values: FloatArray
    """Shape (n,)."""
    taken: Taken
    shared: bool


@dataclass(frozen=True, slots=True, eq=False)
class Propagated:
    """One quantity of the n specimens of a record and how it answers to each of its k inputs."""

    values: FloatArray
    """Shape (n,), NaN where it is not known."""
    inputs: tuple[Input, ...]
    slopes: FloatArray
    """Sensitivity coefficients, shape (k, n), in the unit of the quantity over that of the input."""

    @property
    def contributions(self) -> FloatArray:
        """Sensitivity times standard uncertainty, shape (k, n), in the unit of the quantity."""
        standard = np.array([each.taken.standard for each in self.inputs])
        contributions: FloatArray = self.slopes * standard[:, np.newaxis]
        return contributions

    @property
    @np.errstate(all="ignore")  # what overflows or is no number is not known
    def expanded(self) -> tuple[float | None, ...]:
        """Expanded uncertainty (k = 2) of each specimen; None where it cannot be had."""
        combined = np.asarray(gum.combined_standard_uncertainty(self.contributions))
        return tuple(map(known_uncertainty, (COVERAGE_FACTOR * combined).tolist()))

    @np.errstate(all="ignore")  # that of another specimen may overflow
    def budget(self, place: int) -> Budget | None:
        """Budget of the specimen at that place of the record, from 0; None where it cannot be had."""
        expanded = self.expanded[place]
        if expanded is None:
            return None
        contributions = self.contributions[:, place]
        shares = gum.variance_shares_pct(contributions)
        columns = (each.tolist() for each in (self.slopes[:, place], contributions, shares))
        lines = tuple(
            Contribution(
                input=each.name,
                value=float(each.values[place]),
                unit=each.unit,
                standard=each.taken.standard,
                basis=each.taken.basis,
                sensitivity=slope,
                contribution=contribution,
                share_pct=share,
                shared=each.shared,
            )
            for each, slope, contribution, share in zip(self.inputs, *columns, strict=True)
        )
        return Budget(float(self.values[place]), expanded / COVERAGE_FACTOR, expanded, lines)


def known_uncertainty(value: float) -> float | None:
    """The uncertainty, or None where it cannot be had: not a number, out of all measure, or vanished by underflow."""
    return known(value) if value > 0.0 else None
