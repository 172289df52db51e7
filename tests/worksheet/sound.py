"""Sound sessions of every exercise of the demo on every hammer, the numbers of which are changed one by one."""

import datetime as dt
from collections.abc import Iterator

from engine import said
from typed_session import DIMENSIONS, Bench, Session, text_of

from notchbook.evaluation.hammers import SwungHammer
from notchbook.handbook import Handbook
from notchbook.model.procedure import Exercise
from notchbook.physics.pendulum import rise_from_energy_deg

SCATTER = (1.0, 0.97, 1.04, 0.96, 1.03, 1.01, 0.95, 1.05, 0.98, 1.02, 0.99, 1.06)
"""Energies of bars of one batch, in no order."""
# bars few enough for their variation to tell whether they are enough
_SHARES = (0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.7)


def sound_sessions(handbook: Handbook) -> Iterator[tuple[Bench, Session]]:
    """One for each exercise and hammer that a verification covers: nothing is said of it."""
    for exercise in handbook.library.exercises.values():
        if exercise.specimen is None:
            continue
        for hammer in handbook.evaluation.hammers.values():
            if hammer.method != exercise.method:
                continue
            bench = Bench(handbook, exercise)
            made = (typed(bench, hammer, share) for share in _SHARES)
            session = next((each for each in made if each and not said(bench, each).get("findings", True)), None)
            if session is not None:
                yield bench, session


def typed(bench: Bench, hammer: SwungHammer, share: float, bars: int = 5) -> Session | None:
    """A session in which bars take that share of a hammer; None where no verification covers one."""
    verifications = bench.handbook.evaluation.by_hammer.get((hammer.rig, hammer.id))
    if not verifications:
        return None
    method = bench.method
    climates = {"conditioning": method.conditioning, "test_atmosphere": method.test_atmosphere}
    day = min(verifications[0].date + dt.timedelta(days=1), bench.handbook.day)
    fields = {
        "date": day.isoformat(), "group": "G4", "rig": hammer.rig, "hammer": hammer.id,
        "material": min(bench.handbook.library.materials),
    }  # fmt: skip
    for key, asked in climates.items():
        for name in ("temperature_C", "humidity_pct", "hours"):
            if getattr(asked, name) is not None:
                fields[f"{key}.{name}"] = text_of(getattr(asked, name).value)
    asked = dimensions_of(bench.exercise, bench)
    made = [
        {
            "id": f"{place + 1:02}",
            **{name: text_of(round(value + place % 3 / 100, 2)) for name, value in asked},
            "reading": reading(bench, hammer, share * SCATTER[place % len(SCATTER)]),
            "break": "C",
        }
        for place in range(bars)
    ]
    return Session(fields, tuple(made))


def dimensions_of(exercise: Exercise, bench: Bench) -> list[tuple[str, float]]:
    """The dimensions that are measured on each bar, at what is asked of them."""
    chosen = exercise.specimen
    assert chosen is not None
    kind, notch = bench.method.specimen_type(chosen.type), bench.method.notch(chosen.notch)
    assert kind is not None
    asked = [kind.width_mm.value, kind.thickness_mm.value, *([notch.remaining_width_mm.value] if notch else [])]
    return list(zip(DIMENSIONS, asked, strict=False))


def reading(bench: Bench, hammer: SwungHammer, share: float) -> str:
    """What the scale shows where a swing left that share of the hammer's energy behind, to its division."""
    indicator = bench.handbook.library.rigs[hammer.rig].indicator
    energy_J = share * hammer.potential_energy_J
    if indicator.reads == "energy":
        division = indicator.division_J or 0.001
        return text_of(round(round(energy_J / division) * division, 6))
    rise = float(rise_from_energy_deg(hammer.moment_Nm, hammer.release_angle_deg, energy_J))
    division = indicator.division_deg or 0.1
    return text_of(round(round(rise / division) * division, 6))


def with_swings(bench: Bench, session: Session) -> Session:
    """The same with the free swings of the verification in force, as if they were the day's."""
    rig, hammer = session.fields["rig"], session.fields["hammer"]
    swings = bench.handbook.evaluation.by_hammer[rig, hammer][0].free_swings
    ending = "indicated_energy_J" if bench.reads(session) == "energy" else "rise_deg"
    read = {which: getattr(swings, f"{which}_{ending}") for which in ("first", "second", "later")}
    texts = {f"free_swings.{which}": text_of(value) for which, value in read.items() if value is not None}
    if "free_swings.later" in texts:
        texts["free_swings.half_swings"] = str(swings.half_swings)
    return Session({**session.fields, **texts}, session.bars)
