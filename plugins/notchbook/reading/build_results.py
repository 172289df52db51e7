"""Data of verifications and test records, as the schemas let it through, to model."""

from __future__ import annotations

import datetime as dt
from typing import Any

from notchbook.model.acknowledgement import Acknowledgement
from notchbook.model.record import Atmosphere, Conditioning, Record, Reported, ReportedSpecimen, Specimen
from notchbook.model.swings import FreeSwings
from notchbook.model.verification import Measured, Period, Verification, Weighing
from notchbook.reading import rules
from notchbook.reading.build_setup import deviations, optional_float, specimen_choice
from notchbook.reading.nodes import Flaw
from notchbook.reading.scalars import decimal_places

Data = dict[str, Any]


class DateError(ValueError):
    """A date that is in form but not in the calendar."""

    def __init__(self, flaw: Flaw) -> None:
        super().__init__(flaw.message)
        self.flaw = flaw


def _date(data: Data, key: str) -> dt.date:
    text: str = data[key]
    try:
        return dt.date.fromisoformat(text)
    except ValueError as error:
        raise DateError(
            Flaw(
                rules.DATE_REAL,
                f"'{key}' is {text}, a day that does not exist",
                "write the day as year-month-day, such as 2026-02-28",
                keys=(key,),
            )
        ) from error


def _free_swings(data: Data) -> FreeSwings:
    return FreeSwings(
        first_rise_deg=optional_float(data.get("first_rise_deg")),
        second_rise_deg=optional_float(data.get("second_rise_deg")),
        later_rise_deg=optional_float(data.get("later_rise_deg")),
        half_swings=data.get("half_swings"),
        first_indicated_energy_J=optional_float(data.get("first_indicated_energy_J")),
        second_indicated_energy_J=optional_float(data.get("second_indicated_energy_J")),
        later_indicated_energy_J=optional_float(data.get("later_indicated_energy_J")),
    )


def _acknowledged(data: Data) -> tuple[Acknowledgement, ...]:
    return tuple(Acknowledgement(each["rule"], each["reason"], each["by"]) for each in data.get("acknowledged", []))


def verification(verification_id: str, data: Data) -> Verification:
    """A verification from its file; raises DateError."""
    weighing, period, measured = data.get("weighing"), data.get("period"), data.get("measured", {})
    return Verification(
        id=verification_id,
        date=_date(data, "date"),
        rig=data["rig"],
        hammer=data["hammer"],
        checked_by=data["checked_by"],
        valid_until=_date(data, "valid_until"),
        weighing=Weighing(float(weighing["force_N"]), float(weighing["arm_mm"])) if weighing else None,
        period=Period(
            period["swings"], tuple(float(time) for time in period["times_s"]), float(period["amplitude_deg"])
        )
        if period
        else None,
        measured=Measured(**{key: float(value) for key, value in measured.items()}),
        free_swings=_free_swings(data["free_swings"]),
        acknowledged=_acknowledged(data),
        notes=data.get("notes"),
    )


def record(record_id: str, data: Data) -> Record:
    """A test record from its file; raises DateError."""
    conditioning, atmosphere = data["conditioning"], data["test_atmosphere"]
    return Record(
        id=record_id,
        date=_date(data, "date"),
        group=data["group"],
        exercise=data["exercise"],
        rig=data["rig"],
        hammer=data["hammer"],
        material=data["material"],
        batch=data.get("batch"),
        specimen=specimen_choice(data["specimen"]),
        conditioning=Conditioning(
            float(conditioning["temperature_C"]), float(conditioning["humidity_pct"]), float(conditioning["hours"])
        ),
        test_atmosphere=Atmosphere(float(atmosphere["temperature_C"]), float(atmosphere["humidity_pct"])),
        free_swings=_free_swings(data["free_swings"]) if "free_swings" in data else None,
        specimens=tuple(_specimen(each) for each in data["specimens"]),
        reported=_reported(data["reported"]) if "reported" in data else None,
        deviations=deviations(data.get("deviations", [])),
        acknowledged=_acknowledged(data),
        notes=data.get("notes"),
    )


def _specimen(data: Data) -> Specimen:
    return Specimen(
        data["id"],
        float(data["width_mm"]),
        float(data["thickness_mm"]),
        optional_float(data.get("remaining_width_mm")),
        optional_float(data.get("rise_angle_deg")),
        optional_float(data.get("indicated_energy_J")),
        data["break"],
        data.get("excluded"),
    )


def _reported(data: Data) -> Reported:
    specimens = data.get("specimens", {})
    own = [key for key in ("mean_kJ_m2", "standard_deviation_kJ_m2") if key in data]
    places: dict[tuple[str, ...], int] = {(key,): decimal_places(data, key) for key in own}
    places |= {("specimens", name, key): decimal_places(each, key) for name, each in specimens.items() for key in each}
    return Reported(
        optional_float(data.get("mean_kJ_m2")),
        optional_float(data.get("standard_deviation_kJ_m2")),
        {
            name: ReportedSpecimen(optional_float(each.get("energy_J")), optional_float(each.get("strength_kJ_m2")))
            for name, each in specimens.items()
        },
        places,
    )
