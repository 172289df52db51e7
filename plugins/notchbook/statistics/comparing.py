"""Two means against each other: their difference after Welch, and their ratio with Fieller's interval."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from notchbook.statistics.quantiles import UPPER_PROBABILITY, student_t_quantile
from notchbook.statistics.summary import summarise
from notchbook.statistics.values import FloatArray, as_list

_TOO_FAR = "the means lie too far apart for a number"


@dataclass(frozen=True, slots=True)
class KnownMean:
    """A mean and how well it is known, where that was found otherwise than from single values.

    Attributes:
        mean: in any unit.
        standard_error: standard uncertainty of the mean, in its unit; None where it is not known.
        degrees_of_freedom: of the standard error, greater than 0, may be infinite; not looked at where that is None.

    Raises:
        ValueError: The mean or its standard error is no finite number, the latter below 0, or nothing is known of it.
    """

    mean: float
    standard_error: float | None
    degrees_of_freedom: float = math.inf

    def __post_init__(self) -> None:
        if not math.isfinite(self.mean):
            raise ValueError(f"a mean is a finite number, got {self.mean}")
        if self.standard_error is None:
            return
        if not 0.0 <= self.standard_error < math.inf:
            raise ValueError(f"a standard error is 0 or more and finite, got {self.standard_error}")
        if not self.degrees_of_freedom > 0.0:
            raise ValueError(f"degrees of freedom are greater than 0, got {self.degrees_of_freedom}")


Compared = KnownMean | Sequence[float] | FloatArray
"""What is set against another: single values of a set, at least one, or a mean that is known."""


@dataclass(frozen=True, slots=True)
class Difference:
    """The first mean less the second, in their unit.

    Attributes:
        difference: first mean less second one.
        standard_error: of the difference; None where one of the means has none.
        interval: two-sided 95 % confidence interval of the difference, low and high; without length where neither set
            scatters, None where the standard error is not known.
        t: the difference in standard errors; None where there is no standard error, or next to none against it.
        degrees_of_freedom: of the standard error, after Welch and Satterthwaite; None where there is none or it is 0.
    """

    difference: float
    standard_error: float | None
    interval: tuple[float, float] | None
    t: float | None
    degrees_of_freedom: float | None

    @property
    def excludes_zero(self) -> bool:
        """Whether there is an interval and 0 lies outside it: the means differ by more than scatter lets expect."""
        return self.interval is not None and not self.interval[0] <= 0.0 <= self.interval[1]


@dataclass(frozen=True, slots=True)
class Ratio:
    """The first mean over the second, without unit.

    Attributes:
        ratio: first mean over second one.
        interval: two-sided 95 % confidence interval of the ratio, low and high; without length where neither set
            scatters. None where a standard error is not known, or where the second mean is not known well enough to
            tell it from 0, so that no interval of finite length holds.
        degrees_of_freedom: by which the interval is taken; None where there is none or it has no length.
    """

    ratio: float
    interval: tuple[float, float] | None
    degrees_of_freedom: float | None


def difference(a: Compared, b: Compared) -> Difference:
    """The mean of a less that of b, with its 95 % interval for sets that need not scatter alike (Welch's test).

    ``t = (A - B) / sqrt(u + w)`` with ``u = s_a^2/n_a`` and ``w = s_b^2/n_b``, the squares of the standard errors, and
    ``(u + w)^2 / [u^2/(n_a - 1) + w^2/(n_b - 1)]`` degrees of freedom: B. L. Welch, Biometrika 34 (1947), and
    F. E. Satterthwaite, Biometrics Bulletin 2 (1946), as in the NIST/SEMATECH e-Handbook, 1.3.5.3.

    Args:
        a: Finite values of one set in any order, or a mean with its standard error.
        b: The same of the other set, in the same unit.

    Returns:
        The difference; of a set with a single value no standard error is known.

    Raises:
        ValueError: A set is empty, a value is not finite, or the means lie too far apart for a number.
    """
    first, second = _known(a), _known(b)
    apart = _apart(first.mean if isinstance(a, KnownMean) else a, second.mean if isinstance(b, KnownMean) else b)
    if first.standard_error is None or second.standard_error is None:
        return Difference(apart, None, None, None, None)
    error = math.hypot(first.standard_error, second.standard_error)
    if error == 0.0:
        return Difference(apart, 0.0, (apart, apart), None, None)
    freedom = _welch(first.standard_error / error, first, second.standard_error / error, second)
    reach = student_t_quantile(UPPER_PROBABILITY, freedom) * error
    t = apart / error
    return Difference(apart, error, (apart - reach, apart + reach), t if math.isfinite(t) else None, freedom)


def ratio(a: Compared, b: Compared, degrees_of_freedom: float | None = None) -> Ratio:
    """The mean of a over that of b, with its 95 % interval by Fieller's theorem.

    The interval holds the ratios r for which ``(A - r B)^2 <= t^2 (u + r^2 w)``, A and B the means, u and w the squares
    of their standard errors; Fieller, Journal of the Royal Statistical Society B 16 (1954), from memory. With the
    relative squares ``u' = u/A^2`` and ``w' = w/B^2``, and ``R = A/B``, its ends are
    ``R [1 -+ sqrt(1 - (1 - t^2 u') (1 - t^2 w'))] / (1 - t^2 w')``.

    t is the quantile of Student's t at 0.975 with the degrees of freedom of ``A - R B`` after Welch and Satterthwaite,
    ``(u' + w')^2 / [u'^2/(n_a - 1) + w'^2/(n_b - 1)]``; from memory. The sets need not have the same variance.

    Args:
        a: Finite values of one set in any order, or a mean with its standard error; the mean is greater than 0.
        b: The same of the other set, in the same unit.
        degrees_of_freedom: Of both standard errors together where they were not found independently of each other.

    Returns:
        The ratio; of a set with a single value no standard error is known, and the ratio has no interval.

    Raises:
        ValueError: A set is empty, a value is not finite, a mean is not greater than 0, or the means lie too far apart
            for a number.
    """
    above, below = _known(a), _known(b)
    if above.mean <= 0.0 or below.mean <= 0.0:
        raise ValueError(f"a ratio is taken of means greater than 0, got {above.mean} and {below.mean}")
    value = above.mean / below.mean
    if not math.isfinite(value):
        raise ValueError(_TOO_FAR)
    if above.standard_error is None or below.standard_error is None:
        return Ratio(value, None, None)
    relative_a, relative_b = above.standard_error / above.mean, below.standard_error / below.mean
    relative = math.hypot(relative_a, relative_b)
    if relative == 0.0:
        return Ratio(value, (value, value), None)
    freedom = degrees_of_freedom or _welch(relative_a / relative, above, relative_b / relative, below)
    t = student_t_quantile(UPPER_PROBABILITY, freedom)
    known_below = 1.0 - (t * relative_b) ** 2
    if known_below <= 0.0:
        return Ratio(value, None, None)
    # 1 - (1 - t^2 u)(1 - t^2 w), written without taking nearly equal numbers from each other
    reach = t * math.hypot(relative_a * math.sqrt(known_below), relative_b)
    return Ratio(value, (value * (1.0 - reach) / known_below, value * (1.0 + reach) / known_below), freedom)


def _known(compared: Compared) -> KnownMean:
    if isinstance(compared, KnownMean):
        return compared
    summary = summarise(compared)
    if summary.standard_deviation is None:
        return KnownMean(summary.mean, None)
    return KnownMean(summary.mean, summary.standard_deviation / math.sqrt(summary.n), summary.n - 1)


def _welch(share_a: float, a: KnownMean, share_b: float, b: KnownMean) -> float:
    """Degrees of freedom of a sum; the shares are standard errors over that of the sum, whose squares add up to 1."""
    inverse = share_a**4 / a.degrees_of_freedom + share_b**4 / b.degrees_of_freedom
    return 1.0 / inverse if inverse else math.inf


def _apart(a: float | Sequence[float] | FloatArray, b: float | Sequence[float] | FloatArray) -> float:
    """Difference of the means, rounded once: of large values that lie close together no digit is lost."""
    means = []
    for each in (a, b):
        values = [each] if isinstance(each, int | float) else as_list(each)
        means.append(sum(map(Fraction, values)) / len(values))
    try:
        return float(means[0] - means[1])
    except OverflowError:
        raise ValueError(_TOO_FAR) from None
