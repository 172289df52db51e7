"""Quantiles and tails of Student's t."""

import math
from functools import lru_cache

UPPER_PROBABILITY = 0.975
"""Below the upper end of a two-sided 95 % interval, which leaves 2.5 % above and as much below.

Every interval and expanded uncertainty of the handbook is one of 95 %.
"""
_AS_GOOD_AS_NORMAL = 1e4
"""Degrees of freedom from which the density of a step is the normal one, as far as a step of a ninth digit asks."""


@lru_cache(maxsize=1024)
def student_t_quantile(probability: float, degrees_of_freedom: float) -> float:
    """Value below which Student's t falls with a probability.

    Args:
        probability: Between 0 and 1, both excluded; `UPPER_PROBABILITY` for a two-sided 95 % interval.
        degrees_of_freedom: Greater than 0, need not be whole.

    Returns:
        The quantile, without unit.

    Raises:
        ValueError: An argument is outside its range.
    """
    if not 0.0 < probability < 1.0:
        raise ValueError(f"a probability lies between 0 and 1, got {probability}")
    if not degrees_of_freedom > 0.0:
        raise ValueError(f"degrees of freedom are greater than 0, got {degrees_of_freedom}")
    # scipy takes longer to load than a small handbook to evaluate, and not every handbook asks for a quantile
    from scipy.special import stdtrit

    quantile = float(stdtrit(degrees_of_freedom, probability))
    density = _density(quantile, degrees_of_freedom)
    if density == 0.0 or quantile == 0.0:
        return quantile
    # older versions of scipy stop the search at the ninth digit; one step of Newton's gives the others
    return quantile - _excess(quantile, probability, degrees_of_freedom) / density


def _excess(t: float, probability: float, degrees_of_freedom: float) -> float:
    """By how much the probability below a value is more than the one that is wanted."""
    from scipy.special import betainc, stdtr

    if degrees_of_freedom > _AS_GOOD_AS_NORMAL:
        return float(stdtr(degrees_of_freedom, t)) - probability
    # Abramowitz and Stegun, 26.7.1, of what lies nearer to the middle or of what lies further away, whichever is less:
    # near the middle scipy's own distribution loses digits
    square, within = t / degrees_of_freedom * t, abs(2.0 * probability - 1.0)
    if within < 0.5:
        more = float(betainc(0.5, 0.5 * degrees_of_freedom, square / (1.0 + square))) - within
    else:
        outside = 2.0 * min(probability, 1.0 - probability)
        more = outside - float(betainc(0.5 * degrees_of_freedom, 0.5, 1.0 / (1.0 + square)))
    return math.copysign(0.5 * more, t)


def _density(t: float, degrees_of_freedom: float) -> float:
    """Density of Student's t (Abramowitz and Stegun, 26.7); the normal one where the two are as good as the same."""
    if degrees_of_freedom > _AS_GOOD_AS_NORMAL:
        return math.exp(-0.5 * t * t) / math.sqrt(2.0 * math.pi)
    half = 0.5 * degrees_of_freedom
    log_density = math.lgamma(half + 0.5) - math.lgamma(half) - 0.5 * math.log(degrees_of_freedom * math.pi)
    return math.exp(log_density - (half + 0.5) * math.log1p(t / degrees_of_freedom * t))


def student_t_outside(t: float, degrees_of_freedom: int) -> float:
    """Probability that Student's t lies further from 0 than a value, to either side.

    By the finite series for whole degrees of freedom, M. Abramowitz and I. Stegun, 26.7.3 and 26.7.4, to about 1e-15;
    it needs nothing that takes long to load.

    Args:
        t: 0 or more, may be infinite.
        degrees_of_freedom: At least 1.
    """
    angle = math.atan2(t, math.sqrt(degrees_of_freedom))
    sine, cosine = math.sin(angle), math.cos(angle)
    odd = degrees_of_freedom % 2
    term, total = cosine if odd else 1.0, 0.0
    for k in range(1 + odd, degrees_of_freedom, 2):
        total += term
        term *= cosine * cosine * k / (k + 1)
    inside = 2.0 / math.pi * (angle + sine * total) if odd else sine * total
    return max(1.0 - inside, 0.0)
