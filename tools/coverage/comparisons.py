"""Intervals of two means or of several: simulated records that differ from each other."""

from dataclasses import dataclass

import numpy as np

from notchbook.evaluation.sensitivity import mean_ratio
from notchbook.statistics.comparing import difference, ratio

UPPER, LOWER = 4.0, 8.0
"""Means of the notched and the unnotched bars, in kJ/m2."""


def _within(value: float, interval: tuple[float, float] | None) -> bool | None:
    return None if interval is None else interval[0] <= value <= interval[1]


@dataclass(frozen=True, slots=True)
class TwoSets:
    """Two sets of bars on one rig, which need not scatter alike: their difference and their ratio."""

    bars: tuple[int, int]
    scatter_pct: tuple[float, float]

    @property
    def title(self) -> str:
        """As it stands in the table."""
        first, second = (f"{n} bars with {pct:g} %" for n, pct in zip(self.bars, self.scatter_pct, strict=True))
        return f"{first} against {second}"

    def held(self, random: np.random.Generator) -> dict[str, bool | None]:
        """Whether the intervals of one class hold the difference and the ratio."""
        first, second = (
            mean * (1.0 + pct / 100.0 * random.standard_normal(n))
            for mean, n, pct in zip((UPPER, LOWER), self.bars, self.scatter_pct, strict=True)
        )
        return {
            "difference": _within(UPPER - LOWER, difference(first, second).interval),
            "ratio": _within(UPPER / LOWER, ratio(first, second).interval),
        }


@dataclass(frozen=True, slots=True)
class Sensitivity:
    """Records of ten bars that scatter by 5 %, which lie apart from each other: notch sensitivity of the material."""

    records: tuple[int, int]
    between_pct: float

    @property
    def title(self) -> str:
        """As it stands in the table."""
        first, second = self.records
        return f"notch sensitivity, {first} against {second} records that lie {self.between_pct:g} % apart"

    def held(self, random: np.random.Generator) -> dict[str, bool | None]:
        """Whether the interval of one material holds the ratio: with all bars as one set each, and as it is shown."""
        sides = [
            [mean * self._apart(random) * (1.0 + 0.05 * random.standard_normal(10)) for _ in range(number)]
            for mean, number in zip((UPPER, LOWER), self.records, strict=True)
        ]
        found = mean_ratio(*([each.tolist() for each in side] for side in sides))
        of_bars = ratio(*(np.concatenate(side) for side in sides))
        return {
            "before": _within(UPPER / LOWER, of_bars.interval),
            "as shown": _within(UPPER / LOWER, found.interval if found is not None else None),
        }

    def _apart(self, random: np.random.Generator) -> float:
        return float(1.0 + self.between_pct / 100.0 * random.standard_normal())


CASES: tuple[TwoSets | Sensitivity, ...] = (
    *(TwoSets(bars, scatter) for bars in ((3, 3), (5, 5), (5, 10), (10, 10)) for scatter in ((5.0, 5.0), (10.0, 4.0))),
    *(Sensitivity(records, between) for records in ((2, 1), (3, 2), (5, 5)) for between in (2.0, 4.0)),
)
