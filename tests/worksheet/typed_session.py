"""A session at the pendulum, and all that it is held against."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from notchbook.evaluation.losses import evaluate_verification
from notchbook.facts.facts import Facts
from notchbook.handbook import Handbook
from notchbook.model.method import Method
from notchbook.model.procedure import Exercise
from notchbook.pages.exercise.worksheet import swings_data, worksheet_data
from notchbook.reading.scalars import plain_value

_BY_TRIGONOMETRY = ["energy-window", "larger-hammer", "no-break-energy", "specimen-number"]
_SWINGS_BY_TRIGONOMETRY = ["free-swing-order", "loss-limit", "later-swings", "dying-away"]
DIMENSIONS = ("width_mm", "thickness_mm", "remaining_width_mm")
SWINGS = ("first", "second", "later")


def text_of(value: float) -> str:
    """A number as somebody types it, with every digit that it has."""
    return format(Decimal(repr(value)), "f")


@dataclass(frozen=True)
class Session:
    """What is typed: texts by field, and texts by field for each bar."""

    fields: dict[str, str]
    bars: tuple[dict[str, str], ...]

    @property
    def touched(self) -> list[dict[str, str]]:
        """The bars of which anything but the number was typed; the others are none yet."""
        return [bar for bar in self.bars if any(text for name, text in bar.items() if name != "id")]

    def having(self, place: str, text: str) -> Session:
        """The same with another text in one field, of a bar by its place: `bars.2.width_mm`."""
        _, row, name = place.split(".") if place.startswith("bars.") else ("", "", "")
        if not row:
            return Session({**self.fields, place: text}, self.bars)
        bars = [dict(bar) for bar in self.bars]
        bars[int(row)][name] = text
        return Session(self.fields, tuple(bars))


@dataclass(frozen=True)
class Bench:
    """A handbook with the exercise that is done; the session chooses rig and hammer."""

    handbook: Handbook
    exercise: Exercise

    @property
    def method(self) -> Method:
        return self.handbook.library.methods[self.exercise.method]

    def of_method(self, **changes: Any) -> Bench:
        """The same with another method in place of the exercise's."""
        library = self.handbook.library
        methods = {**library.methods, self.method.id: dataclasses.replace(self.method, **changes)}
        return self._of_library(methods=methods)

    def of_rig(self, rig: str, **changes: Any) -> Bench:
        """The same with another scale."""
        old = self.handbook.library.rigs[rig]
        indicator = dataclasses.replace(old.indicator, **changes)
        return self._of_library(rigs={**self.handbook.library.rigs, rig: dataclasses.replace(old, indicator=indicator)})

    def of_hammer(self, rig: str, hammer: str, **changes: Any) -> Bench:
        """The same with another hammer in place of one; its verifications stay."""
        evaluation = self.handbook.evaluation
        other = dataclasses.replace(evaluation.hammers[rig, hammer], **changes)
        own = self.handbook.library.rigs[rig]
        verified = {
            each.id: evaluate_verification(own, other, each) for each in evaluation.by_hammer.get((rig, hammer), ())
        }
        known = dataclasses.replace(
            evaluation,
            hammers={**evaluation.hammers, (rig, hammer): other},
            verifications={**evaluation.verifications, **verified},
        )
        return dataclasses.replace(self, handbook=dataclasses.replace(self.handbook, evaluation=known))

    def unverified(self, rig: str, hammer: str) -> Bench:
        """The same where a hammer has no verification."""
        evaluation = self.handbook.evaluation
        known = dataclasses.replace(evaluation, by_hammer={**evaluation.by_hammer, (rig, hammer): []})
        return dataclasses.replace(self, handbook=dataclasses.replace(self.handbook, evaluation=known))

    def _of_library(self, **changes: Any) -> Bench:
        library = dataclasses.replace(self.handbook.library, **changes)
        evaluation = dataclasses.replace(self.handbook.evaluation, library=library)
        return dataclasses.replace(
            self, handbook=dataclasses.replace(self.handbook, library=library, evaluation=evaluation)
        )

    def data(self) -> dict[str, Any]:
        """What the page gives its worksheet."""
        chosen = self.exercise.specimen
        rigs = Facts(self.handbook).rigs_with_hammers(self.method.id)
        if chosen is None:
            return swings_data(self.exercise, self.method, rigs)
        return worksheet_data(self.exercise, chosen, self.method, rigs)

    def computed(self, session: Session) -> list[str]:
        """The rules that hang on the last bit of a sine, which two languages may round otherwise."""
        swings = _SWINGS_BY_TRIGONOMETRY if self.reads(session) == "angle" else []
        return [*_BY_TRIGONOMETRY, *swings]

    def reads(self, session: Session) -> str:
        return self.handbook.library.rigs[session.fields["rig"]].indicator.reads

    def file(self, session: Session) -> dict[str, Any]:
        """The record as its file holds it."""
        fields, chosen = session.fields, self.exercise.specimen
        energy = self.reads(session) == "energy"
        told: dict[str, Any] = {"kind": "swings" if chosen is None else "test", "exercise": self.exercise.id}
        if chosen is not None:
            told["specimen"] = {"type": chosen.type, "notch": chosen.notch, "direction": chosen.direction}
            told["specimens"] = [_bar(bar, energy=energy) for bar in session.touched]
        elif session.touched:
            read = [plain_value(bar["reading"]) for bar in session.touched]
            told["series"] = {"indicated_energies_J" if energy else "rises_deg": read}
        told |= {key: text for key, text in fields.items() if text and "." not in key}
        for key, text in fields.items():
            group, _, name = key.partition(".")
            if group == "series" and not session.touched:
                continue  # how far readings lie apart says nothing without any
            if name and text:
                scale = "_indicated_energy_J" if energy else "_rise_deg"
                told.setdefault(group, {})[name + scale if name in SWINGS else name] = plain_value(text)
        return told


def _bar(bar: dict[str, str], *, energy: bool) -> dict[str, Any]:
    names = {"reading": "indicated_energy_J" if energy else "rise_angle_deg"}
    texts = ("id", "break", "excluded")
    return {names.get(name, name): text if name in texts else plain_value(text) for name, text in bar.items() if text}
