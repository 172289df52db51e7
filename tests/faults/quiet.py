"""Faults of which every number is possible by itself, planted in the demo. Invented, like the data around them."""

from collections.abc import Callable
from dataclasses import dataclass

from planting import (
    Files,
    double_loss,
    every_bar,
    left_out,
    made_from,
    no_break_below,
    one_bar,
    put,
    renamed,
    scaled,
    series,
    shifted,
    value_of,
    verification_of_last_year,
    with_value,
)

TESTS, VERIFICATIONS = "results/tests", "results/verifications"
G2 = f"{TESTS}/2026-10-07-g2-pp-h-notched.yaml"
G3 = f"{TESTS}/2026-10-12-g3-pp-h-notched.yaml"
G4 = f"{TESTS}/2026-10-14-g4-pp-h-notched.yaml"
HIPS = f"{TESTS}/2026-10-26-g3-hips-notched.yaml"
IZOD = f"{TESTS}/2026-05-06-g5-pc-izod.yaml"
PARTLY = f"{TESTS}/2026-10-21-g6-pp-b-izod.yaml"
PMMA = f"{TESTS}/2025-11-12-g2-pmma-notched.yaml"
CHARPY_1 = f"{VERIFICATIONS}/2026-09-08-bench-1-charpy-1.yaml"
CHARPY_2 = f"{VERIFICATIONS}/2026-09-08-bench-1-charpy-2.yaml"
IZOD_11 = f"{VERIFICATIONS}/2026-09-16-bench-2-izod-11.yaml"
COPY = f"{TESTS}/2026-11-02-g5-pp-h-notched.yaml"
"""A record that somebody made up from another one."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault and where it should be told."""

    name: str
    path: str
    """The file that is wrong."""
    plant: Callable[[Files], None]


def _as_it_is(_: int, row: str) -> str:
    return row


def _noisy(index: int, row: str) -> str:
    """A division more or less, or none."""
    return with_value(row, "rise_angle_deg", value_of(row, "rise_angle_deg") + 0.2 * (index % 3 - 1))


def _other_reading(index: int, row: str) -> str:
    return with_value(
        row, "rise_angle_deg", (128.0, 127.2, 128.8, 127.4, 129.2, 127.6, 126.8, 128.2, 128.6, 127.0)[index]
    )


def _mostly(index: int, row: str) -> str:
    """Eight of ten bars as they are."""
    return with_value(with_value(row, "rise_angle_deg", 126.4), "width_mm", 9.97) if index in (2, 6) else row


FAULTS = (
    Fault("mean far above what the material gives", G2, shifted(G2, -30.0)),
    Fault("mean far below what the material gives", G2, shifted(G2, 12.0)),
    Fault("batch doubles, within the typical range", G2, shifted(G2, -14.0)),
    Fault("batch halves", IZOD, scaled(IZOD, 0.5)),
    Fault("readings one turn of ten degrees off", HIPS, shifted(HIPS, -10.0)),
    Fault("one bar at twice the others", G2, one_bar(G2, 4, "rise_angle_deg", 112.0)),
    Fault("one bar far above the others", G3, one_bar(G3, 2, "rise_angle_deg", 119.0)),
    Fault("one bar at a third of the others", IZOD, one_bar(IZOD, 4, "indicated_energy_J", 0.680)),
    Fault(
        "year of the file's name",
        f"{TESTS}/2025-10-07-g2-pp-h-notched.yaml",
        renamed(G2, f"{TESTS}/2025-10-07-g2-pp-h-notched.yaml"),
    ),
    Fault("year of the date", G2, put(G2, ("date: 2026-10-07", "date: 2025-10-07"))),
    Fault("day and month exchanged", G2, put(G2, ("date: 2026-10-07", "date: 2026-07-10"))),
    Fault("verification valid for two years", CHARPY_1, put(CHARPY_1, ("valid_until: 2027", "valid_until: 2028"))),
    Fault("verification valid for ten years", CHARPY_1, put(CHARPY_1, ("valid_until: 2027", "valid_until: 2036"))),
    Fault("series copied backwards", COPY, made_from(G4, COPY, _as_it_is, lambda rows: rows[::-1])),
    Fault(
        "series copied in order of another column",
        COPY,
        made_from(G4, COPY, _as_it_is, lambda rows: sorted(rows, key=lambda row: value_of(row, "width_mm"))),
    ),
    Fault("series copied with noise", COPY, made_from(G4, COPY, _noisy)),
    Fault("series copied but for two bars", COPY, made_from(G4, COPY, _mostly)),
    Fault("dimensions copied, readings made up", COPY, made_from(G4, COPY, _other_reading)),
    Fault("one bar measured for all", G2, every_bar(G2, width_mm=9.99, thickness_mm=3.99, remaining_width_mm=8.01)),
    Fault("nominal dimensions for all", G2, every_bar(G2, width_mm=10.0, thickness_mm=4.0, remaining_width_mm=8.0)),
    Fault("readings in even steps", G2, series(G2, [127.0 + 0.2 * step for step in range(10)])),
    Fault("readings in even steps downwards", G2, series(G2, [129.6 - 0.4 * step for step in range(10)])),
    Fault(
        "readings in order of size",
        G2,
        series(G2, [126.2, 126.8, 127.0, 127.6, 127.8, 128.2, 128.8, 129.0, 129.6, 130.2]),
    ),
    Fault(
        "whole degrees on a scale of 0.2",
        G2,
        series(G2, [127.0, 129.0, 128.0, 127.0, 130.0, 128.0, 129.0, 127.0, 128.0, 126.0]),
    ),
    Fault(
        "tenths of a joule on a scale of 0.002",
        IZOD,
        series(IZOD, [2.1, 2.0, 1.9, 1.8, 2.2, 2.2, 2.1, 2.2, 1.9, 2.0, 2.1], "indicated_energy_J"),
    ),
    Fault(
        "free swings of another hammer in a record",
        G3,
        put(G3, ("first_rise_deg: 147.9, second_rise_deg: 148.6", "first_rise_deg: 146.4, second_rise_deg: 147.8")),
    ),
    Fault(
        "free swings of another hammer in a verification",
        CHARPY_1,
        put(CHARPY_1, ("147.9", "146.4"), ("148.7", "147.8"), ("137.9", "130.6")),
    ),
    Fault("a bar left out for its value", G2, left_out(G2, "value too high")),
    Fault("a bar left out as an outlier", G4, left_out(G4, "outlier")),
    Fault("the lowest bar left out without a cause", HIPS, left_out(HIPS, "does not fit the others")),
    Fault("N with less energy than bars that broke", PARTLY, no_break_below(PARTLY)),
    Fault("batch with a nought left out", G2, put(G2, ("PP-26-01", "PP-26-1"))),
    Fault("batch with the letter O", G2, put(G2, ("PP-26-01", "PP-26-O1"))),
    Fault("batch of another material", PMMA, put(PMMA, ("material: pmma", "material: ps"))),
    Fault(
        "temperature and humidity of conditioning exchanged",
        G2,
        put(G2, ("temperature_C: 23.0, humidity_pct: 53", "temperature_C: 53, humidity_pct: 23.0")),
    ),
    Fault("thickness and remaining width exchanged", G2, one_bar(G2, 3, "thickness_mm", 7.98)),
    Fault("humidity and hours exchanged", G2, put(G2, ("humidity_pct: 53, hours: 24", "humidity_pct: 24, hours: 53"))),
    Fault(
        "rises of the free swings exchanged",
        CHARPY_1,
        put(
            CHARPY_1,
            ("first_rise_deg: 147.9", "first_rise_deg: 148.7"),
            ("second_rise_deg: 148.7", "second_rise_deg: 147.9"),
        ),
    ),
    Fault(
        "verification copied from last year",
        CHARPY_1,
        verification_of_last_year(CHARPY_1, f"{VERIFICATIONS}/2025-09-09-bench-1-charpy-1.yaml"),
    ),
    Fault("loss doubled with one earlier verification", IZOD_11, double_loss(IZOD_11)),
    Fault("the hammer above the one that was used", HIPS, put(HIPS, ("hammer: charpy-2", "hammer: charpy-4"))),
    Fault(
        "temperature and humidity of the room exchanged",
        G2,
        put(G2, ("temperature_C: 23.1, humidity_pct: 45", "temperature_C: 45, humidity_pct: 23.1")),
    ),
    Fault("decimal point of one width", G2, one_bar(G2, 6, "width_mm", "99.9")),
)
