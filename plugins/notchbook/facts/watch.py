"""The everyday material of a rig, and what its control chart says, in sentences."""

from dataclasses import dataclass
from functools import cached_property

from notchbook.evaluation.watch import FEWEST_JUDGED, Watch, Watched
from notchbook.model.quantity import Quantity
from notchbook.statistics.control import SIGNAL_WORDS
from notchbook.wording.dates import day_words
from notchbook.wording.lists import counted, listed
from notchbook.wording.numbers import interval_ends, plain, to_figures

_YEARS_KNOWN = 5
"""With fewer years their spread is hardly known."""


@dataclass(frozen=True)
class WatchFacts:
    """The watch of one rig."""

    watch: Watch

    @cached_property
    def signals(self) -> Watched:
        """What records signalled when they came, by their ids."""
        return self.watch.signals()

    @property
    def quantity(self) -> Quantity:
        """What is watched."""
        return self.watch.points[0].result.quantity

    @property
    def of_what(self) -> str:
        """Which bars are watched and why these, after the material's symbol."""
        letters = "/".join(sorted({letter for each in self.watch.points for letter in each.result.breaks}))
        why = "as the rig's file says" if self.watch.is_stated else "which is broken most often on this rig"
        return (
            f"in exercise {self.watch.choice.exercise}, {why}: means of the bars that broke {letters}, struck at "
            f"{plain(self.watch.speed_m_s)} m/s, of records without a declared deviation"
        )

    @property
    def told(self) -> list[str]:
        """Sentences about the limits, the signals, and where the scatter comes from."""
        return [*self._limits, *self._signals, *self._components]

    @property
    def _limits(self) -> list[str]:
        """The limits that hold for the next record, and how much they are worth."""
        newest, chart = self.watch.times[-1], self.watch.charts[-1]
        if chart.lower is None or chart.upper is None:
            return []
        low, high = interval_ends(chart.lower, chart.upper)
        said = (
            f"By {counted(len(newest), 'record')} since {day_words(newest[0].record.date)} the mean of the next one "
            f"lies between {low} and {high} {self.quantity.unit}."
        )
        if len(newest) < FEWEST_JUDGED:
            said += f" From so few the limits say little: the check judges from {FEWEST_JUDGED} on."
        return [said]

    @property
    def _signals(self) -> list[str]:
        return [
            f"The mean of {each.record.id} {listed(SIGNAL_WORDS[kind] for kind in self.signals[each.record.id])}."
            for each in self.watch.points
            if each.record.id in self.signals
        ]

    @property
    def _components(self) -> list[str]:
        """Where the scatter of single bars comes from."""
        found = self.watch.components
        parts = (
            ("from bar to bar", found.within_sd),
            ("from record to record", found.groups_sd),
            ("from year to year", found.classes_sd),
        )
        known = [f"{words} {to_figures(each, 2)}" for words, each in parts if each is not None]
        if len(known) < 2:
            return []
        said = f"Standard deviations: {listed(known)} {self.quantity.unit}, each beside those before it."
        if found.classes_sd is not None and found.classes < _YEARS_KNOWN:
            said += f" From {counted(found.classes, 'calendar year')} the last of them is hardly known."
        return [said]
