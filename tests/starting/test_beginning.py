"""What a handbook begins with: whatever is wished for, the check finds nothing that stops a strict build."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notchbook.facts.facts import Facts
from notchbook.findings import Severity
from notchbook.handbook import Handbook, open_handbook
from notchbook.pages.exercise.worksheet import worksheet
from notchbook.reading.schemas import KINDS
from notchbook.starting.beginning import BeginningError, beginning, known_methods, write
from notchbook.starting.files import RIG
from notchbook.starting.wishes import Wishes, material_id

WISHES = {
    "nothing": Wishes(),
    "energy": Wishes(scale="energy", divisions=(0.01,)),
    "clamp": Wishes(methods=("iso-180",)),
    "four materials": Wishes(materials=("PA66", "PP-B", "ABS/PC", "PE-HD")),
    "two pendulums": Wishes(pendulums_J=((1.0,), (4.0,))),
    "one pendulum for both": Wishes(methods=("iso-179-1", "iso-180"), pendulums_J=((1.0, 2.0),), length_mm=395.0),
    "rings": Wishes(scale="energy", divisions=(0.01, 0.02), pendulums_J=((1.0, 2.0),)),
}


def opened(wishes: Wishes, folder: Path) -> Handbook:
    write(folder, beginning(wishes))
    return open_handbook(folder)


@pytest.mark.parametrize("name", WISHES)
def test_a_handbook_begins_without_errors_or_warnings_and_says_what_is_to_fill_in(name: str, tmp_path: Path) -> None:
    wishes = WISHES[name]
    handbook = opened(wishes, tmp_path)
    assert {each.severity for each in handbook.findings} == {Severity.NOTE}
    assert {each.rule for each in handbook.findings} == {"to-fill-in"}
    blank = [each.path for each in handbook.findings if each.path.startswith("results/")]
    assert len(blank) == len(wishes.pendulums_J or (1,))
    assert set(handbook.library.materials) == {material_id(each) for each in wishes.materials}
    # one exercise a method and the losses
    assert len(handbook.library.exercises) == len(wishes.methods) + 1


@pytest.mark.parametrize("name", WISHES)
def test_the_first_class_has_a_worksheet(name: str, tmp_path: Path) -> None:
    facts = Facts(opened(WISHES[name], tmp_path))
    for exercise in facts.exercises.values():
        sheet = worksheet(facts, exercise)
        assert sheet is not None
        assert sheet.kind == ("swings" if exercise.exercise.specimen is None else "test")


def test_energies_and_velocities_are_those_of_the_method(tmp_path: Path) -> None:
    handbook = opened(Wishes(pendulums_J=((4.0,),), length_mm=390.0), tmp_path)
    (hammer,) = handbook.evaluation.hammers.values()
    # ISO 13802:1999, Table 2 (memory): 4 J at 2.9 m/s; the angle is written to a tenth of a degree
    assert hammer.potential_energy_J == pytest.approx(4.0, rel=1e-4)
    assert hammer.velocity_m_s == pytest.approx(2.9, rel=2e-3)


def test_a_mass_adds_what_it_is_marked_with_and_each_energy_has_its_ring(tmp_path: Path) -> None:
    handbook = opened(WISHES["rings"], tmp_path)
    bare, loaded = handbook.evaluation.hammers.values()
    assert (bare.potential_energy_J, loaded.potential_energy_J) == pytest.approx((1.0, 2.0), rel=1e-4)
    rig = (tmp_path / f"procedures/rigs/{RIG}.yaml").read_text("utf-8")
    assert rig.count("division_J: 0.02") == 1


@pytest.mark.parametrize(("wishes", "departs"), [
    (Wishes(gap_mm=60.0), {"support-span"}),
    (Wishes(length_mm=230.0, methods=("iso-180",)), {"impact-velocity"}),
    (Wishes(pendulums_J=((3.0,),)), {"hammer-energy"}),
])  # fmt: skip
def test_what_departs_is_accepted_with_a_reason_to_fill_in(wishes: Wishes, departs: set[str], tmp_path: Path) -> None:
    handbook = opened(wishes, tmp_path)
    assert {each.severity for each in handbook.findings} == {Severity.NOTE}
    for exercise in handbook.library.exercises.values():
        assert {each.rule for each in exercise.accepted_deviations} == departs
        assert all("to fill in:" in each.reason for each in exercise.accepted_deviations)


def test_an_editor_finds_every_schema_and_the_pipelines_are_those_of_the_guide() -> None:
    made = beginning(Wishes())
    assert {path for path in made if path.startswith("schema/")} == {f"schema/{each}.schema.json" for each in KINDS}
    assert all(f"./schema/{each}.schema.json" in made[".vscode/settings.json"] for each in KINDS)
    assert "notchbook check" in made[".github/workflows/handbook.yml"]
    assert "notchbook check" in made[".gitlab-ci.yml"]


@pytest.mark.parametrize(
    ("wishes", "words"),
    [
        (Wishes(name=" "), "name is empty"),
        (Wishes(notice="two\nlines"), "one line"),
        (Wishes(methods=("iso-999",)), "no method 'iso-999'"),
        (Wishes(length_mm=0.0), "length"),
        (Wishes(length_mm=float("nan")), "length"),
        (Wishes(gap_mm=-1.0), "gap"),
        (Wishes(divisions=(181.0,)), "division"),
        (Wishes(pendulums_J=((2.0, 1.0),)), "do not rise"),
        (Wishes(divisions=(0.1, 0.2), pendulums_J=((1.0,),)), "2 rings"),
        (Wishes(materials=("PP", "pp")), "named 2 times"),
        (Wishes(materials=("+",)), "symbol"),
    ],
)
def test_what_cannot_be_is_refused_in_words(wishes: Wishes, words: str) -> None:
    with pytest.raises(BeginningError, match=words):
        beginning(wishes)


@given(st.text(st.characters(codec="utf-8", categories=["L", "N", "P", "S", "Zs"]), min_size=1, max_size=30))
def test_any_words_stay_words(words: str) -> None:
    wishes = Wishes(name=words, notice=words, materials=(f"PP{words}",))
    if list(wishes.troubles(known_methods())):
        return
    made = beginning(wishes)
    assert f"procedures/rigs/{RIG}.yaml" in made


def test_a_file_that_cannot_be_written_leaves_nothing_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made = beginning(Wishes())
    written = Path.write_text

    def full(path: Path, text: str, **more: str) -> int:
        if path.name == "requirements.txt":
            raise OSError(28, "No space left on device", str(path))
        return written(path, text, **more)

    monkeypatch.setattr(Path, "write_text", full)
    (tmp_path / ".git").mkdir()
    for folder in (tmp_path, tmp_path / "below/lab"):
        with pytest.raises(OSError, match="No space"):
            write(folder, made)
    assert [each.name for each in tmp_path.iterdir()] == [".git"]
