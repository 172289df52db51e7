"""Practice sets: plausible to every check but the one that refuses them, the same for the same seed, and their key."""

import csv
import io
import shutil
from pathlib import Path
from statistics import fmean, stdev

import pytest
from click.testing import CliRunner, Result

import small_handbook as small
from notchbook.cli import main
from notchbook.facts.facts import Facts
from notchbook.handbook import Handbook, open_handbook
from notchbook.practice.drawing import readings
from notchbook.practice.files import key_rows, record_id, table_of
from notchbook.practice.plan import NotPlannedError, plan_of

DEMO = Path(__file__).resolve().parents[2]
EXERCISES = ("cold-bars", "notch-sensitivity", "notched-charpy", "notched-izod", "unnotched-charpy")


@pytest.fixture(scope="module")
def demo() -> Handbook:
    return open_handbook(DEMO, day=small.DAY)


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    """A copy of the demo to practise in."""
    root = tmp_path / "copy"
    for name in ("procedures", "results"):
        shutil.copytree(DEMO / name, root / name)
    shutil.copy(DEMO / "mkdocs.yml", root)
    return root


def run(*arguments: object) -> Result:
    done = CliRunner().invoke(main, [str(each) for each in arguments], env={"SOURCE_DATE_EPOCH": "1795000000"})
    assert done.exception is None or isinstance(done.exception, SystemExit)
    return done


def test_the_same_seed_gives_the_same_files(demo: Handbook) -> None:
    plan = plan_of(Facts(demo), "notched-charpy", None, None)
    one, again, other = (table_of(readings(plan, 1, seed, None)) for seed in (7, 7, 8))
    assert one == again
    assert one != other
    assert table_of(readings(plan, 2, 7, None)) != one


@pytest.mark.parametrize("exercise", EXERCISES)
def test_the_check_finds_a_set_plausible_and_refuses_it(exercise: str, copied: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert run("practice", exercise, "--groups", 3, "--seed", 179, "--out", out, "--root", copied).exit_code == 0
    for table in sorted(out.glob("practice-*.csv")):
        done = run("record", "import", table, "--root", copied)
        assert done.exit_code == 1
        told = [line for line in done.stdout.splitlines() if "error" in line]
        assert len(told) == 1
        assert told[0].endswith("[practice-set]")
        assert "practice, invented" in told[0]
    agreed = run("answers", out / "key.csv", "--root", copied)
    assert agreed.exit_code == 0, agreed.stdout
    assert "agree" in agreed.stderr


def test_sets_scatter_as_the_material_does(demo: Handbook) -> None:
    """Over 200 groups of ten bars: mean within 1 %, spread within 5 % of the plan's, beside what a division rounds."""
    plan = plan_of(Facts(demo), "notched-charpy", "pp-h", None)
    means, spreads = [], []
    for group in range(1, 201):
        for row in key_rows(demo.evaluation, plan, readings(plan, group, 5, None)):
            if row["quantity"] == "mean_kJ_m2":
                means.append(float(row["value"]))
            if row["quantity"] == "standard_deviation_kJ_m2":
                spreads.append(float(row["value"]))
    assert fmean(means) == pytest.approx(plan.mean_kJ_m2, rel=0.01)
    assert fmean(each**2 for each in spreads) ** 0.5 == pytest.approx(plan.variation * plan.mean_kJ_m2, rel=0.05)
    assert 0.01 < stdev(means) / plan.mean_kJ_m2 < 0.05


@pytest.mark.parametrize(("trap", "rule"), [("dimension", "specimen-width"), ("hammer", "energy-window")])
def test_a_trap_is_what_the_check_says_it_is(trap: str, rule: str, copied: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    arguments = ("notched-charpy", "--groups", 1, "--seed", 4, "--trap", trap, "--out", out, "--root", copied)
    assert run("practice", *arguments).exit_code == 0
    said = run("record", "import", out / "practice-g1.csv", "--root", copied).stdout
    assert f"[{rule}]" in said


def test_every_row_says_that_it_is_invented(demo: Handbook) -> None:
    data = readings(plan_of(Facts(demo), "notched-izod", None, None), 1, 1, None)
    rows = list(csv.DictReader(io.StringIO(table_of(data))))
    assert {each["batch"] for each in rows} == {each["record_notes"] for each in rows} == {"practice, invented"}
    assert record_id(data).endswith("-notched-izod")


@pytest.mark.parametrize(
    ("exercise", "material", "told"),
    [
        ("notched-charpi", None, "did you mean 'notched-charpy'?"),
        ("pendulum-losses", None, "breaks no bars"),
        ("notched-charpy", "pp-x", "no material 'pp-x'"),
    ],
)
def test_what_the_handbook_has_not_is_told(demo: Handbook, exercise: str, material: str | None, told: str) -> None:
    with pytest.raises(NotPlannedError) as refused:
        plan_of(Facts(demo), exercise, material, None)
    assert told in f"{refused.value}; {refused.value.hint}"


def test_without_a_verified_hammer_nothing_is_made(tmp_path: Path) -> None:
    contents = small.files()
    del contents[small.VERIFICATION]
    root = small.write(tmp_path / "handbook", contents)
    done = run("practice", "notched-charpy", "--groups", 1, "--seed", 1, "--out", tmp_path / "out", "--root", root)
    assert done.exit_code == 2
    assert not (tmp_path / "out").exists()


def test_files_that_are_there_are_kept(copied: Path, tmp_path: Path) -> None:
    (tmp_path / "key.csv").write_text("mine")
    done = run("practice", "notched-charpy", "--groups", 1, "--seed", 1, "--out", tmp_path, "--root", copied)
    assert done.exit_code == 2
    assert "is there already" in done.stderr
    assert (tmp_path / "key.csv").read_text() == "mine"
    assert not list(tmp_path.glob("practice-*"))
