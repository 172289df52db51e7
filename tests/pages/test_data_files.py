"""The data folder: what was read and what came of it, to the last digit, and nothing that a spreadsheet would run."""

import csv
import io
import json
from decimal import ROUND_HALF_EVEN, Context, Decimal
from pathlib import Path
from typing import Any

import pytest
import yaml

import hostile_handbook as hostile
import small_handbook as small
from notchbook.facts.facts import Facts
from notchbook.handbook import Handbook, open_handbook
from notchbook.pages.data.files import data_files, data_uri
from notchbook.pages.sheets.lookups import hammer_sheets
from notchbook.pages.site import build_site
from notchbook.results_data import as_csv, as_json
from notchbook.wording.csv_text import guarded

RISKY = ("=", "+", "-", "@", "\t", "\r", "\n")
"""After the advice of OWASP on CSV injection."""
VERIFICATION_ID = "2026-09-14-bench-1-charpy-1"
NUMBERS = {
    "bars": ("energy_J", "loss_J", "used_pct", "strength_kJ_m2", "expanded_uncertainty_kJ_m2"),
    "read": ("width_mm", "thickness_mm", "remaining_width_mm", "rise_angle_deg", "indicated_energy_J"),
}


def _files(root: Path, contents: dict[str, Any] | None = None) -> dict[str, str]:
    handbook = small.opened(root, contents)
    return data_files(Facts(handbook), list(hammer_sheets(Facts(handbook))))


def _rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


def _published(value: Any) -> Any:
    """What the engine worked out, rounded to ten digits by decimal arithmetic, also within mappings and lists."""
    if isinstance(value, float):
        return float(Context(prec=10, rounding=ROUND_HALF_EVEN).create_decimal(Decimal(value)))
    if isinstance(value, dict):
        return {key: _published(each) for key, each in value.items()}
    return [_published(each) for each in value] if isinstance(value, list | tuple) else value


def _number(text: str) -> float | None:
    return float(text) if text else None


def test_every_record_and_every_verification_has_both_forms(demo: Handbook, demo_data: dict[str, str]) -> None:
    for folder, ids in (("records", demo.library.records), ("verifications", demo.library.verifications)):
        for form in ("csv", "json"):
            found = {each for each in demo_data if each.startswith(f"data/{folder}/") and each.endswith(form)}
            assert found - {f"data/{folder}/csv-metadata.json"} == {f"data/{folder}/{each}.{form}" for each in ids}


def test_site_has_the_data_and_its_contract_is_kept(demo: Handbook, demo_data: dict[str, str]) -> None:
    site = build_site(demo).files
    assert {uri: text for uri, text in site.items() if uri.startswith("data/")} == demo_data
    assert json.loads(demo_data["data/results.json"]) == _published(json.loads(as_json(demo)))
    bars = zip(_rows(demo_data["data/results.csv"]), _rows(as_csv(demo)), strict=True)
    for row, printed in bars:
        for name, text in printed.items():
            is_result = name.endswith(("_J", "_pct", "_kJ_m2")) and text
            assert row[name] == (repr(_published(float(text))) if is_result else text)


def test_bars_are_those_of_the_file_and_of_the_engine(demo: Handbook, demo_data: dict[str, str]) -> None:
    for record_id, record in demo.library.records.items():
        result, uncertainty = demo.evaluation.records[record_id], demo.evaluation.uncertainty(record_id)
        assert uncertainty is not None
        table = _rows(demo_data[f"data/records/{record_id}.csv"])
        bars = zip(table, record.specimens, result.specimens, uncertainty.strength.expanded, strict=True)
        for row, read, found, expanded in bars:
            assert [row["specimen"], row["break"], row["excluded"]] == [read.id, read.break_type, read.excluded or ""]
            for name in NUMBERS["read"]:
                assert _number(row[name]) == getattr(read, name)
            for name in NUMBERS["bars"][:-1]:
                assert _number(row[name]) == _published(getattr(found, name))
            assert _number(row[NUMBERS["bars"][-1]]) == _published(expanded)


def test_json_of_a_record_holds_its_file_and_what_its_results_rest_on(
    demo: Handbook, demo_data: dict[str, str], demo_results: dict[str, Any]
) -> None:
    for record_id, record in demo.library.records.items():
        data = json.loads(demo_data[f"data/records/{record_id}.json"], parse_constant=pytest.fail)
        # the file by another reader, which takes dates for dates
        path = demo.root / data["file"]
        assert data["readings"] == json.loads(json.dumps(yaml.safe_load(path.read_text("utf-8")), default=str))
        result, hammer = demo.evaluation.records[record_id], demo.evaluation.hammers[record.rig, record.hammer]
        assert data["hammer"]["moment_Nm"] == _published(hammer.moment_Nm)
        assert data["hammer"]["potential_energy_J"] == _published(hammer.potential_energy_J)
        assert data["hammer"]["velocity_m_s"] == _published(hammer.velocity_m_s)
        assert (data["test"], data["method"]["id"]) == (record_id, hammer.method)
        assert data["verification"] == result.verification
        assert result.losses is not None
        source = "verification" if record.free_swings is None else "free swings of the day"
        assert data["losses"] == _published({
            "from": source, "indicator_loss_J": result.losses.indicator_loss_J,
            "swing_loss_J": result.losses.swing_loss_J, "half_swing_loss_J": result.losses.half_swing_loss_J,
            "loss_pct": result.losses.loss_pct,
        })  # fmt: skip
        told = _published(demo_results["tests"][record_id])
        # what the test is of stands among the readings and beside the method
        assert data["results"] | {"sets": None} == {key: told[key] for key in data["results"]} | {"sets": None}
        assert {key: told[key] for key in ("group", "material", "exercise")}.items() <= data["readings"].items()
        assert [{key: each[key] for key in told["sets"][0]} for each in data["results"]["sets"]] == told["sets"]


def test_sets_are_those_of_the_engine(demo: Handbook, demo_data: dict[str, str]) -> None:
    rows = iter(_rows(demo_data["data/sets.csv"]))
    for record_id, result in sorted(demo.evaluation.records.items()):
        uncertainty, record = demo.evaluation.uncertainty(record_id), demo.library.records[record_id]
        data = json.loads(demo_data[f"data/records/{record_id}.json"])
        assert uncertainty is not None
        for found, told in zip(result.sets, data["results"]["sets"], strict=True):
            row, of_mean = next(rows), uncertainty.of_set(found)
            assert [row["test"], row["date"], row["group"]] == [record_id, record.date.isoformat(), record.group]
            assert [row["breaks"], int(row["n"])] == ["".join(found.breaks), found.summary.n]
            assert _number(row["mean_kJ_m2"]) == _published(found.summary.mean)
            assert _number(row["reported_kJ_m2"]) == _published(found.reported_kJ_m2)
            assert _number(row["standard_deviation_kJ_m2"]) == _published(found.summary.standard_deviation)
            assert _number(row["variation_pct"]) == _published(found.summary.variation_pct)
            interval = (_number(row["interval_low_kJ_m2"]), _number(row["interval_high_kJ_m2"]))
            assert list(interval) == _published(list(found.summary.interval or (None, None)))
            assert _number(row["expanded_uncertainty_kJ_m2"]) == (_published(of_mean.expanded) if of_mean else None)
            assert told["standard_uncertainty_kJ_m2"] == (_published(of_mean.standard) if of_mean else None)
            assert told["coverage_factor"] == (_published(of_mean.coverage_factor) if of_mean else None)
    assert not list(rows)


def test_verifications_are_those_of_the_file_and_of_the_engine(demo: Handbook, demo_data: dict[str, str]) -> None:
    rows = _rows(demo_data["data/verifications.csv"])
    assert [each["verification"] for each in rows] == sorted(demo.library.verifications)
    for row in rows:
        verification = demo.library.verifications[row["verification"]]
        assert _rows(demo_data[f"data/verifications/{verification.id}.csv"]) == [row]
        assert [row["date"], row["valid_until"]] == [str(verification.date), str(verification.valid_until)]
        read = yaml.safe_load((demo.root / demo.documents["verification", verification.id].path).read_text("utf-8"))
        for part in ("weighing", "measured", "free_swings"):
            for name, value in read.get(part, {}).items():
                assert _number(row[name]) == value, name
        period = read.get("period", {"times_s": []})
        assert [float(each) for each in row["times_s"].split()] == period["times_s"]
        result = demo.evaluation.verifications[verification.id]
        hammer = demo.evaluation.hammers[verification.rig, verification.hammer]
        assert result.losses is not None
        for name in ("potential_energy_J", "velocity_m_s", "weighed_moment_Nm", "pendulum_length_mm"):
            assert _number(row[name]) == _published(getattr(result, name))
        for name in ("indicator_loss_J", "swing_loss_J", "half_swing_loss_J", "loss_pct"):
            assert _number(row[name]) == _published(getattr(result.losses, name))
        allowed = demo.library.methods[hammer.method].pendulums.of_energy(hammer.nominal_energy_J)
        assert _number(row["nominal_energy_J"]) == hammer.nominal_energy_J
        assert _number(row["allowed_loss_pct"]) == (allowed.loss_pct if allowed else None)
        assert row["conforms"] == str(demo.verdicts.verifications[verification.id]).lower()
        assert row["notes"] == (verification.notes or "")


def test_free_swings_are_those_of_the_file_and_of_the_engine(demo: Handbook, demo_data: dict[str, str]) -> None:
    rows = _rows(demo_data["data/swings.csv"])
    assert [each["record"] for each in rows] == sorted(demo.library.swings)
    for row in rows:
        record, result = demo.library.swings[row["record"]], demo.evaluation.swings[row["record"]]
        read = yaml.safe_load((demo.root / demo.documents["swings", record.id].path).read_text("utf-8"))
        for name, value in read["free_swings"].items():
            assert _number(row[name]) == value, name
        series = read.get("series", {"rises_deg": [], "half_swings_between": None})
        assert [float(each) for each in row["rises_deg"].split()] == series["rises_deg"]
        assert _number(row["half_swings_between"]) == series["half_swings_between"]
        assert result.losses is not None
        for name in ("indicator_loss_J", "swing_loss_J", "loss_pct"):
            assert _number(row[name]) == _published(getattr(result.losses, name))
        assert _number(row["later_swing_loss_J"]) == _published(result.later_swing_loss_J)
        assert row["conforms"] == str(demo.verdicts.swings[record.id]).lower()


def test_what_cannot_be_had_is_null_or_empty(tmp_path: Path) -> None:
    contents = small.files()
    contents[small.VERIFICATION] |= {"hammer": "charpy-9"}
    contents["results/tests/nowhere.yaml"] = {**small.files()[small.TEST], "rig": "nowhere"}
    files = _files(tmp_path, contents)
    data = json.loads(files["data/records/nowhere.json"])
    assert [data[key] for key in ("method", "hammer", "verification", "losses")] == [None] * 4
    assert data["results"]["sets"] == []
    rows = _rows(files["data/records/nowhere.csv"])
    read = contents["results/tests/nowhere.yaml"]["specimens"]
    assert [float(each["width_mm"]) for each in rows] == [each["width_mm"] for each in read]
    assert {each[name] for each in rows for name in NUMBERS["bars"]} == {""}
    # the hammer is known, its losses are not
    data = json.loads(files[f"data/records/{small.TEST_ID}.json"])
    assert (data["verification"], data["losses"]) == (None, None)
    (verification,) = _rows(files["data/verifications.csv"])
    assert verification["first_rise_deg"] == "94.6"
    for name in ("nominal_energy_J", "potential_energy_J", "loss_pct", "allowed_loss_pct"):
        assert verification[name] == ""
    assert json.loads(files[f"data/verifications/{VERIFICATION_ID}.json"])["hammer"] is None


def test_handbook_without_data_has_heads_alone(tmp_path: Path) -> None:
    files = _files(tmp_path, {})
    for name in ("results", "sets", "verifications"):
        assert _rows(files[f"data/{name}.csv"]) == []
    assert not [each for each in files if each.startswith(("data/records/", "data/verifications/", "data/lookup/"))]


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return not text.startswith(("+", "\t", "\r", "\n"))


def _cells(text: str) -> list[str]:
    """The cells that spreadsheets make of a table: those that part it at commas, at semicolons or at tabs."""
    table = io.StringIO(text, newline="")
    cells = [cell for row in csv.reader(table, strict=True) for cell in row]
    for separator in (";", "\t"):
        for quoting in (csv.QUOTE_MINIMAL, csv.QUOTE_NONE):
            table.seek(0)
            cells += [cell for row in csv.reader(table, delimiter=separator, quoting=quoting) for cell in row]
    return cells


def _is_run(cell: str) -> bool:
    """Whether a spreadsheet may run a cell; a number is none that it runs."""
    return cell.strip("\"' \t\r\n").startswith(RISKY) and not cell.lstrip('" ').startswith("'") and not _is_number(cell)


@pytest.mark.parametrize(
    "text",
    [
        "=1+1", "+1x", "-1+2", "@SUM(A1)", "\t=1", "\r=1", '=cmd|" /C x"!A1', "  =1+1", '"=1+1', "'=1+1",
        "abc;=cmd|' /C calc'!A0", "abc; +1x", 'abc;"=1x', 'a";=1x', "abc\t=1x", "abc\n=1x", "abc\r\n@x", "abc\r-1x",
        ";=1;=2;=3", "'' '=1", "a\x1b[31m\u202e\u2028=1",
    ],
)  # fmt: skip
def test_no_text_becomes_a_formula(tmp_path: Path, text: str) -> None:
    contents = small.files()
    contents[small.TEST] |= {"group": text, "batch": text, "notes": text}
    contents[small.TEST]["specimens"][0] |= {"id": text, "excluded": text}
    contents[small.VERIFICATION] |= {"checked_by": text, "notes": text}
    files = _files(tmp_path, contents)
    for uri, content in files.items():
        if uri.endswith(".csv"):
            assert [each for each in _cells(content) if _is_run(each)] == [], uri
            assert all(line.isprintable() for line in content.replace("\r\n", "\n").split("\n")), uri
    written = guarded(text)
    bar = _rows(files[f"data/records/{small.TEST_ID}.csv"])[0]
    assert (bar["specimen"], bar["excluded"]) == (written, written)
    assert {each["group"] for each in _rows(files["data/sets.csv"])} == {written}
    (verification,) = _rows(files["data/verifications.csv"])
    assert (verification["checked_by"], verification["notes"]) == (written, written)
    # JSON is never run
    record = json.loads(files[f"data/records/{small.TEST_ID}.json"])["readings"]
    assert (record["group"], record["batch"], record["specimens"][0]["excluded"]) == (text,) * 3


def test_negative_energy_stays_a_number(tmp_path: Path) -> None:
    contents = small.files()
    contents[small.TEST]["specimens"][0]["rise_angle_deg"] = 95.6
    row = _rows(_files(tmp_path, contents)[f"data/records/{small.TEST_ID}.csv"])[0]
    assert float(row["energy_J"]) < 0


@pytest.mark.parametrize("shift", [0, 9])
def test_any_text_comes_back(tmp_path: Path, shift: int) -> None:
    def text_of(number: int) -> str:
        return hostile.HOSTILE[(number + shift) % len(hostile.HOSTILE)]

    contents, placed = hostile.handbook_of(text_of, '<b>{0}`" '.format)
    small.write(tmp_path, {**contents, "mkdocs.yml": "plugins: [{notchbook: {deviations: label}}]\n"})
    handbook = open_handbook(tmp_path, day=small.DAY)
    files = data_files(Facts(handbook), list(hammer_sheets(Facts(handbook))))
    told = [
        json.loads(text)["readings"]
        for uri, text in files.items()
        if uri.startswith(("data/records/", "data/verifications/")) and not uri.endswith(("csv", "metadata.json"))
    ]
    texts = {each for data in told for each in _texts(data)}
    # of free swings of groups the data have the results alone
    listed = ("results/tests/", "results/verifications/")
    assert {text for text, place in placed.items() if place.startswith(listed)} <= texts
    (notes,) = {text for text, place in placed.items() if place.startswith("results/verif") and " notes" in place}
    (row,) = _rows(files["data/verifications.csv"])
    assert row["notes"] == guarded(notes)
    for uri, content in files.items():
        assert not (uri.endswith(".csv") and any(map(_is_run, _cells(content)))), uri


def _texts(data: Any) -> set[str]:
    if isinstance(data, dict | list):
        return {text for each in (data.values() if isinstance(data, dict) else data) for text in _texts(each)}
    return {data} if isinstance(data, str) else set()


def test_same_files_give_the_same_data(demo: Handbook, demo_data: dict[str, str]) -> None:
    again = open_handbook(demo.root, day=demo.day)
    assert list(data_files(Facts(again), list(hammer_sheets(Facts(again)))).items()) == list(demo_data.items())


def test_no_record_takes_the_place_of_a_description(tmp_path: Path) -> None:
    # by either rule of the standard: the folder's description, and that of a table of the name before the hyphen
    contents = small.files()
    names = ("csv-metadata", "a.csv", "a.csv-metadata", "index", "index.html")
    for each in names:
        contents[f"results/tests/{each}.yaml"] = small.files()[small.TEST]
    files = _files(tmp_path, contents)
    assert "tables" in json.loads(files["data/records/csv-metadata.json"])
    assert "data/records/a.csv-metadata.json" not in files
    uris = [data_uri("data/records", each, "json") for each in names]
    assert [json.loads(files[each])["test"] for each in uris] == list(names)
