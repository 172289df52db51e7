"""Sessions with more and fewer bars, in other orders, with other numbers, ways of breaking and marks of the scale."""

import itertools
from collections.abc import Iterator

from chosen import BAR, division_of, energy_of_J, field, hammer_of, scales_of
from edges import Case, Made, edges, steps
from sound import reading, typed, with_swings
from typed_session import Session, text_of

_DAYS = (
    "2026-02-28", "2026-02-29", "2024-02-29", "2026-04-31", "2026-13-01", "2026-00-10", "0000-01-01", "0001-01-01",
    "26-10-06", "2026-10-6", "2026-1-06", "20261006", "x2026-10-06",
)  # fmt: skip
_LEAST_SORTED = 5
"""Bars that may stand in order of size by chance."""


def numbers_of_bars(sound: list[Made]) -> Iterator[Case]:
    """More and fewer bars than asked for, some left out, some unread."""
    for bench, session in scales_of(sound):
        hammer = hammer_of(bench, session)
        for bars, share in ((bars, 0.4) for bars in (1, 2, 4, 5, 6, 9, 10, 11, 40)):
            made = typed(bench, hammer, share, bars)
            assert made is not None
            yield Case(bench, made, tight=False, rule="specimen-number")
            yield Case(bench, made.having("bars.0.excluded", "fell"), tight=False, rule="specimen-number")
            scattered = made.having("bars.0.reading", reading(bench, hammer, share * 1.4))
            yield Case(bench, scattered, tight=False, rule="specimen-number")
            unread = made.having("bars.0.excluded", "fell").having("bars.0.reading", "")
            yield Case(bench, unread, tight=False, rule="specimen-number")
            # not covered by any verification
            yield Case(bench, made.having("date", "2019-01-02"), tight=False, rule="specimen-number")


def orders(sound: list[Made]) -> Iterator[Case]:
    """Readings in order and nearly so, alike, and of bars in another order."""
    for bench, session in scales_of(sound):
        for bars, same, swap, falls in itertools.product((5, 8, 9), (0, 1, 2), (False, True), (False, True)):
            made = typed(bench, hammer_of(bench, session), 0.3, bars)
            assert made is not None
            rising = sorted((bar["reading"] for bar in made.bars), key=float)
            readings = [rising[max(0, place - same)] if place <= same else rising[place] for place in range(bars)]
            readings[: same + 1] = [rising[0]] * (same + 1)
            if same == 1 and bars > _LEAST_SORTED:
                # two pairs are twice as few orders as one, and half as many as are told
                yield Case(
                    bench,
                    Session(
                        session.fields,
                        tuple(
                            dict(bar, reading=text)
                            for bar, text in zip(made.bars, [*readings[:-1], readings[-2]], strict=True)
                        ),
                    ),
                    tight=False,
                    rule="reading-order",
                )
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
            for mark in ("100", rows[-2]["id"], "1"):
                last = (*rows[:-1], dict(rows[-1], id=mark))
                yield Case(bench, Session(session.fields, last), tight=False, rule="reading-order")


def ids(sound: list[Made]) -> Iterator[Case]:
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
    for key, length in (("batch", 200), ("notes", 10_000), ("bars.1.excluded", 10_000)):
        yield Case(bench, session.having(key, "x" * length), tight=False, rule="")
        yield Case(bench, session.having(key, "x" * (length + 1)), tight=False, rule="")
    for day in _DAYS:
        yield Case(bench, session.having("date", day), tight=False, rule="")
    for missing in ("bars.2.width_mm", "bars.2.id", "bars.2.break", "group", "date", "conditioning.hours"):
        yield Case(bench, session.having(missing, ""), tight=False, rule="")
    for first, again in ((0, 1), (2, 4)):
        rows = [dict(bar) for bar in session.bars]
        rows[again] = dict(rows[first], id=rows[again]["id"])
        yield Case(bench, Session(session.fields, tuple(rows)), tight=False, rule="")
        unread = Session(session.fields, tuple(rows)).having("bars.0.reading", "")
        yield Case(bench, unread.having("bars.0.excluded", "fell"), tight=False, rule="")


def breaks(sound: list[Made]) -> Iterator[Case]:
    """Ways of breaking, and what a bar that did not break took at least."""
    patterns = (
        "CCCN", "CCN", "CHN", "HHN", "PPN", "PN", "PCN", "CCCCHPN", "NNNN", "PPHCN", "CCNNN", "CCCCCN", "PPPPHC",
    )  # fmt: skip
    for bench, session in scales_of(sound):
        for letters in patterns:
            whole = typed(bench, hammer_of(bench, session), 0.3, len(letters))
            assert whole is not None
            rows = tuple(dict(bar, **{"break": letter}) for bar, letter in zip(whole.bars, letters, strict=True))
            made = Session(session.fields, rows)
            yield Case(bench, made, tight=False, rule="mixed-breaks")
            yield Case(bench, made.having("date", "2019-01-02"), tight=False, rule="specimen-number")
            yield Case(bench, made.having("bars.0.excluded", "fell"), tight=False, rule="mixed-breaks")
            # the same bar as the one that took most
            most = {**max(rows[:-1], key=lambda bar: energy_of_J(bench, made, bar)), "id": "99", "break": "N"}
            yield Case(bench, Session(session.fields, (*rows, most)), tight=False, rule="no-break-energy")
            hammer, last = hammer_of(bench, session), f"bars.{len(rows) - 1}.reading"
            values = {float(reading(bench, hammer, share)) for share in steps(0.02, 0.6, 12)}
            yield from edges(field(bench, made, last), sorted(values))


def marks(sound: list[Made]) -> Iterator[Case]:
    """Readings between the marks of the scale: few and many of them, among few and many others."""
    for bench, session in scales_of(sound):
        for bars, between in itertools.product((6, 9, 10, 20), (0, 1, 2, 3)):
            made = typed(bench, hammer_of(bench, session), 0.3, bars)
            assert made is not None
            for row in range(between):
                own = float(made.bars[row]["reading"])
                made = made.having(f"bars.{row}.reading", text_of(round(own + 0.0003 * (row + 1), 6)))
            yield Case(bench, made, tight=False, rule="reading-division")
            half = float(made.bars[-1]["reading"]) + division_of(bench, session) / 2.0
            made = made.having(f"bars.{bars - 1}.reading", text_of(round(half, 6)))
            swung = with_swings(bench, made)
            yield Case(bench, swung, tight=False, rule="reading-division")
            second = float(swung.fields["free_swings.second"])
            off = swung.having("free_swings.second", text_of(round(second + division_of(bench, session) / 3.0, 6)))
            yield Case(bench, off, tight=False, rule="reading-division")
        made = typed(bench, hammer_of(bench, session), 0.3, 12)
        assert made is not None
        own = float(made.bars[BAR]["reading"])
        yield from edges(field(bench, made, f"bars.{BAR}.reading"), steps(own * 0.9999, own * 1.0001, 4))
