"""A record as text: read back as the same values, in the order of the contract."""

import json
import re
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from notchbook.reading import acceptance, strict_yaml
from notchbook.wording.yaml_text import Figure, date_scalar, scalar
from notchbook.writing.draft import record_text

SCHEMA = json.loads((Path(__file__).resolve().parents[2] / "schema/test.schema.json").read_text(encoding="utf-8"))
# the contract's order, written out: the schema's is held against it
CONTRACT = {
    (): ["kind", "date", "group", "exercise", "rig", "hammer", "material", "batch", "specimen", "conditioning",
         "test_atmosphere", "notch_radius_mm", "clamp_torque_Nm", "transfer_s", "zero_reading_deg", "zero_reading_J",
         "free_swings", "specimens", "reported", "deviations", "acknowledged", "notes"],
    ("specimen",): ["type", "notch", "direction"],
    ("conditioning",): ["temperature_C", "humidity_pct", "hours", "state"],
    ("test_atmosphere",): ["temperature_C", "humidity_pct"],
    ("specimens", "items"): ["id", "width_mm", "thickness_mm", "remaining_width_mm", "notch_radius_mm",
                             "clamp_torque_Nm", "transfer_s", "rise_angle_deg", "indicated_energy_J", "break",
                             "excluded"],
    ("reported",): ["mean_kJ_m2", "standard_deviation_kJ_m2", "specimens"],
    ("deviations", "items"): ["rule", "reason", "accepted_by"],
    ("acknowledged", "items"): ["rule", "reason", "by"],
}  # fmt: skip
TEXTS = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=20)
AWKWARD = st.sampled_from([
    "null", "Yes", "off", "~", "1e3", "0x1f", "12:30", "2026-10-06", "- a", "a: b", "a #b", "&x", "*x", "!", "%", "@",
    "'", '"', "\\", "{a}", "[a", "a,", "?", ": ", "#", "|", ">", " a", "a ", "\ta", "a\nb", "a\r\nb", "\x85", "\u2028",
    "\ufeff", "\x00", "\x7f", "\ufffe", "😀", "\U000e0001", "N", "none", "<<", "=", "true", "01", "pp-h", "G2",
])  # fmt: skip
TEXT = AWKWARD | TEXTS
NUMBERS = st.integers(-(10**14), 10**14) | st.floats(-1e6, 1e6).filter(lambda x: x == 0 or abs(x) > 1e-20)
FIGURES = st.from_regex(r"\A(0|[1-9][0-9]{0,5})(\.[0-9]{1,6})?\Z")


def mapping(**values):
    return st.fixed_dictionaries({}, optional=values)


@st.composite
def records(draw):
    """Values under any of the keys of a record; a number is a text of digits here."""
    number = FIGURES.map(Figure) | NUMBERS
    bars = mapping(
        id=TEXT, width_mm=number, thickness_mm=number, remaining_width_mm=number, rise_angle_deg=number,
        indicated_energy_J=number, excluded=TEXT, **{"break": TEXT},
    )  # fmt: skip
    worked_out = st.dictionaries(TEXT, mapping(energy_J=number, strength_kJ_m2=number).filter(bool), max_size=3)
    keys = {
        "kind": st.just("test"), "date": TEXT, "group": TEXT, "exercise": TEXT, "rig": TEXT, "hammer": TEXT,
        "material": TEXT, "batch": TEXT,
        "specimen": mapping(type=TEXT, notch=TEXT, direction=TEXT),
        "conditioning": mapping(temperature_C=number, humidity_pct=number, hours=number),
        "free_swings": mapping(first_rise_deg=number, half_swings=number),
        "specimens": st.lists(bars.filter(bool), min_size=1, max_size=4),
        "reported": mapping(mean_kJ_m2=number, specimens=worked_out.filter(bool)).filter(bool),
        "deviations": st.lists(mapping(rule=TEXT, reason=TEXT, accepted_by=TEXT).filter(bool), min_size=1, max_size=2),
        "acknowledged": st.lists(mapping(rule=TEXT, reason=TEXT, by=TEXT).filter(bool), min_size=1, max_size=2),
        "notes": TEXT,
    }  # fmt: skip
    chosen = draw(st.permutations(list(keys)))[: draw(st.integers(1, len(keys)))]
    return {key: draw(keys[key]) for key in chosen}


def plain(value):
    """The values with figures as the numbers that they are."""
    if isinstance(value, dict):
        return {key: plain(each) for key, each in value.items()}
    if isinstance(value, list):
        return [plain(each) for each in value]
    if isinstance(value, Figure):
        return float(value.written) if "." in value.written else int(value.written)
    return value


@given(records())
def test_record_is_read_back(values):
    data, flaws = strict_yaml.parse(record_text(values))
    assert flaws == []
    assert data == plain(values)


@given(TEXT)
def test_text_is_the_same_to_another_reader(text):
    """PyYAML's safe loader reads YAML 1.1; it takes dates for dates, which the contract's readers do not."""
    assert yaml.safe_load(f"key: {{a: {scalar(text)}, b: [{scalar(text, quoted=True)}]}}") == {
        "key": {"a": text, "b": [text]}
    }


@given(FIGURES)
def test_digits_are_kept(written):
    data, _ = strict_yaml.parse(record_text({"conditioning": {"hours": Figure(written)}}))
    found = data["conditioning"]
    assert getattr(found, "written", {}).get("hours", str(found["hours"])) == written


@pytest.mark.parametrize("value", [True, None, float("nan"), float("inf"), [], b"x"])
def test_what_is_neither_number_nor_text_is_refused(value):
    with pytest.raises(ValueError, match="neither text nor a finite number"):
        scalar(value)


@pytest.mark.parametrize("text", ["##[group]x", "\\##[group]x", "::error::x", "a ##vso[x]", "## 3"])
def test_text_commands_no_runner_that_prints_it_and_means_the_same(text):
    written = scalar(text)
    assert "##[" not in written
    assert "##vso[" not in written
    assert yaml.safe_load(written) == text


def test_half_a_character_is_refused():
    with pytest.raises(ValueError, match="U\\+D800 is half a character"):
        scalar("a\ud800")


@pytest.mark.parametrize("values", [{"width": 1}, {"specimens": [{"width": 1}]}, {"specimen": {"kind": "1"}}])
def test_key_that_a_record_does_not_have_is_refused(values):
    with pytest.raises(ValueError, match="is no key of"):
        record_text(values)


@pytest.mark.parametrize("keys", CONTRACT, ids=lambda keys: ".".join(keys) or "top")
def test_schema_has_the_order_of_the_contract(keys):
    part = SCHEMA
    for key in keys:
        part = part[key] if key == "items" else part["properties"][key]
    assert list(part["properties"]) == CONTRACT[keys]


@given(records())
def test_keys_stand_in_the_order_of_the_contract(values):
    text = record_text(values)
    top = re.findall(r"^(\w+):", text, re.MULTILINE)
    assert top == [key for key in CONTRACT[()] if key in values]
    data, _ = strict_yaml.parse(text)
    for bar in data.get("specimens", []):
        assert list(bar) == [key for key in CONTRACT["specimens", "items"] if key in bar]


def test_form_is_that_of_the_contract():
    bar = {"break": "C", "rise_angle_deg": Figure("86.40"), "id": "01", "width_mm": 10.02}
    bar["thickness_mm"] = Figure("4.00")
    values = {
        "notes": "Void, no. 3",
        "kind": "test",
        "date": "2026-10-06",
        "specimen": {"direction": "edgewise", "notch": "none", "type": "1"},
        "specimens": [bar, {**bar, "excluded": "slipped"}],
        "reported": {"specimens": {"01": {"energy_J": Figure("0.131")}}, "mean_kJ_m2": Figure("4.10")},
    }
    assert record_text(values, "# head\n") == (
        "# head\n"
        "kind: test\n"
        "date: 2026-10-06\n"
        'specimen: {type: "1", notch: none, direction: edgewise}\n'
        "specimens:\n"
        '  - {id: "01", width_mm: 10.02, thickness_mm: 4.00, rise_angle_deg: 86.40, break: C}\n'
        '  - {id: "01", width_mm: 10.02, thickness_mm: 4.00, rise_angle_deg: 86.40, break: C,\n'
        '     excluded: "slipped"}\n'
        "reported:\n"
        "  mean_kJ_m2: 4.10\n"
        "  specimens:\n"
        '    "01": {energy_J: 0.131}\n'
        'notes: "Void, no. 3"\n'
    )


def test_what_is_no_date_is_quoted_as_a_text():
    assert (date_scalar("2026-10-06"), date_scalar("06.10.2026")) == ("2026-10-06", '"06.10.2026"')


def test_schema_takes_what_is_written():
    example = SCHEMA["examples"][0]
    data, flaws = strict_yaml.parse(record_text(example))
    assert (data, flaws, acceptance.flaws("test", data)) == (example, [], [])
