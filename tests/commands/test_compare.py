"""`notchbook compare`: handbooks and published results held together, a laboratory a source."""

import copy
import datetime as dt
import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

import small_handbook as small
from notchbook.cli import main
from notchbook.handbook import open_handbook
from notchbook.pages.site import build_site
from notchbook.statistics.precision import precision


@pytest.fixture(autouse=True)
def _day(monkeypatch: pytest.MonkeyPatch) -> None:
    noon = dt.datetime.combine(small.DAY, dt.time(12), tzinfo=dt.UTC)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", str(int(noon.timestamp())))


def run(*arguments: object) -> tuple[int, str, str]:
    result = CliRunner().invoke(main, ["compare", *map(str, arguments)])
    return result.exit_code, result.stdout, result.stderr


def compared(*sources: Path) -> dict[str, Any]:
    status, said, error = run(*sources, "--format", "json")
    assert (status, error) == (0, "")
    found: dict[str, Any] = json.loads(said)
    return found


def _laboratory(folder: Path, turned_deg: float = 0.0, **changes: Any) -> Path:
    contents = small.files()
    record = copy.deepcopy(contents[small.TEST]) | changes
    for each in record["specimens"]:
        each["rise_angle_deg"] = round(each["rise_angle_deg"] - turned_deg, 1)
    contents[small.TEST] = record
    if "material" in changes:
        contents[f"procedures/materials/{changes['material']}.yaml"] = contents[small.MATERIAL]
    return small.write(folder, contents)


def _published(root: Path) -> Path:
    """The site's results beside the handbook."""
    text = build_site(open_handbook(root, day=small.DAY)).files["data/results.json"]
    path = root / "results.json"
    path.write_text(text if isinstance(text, str) else text.decode(), encoding="utf-8")
    return path


def test_folders_and_published_results_are_laboratories(tmp_path: Path) -> None:
    sources = [_laboratory(tmp_path / name, turned) for name, turned in (("a", 0.0), ("b", 0.6), ("c", 1.2))]
    found = compared(sources[0], _published(sources[1]), sources[2])
    (complete, partial) = found["comparisons"] if len(found["comparisons"]) == 2 else (*found["comparisons"], None)
    assert (complete["material"], complete["velocity_m_s"], complete["breaks"]) == ("pp-h", 2.9, ["C", "H"])
    assert [each["n"] for each in complete["groups"]] == [9, 9, 9]
    assert complete["groups"][1]["record"].endswith("b/results.json")
    # the same numbers as of the results themselves, by the same analysis
    cells = []
    for source in sources:
        status = CliRunner().invoke(main, ["results", "--root", str(source)])
        (test,) = json.loads(status.stdout)["tests"].values()
        cells.append([bar["strength_kJ_m2"] for bar in test["specimens"] if bar["break"] in "CH"])
    expected = precision(cells)
    # tolerance: published results are rounded to ten figures
    assert complete["repeatability_sd_kJ_m2"] == pytest.approx(expected.repeatability_sd, rel=1e-8)
    assert complete["between_sd_kJ_m2"] == pytest.approx(expected.between_sd, rel=1e-8)
    assert [each["h"] for each in complete["groups"]] == pytest.approx(expected.h, abs=1e-7)
    # single partial breaks are cells of one value
    assert partial is None or partial["repeatability_sd_kJ_m2"] is None
    assert found["not_compared"] == []


def test_text_says_what_a_student_understands(tmp_path: Path) -> None:
    sources = [_laboratory(tmp_path / name, turned) for name, turned in (("a", 0.0), ("b", 0.6), ("c", 1.2))]
    status, said, _ = run(*sources)
    assert status == 0
    assert "bars scatter like everyone's" in said
    assert "Within a laboratory (repeatability)" in said
    assert "Every bar is broken once" in said


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"material": "pp-c"}, "no other source has tests of the material pp-c"),
        ({"hammer": "charpy-2"}, ""),
    ],
)
def test_what_is_alone_is_said(changes: dict[str, str], words: str, tmp_path: Path) -> None:
    one, other = _laboratory(tmp_path / "a"), _laboratory(tmp_path / "b", **changes)
    found = compared(one, other) if words else {"comparisons": [], "not_compared": []}
    assert found["comparisons"] == []
    assert not words or any(each["reason"] == words for each in found["not_compared"])


def _moved(path: Path, folder: Path, **changes: Any) -> Path:
    """A copy of published results whose tests have other values."""
    data = json.loads(path.read_text(encoding="utf-8"))
    for test in data["tests"].values():
        test.update(changes)
    moved = folder / "moved.json"
    moved.write_text(json.dumps(data), encoding="utf-8")
    return moved


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"velocity_m_s": 3.8}, "with another speed: 2.9 m/s"),
        ({"standard": "ISO 180"}, "with another standard: ISO 179-1"),
        ({"notch": "B"}, "with another kind of bars: type 1, notch A, edgewise"),
    ],
)
def test_what_is_not_comparable_is_said_with_what_differs(changes: dict[str, Any], words: str, tmp_path: Path) -> None:
    one = _published(_laboratory(tmp_path / "a"))
    found = compared(one, _moved(one, tmp_path, **changes))
    assert found["comparisons"] == []
    assert any(words in each["reason"] for each in found["not_compared"])


def test_a_batch_that_was_sent_round_is_compared_by_itself(tmp_path: Path) -> None:
    own, sent = _laboratory(tmp_path / "a", batch="A1"), _laboratory(tmp_path / "b", batch="R1")
    for source in (own, sent):
        contents = copy.deepcopy(small.FILES[small.TEST]) | {"date": "2026-10-08", "group": "G5", "batch": "R1"}
        for bar in contents["specimens"]:
            bar["width_mm"] = round(bar["width_mm"] + 0.03, 2)
        small.write(source, {"results/tests/2026-10-08-g5-pp-h.yaml": contents})
    found = compared(own, sent)
    about = [(each["batch"], [group["n"] for group in each["groups"]]) for each in found["comparisons"]]
    assert ("R1", [9, 18]) in about
    assert {each["reason"] for each in found["not_compared"]} == {"no other source has these batches"}


def test_departing_tests_are_left_out_and_said(tmp_path: Path) -> None:
    one = _published(_laboratory(tmp_path / "a"))
    status, said, error = run(one, _moved(one, tmp_path, conforms=False))
    assert (status, "There is nothing that two sources broke alike." in said) == (0, True)
    assert error.endswith("moved.json: 1 test not in keeping with the method left out\n")


def test_each_source_that_cannot_be_read_is_told(tmp_path: Path) -> None:
    bad, empty = tmp_path / "bad.json", tmp_path / "empty"
    bad.write_text('{"tests": NaN}', encoding="utf-8")
    empty.mkdir()
    status, said, error = run(bad, empty, tmp_path / "missing.json")
    assert (status, said) == (2, "")
    lines = error.splitlines()
    assert [each.startswith("Error: ") for each in lines] == [True] * 3
    assert "'NaN' is no number of JSON" in lines[0]
    assert "holds neither procedures/ nor results/" in lines[1]
    assert "missing.json: cannot be read" in lines[2]


@pytest.mark.parametrize(("number", "words"), [(1, "name two or more"), (41, "name 40 at most")])
def test_number_of_sources_is_bounded(number: int, words: str, tmp_path: Path) -> None:
    status, _, error = run(*(tmp_path / str(each) for each in range(number)))
    assert status == 2
    assert words in error


def test_a_source_named_twice_is_told(tmp_path: Path) -> None:
    one = _laboratory(tmp_path / "a")
    status, _, error = run(one, one)
    assert (status, error) == (2, f"Error: {one.as_posix()}: is named twice\n")
