"""Sessions on a hammer, a method or a scale of which one number goes through its range, and exactly at its limits."""

import dataclasses
import itertools
import math
from collections.abc import Callable, Iterator

from chosen import BAR, division_of, field, firsts, hammer_of, larger_one, release_of, scales_of
from edges import Case, Made, edges, factors, steps
from engine import said
from sound import reading, typed, with_swings
from typed_session import Bench, Session, text_of

from notchbook.checks.readings import LARGER_BY
from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.known import LARGEST
from notchbook.model.requirement import Requirement

_NEAR = 1e-9


def hammers(sound: list[Made]) -> Iterator[Case]:
    """The numbers of the hammer, and of the next larger one of its rig."""
    for bench, session in scales_of(sound):
        own = hammer_of(bench, session)
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
        other = larger_one(bench, session)
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
        yield from edges(field(bench, both, f"bars.{BAR}.reading"), sorted(values))


def _with(requirement: Requirement, value: float) -> Requirement:
    return dataclasses.replace(requirement, above=value, below=value)


def _method_numbers(bench: Bench) -> list[tuple[Callable[[float], Bench], list[float]]]:
    """Numbers of a method, each as a bench with another value and the values to go along."""
    window, number = bench.method.energy_window, bench.method.specimen_number
    pendulums = bench.method.pendulums
    tolerance = pendulums.potential_energy_tolerance_pct

    def lossy(value: float) -> Bench:
        classes = tuple(dataclasses.replace(each, loss_pct=value) for each in pendulums.classes)
        return bench.of_method(pendulums=dataclasses.replace(pendulums, classes=classes))

    def tolerant(value: float) -> Bench:
        other = dataclasses.replace(pendulums, potential_energy_tolerance_pct=_with(tolerance, value))
        return bench.of_method(pendulums=other)

    return [
        (lambda x: bench.of_method(energy_window=dataclasses.replace(window, low_pct=x)), steps(1.0, 60.0, 20)),
        (lambda x: bench.of_method(energy_window=dataclasses.replace(window, high_pct=x)), steps(10.0, 90.0, 20)),
        (
            lambda x: bench.of_method(specimen_number=dataclasses.replace(number, fewer_below_variation_pct=x)),
            steps(0.5, 40.0, 20),
        ),
        (lossy, factors(1.0, 1e-3, 20.0, 30)),
        (tolerant, factors(1.0, 1e-3, 20.0, 30)),
    ]


def methods(sound: list[Made]) -> Iterator[Case]:
    """The numbers of the method."""
    for bench, session in scales_of(sound):
        spread = session.having(f"bars.{BAR}.reading", reading(bench, hammer_of(bench, session), 0.24))
        few = Session(spread.fields, spread.bars[:-1])
        for make, grid in _method_numbers(bench):
            for each in (spread, few, with_swings(bench, session)):
                yield from edges(lambda x, make=make, each=each: (make(x), each), grid)  # type: ignore[misc]
        for figures in (1, 2, 3, 4):
            reporting = dataclasses.replace(bench.method.reporting, significant_figures=figures)
            yield Case(bench.of_method(reporting=reporting), session, tight=False, rule="")


def scales(sound: list[Made]) -> Iterator[Case]:
    """The division of the scale, which tells what a loss and a reading may be."""
    for bench, session in scales_of(sound):
        name = "division_J" if bench.reads(session) == "energy" else "division_deg"
        rig = session.fields["rig"]
        division = getattr(bench.handbook.library.rigs[rig].indicator, name)
        swung = with_swings(bench, session)
        nothing = text_of(0.0) if name == "division_J" else release_of(bench, session)
        second = swung.having("free_swings.second", nothing)
        above = second.having("free_swings.first", nothing)
        for each in (swung, second, above):
            yield from edges(
                lambda x, bench=bench, rig=rig, name=name, each=each: (bench.of_rig(rig, **{name: x}), each),  # type: ignore[misc]
                factors(division, 0.02, 100.0, 30),
            )  # fmt: skip
        yield Case(bench.of_rig(rig, **{name: None}), swung, tight=False, rule="")


def ties(sound: list[Made]) -> Iterator[Case]:
    """Limits that are exactly what was found, and numbers that are exactly a limit."""
    for bench, session in (*scales_of(sound), *firsts(sound)):
        own, found = hammer_of(bench, session), said(bench, session)
        window, number = bench.method.energy_window, bench.method.specimen_number
        for bar, (_, _, used, _) in zip(session.bars, found["bars"], strict=True):
            low, high = dataclasses.replace(window, low_pct=used), dataclasses.replace(window, high_pct=used)
            alone = Session(session.fields, (bar,))
            yield Case(bench.of_method(energy_window=low), alone, tight=True, rule="energy-window")
            yield Case(bench.of_method(energy_window=high), alone, tight=True, rule="energy-window")
        for pair in itertools.combinations(session.bars, 2):
            two = Session(session.fields, pair)
            variation = said(bench, two)["sets"][0][4]
            below = dataclasses.replace(number, fewer=2, fewer_below_variation_pct=variation)
            yield Case(bench.of_method(specimen_number=below), two, tight=True, rule="specimen-number")
        equal = session.having(f"bars.{BAR}.width_mm", "8.01").having(f"bars.{BAR}.remaining_width_mm", "8.01")
        if "remaining_width_mm" in session.bars[BAR]:
            yield Case(bench, equal, tight=False, rule="remaining-below-width")
        for place in ("bars.1.id", "bars.1.width_mm"):
            yield Case(bench, session.having(place, ""), tight=False, rule="")
        empty = ({"id": "08"}, {"id": ""}, {"id": "", "width_mm": "10"})
        for bars in (session.bars, session.bars[:3], (*session.bars[:2], *session.bars[3:])):
            yield Case(bench, Session(session.fields, (*bars, *empty[:2])), tight=False, rule="")
        yield Case(bench, Session(session.fields, (*session.bars, *empty)), tight=False, rule="")
        for near in (1.0 - _NEAR, 1.0 + _NEAR):
            potential = 100.0 * found["bars"][0][1] / LARGEST * near
            tiny = bench.of_hammer(own.rig, own.id, potential_energy_J=potential)
            yield Case(tiny, session, tight=False, rule="largest")


def larger(sound: list[Made]) -> Iterator[Case]:
    """A hammer that is larger by exactly as much as it takes, and energies that the larger one just holds."""
    for bench, session in scales_of(sound):
        own, other = hammer_of(bench, session), larger_one(bench, session)
        # less than the window of a third one begins with
        both = typed(bench, own, 0.3)
        assert both is not None

        def with_other(value: float, bench: Bench = bench, other: SwungHammer = other) -> Bench:
            # a nominal energy that it has, and the method allows
            return bench.of_hammer(other.rig, other.id, potential_energy_J=value).of_method(
                pendulums=dataclasses.replace(
                    bench.method.pendulums,
                    potential_energy_tolerance_pct=_with(bench.method.pendulums.potential_energy_tolerance_pct, 90.0),
                )
            )

        just = own.potential_energy_J * LARGER_BY
        for value in (just, math.nextafter(just, 0.0), math.nextafter(just, math.inf)):
            yield Case(with_other(value), both, tight=False, rule="larger-hammer")
        served = with_other(math.nextafter(just, math.inf))
        for each in (served.of_method(largest_hammer=False), served.unverified(other.rig, other.id)):
            yield Case(each, both, tight=False, rule="larger-hammer")
        # more than the window of the hammer itself holds
        most = both.having("bars.0.reading", reading(bench, own, 0.9))
        grid = factors(own.potential_energy_J, 1.02, 1.5, 20)
        yield from edges(lambda value, most=most: (with_other(value), most), grid)  # type: ignore[misc]
        energy = said(bench, most)["bars"][0][1]
        share = bench.method.energy_window.high_pct / 100.0
        for steps_off in range(-4, 5):
            value = energy / share
            for _step in range(abs(steps_off)):
                value = math.nextafter(value, math.inf if steps_off > 0 else 0.0)
            if share * value == energy:
                yield Case(with_other(value), most, tight=True, rule="larger-hammer")


def without_pointer(sound: list[Made]) -> Iterator[Case]:
    """Two readings of one swing, on a rig without a drag pointer."""
    for bench, session in scales_of(sound):
        swung, division = with_swings(bench, session), division_of(bench, session)
        second = float(swung.fields["free_swings.second"])
        bare = bench.of_rig(session.fields["rig"], pointer="none")
        grid = steps(second - 4.0 * division, second + 4.0 * division, 16)
        yield from edges(field(bare, swung, "free_swings.first"), grid)


def unresolved(sound: list[Made]) -> Iterator[Case]:
    """Free swings that end above where they began, on a scale too coarse to show what was lost; no known class."""
    for bench, session in scales_of(sound):
        rig, own = session.fields["rig"], hammer_of(bench, session)
        swung = with_swings(bench, session)
        energy = bench.reads(session) == "energy"
        coarse = bench.of_rig(rig, **({"division_J": 1.0} if energy else {"division_deg": 10.0}))
        nothing = text_of(0.0) if energy else release_of(bench, session)
        unknown = bench.of_hammer(own.rig, own.id, nominal_energy_J=own.nominal_energy_J * 1.03)
        for each in (coarse, unknown):
            both = swung.having("free_swings.second", nothing).having("free_swings.first", nothing)
            yield Case(each, swung.having("free_swings.second", nothing), tight=False, rule="free-swing-order")
            yield Case(each, both, tight=False, rule="free-swing-order")
        if not energy:
            grid = steps(own.release_angle_deg, 180.0, 20)
            for which in ("first", "second"):
                yield from edges(field(coarse, swung, f"free_swings.{which}"), grid)
        same = swung.having("free_swings.later", swung.fields["free_swings.second"])
        yield Case(bench, same, tight=False, rule="free-swing-order")
