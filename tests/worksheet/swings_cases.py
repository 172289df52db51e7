"""Sessions of free swings that the worksheet's scripts are held against the engine with."""

import datetime as dt
import itertools
from collections.abc import Iterator

from chosen import division_of, field, hammer_of
from edges import Case, Made, edges, factors, steps
from sound import with_swings
from typed_session import Bench, Session, text_of

from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.losses import energy_left
from notchbook.handbook import Handbook
from notchbook.model.verification import Verification
from notchbook.physics.pendulum import rise_from_energy_deg

_SWINGS = ("first", "second", "later")
_BETWEEN = 2
_READ = 5
"""Readings of a series."""


def swings_cases(handbook: Handbook) -> list[Case]:
    """Every session, the sound ones first."""
    sound = list(sound_swings(handbook))
    chosen = _scales(sound)
    parts = (_sound(sound), _readings(chosen), _series(chosen), _absent(chosen), _entries(chosen), _setups(chosen))
    return list(itertools.chain.from_iterable(parts))


def sound_swings(handbook: Handbook) -> Iterator[Made]:
    """One session for each hammer that a verification covers: nothing is said of it."""
    exercise = next(each for each in handbook.library.exercises.values() if each.specimen is None)
    for (rig, hammer_id), hammer in handbook.evaluation.hammers.items():
        verifications = handbook.evaluation.by_hammer.get((rig, hammer_id))
        if hammer.method != exercise.method or not verifications:
            continue
        bench = Bench(handbook, exercise)
        day = min(verifications[0].date + dt.timedelta(days=1), handbook.day)
        fields = {"date": day.isoformat(), "group": "G4", "rig": rig, "hammer": hammer_id, "notes": "a dry day"}
        session = with_swings(bench, Session(fields, ()))
        rows = tuple({"reading": text_of(each)} for each in _dying_away(bench, session, hammer, verifications[0]))
        yield bench, Session({**session.fields, "series.half_swings_between": str(_BETWEEN)}, rows)


def _dying_away(bench: Bench, session: Session, hammer: SwungHammer, verification: Verification) -> list[float]:
    """What the scale shows as the pendulum dies away as it did in a verification, each a division lower at least."""
    left = energy_left(hammer, verification.free_swings)
    assert left is not None
    division, shown = division_of(bench, session), []
    for place in range(_READ):
        lost_J = hammer.potential_energy_J * (1.0 - left.fitted_pct(1 + place * _BETWEEN) / 100.0)
        rise_deg = float(rise_from_energy_deg(hammer.moment_Nm, hammer.release_angle_deg, lost_J))
        read = round((lost_J if bench.reads(session) == "energy" else rise_deg) / division) * division
        sign = 1.0 if bench.reads(session) == "energy" else -1.0
        if shown and sign * (read - shown[-1]) <= 0.0:
            read = shown[-1] + sign * division
        shown.append(round(read, 6))
    return shown


def _scales(sound: list[Made]) -> list[Made]:
    """The first session on each kind of scale."""
    found: dict[str, Made] = {}
    for bench, session in sound:
        found.setdefault(bench.reads(session), (bench, session))
    return list(found.values())


def _whole(bench: Bench, session: Session) -> float:
    """More than the scale can show of the hammer."""
    return hammer_of(bench, session).potential_energy_J * 1.1 if bench.reads(session) == "energy" else 180.0


def _without(session: Session, *absent: str) -> Session:
    return Session({key: text for key, text in session.fields.items() if key not in absent}, session.bars)


def _sound(sound: list[Made]) -> Iterator[Case]:
    for bench, session in sound:
        yield Case(bench, session, tight=False, rule="")
        for name in ("free_swings.later", "free_swings.half_swings"):
            yield Case(bench, _without(session, name), tight=False, rule="")
        without_series = Session(session.fields, ())
        yield Case(bench, without_series, tight=False, rule="")
        both = _without(without_series, "free_swings.later", "free_swings.half_swings")
        yield Case(bench, both, tight=False, rule="")
        yield Case(bench, Session(both.fields, session.bars), tight=False, rule="")


def _readings(chosen: list[Made]) -> Iterator[Case]:
    """Every free swing through its range, with the series and without it."""
    for (bench, session), bars in itertools.product(chosen, (True, False)):
        plain = session if bars else Session(session.fields, ())
        for which in _SWINGS:
            value = float(session.fields[f"free_swings.{which}"])
            energy = bench.reads(session) == "energy"
            near = factors(value, 0.2, 5.0, 20) if energy else steps(value - 12.0, value + 12.0, 30)
            grid = sorted({0.0, _whole(bench, session), *(each for each in near if 0.0 <= each <= 180.0)})
            yield from edges(field(bench, plain, f"free_swings.{which}"), grid)
            beyond = 100_001.0 if energy else 181.0
            for outside in (-1.0, beyond):
                yield Case(*field(bench, plain, f"free_swings.{which}")(outside), tight=False, rule="")
        counts = (0, 1, 2, 3, 5, 10, 15, 50, 100, 9999, 10002)
        yield from edges(
            lambda n, at=(bench, plain): (at[0], at[1].having("free_swings.half_swings", str(int(n)))),  # type: ignore[misc]
            counts, whole=True,
        )  # fmt: skip


def _series(chosen: list[Made]) -> Iterator[Case]:
    """Every reading of a series through its range, and the half swings between them."""
    for bench, session in chosen:
        for place, bar in enumerate(session.bars):
            value, division = float(bar["reading"]), division_of(bench, session)
            near = [value + step * division / 2.0 for step in range(-24, 25)]
            low = -100_000.0 if bench.reads(session) == "energy" else 0.0
            grid = sorted({low, -1.0, 0.0, _whole(bench, session), *near})
            yield from edges(field(bench, session, f"bars.{place}.reading"), grid)
            for outside in (low - 1.0, 100_001.0):
                yield Case(*field(bench, session, f"bars.{place}.reading")(outside), tight=False, rule="")
            yield Case(bench, session.having(f"bars.{place}.reading", "9x"), tight=False, rule="")
        yield from edges(
            lambda n, at=(bench, session): (at[0], at[1].having("series.half_swings_between", str(int(n)))),  # type: ignore[misc]
            (0, 1, 2, 3, 9, 999, 1003), whole=True,
        )  # fmt: skip
        yield Case(bench, session.having("series.half_swings_between", "1.5"), tight=False, rule="")
        ending = tuple({"reading": text_of(_whole(bench, session))} for _ in session.bars[:2])
        yield Case(bench, Session(session.fields, ending), tight=False, rule="")


def _absent(chosen: list[Made]) -> Iterator[Case]:
    """Entries that are not there: swings, one reading alone, no distance, no free swings at all."""
    for bench, session in chosen:
        yield Case(bench, session.having("free_swings.half_swings", "2.5"), tight=False, rule="")
    names = [f"free_swings.{each}" for each in (*_SWINGS, "half_swings")]
    for bench, session in chosen:
        for count in (1, 2, 3, 4):
            for absent in itertools.combinations(names, count):
                yield Case(bench, _without(session, *absent), tight=False, rule="")
                yield Case(
                    bench.of_method(loss_correction="metals"), _without(session, *absent), tight=False, rule=""
                )  # fmt: skip
        empty = {"reading": ""}
        yield Case(bench, Session(session.fields, (*session.bars, empty, empty)), tight=False, rule="")
        yield Case(bench, Session(session.fields, (*session.bars[:2], empty, session.bars[3])), tight=False, rule="")
        yield Case(bench, Session(session.fields, session.bars[:1]), tight=False, rule="")
        yield Case(bench, Session(session.fields, session.bars[:2]), tight=False, rule="")
        for name in ("date", "group", "series.half_swings_between"):
            yield Case(bench, _without(session, name), tight=False, rule="")


def _entries(chosen: list[Made]) -> Iterator[Case]:
    for bench, session in chosen:
        for group in ("G4", "ann", "G 4", "G44", "x" * 41):
            yield Case(bench, session.having("group", group), tight=False, rule="")
        for notes in ("x" * 10_000, "x" * 10_001):
            yield Case(bench, session.having("notes", notes), tight=False, rule="")
        days = range(dt.date(2024, 1, 1).toordinal(), dt.date(2028, 1, 1).toordinal(), 90)
        yield from edges(
            lambda day, at=(bench, session): (  # type: ignore[misc]
                at[0], at[1].having("date", dt.date.fromordinal(int(day)).isoformat())
            ),
            days, whole=True,
        )  # fmt: skip
        for day in ("2026-02-30", "20261006", "0000-01-01"):
            yield Case(bench, session.having("date", day), tight=False, rule="")


def _setups(chosen: list[Made]) -> Iterator[Case]:
    """Other hammers and scales: what is allowed, what a division is worth, a rig without a pointer, no verification."""
    for bench, session in chosen:
        rig, hammer = session.fields["rig"], session.fields["hammer"]
        own, first = hammer_of(bench, session), float(session.fields["free_swings.first"])
        for factor in steps(0.99, 1.01, 2):
            yield Case(
                bench.of_hammer(rig, hammer, nominal_energy_J=own.nominal_energy_J * factor),
                session, tight=False, rule="",
            )  # fmt: skip
        energy = bench.reads(session) == "energy"
        name = "division_J" if energy else "division_deg"
        for division in (division_of(bench, session) * each for each in (0.1, 0.5, 2.0, 10.0)):
            coarse = bench.of_rig(rig, **{name: division})
            yield Case(coarse, session, tight=False, rule="")
            second = session.fields["free_swings.second"]
            for apart in (-1.5, -0.5, 0.5, 1.5):
                moved = session.having("free_swings.first", text_of(round(float(second) + apart * division, 6)))
                yield Case(coarse.of_rig(rig, pointer="none"), moved, tight=False, rule="")
                yield Case(coarse, moved, tight=False, rule="")
        without = bench.of_rig(rig, pointer="none")
        near = factors(first, 0.3, 2.0, 20) if energy else steps(first - 2.0, first + 4.0, 30)
        yield from edges(field(without, session, "free_swings.first"), near)
        yield Case(bench.unverified(rig, hammer), session, tight=False, rule="")
