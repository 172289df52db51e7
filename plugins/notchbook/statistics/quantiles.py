"""Quantiles of the distributions in use."""

from functools import lru_cache

UPPER_PROBABILITY = 0.975
"""Below the upper end of a two-sided 95 % interval, which leaves 2.5 % above and as much below.

Every interval and expanded uncertainty of the handbook is one of 95 %.
"""


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

    return float(stdtrit(degrees_of_freedom, probability))
