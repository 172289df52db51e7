"""The files of practice sets: the readings of each group as a table, and what is right as a key for whoever marks."""

import dataclasses
from collections.abc import Iterator, Mapping
from typing import Any

from notchbook.answers.bars import Bars, bars_of
from notchbook.answers.candidates import OF_A_BAR, OF_A_SET, Asked, right_values
from notchbook.evaluation.library import Evaluation
from notchbook.evaluation.records import evaluate_record
from notchbook.evaluation.resolved import ResolvedRecord
from notchbook.practice.plan import Plan
from notchbook.reading.building import record as built_record
from notchbook.wording.csv_text import csv_table
from notchbook.wording.numbers import to_figures

_FIGURES = 4
"""Of the numbers in the key."""
_BAR = ("width_mm", "thickness_mm", "remaining_width_mm", "rise_angle_deg", "indicated_energy_J", "break")
_CLIMATES = ("conditioning", "test_atmosphere")


def table_of(data: Mapping[str, Any]) -> str:
    """The readings of a group as `notchbook record import` reads them, marked as invented in each row."""
    about = {key: data[key] for key in ("date", "group", "exercise", "rig", "hammer", "material", "batch")}
    climates = {f"{key}_{name}": value for key in _CLIMATES for name, value in data[key].items()}
    bars = data["specimens"]
    read = [name for name in _BAR if name in bars[0]]
    columns = (*about, "specimen", *read, *climates, "record_notes")
    rows = (
        about
        | climates
        | {"specimen": each["id"], "record_notes": data["notes"]}
        | {name: f"{each[name]:.2f}" if name.endswith("_mm") else each[name] for name in read}
        for each in bars
    )
    return csv_table(columns, rows)


def record_id(data: Mapping[str, Any]) -> str:
    """The name that the import gives the record of a group."""
    return f"{data['date']}-{data['group'].lower()}-{data['material']}-{data['exercise']}"


def key_rows(evaluation: Evaluation, plan: Plan, data: Mapping[str, Any]) -> Iterator[dict[str, str]]:
    """What is right of the set of a group, in the form that `notchbook answers` reads."""
    name = record_id(data)
    bars = _bars(evaluation, plan, name, data)
    for place, mark in enumerate(bars.ids):
        for quantity in OF_A_BAR:
            yield _row(bars, Asked(quantity, place), record=name, specimen=mark)
    for place, each in enumerate(bars.sets):
        for quantity in OF_A_SET:
            yield _row(bars, Asked(quantity, place), record=name, breaks=each.name)


def _bars(evaluation: Evaluation, plan: Plan, name: str, data: Mapping[str, Any]) -> Bars:
    record = built_record(name, dict(data))
    line = plan.line
    in_force = line.in_force.id if line.in_force is not None else None
    result = evaluate_record(record, line.hammer, plan.method, line.losses, in_force)
    found = bars_of(ResolvedRecord.of(dataclasses.replace(evaluation, records={name: result}), record))
    assert found is not None  # noqa: S101  # the hammer is verified
    return found


def _row(bars: Bars, asked: Asked, **about: str) -> dict[str, str]:
    right = right_values(bars, asked)
    return {"specimen": "", "breaks": ""} | about | {
        "quantity": asked.quantity, "value": to_figures(right[0], _FIGURES).replace("\N{MINUS SIGN}", "-"),
    }  # fmt: skip
