"""Numbers as people read them: to decimals, to significant figures, or as they were written; with a real minus."""

import math
from collections.abc import Sequence

NO_NUMBER = "–"
# Between these a number to figures is short enough for any place.
_SMALLEST_FIXED = 1e-4
_LARGEST_FIXED = 1e6
_MOST_FIGURES_READ = 10
_MOST_FIGURES_TOLD = 6


def minus(text: str) -> str:
    """The text with real minus signs in place of hyphens."""
    return text.replace("-", "−")


def to_decimals(value: float | None, decimals: int) -> str:
    """A number to so many decimals; a dash where there is none."""
    if value is None or not math.isfinite(value):
        return NO_NUMBER
    return minus(f"{value:z.{decimals}f}")


def to_figures(value: float | None, figures: int) -> str:
    """A number to so many significant figures in fixed notation, trailing zeros kept; a dash where there is none."""
    if value is None or not math.isfinite(value):
        return NO_NUMBER
    return minus(figures_text(value, figures))


def figures_text(value: float, figures: int) -> str:
    """A finite number to so many significant figures with a hyphen for its minus, for formulae and for arithmetic."""
    if value == 0:
        return f"{0.0:.{figures - 1}f}"
    rounded = float(f"{value:.{figures}g}")
    decimals = figures - 1 - math.floor(math.log10(abs(rounded)))
    return f"{rounded:.{max(decimals, 0)}f}"


def interval_ends(low: float, high: float) -> tuple[str, str]:
    """Both ends of an interval with the same decimals: those of half its width to two significant figures.

    Of an interval without a width, or of huge or tiny numbers, to three significant figures each.
    """
    half = (high - low) / 2.0
    if not _SMALLEST_FIXED <= half < _LARGEST_FIXED or max(abs(low), abs(high)) >= _LARGEST_FIXED:
        return short_figures(low, 3), short_figures(high, 3)
    decimals = decimals_of(figures_text(half, 2))
    return to_decimals(low, decimals), to_decimals(high, decimals)


def short_figures(value: float, figures: int) -> str:
    """A finite number to so many significant figures, one with many zeros as a power of ten: `2.5 × 10^9`."""
    mantissa, exponent = f"{value:.{figures - 1}e}".split("e")
    if value and not _SMALLEST_FIXED <= abs(float(f"{mantissa}e{exponent}")) < _LARGEST_FIXED:
        return minus(f"{mantissa} × 10^{int(exponent)}")
    return to_figures(value, figures)


def plain(value: float | None) -> str:
    """A number as it was written in a file; a dash where there is none."""
    return NO_NUMBER if value is None else _without_zeros(value, _MOST_FIGURES_READ)


def number(value: float) -> str:
    """A number inside a sentence: without trailing zeros, to six significant figures at most."""
    return _without_zeros(value, _MOST_FIGURES_TOLD)


def _without_zeros(value: float, most_figures: int) -> str:
    return minus(f"{value:.{most_figures}g}")


def alike(values: Sequence[float]) -> list[str]:
    """Numbers as they were written in a file, all with as many decimals as the one that has most."""
    decimals = max((decimals_of(plain(each)) for each in values), default=0)
    return [to_decimals(each, decimals) for each in values]


def decimals_of(written: str) -> int:
    """How many decimals a number is written with."""
    return len(written.partition(".")[2])
