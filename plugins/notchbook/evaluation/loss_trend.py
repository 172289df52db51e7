"""Whether the loss of a hammer grows steadily from verification to verification."""

import datetime as dt
import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean

from notchbook.evaluation.library import Evaluation
from notchbook.evaluation.loss_changes import VerifiedLoss
from notchbook.statistics.quantiles import student_t_outside

FEWEST_POINTS = 3
"""Through two losses there is always a line."""
SIGNIFICANCE = 0.01
"""Probability that losses which do not grow are taken for growing ones."""
RISE_TOLD = 0.5
"""Share of the first loss by which it has grown where it is to be told, wherever the limit lies."""
YEARS_AHEAD = 2.0
"""How long before the limit would be reached it is to be told: time for new bearings and another verification."""
_YEAR_days = 365.25


@dataclass(frozen=True, slots=True)
class LossTrend:
    """A straight line through the losses of a hammer since its last repair, in percent of the nominal energy."""

    losses: tuple[VerifiedLoss, ...]
    """By date, three or more."""
    first_pct: float
    """On the line, on the day of the first loss."""
    rise_pct_a_year: float
    probability: float
    """That losses which do not grow lie on so steep a line by chance."""

    @property
    def years(self) -> float:
        """From the first loss to the newest."""
        return (self._day(-1) - self._day(0)).days / _YEAR_days

    @property
    def newest_pct(self) -> float:
        """On the line, on the day of the newest loss."""
        return self.first_pct + self.rise_pct_a_year * self.years

    @property
    def grows(self) -> bool:
        """Whether the loss has grown by more than chance and by more than a division of the scale."""
        rise = self.newest_pct - self.first_pct
        return self.probability < SIGNIFICANCE and rise > self.losses[-1].division_pct and self.first_pct > 0.0

    def reaches(self, limit_pct: float) -> dt.date | None:
        """The day on which the line reaches a limit, the newest day where it has; None where it does not come there."""
        if self.rise_pct_a_year <= 0.0:
            return None
        ahead_days = max(limit_pct - self.newest_pct, 0.0) / self.rise_pct_a_year * _YEAR_days
        last = (dt.date.max - self._day(-1)).days
        return self._day(-1) + dt.timedelta(days=ahead_days) if ahead_days < last else None

    def is_to_be_told(self, limit_pct: float) -> bool:
        """Whether it grows and somebody has to act: it has grown by half, or reaches the limit within two years."""
        if not self.grows:
            return False
        ahead = self.newest_pct + YEARS_AHEAD * self.rise_pct_a_year
        return self.newest_pct >= (1.0 + RISE_TOLD) * self.first_pct or ahead > limit_pct

    def _day(self, place: int) -> dt.date:
        return self.losses[place].verification.date


@dataclass(frozen=True, slots=True)
class _Line:
    """A line by least squares through losses as shares of their mean."""

    mean_pct: float
    mean_year: float
    slope: float
    """Share of the mean a year."""
    spread_years: float
    """Sum of the squares of the years about their mean."""
    left: float
    """Sum of the squares of what the line leaves over."""


def loss_trends(evaluation: Evaluation, rig: str) -> dict[str, LossTrend]:
    """The trends of a rig's hammers that have three losses or more since their last repair, by hammer.

    A line by least squares through the losses of each hammer; its slope is held against what the lines of all hammers
    of the rig leave over, as shares of their losses, with as many degrees of freedom as there are losses beyond two a
    hammer: Student's t, to the side of growing losses alone. Rounding to the scale is taken for the least that may be
    left over, a division divided by the square root of 12 (JCGM 100:2008, F.2.2.1).
    """
    newest = {hammer: times[-1] for hammer, times in evaluation.verified_losses(rig).items() if times}
    lines = {hammer: _line(losses) for hammer, losses in newest.items() if len(losses) >= FEWEST_POINTS}
    freedom = sum(len(newest[hammer]) - 2 for hammer in lines)
    left = math.fsum(each.left for each in lines.values())
    found = {}
    for hammer, line in lines.items():
        losses = newest[hammer]
        rounding = losses[-1].division_pct / math.sqrt(12.0) / line.mean_pct
        scatter = max(math.sqrt(left / freedom), rounding)
        t = line.slope * math.sqrt(line.spread_years) / scatter if scatter else math.copysign(math.inf, line.slope)
        outside = student_t_outside(abs(t), freedom) / 2.0
        first = line.mean_pct * (1.0 - line.slope * line.mean_year)
        chance = outside if t > 0.0 else 1.0 - outside
        found[hammer] = LossTrend(tuple(losses), first, line.slope * line.mean_pct, chance)
    return found


def _line(losses: Sequence[VerifiedLoss]) -> _Line:
    first = losses[0].verification.date
    years = [(each.verification.date - first).days / _YEAR_days for each in losses]
    mean_pct, mean_year = fmean([each.loss_pct for each in losses]), fmean(years)
    shares, from_mean = [each.loss_pct / mean_pct - 1.0 for each in losses], [each - mean_year for each in years]
    spread = math.fsum(each * each for each in from_mean)
    slope = math.fsum(x * y for x, y in zip(from_mean, shares, strict=True)) / spread
    left = math.fsum((y - slope * x) ** 2 for x, y in zip(from_mean, shares, strict=True))
    return _Line(mean_pct, mean_year, slope, spread, left)
