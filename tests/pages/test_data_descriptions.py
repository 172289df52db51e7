"""The descriptions of the tables, held against the tables by an implementation of CSV on the Web, and units by UCUM.

The sources are two recommendations of the W3C of 17 December 2015: `Model for Tabular Data and Metadata on the Web`
(model) and `Metadata Vocabulary for Tabular Data` (vocabulary).
"""

import csv
import io
import json
import posixpath
import re
import warnings
from pathlib import Path
from typing import Any

import pytest
from csvw import CSVW
from ucumvert import PintUcumRegistry

import hostile_handbook as hostile
import small_handbook as small
from notchbook.facts.facts import Facts
from notchbook.handbook import Handbook, open_handbook
from notchbook.pages.data.columns import bars_table, results_table, sets_table, verifications_table
from notchbook.pages.data.descriptions import CAUTION
from notchbook.pages.data.files import data_files
from notchbook.pages.data.table import UNITS
from notchbook.pages.sheets.lookups import hammer_sheets
from notchbook.reading.schemas import schema
from notchbook.results_data import CSV_COLUMNS

# The same units in words of another library.
PINT = {
    "kJ_m2": "kilojoule / meter ** 2", "m_s": "meter / second", "Nm": "newton * meter", "mm": "millimeter",
    "deg": "degree", "pct": "percent", "J": "joule", "N": "newton", "s": "second",
}  # fmt: skip


def _groups(files: dict[str, str]) -> dict[str, dict[str, Any]]:
    """The descriptions of the folders by path, each table with its columns put in where it refers to them.

    An object may be named by the address of a file that holds it (vocabulary, 5.1.6 object properties); addresses count
    from the description (5.1.2 link properties).
    """
    found = {}
    for uri, text in files.items():
        if uri.endswith("/csv-metadata.json"):
            group = json.loads(text)
            for table in group["tables"]:
                target = posixpath.normpath(posixpath.join(posixpath.dirname(uri), table["tableSchema"]))
                table["tableSchema"] = json.loads(files[target])
                del table["tableSchema"]["@context"]
            found[uri] = group
    return found


def _problems(files: dict[str, str], root: Path) -> dict[str, list[str]]:
    """What the other implementation says against each folder, by the path of its description."""
    for uri, text in files.items():
        path = root / uri
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(text.encode("utf-8"))
    found = {}
    for uri, group in _groups(files).items():
        (root / uri).write_text(json.dumps(group), encoding="utf-8")
        with warnings.catch_warnings():
            # it keeps what it finds as warnings, but for two rows of the same key
            warnings.simplefilter("always")
            checked = CSVW(str(root / uri), validate=True)
            try:
                if not checked.is_valid:
                    found[uri] = [str(each.message) for each in checked.warnings]
            except ValueError as error:
                found[uri] = [str(error)]
    return found


def _without_long_tables(files: dict[str, str]) -> dict[str, str]:
    """Look-up tables to their first 50 rows: all rows are of one kind."""
    long = {uri for uri in files if uri.startswith("data/lookup/") and uri.endswith(".csv")}
    return files | {uri: "".join(files[uri].splitlines(keepends=True)[:50]) for uri in long}


def test_every_table_of_the_demo_is_what_its_description_says(demo_data: dict[str, str], tmp_path: Path) -> None:
    assert _problems(_without_long_tables(demo_data), tmp_path) == {}


@pytest.mark.parametrize("shift", [0, 9])
def test_tables_with_any_text_are_what_their_descriptions_say(tmp_path: Path, shift: int) -> None:
    def text_of(number: int) -> str:
        return hostile.HOSTILE[(number + shift) % len(hostile.HOSTILE)]

    contents, _ = hostile.handbook_of(text_of, '<b>{0}`" '.format)
    small.write(tmp_path, {**contents, "mkdocs.yml": "plugins: [{notchbook: {deviations: label}}]\n"})
    handbook = open_handbook(tmp_path, day=small.DAY)
    files = data_files(Facts(handbook), list(hammer_sheets(Facts(handbook))))
    assert _problems(_without_long_tables(files), tmp_path / "out") == {}


@pytest.mark.parametrize(
    ("name", "old", "new"),
    [
        ("results", ",0.", ",zero."),
        ("results", "2026-10-06,G2", "6 October 2026,G2"),
        ("results", ",true\r\n", ",perhaps\r\n"),
        ("results", ",02,", ",01,"),
        ("sets", ",9,", ",0,"),
        ("verifications", ",62.65 62.61 62.67,", ",62.65 62.61 often,"),
        (f"records/{small.TEST_ID}", ",86.4,", ",186.4,"),
        (f"records/{small.TEST_ID}", "01,9.96,", "01,,"),
        (f"records/{small.TEST_ID}", "01,9.96,", "01,0.0,"),
    ],
)
def test_a_table_that_is_something_else_is_noticed(tmp_path: Path, name: str, old: str, new: str) -> None:
    handbook = small.opened(tmp_path)
    files = data_files(Facts(handbook), [])
    uri = f"data/{name}.csv"
    assert old in files[uri]
    files[uri] = files[uri].replace(old, new)
    assert list(_problems(files, tmp_path / "out")) == [f"{posixpath.dirname(uri)}/csv-metadata.json"]


def test_description_lies_where_programs_look_and_names_every_table(demo_data: dict[str, str]) -> None:
    # model, 5.3: `{+url}-metadata.json`, then `csv-metadata.json`, counted from the table; one that does not name the
    # table is ignored
    groups = _groups(demo_data)
    for uri in demo_data:
        if uri.endswith(".csv"):
            assert f"{uri}-metadata.json" not in demo_data
            folder, name = posixpath.split(uri)
            tables = [each["url"] for each in groups[f"{folder}/csv-metadata.json"]["tables"]]
            assert tables.count(name) == 1
    for uri, group in groups.items():
        assert len(group["tables"]) == sum(
            posixpath.dirname(each) == posixpath.dirname(uri) and each.endswith(".csv") for each in demo_data
        )
        for each in group.get("rdfs:seeAlso", ()):
            assert posixpath.join(posixpath.dirname(uri), each["@id"]) in groups


def test_heads_are_the_names_in_their_order(demo_data: dict[str, str]) -> None:
    for uri, group in _groups(demo_data).items():
        for table in group["tables"]:
            text = demo_data[posixpath.join(posixpath.dirname(uri), table["url"])]
            head = next(csv.reader(io.StringIO(text, newline="")))
            columns = table["tableSchema"]["columns"]
            assert head == [each["name"] for each in columns]
            # a validator holds the head against the titles (model, 5.4; vocabulary, 6.1 compatibility of schemas)
            assert all(each["name"] in each["titles"] for each in columns)


def test_descriptions_have_the_form_of_the_vocabulary(demo_data: dict[str, str]) -> None:
    for group in _groups(demo_data).values():
        # 5.2 top-level properties
        assert group["@context"] == ["http://www.w3.org/ns/csvw", {"@language": "en"}]
        assert group["dc:description"].startswith(CAUTION)
        for table in group["tables"]:
            described = table["tableSchema"]
            names = [each["name"] for each in described["columns"]]
            # 5.5: the columns of the key exist; 5.6: names are those of URI template variables and do not begin with _
            assert set(described["primaryKey"]) <= set(names)
            assert len(set(names)) == len(names)
            for column in described["columns"]:
                assert re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9_]*(\.[A-Za-z0-9_]+)*", column["name"])
                assert column["dc:description"].endswith(".")
                assert ("schema:unitCode" in column) == ("schema:unitText" in column)
            # 5.8: a prefixed name is of the initial context of RDFa, which has dc, rdfs and schema
            keys = {key for each in (group, table, described, *described["columns"]) for key in each if ":" in key}
            assert {key.partition(":")[0] for key in keys} <= {"dc", "rdfs", "schema"}


def test_numbers_with_a_unit_are_told_it(demo_data: dict[str, str]) -> None:
    without = {"swings", "half_swings", "half_swings_between", "n"}
    for group in _groups(demo_data).values():
        for table in group["tables"]:
            for column in table["tableSchema"]["columns"]:
                datatype = column["datatype"]
                base = datatype["base"] if isinstance(datatype, dict) else datatype
                measured = base in ("number", "integer") and column["name"] not in without
                assert ("schema:unitCode" in column) == measured, column["name"]


@pytest.mark.repeats
@pytest.mark.parametrize("end", list(UNITS))
def test_codes_are_those_of_ucum(end: str) -> None:
    # read by the grammar of UCUM and held against the unit that the name means; exact but for binary fractions
    registry = PintUcumRegistry()
    read, meant = registry.from_ucum(UNITS[end].ucum), registry.Quantity(1, PINT[end])
    assert read.dimensionality == meant.dimensionality
    assert (1.0 * read).to_base_units().magnitude == pytest.approx(meant.to_base_units().magnitude, rel=1e-12)


def test_longer_ends_of_names_come_before_those_that_they_end_in() -> None:
    ends = list(UNITS)
    for place, end in enumerate(ends):
        assert not [each for each in ends[:place] if f"_{end}".endswith(f"_{each}")]


def test_limits_of_readings_are_those_of_the_data_files() -> None:
    bars = schema("test")["properties"]["specimens"]["items"]["properties"]
    columns = {each.name: dict(each.limits) for each in bars_table().columns}
    assert columns["rise_angle_deg"] == {"minimum": 0, "maximum": 180}
    assert columns["width_mm"] == {"minExclusive": bars["width_mm"]["exclusiveMinimum"], "maximum": 10000}
    assert set(bars) - {"id"} <= set(columns)


def test_tables_have_a_column_for_every_reading() -> None:
    names = {each.name for each in verifications_table().columns}
    for key, about in schema("verification")["properties"].items():
        # who keeps a warning is said of the file and not of a reading
        assert key in ("kind", "acknowledged") or set(about.get("properties", {key: None})) <= names
    assert [each.name for each in results_table(CSV_COLUMNS).columns] == list(CSV_COLUMNS)
    assert len({each.name for each in sets_table().columns}) == len(sets_table().columns)


def test_notice_is_told_with_the_data(demo: Handbook, demo_data: dict[str, str]) -> None:
    assert demo.settings.notice
    for group in _groups(demo_data).values():
        assert group["dc:description"].endswith(demo.settings.notice)
