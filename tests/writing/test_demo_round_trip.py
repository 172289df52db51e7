"""Every record of the demo as a table and back: the record is the same, digits and all."""

import csv
import dataclasses
import io
import random
from pathlib import Path

import pytest
import yaml
from table_reading import read

from notchbook.reading import strict_yaml
from notchbook.reading.building import record as build_record
from notchbook.writing.draft import record_text
from notchbook.writing.fields import FIELDS
from notchbook.writing.table_columns import COLUMNS

DEMO = Path(__file__).resolve().parents[2]
RECORDS = sorted((DEMO / "results/tests").glob("*.yaml"))
NUMBERS = {column.key for column in COLUMNS if column.unit}


def rows_above(data):
    """What is common to the bars, a name and its value each."""
    for field in FIELDS:
        value = data
        for key in field.keys:
            value = value.get(key, {})
        if value:
            yield [field.option.removeprefix("--").replace("-", " "), value]
    for each in data.get("deviations", []):
        yield ["deviation", each["rule"], each["reason"], each["accepted_by"]]


def as_csv(data, delimiter, order):
    """The table of a record whose values are the texts of its file."""
    reported = data.get("reported", {}).get("specimens", {})
    bars = [bar | reported.get(bar["id"], {}) for bar in data["specimens"]]
    keys = [column.key for column in COLUMNS if any(column.key in bar for bar in bars)]
    order.shuffle(keys)
    comma = delimiter != ","
    text = io.StringIO(newline="")
    writer = csv.writer(text, delimiter=delimiter, lineterminator="\r\n")
    writer.writerows([*rows_above(data), [], keys])
    for bar in bars:
        cells = ((key, bar.get(key, "")) for key in keys)
        writer.writerow(value.replace(".", ",") if comma and key in NUMBERS else value for key, value in cells)
    return text.getvalue().encode("utf-8")


@pytest.mark.parametrize("delimiter", [";", ","], ids=["semicolons", "commas"])
@pytest.mark.parametrize("path", RECORDS, ids=lambda path: path.stem)
def test_record_of_the_demo_comes_back(path, delimiter, demo):
    text = path.read_text(encoding="utf-8")
    # every scalar as the text that stands in the file
    data = yaml.load(text, Loader=yaml.BaseLoader)  # noqa: S506
    raw = as_csv(data, delimiter, random.Random(path.stem))  # noqa: S311
    draft = read(raw, demo, options={}, exercise=data["exercise"], rig=data["rig"])
    assert [str(each) for each in draft.troubles] == []
    written, flaws = strict_yaml.parse(record_text(draft.values))
    original, _ = strict_yaml.parse(text)
    assert flaws == []
    assert written == original
    before, after = build_record(path.stem, original), build_record(path.stem, written)
    # also how many digits each reported value was written with
    assert dataclasses.asdict(after) == dataclasses.asdict(before)
