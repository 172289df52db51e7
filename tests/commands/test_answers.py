"""`notchbook answers`: what it says of a table, how it ends, and what it refuses at once by row."""

import csv
import io
import json
import os
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner

import small_handbook as small
import workbooks
from notchbook.answers.bars import Bars, bars_of
from notchbook.cli import main
from notchbook.facts.facts import Facts

SCHEMA = Path(__file__).resolve().parents[2] / "schema/outputs/answers.schema.json"
HEAD = "record,specimen,breaks,quantity,value"
ID = small.TEST_ID


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return small.write(tmp_path_factory.mktemp("handbook"), small.files())


@pytest.fixture(scope="module")
def bars(root: Path) -> Bars:
    handbook = small.open_handbook(root, day=small.DAY)
    found = bars_of(Facts(handbook).record(ID))
    assert found is not None
    return found


def run(root: Path, folder: Path, table: str | bytes, *options: str) -> tuple[int, str, str]:
    path = folder / "answers.csv"
    path.write_bytes(table.encode() if isinstance(table, str) else table)
    done = CliRunner().invoke(main, ["answers", str(path), "--root", str(root), *options])
    assert done.exception is None or isinstance(done.exception, SystemExit)
    return done.exit_code, done.stdout, done.stderr


def rows(*answers: tuple[str, str, str, str]) -> str:
    return "\n".join([HEAD, *(",".join((ID, *each)) for each in answers)]) + "\n"


def test_right_answers_agree_and_it_ends_with_0(root: Path, bars: Bars, tmp_path: Path) -> None:
    mean = bars.sets[0].summary.mean
    table = rows(
        ("01", "", "energy_J", f"{bars.energy_J[0]:.4f}"),
        ("01", "", "strength_kJ_m2", f"{bars.strength_kJ_m2[0]:.2f}"),
        ("", "CH", "mean_kJ_m2", f"{mean:.3f}"), ("", "H/C", "mean_kJ_m2", f"{mean:.1f}"),
    )  # fmt: skip
    status, said, told = run(root, tmp_path, table)
    assert (status, said) == (0, f"{ID}: 4 of 4 answers agree\n")
    assert told == "4 answers, of which 4 agree\n"


def test_a_slip_is_told_by_the_step_and_not_by_the_number(root: Path, bars: Bars, tmp_path: Path) -> None:
    wrong = f"{bars.indicated_J[2] * bars.per_section_m2[2]:.3f}"
    status, said, _ = run(root, tmp_path, rows(("03", "", "strength_kJ_m2", wrong)))
    assert status == 1
    assert f"bar 03, strength_kJ_m2 {wrong}\n" in said
    assert "Look again at what the swing loses by itself" in said
    assert f"{bars.strength_kJ_m2[2]:.2f}" not in said


def test_json_keeps_its_contract_and_the_order_of_the_rows(root: Path, bars: Bars, tmp_path: Path) -> None:
    table = rows(
        ("02", "", "energy_J", f"{bars.indicated_J[1]:.5f}"), ("02", "", "energy_J", "999"),
        ("01", "", "energy_J", f"{bars.energy_J[0]:.4f}"),
    )  # fmt: skip
    status, said, _ = run(root, tmp_path, table, "--format", "json")
    found = json.loads(said)
    jsonschema.validate(found, json.loads(SCHEMA.read_text("utf-8")))
    assert status == 1
    assert [each["verdict"] for each in found] == ["slip", "unknown", "agrees"]
    assert [each["slips"] for each in found] == [["loss-forgotten"], [], []]
    assert found[1] == {
        "record": ID, "specimen": "02", "breaks": "", "quantity": "energy_J", "value": "999", "verdict": "unknown",
        "slips": [],
    }  # fmt: skip


def test_a_workbook_is_read_as_well(root: Path, bars: Bars, tmp_path: Path) -> None:
    cells = [HEAD.split(","), [ID, "01", None, "strength_kJ_m2", float(f"{bars.strength_kJ_m2[0]:.2f}")]]
    status, _, told = run(root, tmp_path, workbooks.xlsx({"Answers": cells}))
    assert (status, told) == (0, "1 answer, of which 1 agree\n")


def test_a_pipe_is_no_table(root: Path, tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "answers.csv")
    done = CliRunner().invoke(main, ["answers", str(tmp_path / "answers.csv"), "--root", str(root)])
    assert done.exit_code == 2
    assert "is no file that can be read" in done.stderr


def test_everything_in_the_way_is_told_at_once_by_its_row(root: Path, tmp_path: Path) -> None:
    table = f"""{HEAD}
{ID},01,,energy_j,0.1
{ID},77,,energy_J,0.1
{ID},,,mean_kJ_m2,4.1
{ID},,X,mean_kJ_m2,4.1
{ID},01,,mean_kJ_m2,4.1
{ID},,,energy_J,0.1
{ID},01,,energy_J,a lot
{ID},01,,energy_J,
2026-10-06-g2-pp-k,01,,energy_J,0.1
"""
    status, said, told = run(root, tmp_path, table)
    assert (status, said) == (2, "")
    for words in (
        "row 2: 'energy_j' is no quantity that is asked for; did you mean 'energy_J'?",
        "row 3: the record has no specimen '77'; known are 01",
        "row 4: the bars broke in more than one way, and no set is named; write one of them under breaks: CH and P",
        "row 5: the record has no set of bars that broke 'X'",
        "row 6: a bar has no mean_kJ_m2; leave the specimen empty",
        "row 7: energy_J is one of a bar, and no specimen is named",
        "row 8: 'a lot' is no number",
        "row 9: the row has no value",
        f"row 10: the handbook has no test record '2026-10-06-g2-pp-k'; did you mean '{ID}'?",
    ):
        assert words in told, words


MARKS = "kind: marks\npoints: {energy_J: 1, mean_kJ_m2: 4}\n"


def marked(root: Path, folder: Path, scheme: str, table: str, form: str) -> tuple[int, str, str]:
    (folder / "marks.yaml").write_text(scheme, encoding="utf-8")
    return run(root, folder, table, "--marks", str(folder / "marks.yaml"), "--format", form)


def test_points_by_the_scheme_half_for_a_known_slip(root: Path, bars: Bars, tmp_path: Path) -> None:
    table = rows(
        ("01", "", "energy_J", f"{bars.energy_J[0]:.4f}"), ("02", "", "energy_J", f"{bars.indicated_J[1]:.5f}"),
        ("03", "", "energy_J", "999"), ("03", "", "strength_kJ_m2", f"{bars.strength_kJ_m2[2]:.3f}"),
    )  # fmt: skip
    status, said, _ = marked(root, tmp_path, MARKS, table, "csv")
    found = list(csv.DictReader(io.StringIO(said)))
    assert status == 1
    assert [(each["verdict"], float(each["points"]), float(each["of"])) for each in found] == [
        ("agrees", 1.0, 1.0), ("slip", 0.5, 1.0), ("unknown", 0.0, 1.0), ("agrees", 0.0, 0.0),
    ]  # fmt: skip
    _, said, _ = marked(root, tmp_path, MARKS + "known_slip: 0\n", table, "text")
    assert said.startswith(f"{ID}: 2 of 4 answers agree; 1 of 3 points\n")


@pytest.mark.parametrize(
    ("tolerance", "off", "points"),
    [
        ("tolerance_digits: 1", 1, 4.0), ("tolerance_digits: 1", 2, 0.0), ("tolerance_pct: 0.5", 2, 4.0),
        ("tolerance_pct: 0.01", 2, 0.0),
    ],
)  # fmt: skip
def test_tolerances_in_digits_and_in_percent(
    root: Path, bars: Bars, tmp_path: Path, tolerance: str, off: int, points: float
) -> None:
    right = round(bars.sets[0].summary.mean, 3)
    table = rows(("", "CH", "mean_kJ_m2", f"{right + off * 0.001:.3f}"))
    _, said, _ = marked(root, tmp_path, f"{MARKS}known_slip: 0\n{tolerance}\n", table, "csv")
    (found,) = csv.DictReader(io.StringIO(said))
    assert float(found["points"]) == points


@pytest.mark.parametrize(
    ("scheme", "told"),
    [
        ("kind: marks\npoints: {strength: 1}\n", "marks.yaml:2:10: "),
        ("kind: marks\n", "marks.yaml:1:1: "),
        ("kind: marks\npoints: {energy_J: 1\n", "marks.yaml:2:"),
        ("kind: marks\npoints: {energy_J: 1}\nknown_slip: 2\n", "marks.yaml:3:13: 'known_slip' is 2; it must be"),
        ("- 1\n", "marks.yaml:1:1: "),
    ],
    ids=["key", "missing", "syntax", "range", "list"],
)
def test_a_scheme_that_is_wrong_is_refused_by_line_and_column(
    root: Path, tmp_path: Path, scheme: str, told: str
) -> None:
    status, said, error = marked(root, tmp_path, scheme, rows(("01", "", "energy_J", "0.1")), "text")
    assert (status, said) == (2, "")
    assert told in error


@pytest.mark.parametrize(
    ("table", "told"),
    [
        ("record,specimen\nx,1\n", "row 1: the table has no column quantity and value; write record,specimen,"),
        ("", "the file holds no cells"),
        (b"\xd0\xcf\x11\xe0 old", "old workbook"),
        ("record,quantity,value\n" + "x" * (1 << 20), "at most 1,048,576 are read"),
    ],
    ids=["heads", "empty", "old", "large"],
)
def test_a_file_that_is_no_table_of_answers(root: Path, tmp_path: Path, table: str | bytes, told: str) -> None:
    status, said, error = run(root, tmp_path, table)
    assert (status, said) == (2, "")
    assert told in error
