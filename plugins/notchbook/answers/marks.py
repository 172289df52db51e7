"""Points for answers, by a scheme of the department's own."""

from collections.abc import Mapping
from dataclasses import dataclass

from notchbook.answers.bars import Bars
from notchbook.answers.candidates import right_values
from notchbook.answers.judging import Answer, Verdict


@dataclass(frozen=True, slots=True)
class Scheme:
    """What an answer is worth, and how near it has to be."""

    points: Mapping[str, float]
    """By quantity; none for one that is not named."""
    known_slip: float = 0.5
    """Share of the points for what a known slip gives."""
    tolerance_digits: float = 0.0
    """Units of the last digit, beside rounding."""
    tolerance_pct: float = 0.0
    """Percent of the right value."""

    def worth(self, answer: Answer) -> float:
        """The points of a right answer."""
        return self.points.get(answer.asked.quantity, 0.0)

    def earned(self, bars: Bars, answer: Answer, verdict: Verdict) -> float:
        """The points of an answer: all of them where it agrees or is near enough, a share for a known slip."""
        if verdict.kind == "agrees" or self._is_near_enough(bars, answer):
            return self.worth(answer)
        return self.known_slip * self.worth(answer) if verdict.kind == "slip" else 0.0

    def _is_near_enough(self, bars: Bars, answer: Answer) -> bool:
        reach = (0.5 + self.tolerance_digits) * answer.given.unit if self.tolerance_digits else 0.0
        return any(
            abs(answer.given.value - right) <= max(reach, self.tolerance_pct / 100.0 * abs(right))
            for right in right_values(bars, answer.asked)
        )
