"""What the statistics of a comparison say of its cells, in the words of a class."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from notchbook.statistics.consistency import cochran_limit, h_limit, k_limit
from notchbook.statistics.grubbs_pairs import pair_limit, pair_statistic
from notchbook.statistics.outliers import grubbs_probability, grubbs_statistic
from notchbook.statistics.precision import Precision
from notchbook.wording.lists import listed
from notchbook.wording.numbers import to_decimals, to_figures

STRAGGLER, OUTLIER, E691 = 0.05, 0.01, 0.005
"""Significances of ISO 5725-2 and of ASTM E691."""
_LEAST_MEANS = 3
"""Of two means neither is the one that is off."""


DIFFERENCE_LIMIT = 2.8
"""Times the standard deviation of single values that two of them differ by in one case of twenty: 1.96 times the root
of 2, as ISO 5725-6 rounds it, from memory."""


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the scatter of all bars."""

    words: str
    sign: str
    """Its symbol, with its index behind an underscore."""
    deviation: float | None
    """Standard deviation in the unit of the values."""
    share_pct: float | None
    """The same in percent of the mean."""
    limit: float | None
    """What two bars differ by in one case of twenty; None of a part that no two bars differ by alone."""


@dataclass(frozen=True)
class Consistency:
    """The cells of a comparison beside each other."""

    found: Precision
    labels: Sequence[str]
    """How the cells are called, in their order."""
    cell: tuple[str, str] = ("group", "groups")
    """What each of them is, and several."""

    @property
    def scattered(self) -> int:
        """How many cells have a scatter of their own."""
        return sum(each is not None for each in self.found.k)

    def h_limit(self, significance: float) -> float | None:
        """The magnitude of h that is exceeded by chance with that probability; None where there is none."""
        return h_limit(len(self.labels), significance)

    def k_limit(self, significance: float) -> float | None:
        """The same of k."""
        return k_limit(self.scattered, self.found.usual_n, significance)

    @property
    def parts(self) -> list[Part]:
        """The scatter within groups, between them, and both together."""
        found = self.found

        def part(words: str, sign: str, value: float | None, times: float | None) -> Part:
            share = 100.0 * value / found.mean if value is not None and found.mean > 0.0 else None
            return Part(words, sign, value, share, times * value if times and value is not None else None)

        return [
            part(f"Within a {self.cell[0]} (repeatability)", "s_r", found.repeatability_sd, DIFFERENCE_LIMIT),
            part(f"Between {self.cell[1]}", "s_L", found.between_sd, None),
            part("Both together (reproducibility)", "s_R", found.reproducibility_sd, DIFFERENCE_LIMIT),
        ]

    @cached_property
    def words(self) -> list[str]:
        """Of each cell whether its bars scatter like those of others, and how far off its mean lies."""
        return [f"{_scatter(k, self)}; {_mean(h, self)}" for h, k in zip(self.found.h, self.found.k, strict=True)]

    @property
    def cochran_words(self) -> str:
        """Whether the largest scatter is more than chance; empty where that cannot be told."""
        limits = [cochran_limit(self.scattered, self.found.usual_n, each) for each in (STRAGGLER, OUTLIER)]
        place, share = self.found.most_scattered, self.found.cochran
        if place is None or share is None or limits[0] is None or limits[1] is None:
            return ""
        own, usual, most = (to_figures(each, 2) for each in (share, limits[0], limits[1]))
        return (
            f"The bars of {self.labels[place]} scatter most: they have {own} of the sum of all variances (Cochran's C)"
            f", which by chance is beyond {usual} in one comparison of twenty and beyond {most} in one of a hundred. "
            f"{_said(share, limits[0], limits[1])}"
        )

    @property
    def grubbs_words(self) -> str:
        """Whether one mean is further off than chance, or else two at one end; empty where that cannot be told."""
        means = [each.mean for each in self.found.cells]
        if len(means) < _LEAST_MEANS or not any(self.found.h):
            return ""
        statistic, place = grubbs_statistic(means)
        probability = grubbs_probability(statistic, len(means))
        if probability < STRAGGLER:
            much = "more" if probability >= OUTLIER else "far more"
            look = f"This is {much} than chance: look for what was different there."
            if self.found.between_sd == 0.0:
                look = "But all means lie no further apart than the scatter of bars explains, so that it means little."
            return f"{self._furthest(place, statistic, probability)} {look}"
        return f"{self._furthest(place, statistic, probability)} {self._pair(means)}"

    def _furthest(self, place: int, statistic: float, probability: float) -> str:
        often = "in most" if probability > 0.5 else f"in {to_figures(100.0 * probability, 2)} % of all"
        away = f"{to_figures(statistic, 2)} standard deviations of the means (Grubbs' G)"
        return f"The mean of {self.labels[place]} lies furthest off, {away}. By chance one does {often} comparisons."

    def _pair(self, means: Sequence[float]) -> str:
        limit = pair_limit(len(means), STRAGGLER)
        if limit is None:
            return "This is no more than chance."
        share, places = pair_statistic(means)
        if share >= limit:
            return "This is no more than chance, and neither are two means at one end together."
        names = listed(self.labels[each] for each in places)
        return f"Alone it is no more than chance, but {names} together lie further off than chance lets two means lie."


def _said(value: float, straggler: float, outlier: float) -> str:
    if value <= straggler:
        return "So it is no more than chance."
    much = "far more" if value > outlier else "more"
    return f"So it is {much} than chance: look for a misread bar, or for a group that worked otherwise."


def _scatter(k: float | None, beside: Consistency) -> str:
    usual, most = beside.k_limit(STRAGGLER), beside.k_limit(OUTLIER)
    if k is None:
        return "no scatter to be told"
    if usual is None or most is None:
        return "no other scatter to compare with"
    if k <= usual:
        return "bars scatter like everyone's"
    much = "far more" if k > most else "more"
    return f"bars scatter {much} than everyone's: {to_decimals(k, 2)} of {to_decimals(usual, 2)}"


def _mean(h: float | None, beside: Consistency) -> str:
    usual, most = beside.h_limit(STRAGGLER), beside.h_limit(OUTLIER)
    if h is None:
        return "the means do not differ"
    if usual is None or most is None:
        return "of two means neither is the one that is off"
    side = "above" if h > 0.0 else "below"
    share = f"{to_decimals(abs(h), 2)} of {to_decimals(usual, 2)}"
    if abs(h) <= usual:
        return f"mean {side} that of all, {share} that chance allows"
    return f"mean {'far ' if abs(h) > most else ''}further {side} that of all than chance allows: {share}"
