"""Heads of columns and texts of cells as people write them."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notchbook.writing import cells
from notchbook.writing.fields import FIELDS
from notchbook.writing.heads import UNIT_WORDS, unit_of
from notchbook.writing.table_columns import COLUMNS, known_heads, recognised
from notchbook.writing.trouble import ValueTroubleError

TITLES = {"C": "complete", "H": "hinge", "P": "partial", "N": "none"}


@pytest.mark.parametrize(
    ("head", "key"),
    [
        ("id", "id"), ("Bar", "id"), ("SPECIMEN NO.", "id"), ("Specimen-ID", "id"), ("Bar #", "id"), ("No.", "id"),
        ("width_mm", "width_mm"), ("Width (mm)", "width_mm"), ("WIDTH [MM]", "width_mm"), ("width b / mm", "width_mm"),
        ("Width, mm", "width_mm"), ("width in mm", "width_mm"), ("Width (b) (mm)", "width_mm"), ("b (mm)", "width_mm"),
        ("width  mm", "width_mm"), ("Width(millimetres)", "width_mm"), ("Width b", "width_mm"),
        ("Thickness", "thickness_mm"), ("thickness h", "thickness_mm"), ("h", "thickness_mm"),
        ("remaining-width", "remaining_width_mm"), ("Remaining width b_N (mm)", "remaining_width_mm"),
        ("Width under the notch", "remaining_width_mm"), ("bN / mm", "remaining_width_mm"),
        ("remaining_width_mm", "remaining_width_mm"), ("Ligament (mm)", "remaining_width_mm"),
        ("Angle of rise", "rise_angle_deg"), ("Angle of rise (°)", "rise_angle_deg"), ("rise °", "rise_angle_deg"),
        ("Rise angle [deg]", "rise_angle_deg"), ("β (degrees)", "rise_angle_deg"), ("rise_angle_deg", "rise_angle_deg"),
        ("Indicated energy (J)", "indicated_energy_J"), ("Energy on scale / J", "indicated_energy_J"),
        ("indicated_energy_J", "indicated_energy_J"), ("INDICATED_ENERGY_J", "indicated_energy_J"),
        ("Break", "break"), ("Type of failure", "break"), ("break (C/H/P/N)", "break"), ("Break type:", "break"),
        ("excluded", "excluded"), ("Reason for exclusion", "excluded"), ("Remarks", "remark"), ("Comment", "remark"),
        ("energy_J", "energy_J"), ("Absorbed energy (J)", "energy_J"), ("Impact strength (kJ/m²)", "strength_kJ_m2"),
        ("strength kJ/m2", "strength_kJ_m2"), ("strength_kJ_m2", "strength_kJ_m2"), ("a\nb", None), ("", None),
        ("energy", None), ("Energy (J)", None), ("Operator", None), ("notch", "notch"), ("temperature", None),
    ],
)  # fmt: skip
def test_head(head, key):
    found = recognised(head)
    assert (found.column.key if found.column else None) == key
    assert found.unit_trouble == ""


@pytest.mark.parametrize(
    ("head", "unit"),
    [
        ("Width (cm)", "cm"), ("width [inch]", "inch"), ("Thickness in", "in"), ("width (µm)", "µm"),
        ("rise rad", "rad"), ("Absorbed energy (kJ)", "kJ"), ("indicated energy mJ", "mj"), ("strength (J/m)", "J/m"),
        ("Strength (kJ/cm²)", "kJ/cm²"), ("Width (J)", "J"), ("Rise (mm)", "mm"), ("width (top)", "top"),
    ],
)  # fmt: skip
def test_unit_that_is_not_that_of_the_contract(head, unit):
    assert recognised(head).unit_trouble == unit


def test_every_column_is_found_by_its_title_and_key_and_no_name_is_of_two():
    for column in COLUMNS:
        assert recognised(column.title).column is column
        assert recognised(column.key).column is column
    names = [name for column in COLUMNS for name in column.names]
    assert len(names) == len(set(names))


def test_known_heads_counts_columns_not_heads():
    assert known_heads(["width", "Width (mm)", "b", "thickness", "x"]) == 2


@given(st.text(max_size=200))
def test_any_head_is_answered(head):
    recognised(head)


def test_every_unit_of_the_fields_has_words_and_is_recognised():
    units = {each.unit for each in (*FIELDS, *COLUMNS) if each.unit}
    assert units == set(UNIT_WORDS)
    assert all(unit_of(words) == unit for unit, words in UNIT_WORDS.items())


@pytest.mark.parametrize(
    ("text", "written"),
    [("10.02", "10.02"), ("10,02", "10.02"), ("4", "4"), ("0", "0"), ("0.0", "0.0"), ("0,50", "0.50"),
     ("-20", "-20"), ("−20,5", "-20.5"), ("1.20E+01", "1.20E+01"), ("8.000", "8.000"), ("+3", "+3")],
)  # fmt: skip
def test_number(text, written):
    assert cells.figure(text, comma_is_decimal=True).written == written


@pytest.mark.parametrize(
    ("text", "unit", "written"),
    [("10,02 mm", "mm", "10.02"), ("23,1 °C", "C", "23.1"), ("−5 °C", "C", "-5"), ("50%", "pct", "50"),
     ("50 % rh", "pct", "50"), ("86.10°", "deg", "86.10"), ("48 h", "h", "48"), ("7,3 kJ/m²", "kJ_m2", "7.3")],
)  # fmt: skip
def test_number_with_its_unit(text, unit, written):
    assert cells.figure(text, comma_is_decimal=True, unit=unit).written == written


@pytest.mark.parametrize(("text", "unit"), [("1,002 cm", "mm"), ("296 K", "C"), ("1.5 rad", "deg"), ("10 J", "mm")])
def test_number_with_another_unit_is_to_be_converted(text, unit):
    with pytest.raises(ValueTroubleError, match="is not a number in") as caught:
        cells.figure(text, comma_is_decimal=True, unit=unit)
    assert caught.value.hint.startswith("convert it to ")


@pytest.mark.parametrize(
    "text",
    ["", "ten", "1.234,5", "1,234.5", "1 000", "1'000", "010", "10 cm", "23°C", "nan", ".inf", "1e9999", "0x10", "1_0",
     "٣", "1e99", "1e-99", "5.", ".5", "#REF!", "1" * 41, "1,2,3", "--1", "10.Feb"],
)  # fmt: skip
def test_what_is_no_number(text):
    with pytest.raises(ValueTroubleError) as caught:
        cells.figure(text, comma_is_decimal=True, unit="mm")
    assert caught.value.hint


@pytest.mark.parametrize("text", ["1,002", "-10,020", "128,000"])
def test_comma_before_three_digits_between_commas_may_be_of_thousands(text):
    """Thousands have three digits each (SI brochure, 5.4.4, of where people put marks between them)."""
    with pytest.raises(ValueTroubleError, match="a thousand times as much"):
        cells.figure(text, comma_is_decimal=False)


@pytest.mark.parametrize(("text", "written"), [("10,02", "10.02"), ("0,123", "0.123"), ("23,1 °C", "23.1")])
def test_any_other_comma_between_commas_is_a_decimal_one(text, written):
    assert cells.figure(text, comma_is_decimal=False, unit="C").written == written


@pytest.mark.parametrize(
    "text",
    [
        "2026-10-06",
        "2026/10/6",
        "2026.10.06",
        "6.10.2026",
        "06.10.2026",
        "6. 10. 2026",
        "2026-10-06 00:00:00",
        "2026-10-06T00:00:00",
        "6.10.2026 00:00",
    ],
)
def test_date(text):
    assert cells.date(text) == "2026-10-06"


@given(st.dates(dt.date(1900, 1, 1), dt.date(2200, 1, 1)))
def test_date_of_either_order(day):
    assert cells.date(day.isoformat()) == cells.date(f"{day:%d.%m.%Y}") == day.isoformat()


@pytest.mark.parametrize(
    "text", ["6/10/2026", "10/6/26", "6.10.26", "2026-02-30", "0000-01-01", "October 6", "46301", ""]
)
def test_what_is_no_date(text):
    with pytest.raises(ValueTroubleError) as caught:
        cells.date(text)
    assert "2026-10-06" in caught.value.hint


@pytest.mark.parametrize(
    ("text", "letter"),
    [("C", "C"), ("c", "C"), ("complete", "C"), ("Complete break", "C"), ("H", "H"), ("Hinge", "H"), ("hinged", "H"),
     ("partial", "P"), ("P", "P"), ("Partial-break", "P"), ("none", "N"), ("N", "N"), ("no break", "N"), ("NB", "N"),
     ("non-break", "N"), ("did not break", "N")],
)  # fmt: skip
def test_break(text, letter):
    assert cells.break_letter(text, TITLES) == letter


def test_break_types_are_those_of_the_method():
    assert cells.break_letter("splintered", {"S": "splintered"}) == "S"
    with pytest.raises(ValueTroubleError, match="it can be S \\(splintered\\)"):
        cells.break_letter("complete", {"S": "splintered"})


@pytest.mark.parametrize(
    ("text", "remark", "reason"),
    [("", "void", None), ("no", "", None), ("-", "", None), ("slipped", "", "slipped"), ("x", "void", "void"),
     ("Yes", "void", "void"), ("No", "void", None)],
)  # fmt: skip
def test_exclusion(text, remark, reason):
    assert cells.exclusion(text, remark) == reason


def test_exclusion_without_a_reason_is_refused():
    with pytest.raises(ValueTroubleError, match="does not say why"):
        cells.exclusion("x", "")


@pytest.mark.parametrize("odd", ["\x00", "\x07", "\x7f", "\x85", "\ud800", "\uffff", "\U0001fffe"])
def test_odd_character_is_refused(odd):
    with pytest.raises(ValueTroubleError, match=f"U\\+{ord(odd):04X}"):
        cells.plain_text(f"a{odd}")
