"""A calculation in steps, each as formula, numbers and result, with as many digits as it takes to follow it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import SupportsFloat

from markupsafe import Markup

from notchbook.pages.written.formulae import mathml
from notchbook.wording.numbers import decimals_of, figures_text

_MOST_EXTRA = 6
"""Digits that values in between may get beyond the usual ones before the last digit of a result is let go."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value with the way it is shown."""

    symbol: str
    """In TeX."""
    value: float
    unit: str = ""
    """In TeX, empty for none."""
    figures: int | None = None
    """Significant figures; with neither figures nor decimals it is a reading, which stands as it was written."""
    decimals: int | None = None
    """Decimals in place of significant figures."""
    final: bool = False
    """Whether it never has more digits than these, which are those of the page's tables."""
    least: int = 0
    """Decimals that a reading has at least, as in the page's tables."""

    def text(self, extra: int) -> str:
        """The number with so many digits beyond the usual ones, with a point and a hyphen for the minus."""
        more = 0 if self.final else extra
        if self.decimals is not None:
            return f"{self.value:z.{self.decimals + more}f}"
        return figures_text(self.value, self.figures + more) if self.figures is not None else self._as_read()

    def _as_read(self) -> str:
        text = f"{self.value:.10g}"
        if "e" in text:
            return f"{self.value:.20f}".rstrip("0").rstrip(".")
        decimals = decimals_of(text)
        return text if decimals >= self.least else f"{self.value:.{self.least}f}"


@dataclass(frozen=True, slots=True)
class Step:
    """One line of the calculation."""

    words: str
    result: str
    """Key of the quantity that comes out."""
    formula: str
    """Right-hand side in TeX."""
    numbers: str
    """The same with `<key>` for each number; empty where the formula is a reading."""
    inputs: tuple[str, ...]
    """Keys of the quantities that go in, in the order of the arguments."""
    compute: Callable[..., SupportsFloat]
    """The formula."""


@dataclass(frozen=True, slots=True)
class Line:
    """One step as it is shown."""

    words: str
    formula: Markup


class Calculation:
    """Quantities and steps in the order in which they are worked out."""

    def __init__(self) -> None:
        self._quantities: dict[str, Quantity] = {}
        self._steps: list[Step] = []

    def add(self, **quantities: Quantity) -> None:
        """Quantities by the keys that the steps name them with."""
        self._quantities.update(quantities)

    def step(
        self, words: str, result: str, formula: str, numbers: str, inputs: str, compute: Callable[..., SupportsFloat]
    ) -> None:
        """One step; `inputs` are keys with spaces between, the rest is as in `Step`."""
        self._steps.append(Step(words, result, formula, numbers, tuple(inputs.split()), compute))

    def lines(self) -> list[Line]:
        """The steps with the fewest digits with which each result follows from the numbers shown before it."""
        extra = next((each for each in range(_MOST_EXTRA) if self._follow(each)), _MOST_EXTRA)
        return [_line(step, self._quantities, extra) for step in self._steps]

    def _follow(self, extra: int) -> bool:
        """Whether somebody who computes with the shown numbers gets the shown results."""
        for step in self._steps:
            result = self._quantities[step.result]
            numbers = [float(self._quantities[key].text(extra)) for key in step.inputs]
            if replace(result, value=float(step.compute(*numbers))).text(extra) != result.text(extra):
                return False
        return True


def _line(step: Step, quantities: Mapping[str, Quantity], extra: int) -> Line:
    result = quantities[step.result]
    numbers = step.numbers
    for key in step.inputs:
        text = quantities[key].text(extra)
        numbers = numbers.replace(f"<{key}>", f"({text})" if text.startswith("-") else text)
    unit = rf"\ {result.unit}" if result.unit else ""
    rows = [step.formula, numbers, f"{result.text(extra)}{unit}"]
    right = r" \\ ".join(f"&= {row}" for row in rows if row)
    tex = rf"\begin{{aligned}} {result.symbol} {right} \end{{aligned}}"
    return Line(step.words, mathml(tex, block=True, label=f"Formula: {step.words}"))
