"""All sessions that the worksheet's scripts are held against the engine with."""

import datetime as dt
import itertools
from collections import Counter
from collections.abc import Iterable, Iterator

from bar_cases import breaks, ids, marks, numbers_of_bars, orders
from chosen import BAR, field, firsts, hammer_of, scales_of
from edges import Case, Made, edges, factors, steps
from setup_cases import hammers, larger, methods, scales, ties, unresolved, without_pointer
from sound import dimensions_of, reading, sound_sessions, with_swings
from typed_session import Bench, Session, text_of

from notchbook.handbook import Handbook

_WHOLLY = 2
"""Exercises all the entries of which go through all that may be written; the others have no other limits."""
_ALIKE = 40
"""Cases that the last bit decides, of which more tell no more."""
_COUNTS = (1, 2, 3, 5, 10, 15, 50, 100, 9999, 10002)


def all_cases(handbook: Handbook) -> list[Case]:
    """Every session, those of different kinds in turn, so that the first of them see most."""
    sound = list(sound_sessions(handbook))
    kinds = [
        *(made(sound) for made in (_sound, _entries, _own_swings, hammers, methods, scales)),
        *(made(sound) for made in (ties, larger, unresolved, without_pointer)),
        *(made(sound) for made in (numbers_of_bars, orders, ids, breaks, marks)),
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


def _sound(sound: list[Made]) -> Iterator[Case]:
    for bench, session in sound:
        yield Case(bench, session, tight=False, rule="")
        told = session.having("batch", "PP-26-01").having("notes", "a dry day")
        yield Case(bench, with_swings(bench, told), tight=False, rule="")


def _all_bars(bench: Bench, session: Session, name: str, value: float) -> Made:
    """The same number in all bars."""
    return bench, Session(session.fields, tuple({**bar, name: text_of(value)} for bar in session.bars))


def _about(value: float, low: float, high: float, reach: float) -> list[float]:
    """Values around one, even ones near it and those at the ends of what may be written."""
    return sorted({low - 1.0, low, *steps(value - reach, value + reach, 25), high, high + 1.0})


def _entries(sound: list[Made]) -> Iterator[Case]:
    """Every number and the date that a form asks for."""
    seen = set()
    for bench, session in firsts(sound):
        place = f"bars.{BAR}.reading"
        own, angle = hammer_of(bench, session), bench.reads(session) == "angle"
        top, beyond = (180.0, 181.0) if angle else (own.potential_energy_J * 1.1, 100_001.0)
        shares = steps(0.995, 0.005, 16) if angle else steps(0.005, 0.995, 16)
        grid = sorted({float(reading(bench, own, share)) for share in shares})
        yield from edges(field(bench, session, place), [-1.0, 0.0, *grid, top, beyond])
        left_out = session.having(f"bars.{BAR}.excluded", "fell")
        yield from edges(field(bench, left_out, place), [0.0, *grid[::6], top])
        for value in (0.0, own.nominal_energy_J, own.potential_energy_J):
            yield Case(bench, left_out.having(place, text_of(value)), tight=False, rule="rise-angle")
        if bench.exercise.id in seen:
            continue
        seen.add(bench.exercise.id)
        for name, value in dimensions_of(bench.exercise, bench):
            grid = [-1.0, 0.0, *factors(value, 1e-4, 1e4, 40), 100_001.0] if len(seen) < _WHOLLY else factors(
                value, 0.9, 1.1, 10
            )  # fmt: skip
            yield from edges(field(bench, session, f"bars.{BAR}.{name}"), grid)
            # one bar alone stands apart from the others before it is beyond what is asked for
            yield from edges(lambda x, at=(bench, session, name): _all_bars(*at, x), factors(value, 0.9, 1.1, 10))  # type: ignore[misc]
        for key, text in session.fields.items():
            if key.startswith(("conditioning", "test_atmosphere")):
                low, high = {"temperature_C": (-273.15, 1000.0), "humidity_pct": (0.0, 100.0)}.get(
                    key.partition(".")[2], (0.0, 1e6)
                )
                if len(seen) > _WHOLLY:
                    continue
                grid = [each for each in _about(float(text), low, high, 20.0) if low - 1.0 <= each <= high + 1.0]
                yield from edges(field(bench, session, key), grid)
        days = range(dt.date(2024, 1, 1).toordinal(), dt.date(2028, 1, 1).toordinal(), 90)
        yield from edges(
            lambda day, bench=bench, session=session: (  # type: ignore[misc]  # bound in the loop
                bench, session.having("date", dt.date.fromordinal(int(day)).isoformat())
            ),
            days, whole=True,
        )  # fmt: skip


def _own_swings(sound: list[Made]) -> Iterator[Case]:
    """Every reading of the day's free swings, and swings that were not read."""
    for bench, plain in (*scales_of(sound), firsts(sound)[-1]):
        session = with_swings(bench, plain)
        energy = bench.reads(session) == "energy"
        top = hammer_of(bench, session).potential_energy_J * 1.1 if energy else 180.0
        for which in ("first", "second", "later"):
            value = float(session.fields[f"free_swings.{which}"])
            near = factors(value, 0.2, 5.0, 20) if energy else steps(value - 12.0, value + 12.0, 30)
            near = [round(each, 1 if not energy else 3) for each in near]
            grid = sorted({0.0, top, *(each for each in near if 0.0 <= each <= top)})
            yield from edges(field(bench, session, f"free_swings.{which}"), grid)
            for beyond in (-1.0, 100_001.0 if energy else 181.0):
                yield Case(*field(bench, session, f"free_swings.{which}")(beyond), tight=False, rule="")
        yield from edges(
            lambda n, bench=bench, session=session: (bench, session.having("free_swings.half_swings", str(int(n)))),  # type: ignore[misc]
            (0, *_COUNTS), whole=True,
        )  # fmt: skip
        yield Case(bench, session.having("free_swings.half_swings", "2.5"), tight=False, rule="")
        for absent in itertools.chain.from_iterable(
            itertools.combinations(("first", "second", "later", "half_swings"), count) for count in (1, 2, 3)
        ):
            kept = {key: text for key, text in session.fields.items() if key.partition(".")[2] not in absent}
            yield Case(bench, Session(kept, session.bars), tight=False, rule="free-swings-complete")
            metals = bench.of_method(loss_correction="metals")
            yield Case(metals, Session(kept, session.bars), tight=False, rule="free-swings-complete")
