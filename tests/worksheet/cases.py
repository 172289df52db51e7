"""All sessions that the worksheet's scripts are held against the engine with."""

from __future__ import annotations

import dataclasses
import datetime as dt
import itertools
from collections import Counter
from typing import TYPE_CHECKING

from edges import Case, edges, factors, steps
from sound import dimensions_of, reading, sound_sessions, typed, with_swings

from bench import Bench, Session, text_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from edges import Made

    from notchbook.evaluation.hammers import SwungHammer
    from notchbook.handbook import Handbook
    from notchbook.model.requirement import Requirement

_ON_BOTH = "notched-charpy"
"""An exercise with hammers on a scale of angles and on one of energies."""
BAR = 3
"""The bar whose numbers are changed."""
_WHOLLY = 2
"""Exercises all the entries of which go through all that may be written; the others have no other limits."""
_ALIKE = 40
"""Cases that the last bit decides, of which more tell no more."""
_COUNTS = (1, 2, 3, 5, 10, 15, 50, 100, 9999, 10002)


def all_cases(handbook: Handbook) -> list[Case]:
    """Every session, those of different kinds in turn, so that the first of them see most."""
    sound = list(sound_sessions(handbook))
    kinds = [
        *(made(handbook, sound) for made in (_sound, _entries, _own_swings, _hammers, _methods, _scales)),
        *(made(handbook, sound) for made in (_numbers_of_bars, _orders, _ids, _breaks, _marks)),
    ]
    turns = itertools.zip_longest(*kinds)
    return _without_more_of_the_same(case for turn in turns for case in turn if case is not None)


def _without_more_of_the_same(cases: Iterable[Case]) -> list[Case]:
    """Few of the cases at edges between the same words of the engine."""
    seen: Counter[tuple[str, str]] = Counter()
    kept = []
    for case in cases:
        alike = (case.rule, case.bench.reads(case.session))
        seen[alike] += 1
        if not case.tight or seen[alike] <= _ALIKE:
            kept.append(case)
    return kept


def _firsts(sound: list[Made]) -> list[Made]:
    """The first sound session of each method and kind of notch."""
    found: dict[tuple[str, bool], Made] = {}
    for bench, session in sound:
        found.setdefault((bench.method.id, "remaining_width_mm" in session.bars[0]), (bench, session))
    return list(found.values())


def _scales_of(sound: list[Made]) -> list[Made]:
    """One session of the same exercise on each kind of scale, on a hammer that is not the largest."""
    found: dict[str, Made] = {}
    for bench, session in sound:
        if bench.exercise.id == _ON_BOTH:
            found.setdefault(bench.reads(session), (bench, session))
    return list(found.values())


def _hammer(bench: Bench, session: Session) -> SwungHammer:
    return bench.handbook.evaluation.hammers[session.fields["rig"], session.fields["hammer"]]


def _sound(_: Handbook, sound: list[Made]) -> Iterator[Case]:
    for bench, session in sound:
        yield Case(bench, session, tight=False, rule="")
        yield Case(bench, with_swings(bench, session), tight=False, rule="")


def _field(bench: Bench, session: Session, place: str) -> Callable[[float], Made]:
    return lambda value: (bench, session.having(place, text_of(value)))


def _about(value: float, low: float, high: float, reach: float) -> list[float]:
    """Values around one, even ones near it and those at the ends of what may be written."""
    return sorted({low - 1.0, low, *steps(value - reach, value + reach, 25), high, high + 1.0})


def _entries(_: Handbook, sound: list[Made]) -> Iterator[Case]:
    """Every number and the date that a form asks for."""
    seen = set()
    for bench, session in _firsts(sound):
        place = f"bars.{BAR}.reading"
        own, angle = _hammer(bench, session), bench.reads(session) == "angle"
        top, beyond = (180.0, 181.0) if angle else (own.potential_energy_J * 1.1, 100_001.0)
        shares = steps(0.995, 0.005, 16) if angle else steps(0.005, 0.995, 16)
        grid = sorted({float(reading(bench, own, share)) for share in shares})
        yield from edges(_field(bench, session, place), [-1.0, 0.0, *grid, top, beyond])
        left_out = session.having(f"bars.{BAR}.excluded", "fell")
        yield from edges(_field(bench, left_out, place), [0.0, *grid[::6], top])
        for value in (0.0, own.nominal_energy_J, own.potential_energy_J):
            yield Case(bench, left_out.having(place, text_of(value)), tight=False, rule="rise-angle")
        if bench.exercise.id in seen:
            continue
        seen.add(bench.exercise.id)
        for name, value in dimensions_of(bench.exercise, bench):
            grid = [-1.0, 0.0, *factors(value, 1e-4, 1e4, 40), 100_001.0] if len(seen) < _WHOLLY else factors(
                value, 0.9, 1.1, 10
            )  # fmt: skip
            yield from edges(_field(bench, session, f"bars.{BAR}.{name}"), grid)
        for key, text in session.fields.items():
            if key.startswith(("conditioning", "test_atmosphere")):
                low, high = {"temperature_C": (-273.15, 1000.0), "humidity_pct": (0.0, 100.0)}.get(
                    key.partition(".")[2], (0.0, 1e6)
                )
                if len(seen) > _WHOLLY:
                    continue
                grid = [each for each in _about(float(text), low, high, 20.0) if low - 1.0 <= each <= high + 1.0]
                yield from edges(_field(bench, session, key), grid)
        days = range(dt.date(2024, 1, 1).toordinal(), dt.date(2028, 1, 1).toordinal(), 90)
        yield from edges(
            lambda day, bench=bench, session=session: (  # type: ignore[misc]  # bound in the loop
                bench, session.having("date", dt.date.fromordinal(int(day)).isoformat())
            ),
            days, whole=True,
        )  # fmt: skip


def _own_swings(_: Handbook, sound: list[Made]) -> Iterator[Case]:
    """Every reading of the day's free swings, and swings that were not read."""
    for bench, plain in (*_scales_of(sound), _firsts(sound)[-1]):
        session = with_swings(bench, plain)
        energy = bench.reads(session) == "energy"
        top = _hammer(bench, session).potential_energy_J * 1.1 if energy else 180.0
        for which in ("first", "second", "later"):
            value = float(session.fields[f"free_swings.{which}"])
            near = factors(value, 0.2, 5.0, 20) if energy else steps(value - 12.0, value + 12.0, 30)
            near = [round(each, 1 if not energy else 3) for each in near]
            grid = sorted({0.0, top, *(each for each in near if 0.0 <= each <= top)})
            yield from edges(_field(bench, session, f"free_swings.{which}"), grid)
        yield from edges(
            lambda n, bench=bench, session=session: (bench, session.having("free_swings.half_swings", str(int(n)))),  # type: ignore[misc]
            (0, *_COUNTS), whole=True,
        )  # fmt: skip
        for absent in itertools.chain.from_iterable(
            itertools.combinations(("first", "second", "later", "half_swings"), count) for count in (1, 2, 3)
        ):
            kept = {key: text for key, text in session.fields.items() if key.partition(".")[2] not in absent}
            yield Case(bench, Session(kept, session.bars), tight=False, rule="free-swings-complete")
            metals = bench.of_method(loss_correction="metals")
            yield Case(metals, Session(kept, session.bars), tight=False, rule="free-swings-complete")


def _hammers(_: Handbook, sound: list[Made]) -> Iterator[Case]:
    """The numbers of the hammer, and of the next larger one of its rig."""
    for bench, session in _scales_of(sound):
        own = _hammer(bench, session)
        swung = with_swings(bench, session)
        changes: dict[str, list[float]] = {
            "potential_energy_J": factors(own.potential_energy_J, 0.05, 20.0, 30),
            "nominal_energy_J": factors(own.nominal_energy_J, 0.2, 5.0, 30),
            "release_angle_deg": steps(30.0, 179.0, 30),
        }
        for name, grid in changes.items():
            yield from edges(
                lambda value, name=name, bench=bench, swung=swung, own=own: (  # type: ignore[misc]
                    bench.of_hammer(own.rig, own.id, **{name: value}), swung
                ),
                grid,
            )  # fmt: skip
        larger = [
            each for each in bench.handbook.evaluation.hammers.values()
            if (each.rig, each.method) == (own.rig, own.method) and each.potential_energy_J > own.potential_energy_J
        ]  # fmt: skip
        other = min(larger, key=lambda each: each.potential_energy_J)
        # energies that both windows hold
        share = 0.2 * other.potential_energy_J / own.potential_energy_J
        both = typed(bench, own, share)
        assert both is not None
        for name in ("potential_energy_J", "nominal_energy_J"):
            grid = factors(getattr(other, name), 0.1, 3.0, 40)
            yield from edges(
                lambda value, name=name, bench=bench, both=both, other=other: (  # type: ignore[misc]
                    bench.of_hammer(other.rig, other.id, **{name: value}), both
                ),
                grid,
            )  # fmt: skip
        values = {float(reading(bench, own, each)) for each in steps(share / 4, 0.79, 25)}
        yield from edges(_field(bench, both, f"bars.{BAR}.reading"), sorted(values))


def _with(requirement: Requirement, value: float) -> Requirement:
    return dataclasses.replace(requirement, above=value, below=value)


def _methods(_: Handbook, sound: list[Made]) -> Iterator[Case]:
    """The numbers of the method."""
    for bench, session in _scales_of(sound):
        method, swung = bench.method, with_swings(bench, session)
        window, number, pendulums = method.energy_window, method.specimen_number, method.pendulums
        spread = session.having(f"bars.{BAR}.reading", reading(bench, _hammer(bench, session), 0.24))
        few = Session(spread.fields, spread.bars[:-1])
        for make, grid in (
            (lambda x: bench.of_method(energy_window=dataclasses.replace(window, low_pct=x)), steps(1.0, 60.0, 20)),
            (lambda x: bench.of_method(energy_window=dataclasses.replace(window, high_pct=x)), steps(10.0, 90.0, 20)),
            (
                lambda x: bench.of_method(specimen_number=dataclasses.replace(number, fewer_below_variation_pct=x)),
                steps(0.5, 40.0, 20),
            ),
            (
                lambda x: bench.of_method(pendulums=dataclasses.replace(pendulums, classes=tuple(
                    dataclasses.replace(each, loss_pct=x) for each in pendulums.classes
                ))),
                factors(1.0, 1e-3, 20.0, 30),
            ),
            (
                lambda x: bench.of_method(pendulums=dataclasses.replace(
                    pendulums, potential_energy_tolerance_pct=_with(pendulums.potential_energy_tolerance_pct, x)
                )),
                factors(1.0, 1e-3, 20.0, 30),
            ),
        ):  # fmt: skip
            for each in (spread, few, swung):
                yield from edges(lambda x, make=make, each=each: (make(x), each), grid)  # type: ignore[misc]
        for figures in (1, 2, 3, 4):
            reporting = dataclasses.replace(method.reporting, significant_figures=figures)
            yield Case(bench.of_method(reporting=reporting), session, tight=False, rule="")


def _scales(_: Handbook, sound: list[Made]) -> Iterator[Case]:
    """The division of the scale, which tells what a loss and a reading may be."""
    for bench, session in _scales_of(sound):
        name = "division_J" if bench.reads(session) == "energy" else "division_deg"
        rig = session.fields["rig"]
        division = getattr(bench.handbook.library.rigs[rig].indicator, name)
        swung = with_swings(bench, session)
        second = swung.having("free_swings.second", text_of(0.0) if name == "division_J" else _release(bench, session))
        above = second.having("free_swings.first", second.fields["free_swings.second"])
        for each in (swung, second, above):
            yield from edges(
                lambda x, bench=bench, rig=rig, name=name, each=each: (bench.of_rig(rig, **{name: x}), each),  # type: ignore[misc]
                factors(division, 0.02, 100.0, 30),
            )  # fmt: skip
        yield Case(bench.of_rig(rig, **{name: None}), swung, tight=False, rule="")


def _release(bench: Bench, session: Session) -> str:
    return text_of(_hammer(bench, session).release_angle_deg)


def _numbers_of_bars(_: Handbook, sound: list[Made]) -> Iterator[Case]:
    """More and fewer bars than asked for, some left out, some unread."""
    for bench, session in _scales_of(sound):
        hammer = _hammer(bench, session)
        for bars, share in itertools.product((1, 2, 4, 5, 6, 9, 10, 11, 40), (0.15, 0.4)):
            made = typed(bench, hammer, share, bars)
            assert made is not None
            yield Case(bench, made, tight=False, rule="specimen-number")
            yield Case(bench, made.having("bars.0.excluded", "fell"), tight=False, rule="specimen-number")
            unread = made.having("bars.0.excluded", "fell").having("bars.0.reading", "")
            yield Case(bench, unread, tight=False, rule="specimen-number")
            # not covered by any verification
            yield Case(bench, made.having("date", "2019-01-02"), tight=False, rule="specimen-number")


def _orders(_: Handbook, sound: list[Made]) -> Iterator[Case]:
    """Readings in order and nearly so, alike, and of bars in another order."""
    for bench, session in _scales_of(sound):
        for bars, same, swap, falls in itertools.product((4, 5, 7, 8, 9), (0, 1, 2, 3), (False, True), (False, True)):
            made = typed(bench, _hammer(bench, session), 0.3, bars)
            assert made is not None
            rising = sorted((bar["reading"] for bar in made.bars), key=float)
            readings = [rising[max(0, place - same)] if place <= same else rising[place] for place in range(bars)]
            readings[: same + 1] = [rising[0]] * (same + 1)
            if swap:
                readings[-1], readings[-2] = readings[-2], readings[-1]
            if falls:
                readings.reverse()
            rows = tuple(dict(bar, reading=text) for bar, text in zip(made.bars, readings, strict=True))
            yield Case(bench, Session(session.fields, rows), tight=False, rule="reading-order")
            if swap:
                continue
            turned = (dict(rows[0], id=rows[1]["id"]), dict(rows[1], id=rows[0]["id"]), *rows[2:])
            yield Case(bench, Session(session.fields, turned), tight=False, rule="reading-order")
            longer = (*rows[:-1], dict(rows[-1], id="100"))
            yield Case(bench, Session(session.fields, longer), tight=False, rule="reading-order")


def _ids(_: Handbook, sound: list[Made]) -> Iterator[Case]:
    """Numbers left out of a row, twice, and no numbers at all; codes and days that are none; repeated bars."""
    bench, session = sound[0]
    numbers = ("1 2 3 4", "1 2 4", "1 2 5", "1 2 6", "1 3 5", "1 3 5 7", "2 1 4", "1 2 2 4", "1 2 a", "07 9", "5",
               "999998 1000000", "1 1000000", "999997 999999", "١ ٣", "1 2 +4", "1 2 4.0")  # fmt: skip
    for ids in numbers:
        rows = tuple(dict(bar, id=mark) for bar, mark in zip(session.bars, ids.split(), strict=False))
        yield Case(bench, Session(session.fields, rows), tight=False, rule="bar-missing specimen-id")
    for code in ("G3", "G", "LT-2", "ABCDEF-1234a", "ABCDEFG-1", "G12345", "g3", "G3aa", "G3\u00e4", "3", "G-", "G--3"):
        yield Case(bench, session.having("group", code), tight=False, rule="people-codes")
    for length in (40, 41):
        yield Case(bench, session.having("group", "G" * length), tight=False, rule="people-codes")
        yield Case(bench, session.having("bars.1.id", "x" * length), tight=False, rule="")
        yield Case(bench, session.having("bars.1.id", "\U0001f600" * length), tight=False, rule="")
    for key, length in (("batch", 200), ("notes", 10_000)):
        yield Case(bench, session.having(key, "x" * length), tight=False, rule="")
        yield Case(bench, session.having(key, "x" * (length + 1)), tight=False, rule="")
    for day in ("2026-02-28", "2026-02-29", "2024-02-29", "2026-04-31", "2026-13-01", "2026-00-10", "0000-01-01",
                "0001-01-01", "26-10-06", "2026-10-6", "2026-1-06", "20261006", "2026-10-06 ", "x2026-10-06"):  # fmt: skip  # noqa: E501
        yield Case(bench, session.having("date", day.strip()), tight=False, rule="")
    for missing in ("bars.2.width_mm", "bars.2.id", "bars.2.break", "group", "date", "conditioning.hours"):
        yield Case(bench, session.having(missing, ""), tight=False, rule="")
    for first, again in ((0, 1), (2, 4)):
        rows = [dict(bar) for bar in session.bars]
        rows[again] = dict(rows[first], id=rows[again]["id"])
        yield Case(bench, Session(session.fields, tuple(rows)), tight=False, rule="")
        yield Case(
            bench,
            Session(session.fields, tuple(rows)).having("bars.0.reading", "").having("bars.0.excluded", "fell"),
            tight=False,
            rule="",
        )


def _breaks(_: Handbook, sound: list[Made]) -> Iterator[Case]:
    """Ways of breaking, and what a bar that did not break took at least."""
    patterns = ("CCCN", "CCN", "CHN", "HHN", "HN", "PPN", "PN", "CPN", "CCCCHPN", "NNNN", "CCHPPNN", "CHPN", "HHHN")
    for bench, session in _scales_of(sound):
        for letters in patterns:
            whole = typed(bench, _hammer(bench, session), 0.3, len(letters))
            assert whole is not None
            rows = tuple(dict(bar, **{"break": letter}) for bar, letter in zip(whole.bars, letters, strict=True))
            made = Session(session.fields, rows)
            yield Case(bench, made, tight=False, rule="mixed-breaks")
            yield Case(bench, made.having("bars.0.excluded", "fell"), tight=False, rule="mixed-breaks")
            hammer, last = _hammer(bench, session), f"bars.{len(rows) - 1}.reading"
            values = {float(reading(bench, hammer, share)) for share in steps(0.02, 0.6, 12)}
            yield from edges(_field(bench, made, last), sorted(values))


def _marks(_: Handbook, sound: list[Made]) -> Iterator[Case]:
    """Readings between the marks of the scale: few and many of them, among few and many others."""
    for bench, session in _scales_of(sound):
        for bars, between in itertools.product((9, 10, 11, 20, 30), (0, 1, 2, 3, 4)):
            made = typed(bench, _hammer(bench, session), 0.3, bars)
            assert made is not None
            for row in range(between):
                own = float(made.bars[row]["reading"])
                made = made.having(f"bars.{row}.reading", text_of(round(own + 0.0003 * (row + 1), 6)))
            yield Case(bench, made, tight=False, rule="reading-division")
            yield Case(bench, with_swings(bench, made), tight=False, rule="reading-division")
        made = typed(bench, _hammer(bench, session), 0.3, 12)
        assert made is not None
        own = float(made.bars[BAR]["reading"])
        yield from edges(_field(bench, made, f"bars.{BAR}.reading"), steps(own * 0.9999, own * 1.0001, 4))
