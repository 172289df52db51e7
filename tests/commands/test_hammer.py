"""`notchbook hammer`: what it prints, against the engine and the page of the exercise, and how it refuses."""

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner
from test_command_line import HOSTILE

import small_handbook as small
from notchbook.cli import main
from notchbook.evaluation.records import evaluate_record
from notchbook.evaluation.scale import nominal_section
from notchbook.facts.facts import Facts
from notchbook.handbook import open_handbook

DEMO = Path(__file__).resolve().parents[2]
DAY = dt.date(2026, 11, 2)
PRINTED = """\
PP-H on Bench pendulum 1

Let staff fit the hammer, and try a spare bar first. The local risk assessment and the responsible person come
before this table.

Notched bars on two supports (Charpy) (notched-charpy), ISO 179-1/1eA
Expected: 0.11 to 0.15 J, own results of 90 bars
    hammer      energy, J  bars take, %  in 10 to 80 %  rise, °         0.2° is, kJ/m²
    charpy-0.5  0.5005     22.4 to 30.3  all bars       105.9 to 114.9  0.027 to 0.028
  * charpy-1    1.000      11.2 to 15.2  all bars       124.5 to 129.8  0.045 to 0.048
    charpy-2    1.999      5.6 to 7.6    no bar         135.6 to 138.7  0.077 to 0.082
    charpy-4    4.001      2.8 to 3.8    no bar         142.1 to 143.9  0.14
    charpy-5    5.001      2.2 to 3.0    no bar         143.5 to 145.0  0.17
Take charpy-1: the largest that keeps every bar between 10 and 80 % of its energy
"""


@pytest.fixture(autouse=True)
def _day(monkeypatch: pytest.MonkeyPatch) -> None:
    """The verifications of the demo are in force on the day of the test."""
    noon = dt.datetime.combine(DAY, dt.time(12), tzinfo=dt.UTC)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", str(int(noon.timestamp())))


def run(*arguments: object) -> tuple[int, str, str]:
    result = CliRunner().invoke(main, ["hammer", *map(str, arguments)])
    return result.exit_code, result.stdout, result.stderr


def written(tmp_path: Path, contents: dict[str, small.Data]) -> Path:
    return small.write(tmp_path / "handbook", contents)


def test_demo() -> None:
    assert run("bench-1", "pp-h", "--root", DEMO, "--exercise", "notched-charpy") == (0, PRINTED, "")


def test_all_exercises_that_the_rig_has_hammers_for() -> None:
    status, said, _ = run("bench-2", "pc", "--root", DEMO)
    assert status == 0
    heads = [line for line in said.splitlines() if line.endswith(("A", "B", "U"))]
    assert [each.rpartition("(")[2].split(")")[0] for each in heads] == [
        "notch-sensitivity", "notched-charpy", "notched-izod", "unnotched-charpy"
    ]  # fmt: skip
    assert said.count("\nTake ") == 4
    assert "Expected: none of 10 own bars broke: begin with a spare bar, with the responsible person" in said


def test_on_an_energy_dial_it_speaks_in_its_readings() -> None:
    """What the dial will show, in place of angles."""
    _, said, _ = run("bench-2", "pc", "--root", DEMO, "--exercise", "notch-sensitivity")
    assert "on the dial, J" in said
    assert "rise, °" not in said


def test_outlooks_are_what_the_engine_makes_of_the_readings() -> None:
    """A bar that rises so far has taken the expected energy, and two that differ by a division its worth."""
    handbook = open_handbook(DEMO, day=DAY)
    exercise = handbook.library.exercises["notched-charpy"]
    method = handbook.library.methods[exercise.method]
    assert exercise.specimen is not None
    section = nominal_section(method, exercise.specimen)
    assert section is not None
    facts = Facts(handbook).exercises["notched-charpy"]
    (row,) = [each for each in facts.material_rows if each.material.id == "pp-h"]
    assert row.expected is not None
    record = handbook.library.records["2026-10-05-g1-pp-h-notched"]
    for line in facts.hammers_of("bench-1"):
        outlook = facts.outlook(line, row.expected)
        assert outlook is not None
        ends = zip(
            (row.expected.low_J, row.expected.high_J), outlook.rise_deg, outlook.division_kJ_m2,
            outlook.share_pct, strict=True,
        )  # fmt: skip
        for energy, rise, worth, share in ends:
            assert rise is not None
            bars = tuple(
                replace(record.specimens[0], id=str(place), rise_angle_deg=rise + off,
                               thickness_mm=section.thickness_mm, remaining_width_mm=section.width_mm)
                for place, off in enumerate((0.0, -0.1, 0.1))
            )  # fmt: skip
            changed = replace(record, specimens=bars)
            found = evaluate_record(changed, line.hammer, method, line.losses, None).specimens
            # tolerance: the rise is settled to 1e-9 degrees
            assert found[0].energy_J == pytest.approx(energy, rel=1e-9)
            assert found[1].strength_kJ_m2 is not None
            assert found[2].strength_kJ_m2 is not None
            assert worth == pytest.approx(found[1].strength_kJ_m2 - found[2].strength_kJ_m2, abs=1e-12)
            assert share == pytest.approx(100.0 * energy / line.hammer.potential_energy_J, rel=1e-12)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["bench-11", "pp-h"], "there is no rig 'bench-11'; did you mean 'bench-1'?"),
        (["bench-1", "pph"], "there is no material 'pph'; did you mean 'pp-h'?"),
        (
            ["bench-1", "pp-h", "--exercise", "notched-charpi"],
            "there is no exercise 'notched-charpi'; did you mean 'notched-charpy'?",
        ),
        (["wood", "pp-h"], "there is no rig 'wood'; known are bench-1, bench-2"),
        (
            ["bench-1", "pp-h", "--exercise", "pendulum-losses"],
            "exercise 'pendulum-losses' breaks no bars or rig 'bench-1' has no hammer of its method",
        ),
        (
            ["bench-1", "pp-h", "--exercise", "notched-izod"],
            "exercise 'notched-izod' breaks no bars or rig 'bench-1' has no hammer of its method",
        ),
    ],
)
def test_what_is_not_there_is_one_line_and_exit_status_2(arguments: list[str], said: str) -> None:
    assert run(*arguments, "--root", DEMO) == (2, "", f"Error: {said}\n")


def test_a_hostile_name_steers_no_terminal() -> None:
    status, said, error = run(HOSTILE, "pp-h", "--root", DEMO)
    assert (status, said) == (2, "")
    assert error.count("\n") == 1
    assert error.removesuffix("\n").isprintable()


def test_titles_of_the_handbook_steer_no_terminal_and_command_no_runner(tmp_path: Path) -> None:
    contents = small.files()
    contents[small.MATERIAL]["symbol"] = "::error::x\x1b[31m"
    contents[small.RIG]["title"] = "##[group]x\u202e"
    contents[small.EXERCISE]["title"] = "\n::error::x"
    _, said, _ = run("bench-1", "pp-h", "--root", written(tmp_path, contents))
    lines = said.split("\n")
    assert lines[0] == "\\x3a:error::x\\x1b[31m on \\x23#[group]x\\u202e"
    assert "\\n::error::x (notched-charpy), ISO 179-1/1eA" in lines
    assert all(line.isprintable() and not line.startswith("::") and "##[" not in line for line in lines)


def test_nothing_known_takes_the_largest_and_a_spare_bar(tmp_path: Path) -> None:
    contents = small.files()
    del contents[small.TEST], contents[small.VERIFICATION]
    (tmp_path / "handbook/results").mkdir(parents=True)
    status, said, _ = run("bench-1", "pp-h", "--root", written(tmp_path, contents))
    assert status == 0
    *_, taken, verified = said.splitlines()
    assert taken.startswith("Take charpy-2: the largest, because it is not known what the bars take: begin with a")
    assert verified == "charpy-2: not verified: staff verify this hammer before it is used"


def test_bars_that_no_hammer_can_break_take_none(tmp_path: Path) -> None:
    contents = small.files()
    contents[small.MATERIAL]["typical"] = [
        {"method": "iso-179-1", "notch": "A", "strength_kJ_m2": [100, 120], "source": "invented"}
    ]
    del contents[small.TEST]
    _, said, _ = run("bench-1", "pp-h", "--root", written(tmp_path, contents))
    # 100 and 120 kJ/m2 over 4 mm x 8 mm are 3.2 and 3.84 J
    assert "\nExpected: 3.2 to 3.8 J, typical range in the file of the material; no pass mark\n" in said
    assert said.count("no bar") == 2
    assert "*" not in said
    assert said.splitlines()[-1].startswith("Take none: none is large enough to keep any bar between 10 and 80 % of")


@pytest.mark.parametrize("valid_until", [None, "2026-10-30"])
def test_a_hammer_that_is_not_in_force_is_not_offered_before_one_that_is(
    valid_until: str | None, tmp_path: Path
) -> None:
    contents = small.files()
    # 20 and 40 kJ/m2 over 4 mm x 8 mm are 0.64 and 1.28 J: within 0.2 to 1.6 J, not within 0.1 to 0.8 J
    contents[small.MATERIAL]["typical"] = [
        {"method": "iso-179-1", "notch": "A", "strength_kJ_m2": [20, 40], "source": "invented"}
    ]
    del contents[small.TEST]
    if valid_until is not None:
        other = contents[small.VERIFICATION] | {"hammer": "charpy-2", "valid_until": valid_until}
        contents["results/verifications/2026-09-14-bench-1-charpy-2.yaml"] = other
    _, said, _ = run("bench-1", "pp-h", "--root", written(tmp_path, contents))
    *_, taken, better = said.splitlines()
    assert taken.startswith("Take charpy-1: none keeps every bar")
    state = "verification ended 30 October 2026" if valid_until else "not verified"
    assert better == f"charpy-2 would suit better; {state}: staff verify this hammer before it is used"


def test_errors_of_the_handbook_end_it_with_1_and_all_is_printed(tmp_path: Path) -> None:
    contents = small.files()
    contents[small.TEST]["specimens"][0]["width_mm"] = 1.0
    status, said, error = run("bench-1", "pp-h", "--root", written(tmp_path, contents))
    assert status == 1
    assert "\nTake charpy-1: " in said
    assert error.endswith("run `notchbook check`\n")
