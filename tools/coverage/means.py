"""Intervals of one mean: simulated bars with an error that all of them share."""

import math
from dataclasses import dataclass

import numpy as np

from notchbook.evaluation.budgets import Input, Propagated
from notchbook.evaluation.input_uncertainties import Taken
from notchbook.evaluation.records import SetResult
from notchbook.evaluation.uncertainty import RecordUncertainty
from notchbook.model.quantity import IMPACT_STRENGTH
from notchbook.statistics.quantiles import UPPER_PROBABILITY, student_t_quantile
from notchbook.statistics.summary import summarise

MEAN, SCATTER = 4.0, 0.2
"""Of the bars, in kJ/m2; only their ratio to the shared error counts."""


@dataclass(frozen=True, slots=True)
class Mean:
    """So many bars that share an error with the mean of whose scatter its size is compared."""

    bars: int
    shared: float
    """Standard uncertainty of what all bars share over the true standard error of their mean."""

    @property
    def title(self) -> str:
        """As it stands in the table."""
        return f"mean of {self.bars} bars, shared error {self.shared:g} of the scatter of the mean"

    def held(self, random: np.random.Generator) -> dict[str, bool | None]:
        """Whether the intervals of one class hold the mean; before: by the effective degrees of freedom alone."""
        known = self.shared * SCATTER / math.sqrt(self.bars)
        strengths = MEAN + SCATTER * random.standard_normal(self.bars) + known * random.standard_normal()
        result = SetResult(("C",), "C", tuple(range(self.bars)), summarise(strengths), MEAN, IMPACT_STRENGTH)
        found = _uncertainty(strengths, known).of_set(result)
        if found is None or result.summary.interval is None:
            return {"scatter alone": None, "before": None, "as shown": None}
        off, (low, high) = abs(result.summary.mean - MEAN), result.summary.interval
        by_freedom = student_t_quantile(UPPER_PROBABILITY, found.effective_degrees_of_freedom) * found.standard
        return {
            "scatter alone": low <= MEAN <= high,
            "before": off <= by_freedom,
            "as shown": off <= found.expanded,
        }


def _uncertainty(strengths: np.ndarray, known: float) -> RecordUncertainty:
    """As if the shared error were the moment's, and the readings were as good as exact."""
    inputs = (
        Input("moment", "N m", np.ones(len(strengths)), Taken(known, "simulated"), shared=True),
        Input("rise-angle", "°", np.ones(len(strengths)), Taken(1e-9, "simulated"), shared=False),
    )
    slopes = np.ones((2, len(strengths)))
    every = Propagated(strengths, inputs, slopes)
    return RecordUncertainty(every, every)


CASES = tuple(Mean(bars, shared) for bars in (2, 3, 5, 10) for shared in (0.0, 0.3, 1.0, 3.0))
