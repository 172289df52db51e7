"""Descriptions of the tables for machines: CSV on the Web, `Metadata Vocabulary for Tabular Data` (W3C, 2015).

Each folder has a `csv-metadata.json`, where programs look for the description of a table that lies beside it (`Model
for Tabular Data and Metadata on the Web`, W3C, 2015, 5.3). It lists the tables of its folder; columns are described
once for each kind of table, and the tables refer to them.
"""

import posixpath
from collections.abc import Iterable, Mapping
from typing import Any

from notchbook.pages.data.objects import PUBLISHED_FIGURES
from notchbook.pages.data.table import Column, Table
from notchbook.wording.json_text import json_text

FILE_NAME = "csv-metadata.json"
COLUMNS_FOLDER = "data/columns"
CAUTION = "Results of a teaching laboratory, not for design: no part may be chosen or dimensioned by them."
_CONTEXT = ["http://www.w3.org/ns/csvw", {"@language": "en"}]


_ROUNDED = (
    f"Results are rounded to {PUBLISHED_FIGURES} significant figures, because other machines differ in later ones; "
    "readings are as they were written."
)
_GUARDED = (
    "In a text an apostrophe stands before =, +, - and @ where a spreadsheet would begin a formula: at its start, at "
    "the start of a line in it and behind a semicolon. Control and direction characters but line ends are escapes."
)


def columns_uri(table: Table) -> str:
    """Path of the description of a kind of table."""
    return f"{COLUMNS_FOLDER}/{table.name}.json"


def descriptions(tables: Mapping[str, Table], notice: str) -> dict[str, str]:
    """The descriptions of all tables, by path.

    Arguments:
        tables: every table of the data folder, by the path of its CSV.
        notice: the site's, such as that the data is invented; may be empty.
    """
    kinds = {columns_uri(each): each for each in tables.values()}
    found = {uri: json_text(_schema(each)) for uri, each in kinds.items()}
    folders = dict.fromkeys(map(posixpath.dirname, tables))
    for folder in folders:
        inside = {uri: table for uri, table in tables.items() if posixpath.dirname(uri) == folder}
        below = sorted(each for each in folders if posixpath.dirname(each) == folder)
        found[f"{folder}/{FILE_NAME}"] = json_text(_group(folder, inside, below, notice))
    return found


def _group(folder: str, tables: Mapping[str, Table], below: Iterable[str], notice: str) -> dict[str, Any]:
    def path(uri: str) -> str:
        return posixpath.relpath(uri, folder)

    also = [{"@id": f"{path(each)}/{FILE_NAME}"} for each in below]
    return {
        "@context": _CONTEXT,
        "dc:description": f"{CAUTION} {notice}".strip(),
        **({"rdfs:seeAlso": also} if also else {}),
        "tables": [{"url": path(uri), "tableSchema": path(columns_uri(table))} for uri, table in tables.items()],
    }


def _schema(table: Table) -> dict[str, Any]:
    return {
        "@context": _CONTEXT,
        "dc:title": table.title,
        "dc:description": f"One row is {table.row}. A field is empty where a value was not read or cannot be had. "
        + f"{_ROUNDED} {_GUARDED}",
        "columns": [_column(each) for each in table.columns],
        "primaryKey": list(table.key),
    }


def _column(column: Column) -> dict[str, Any]:
    unit = column.unit
    return {
        "name": column.name,
        # a processor holds the head of the file against these, so the name is the first
        "titles": [column.name, column.title],
        "dc:description": column.meaning,
        # another code than UN/CEFACT's stands behind the name of its system (schema.org, unitCode)
        **({"schema:unitText": unit.shown, "schema:unitCode": f"UCUM:{unit.ucum}"} if unit is not None else {}),
        "datatype": {"base": column.datatype, **dict(column.limits)} if column.limits else column.datatype,
        **({"required": True} if column.required else {}),
        **({"separator": " "} if column.in_a_row else {}),
    }
