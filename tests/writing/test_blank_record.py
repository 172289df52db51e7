"""A blank record: found blank by the check at each place, found good once it is filled in."""

import dataclasses
import datetime as dt
import re
import shutil
from functools import partial
from pathlib import Path

import pytest
import yaml
from test_record_yaml import CONTRACT

from notchbook.findings import Severity
from notchbook.handbook import open_handbook
from notchbook.reading import acceptance, strict_yaml
from notchbook.wording.yaml_text import Figure
from notchbook.writing.bars import bar_form
from notchbook.writing.blank_record import Setting, blank_record

PATH = "results/tests/blank.yaml"
BLANK = re.compile(r"\w+:(?= *[,}]|$)", re.MULTILINE)
SETTINGS = [
    ("notched-charpy", "bench-1", "charpy-1"),
    ("unnotched-charpy", "bench-1", "charpy-5"),
    ("notched-charpy", "bench-2", "charpy-15"),
    ("notched-izod", "bench-2", "izod-1"),
    ("notch-sensitivity", "bench-1", "charpy-2"),
    ("cold-bars", "bench-1", "cold-1"),
]
IDS = [" ".join(each) for each in SETTINGS]


def blank(handbook, exercise, rig, hammer, **known):
    library = handbook.library
    about, machine = library.exercises[exercise], library.rigs[rig]
    method = library.methods[about.method]
    setting = Setting(
        about, method, machine, about.specimen, bar_form(about, method, machine), [hammer], sorted(library.materials)
    )
    return blank_record(setting, {"exercise": exercise, "rig": rig, "hammer": hammer, **known})


def checked(root, text):
    (root / PATH).write_text(text, encoding="utf-8")
    handbook = open_handbook(root, day=dt.date(2026, 11, 30))
    return [each for each in handbook.findings if each.path == PATH]


@pytest.fixture
def root(tmp_path, demo):
    for name in ("procedures", "results/verifications"):
        shutil.copytree(demo.root / name, tmp_path / name)
    (tmp_path / "results/tests").mkdir()
    return tmp_path


def blanks(text):
    """Line and column behind the colon of each key that has no value, remarks aside."""
    for number, line in enumerate(text.splitlines(), start=1):
        if not line.startswith("#") and line != "specimens:":
            yield from ((number, each.end() + 1) for each in BLANK.finditer(line))


@pytest.mark.parametrize("setting", SETTINGS, ids=IDS)
def test_check_points_at_each_blank(setting, demo, root):
    text = blank(demo, *setting)
    found = checked(root, text)
    assert {each.severity for each in found} == {Severity.ERROR}
    told = [(each.line, each.column) for each in found]
    wanted = list(blanks(text))
    bars = demo.library.exercises[setting[0]].number_of_specimens
    assert len(wanted) == 8 + bars * (4 if "unnotched" in setting[0] else 5)
    # libyaml sets the mark of an empty value right behind its colon or at the next sign, a space further
    assert [line for line, _ in told] == [line for line, _ in wanted]
    assert all(0 <= column - want <= 1 for (_, column), (_, want) in zip(told, wanted, strict=True))


def filled(text, record):
    """The blank with the texts of a record's file in its places."""
    bars = iter(record["specimens"])
    lines = []
    for line in text.splitlines():
        key = line.partition(":")[0]
        if line.startswith("  - {id:"):
            values = next(bars)
        else:
            values = record.get(key) if isinstance(record.get(key), dict) else record
        is_data = not line.startswith("#") and line != "specimens:"
        put = partial(lambda values, each: f"{each.group()} {values[each.group()[:-1]]}", values)
        lines.append(BLANK.sub(put, line) if is_data else line)
    return "\n".join(lines) + "\n"


def demo_records():
    """Records of the demo that have as many bars as their exercise asks for, and nothing that a blank lacks."""
    for path in sorted((Path(__file__).resolve().parents[2] / "results/tests").glob("*.yaml")):
        data = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)  # noqa: S506  # texts as they stand
        plain = not any("excluded" in bar for bar in data["specimens"])
        if len(data["specimens"]) == 10 and plain and "deviations" not in data:
            yield pytest.param(data, id=path.stem)


@pytest.mark.parametrize("record", list(demo_records()))
def test_filled_in_it_passes(record, demo, root):
    text = blank(demo, record["exercise"], record["rig"], record["hammer"])
    found = checked(root, filled(text, record))
    assert [str(each) for each in found if each.severity is Severity.ERROR] == []


def test_what_may_be_left_out_passes_too(demo):
    """Every remark that is an example is one: without its mark it is what the schema asks for."""
    text = blank(demo, "notched-charpy", "bench-1", "charpy-1")
    optional = (
        "batch", "notch_radius_mm", "clamp_torque_Nm", "transfer_s", "zero_reading_deg", "zero_reading_J",
        "free_swings", "reported", "deviations", "acknowledged", "notes",
    )  # fmt: skip
    used = re.sub(rf"^# (?=(?:{'|'.join(optional)}):|  - \{{)", "", text, flags=re.MULTILINE)
    data, flaws = strict_yaml.parse(used)
    assert flaws == []
    assert list(data) == CONTRACT[()]
    assert {flaw.rule.id for flaw in acceptance.flaws("test", data)} == {"value-type"}
    assert all(data[key] for key in optional)


@pytest.mark.parametrize("setting", SETTINGS, ids=IDS)
def test_keys_stand_in_the_order_of_the_contract(setting, demo):
    text = blank(demo, *setting)
    named = re.findall(r"^(?:# )?([A-Za-z_]+):", text, re.MULTILINE)
    assert [key for key in named if key in CONTRACT[()]] == CONTRACT[()]
    data, _ = strict_yaml.parse(text)
    for bar in data["specimens"]:
        assert list(bar) == [key for key in CONTRACT["specimens", "items"] if key in bar]
    assert [bar["id"] for bar in data["specimens"]] == [f"{number:02}" for number in range(1, 11)]
    assert data["specimen"] == {
        key: getattr(demo.library.exercises[setting[0]].specimen, key) for key in ("type", "notch", "direction")
    }


def test_reading_is_that_of_the_scale_and_remaining_width_that_of_a_notch(demo):
    for setting, keys in {
        SETTINGS[0]: ["remaining_width_mm", "rise_angle_deg"],
        SETTINGS[1]: ["rise_angle_deg"],
        SETTINGS[2]: ["remaining_width_mm", "indicated_energy_J"],
    }.items():
        data, _ = strict_yaml.parse(blank(demo, *setting))
        assert list(data["specimens"][0]) == ["id", "width_mm", "thickness_mm", *keys, "break"]


def test_every_key_is_told_with_its_unit_and_what_is_allowed(demo):
    text = " ".join(blank(demo, "notched-charpy", "bench-1", "charpy-1").replace("\n#", " ").split())
    for said in (
        "width_mm: Width b of the specimen in millimetres",
        "ISO 179-1 asks for 10 ± 0.2 mm",
        "It can be C complete, H hinge, P partial, N none.",
        "It can be abs, hips, pc, pmma, pom, pp-b, pp-h, ps.",
        "temperature_C: Temperature in degrees Celsius",
        "excluded: Why this specimen does not count",
    ):
        assert said in text


def test_what_is_known_is_filled_in(demo):
    known = {"date": "2026-11-03", "group": "G2", "conditioning": {"hours": Figure("48")}, "batch": "PP-26-01"}
    data, _ = strict_yaml.parse(blank(demo, "notched-charpy", "bench-1", "charpy-1", **known))
    assert (data["date"], data["group"], data["batch"]) == ("2026-11-03", "G2", "PP-26-01")
    assert data["conditioning"] == {"temperature_C": None, "humidity_pct": None, "hours": 48}


def test_text_of_the_handbook_stays_a_remark(demo):
    """A title may hold anything; none of it becomes a line of the file."""
    library = demo.library
    about = library.exercises["notched-charpy"]
    hostile = "x\nkind: rig\u2028kind: rig\x1b[31m #"
    setting = Setting(
        dataclasses.replace(about, title=hostile),
        library.methods[about.method],
        dataclasses.replace(library.rigs["bench-1"], title=hostile),
        dataclasses.replace(about.specimen, type='1", notch: "B'),
        bar_form(about, library.methods[about.method], library.rigs["bench-1"]),
        [hostile],
        [hostile],
    )
    text = blank_record(setting, {"exercise": about.id})
    assert all(line.isprintable() for line in text.splitlines())
    data, flaws = strict_yaml.parse(text)
    assert flaws == []
    assert data["kind"] == "test"
    assert data["specimen"]["type"] == '1", notch: "B'


def test_a_hundred_bars_have_ids_of_three_digits(demo):
    library = demo.library
    about = dataclasses.replace(library.exercises["notched-charpy"], number_of_specimens=100)
    method, rig = library.methods[about.method], library.rigs["bench-1"]
    form = bar_form(about, method, rig)
    data, _ = strict_yaml.parse(blank_record(Setting(about, method, rig, about.specimen, form, [], []), {}))
    assert [data["specimens"][place]["id"] for place in (0, 98, 99)] == ["001", "099", "100"]
