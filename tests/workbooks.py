"""Workbooks as bytes, written by hand from their standards: Office Open XML (ECMA-376, part 1, 18) and OpenDocument
(OASIS, 1.3, part 3, 9). A cell is a text, a number, a day, a truth value or None."""

import datetime as dt
import io
import zipfile
from xml.sax.saxutils import escape

_PACKAGE = "http://schemas.openxmlformats.org/package/2006"
_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_ODF = "urn:oasis:names:tc:opendocument:xmlns"
_FIRST_DAY = dt.date(1899, 12, 30)
"""From which Office Open XML counts days (18.17.4.1, with the leap day of 1900 that never was)."""


def _packed(parts, method=zipfile.ZIP_DEFLATED):
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", method) as book:
        for name, text in parts.items():
            book.writestr(name, text)
    return packed.getvalue()


def letters(column):
    return chr(ord("A") + column) if column < 26 else chr(ord("A") + column // 26 - 1) + chr(ord("A") + column % 26)


def _xlsx_cell(value, place):
    if value is None:
        return f'<c r="{place}"/>'
    if isinstance(value, bool):
        return f'<c r="{place}" t="b"><v>{int(value)}</v></c>'
    if isinstance(value, str):
        return f'<c r="{place}" t="inlineStr"><is><t>{escape(value)}</t></is></c>'
    if isinstance(value, dt.date):
        return f'<c r="{place}" s="1"><v>{(value - _FIRST_DAY).days}</v></c>'
    return f'<c r="{place}"><v>{value!r}</v></c>'


def xlsx(sheets, hidden=(), raw_rows=None):
    """A workbook of sheets by name, each a list of rows; raw rows take the place of those of a sheet."""
    numbered = list(enumerate(sheets.items(), start=1))
    states = {name: ' state="hidden"' if name in hidden else "" for name in sheets}
    listed = "".join(
        f'<sheet name="{escape(name)}" sheetId="{n}" r:id="rId{n}"{states[name]}/>' for n, (name, _) in numbered
    )
    links = "".join(
        f'<Relationship Id="rId{n}" Type="{_OFFICE}/worksheet" Target="worksheets/sheet{n}.xml"/>' for n, _ in numbered
    )
    parts = {
        "[Content_Types].xml": f'<Types xmlns="{_PACKAGE}/content-types"/>',
        "_rels/.rels": f'<Relationships xmlns="{_PACKAGE}/relationships"><Relationship Id="r" '
        f'Type="{_OFFICE}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
        "xl/workbook.xml": f'<workbook xmlns="{_MAIN}" xmlns:r="{_OFFICE}"><sheets>{listed}</sheets></workbook>',
        "xl/_rels/workbook.xml.rels": f'<Relationships xmlns="{_PACKAGE}/relationships">{links}<Relationship Id="s" '
        f'Type="{_OFFICE}/styles" Target="styles.xml"/></Relationships>',
        "xl/styles.xml": f'<styleSheet xmlns="{_MAIN}"><cellXfs count="2"><xf numFmtId="0"/><xf numFmtId="14"/>'
        "</cellXfs></styleSheet>",
    }
    for n, (name, rows) in numbered:
        inner = (raw_rows or {}).get(name) or "".join(
            f'<row r="{r}">{"".join(_xlsx_cell(v, f"{letters(c)}{r}") for c, v in enumerate(row))}</row>'
            for r, row in enumerate(rows, start=1)
        )
        parts[f"xl/worksheets/sheet{n}.xml"] = f'<worksheet xmlns="{_MAIN}"><sheetData>{inner}</sheetData></worksheet>'
    return _packed(parts)


def _ods_cell(value):
    if value is None:
        return "<table:table-cell/>"
    if isinstance(value, bool):
        about = f'office:value-type="boolean" office:boolean-value="{str(value).lower()}"'
    elif isinstance(value, str):
        about = 'office:value-type="string"'
    elif isinstance(value, dt.date):
        about = f'office:value-type="date" office:date-value="{value}"'
    else:
        about = f'office:value-type="float" office:value="{value!r}"'
    return f"<table:table-cell {about}><text:p>{escape(str(value))}</text:p></table:table-cell>"


def ods(sheets, raw_rows=None):
    """The same as an OpenDocument spreadsheet; below the rows stand empty ones to the end, as programs write them."""
    tables = "".join(
        f'<table:table table:name="{escape(name)}">'
        + ((raw_rows or {}).get(name) or "".join(
            f"<table:table-row>{''.join(map(_ods_cell, row))}</table:table-row>" for row in rows
        ))
        + '<table:table-row table:number-rows-repeated="1048000">'
        '<table:table-cell table:number-columns-repeated="16384"/></table:table-row></table:table>'
        for name, rows in sheets.items()
    )  # fmt: skip
    names = "".join(f' xmlns:{each}="{_ODF}:{each}:1.0"' for each in ("office", "table", "text"))
    content = (
        f"<office:document-content{names}><office:body><office:spreadsheet>{tables}</office:spreadsheet>"
        "</office:body></office:document-content>"
    )
    kind = "application/vnd.oasis.opendocument.spreadsheet"
    manifest = f'<manifest:manifest xmlns:manifest="{_ODF}:manifest:1.0"/>'
    return _packed({"mimetype": kind, "META-INF/manifest.xml": manifest, "content.xml": content})


WRITERS = {"xlsx": xlsx, "ods": ods}
