"""A department that has nothing to do with the demo: from the command to the end of a term, on either kind of scale.

Its pendulum has a short arm, a gap that is not the standard's, a mass marked in joules, and serves both methods; its
materials, figures and readings are invented here. Both sites are built strict.
"""

import math
import random
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from click.testing import CliRunner
from site_building import built

from notchbook.cli import main
from notchbook.handbook import Handbook, open_handbook
from notchbook.physics.pendulum import rise_from_energy_deg

END_OF_TERM = "1798675200"
"""31 December 2026."""
MOMENT_Nm, RELEASE_deg = 0.5371, 150.0
# the mass is marked 1 J
MOMENTS_Nm = {"pendulum-1": MOMENT_Nm, "charpy-2": MOMENT_Nm + 1.0 / (1.0 - math.cos(math.radians(RELEASE_deg)))}
LOST_FIRST_J, LOST_SECOND_J = 0.011, 0.009
MOST_WRITTEN = 120
RIG = "procedures/rigs/bench-1.yaml"
OPTIONS = (
    "--name", "Tarnfield polymer workshop", "--length-mm", "230", "--gap-mm", "60", "--pendulum", "1,2",
    "--method", "iso-179-1", "--method", "iso-180", "--material", "PA6", "--material", "ASA",
    "--notice", "Invented data: the workshop, its people and its readings were made up for a test.",
)  # fmt: skip
FILLED = {
    RIG: {
        "location": "location: Ground floor, room 4",
        "# to fill in: gravity": "gravity_m_s2: 9.8123",
        "  pointer:": "  pointer: drag",
        "clamp:": "clamp: {strike_height_mm: 22.0}",
        "# to fill in: mass of the frame": "frame_mass_kg: 44",
        "    release_angle_deg": f"    release_angle_deg: {RELEASE_deg}",
        "    moment_Nm": f"    moment_Nm: {MOMENT_Nm}",
        "      iso-179-1": "      iso-179-1: {striking_edge: {radius_mm: 1.9, angle_deg: 30}}",
        "      iso-180": "      iso-180: {striking_edge: {radius_mm: 0.9}}",
    },
    "procedures/materials/pa6.yaml": {"title": "title: Polyamide 6, dry as moulded", "# to fill in": ""},
    "procedures/materials/asa.yaml": {"title": "title: Acrylonitrile styrene acrylate", "# to fill in": ""},
}
"""By file, lines by how they begin, and what stands there when they are filled in."""
REASONS = {
    "support-span": "The supports are cast for a gap of 60 mm.",
    "impact-velocity": "The arm is too short for 3.5 m/s.",
}


@dataclass(frozen=True)
class Group:
    """What a group brought from the bench."""

    day: str
    group: str
    exercise: str
    material: str
    hammer: str
    energy_J: float
    """What its bars took in the mean."""

    def bars(self) -> Iterator[tuple[float, float, float, float]]:
        """Width, thickness, remaining width in mm and energy in J of each bar, the same each time."""
        chance = random.Random(f"{self.day} {self.group}")  # noqa: S311
        for _ in range(10):
            sizes = (chance.gauss(10.0, 0.03), chance.gauss(4.0, 0.02), chance.gauss(8.0, 0.04))
            yield (*(round(each, 2) for each in sizes), chance.gauss(self.energy_J, 0.04 * self.energy_J))  # type: ignore[misc]


GROUPS = (
    Group("2026-10-12", "G1", "notched-charpy", "PA6", "pendulum-1", 0.1705),
    Group("2026-10-19", "G2", "notched-charpy", "ASA", "charpy-2", 0.3106),
    Group("2026-11-09", "G1", "notched-izod", "PA6", "pendulum-1", 0.1844),
    Group("2026-12-07", "G3", "notched-charpy", "PA6", "pendulum-1", 0.1688),
)


@dataclass(frozen=True)
class Scale:
    """The dial of a rig."""

    reads: str
    division: float
    key: str

    def shows(self, hammer: str, lost_J: float) -> str:
        """What it shows after a swing of a hammer that lost an energy, to its division."""
        moment_Nm = MOMENTS_Nm[hammer]
        shown = lost_J if self.reads == "energy" else float(rise_from_energy_deg(moment_Nm, RELEASE_deg, lost_J))
        decimals = max(0, -math.floor(math.log10(self.division)))
        return f"{round(shown / self.division) * self.division:.{decimals}f}"


SCALES = {"energy": Scale("energy", 0.002, "indicated_energy_J"), "angle": Scale("angle", 0.2, "rise_deg")}


def _loss_J(hammer: str, energy_J: float) -> float:
    """Loss of a swing that broke a bar, about: 1/2 [W_AB + (beta/alpha) (W_AB + 2 W_P)] (ISO 13802:1999, 5.6)."""
    rise_deg = float(rise_from_energy_deg(MOMENTS_Nm[hammer], RELEASE_deg, energy_J))
    pointer_J = LOST_FIRST_J - LOST_SECOND_J
    return 0.5 * (LOST_SECOND_J + rise_deg / RELEASE_deg * (LOST_SECOND_J + 2.0 * pointer_J))


class Department:
    """Its handbook, and how much of it somebody wrote."""

    def __init__(self, folder: Path, scale: Scale) -> None:
        self.folder, self.scale, self.written = folder, scale, 0
        self.run("new", str(folder), "--yes", "--scale", scale.reads, "--division", str(scale.division), *OPTIONS)

    def run(self, *arguments: str) -> str:
        """What a command prints; it ends with 0."""
        done = CliRunner().invoke(main, arguments)
        assert done.exit_code == 0, done.output
        return done.output

    def fill_in(self) -> None:
        """Everything that only the department knows."""
        for path, lines in FILLED.items():
            text = (self.folder / path).read_text("utf-8")
            for begins, line in lines.items():
                stands = f"{line}\n" if line else ""
                text, count = re.subn(rf"^{re.escape(begins)}.*\n", stands, text, flags=re.MULTILINE)
                assert count == 1, f"{path}: {begins}"
                self.written += bool(line)
            (self.folder / path).write_text(text, "utf-8")
        for path in (self.folder / "procedures").rglob("*.yaml"):
            text = re.sub(r"^# to fill in: read this.*\n", "", path.read_text("utf-8"), flags=re.MULTILINE)
            for rule, reason in REASONS.items():
                text, count = re.subn(rf'(rule: {rule}, reason: )"to fill in:[^"]*"', rf"\1{reason}", text)
                self.written += count
            path.write_text(text, "utf-8")

    def write(self, path: str, text: str, *, readings: int = 0) -> None:
        """A new file of theirs, of which so many lines are readings."""
        target = self.folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, "utf-8")
        self.written += len(text.splitlines()) - readings

    def verify(self) -> None:
        """The first verification: the weighed pendulum and its free swings."""
        for hammer in MOMENTS_Nm:
            first, second = (self.scale.shows(hammer, each) for each in (LOST_FIRST_J, LOST_SECOND_J))
            blank = self.folder / f"results/verifications/blank-bench-1-{hammer}.yaml"
            blank.unlink(missing_ok=True)
            self.write(
                f"results/verifications/2026-10-01-bench-1-{hammer}.yaml",
                f"kind: verification\ndate: 2026-10-01\nrig: bench-1\nhammer: {hammer}\nchecked_by: LT-1\n"
                "valid_until: 2027-09-30\n"
                f"free_swings: {{first_{self.scale.key}: {first}, second_{self.scale.key}: {second}}}\n",
                readings=1,
            )

    def break_bars(self, group: Group) -> None:
        """A table as a spreadsheet exports it, imported."""
        head = "rise_angle_deg" if self.scale.reads == "angle" else "indicated_energy_J"
        rows = [
            f"{number:02},{width:.2f},{thickness:.2f},{remaining:.2f},"
            f"{self.scale.shows(group.hammer, energy + _loss_J(group.hammer, energy))},C"
            for number, (width, thickness, remaining, energy) in enumerate(group.bars(), start=1)
        ]
        table = self.folder.parent / f"{group.day}-{group.group}.csv"
        heads = f"id,width_mm,thickness_mm,remaining_width_mm,{head},break"
        table.write_text("\n".join([heads, *rows]) + "\n", "utf-8")
        self.run(
            "record", "import", str(table), "--root", str(self.folder), "--date", group.day, "--group", group.group,
            "--exercise", group.exercise, "--rig", "bench-1", "--hammer", group.hammer, "--material", group.material,
            "--conditioning-temperature", "23.0", "--conditioning-humidity", "50", "--conditioning-hours", "88",
            "--atmosphere-temperature", "23.0", "--atmosphere-humidity", "50",
        )  # fmt: skip

    def swing_freely(self) -> None:
        """What a group found of the losses."""
        first, second = (self.scale.shows("pendulum-1", each) for each in (LOST_FIRST_J, LOST_SECOND_J))
        self.write(
            "results/swings/2026-10-05-g1-bench-1-pendulum-1.yaml",
            "kind: swings\ndate: 2026-10-05\ngroup: G1\nexercise: pendulum-losses\nrig: bench-1\nhammer: pendulum-1\n"
            f"free_swings: {{first_{self.scale.key}: {first}, second_{self.scale.key}: {second}}}\n",
            readings=1,
        )

    def opened(self) -> Handbook:
        """What the check sees."""
        return open_handbook(self.folder)


@pytest.fixture(scope="module", params=["energy", pytest.param("angle", marks=pytest.mark.repeats)])
def department(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Department:
    """At the end of its first term; its site of the first day stands in `first-day`."""
    made = Department(tmp_path_factory.mktemp(request.param) / "handbook", SCALES[request.param])
    site = built(made.folder, "--strict")
    site.rename(made.folder.parent / "first-day")
    made.fill_in()
    made.verify()
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SOURCE_DATE_EPOCH", END_OF_TERM)
        made.swing_freely()
        for group in GROUPS:
            made.break_bars(group)
        built(made.folder, "--strict", SOURCE_DATE_EPOCH=END_OF_TERM)
    return made


def test_the_first_class_finds_its_exercises_with_worksheets(department: Department) -> None:
    for exercise in ("notched-charpy", "notched-izod"):
        page = (department.folder.parent / f"first-day/exercises/{exercise}.html").read_text("utf-8")
        assert "nb-worksheet" in page
        assert "not verified" in page


def test_so_little_had_to_be_written(department: Department) -> None:
    assert 20 < department.written <= MOST_WRITTEN


def test_every_group_has_its_result(department: Department, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", END_OF_TERM)
    handbook = department.opened()
    assert len(handbook.evaluation.records) == len(GROUPS)
    for group in GROUPS:
        named = f"{group.day}-{group.group.lower()}"
        (result,) = [each for name, each in handbook.evaluation.records.items() if name.startswith(named)]
        (found,) = result.sets
        # what was put into the bars, within what a division and the loss are worth
        expected = [1000.0 * energy / (thickness * remaining) for _, thickness, remaining, energy in group.bars()]
        assert found.summary.mean == pytest.approx(sum(expected) / 10, rel=0.01)


def test_every_exercise_has_results(department: Department) -> None:
    done = {each.exercise for each in department.opened().library.records.values()}
    written = {path.stem for path in (department.folder / "procedures/exercises").iterdir()}
    assert written - done == {"pendulum-losses"}
    page = department.folder / "site/swings/2026-10-05-g1-bench-1-pendulum-1.html"
    assert "Losses" in page.read_text("utf-8")


def test_one_pendulum_stands_once(department: Department) -> None:
    rig = (department.folder / RIG).read_text("utf-8")
    assert rig.count("moment_Nm:") == rig.count("release_angle_deg:") == 1
    assert "marked_J: 1" in rig


def test_the_site_shows_what_departs_and_what_is_nominal(department: Department) -> None:
    material = (department.folder / "site/materials/pa6.html").read_text("utf-8")
    assert "60 mm" in (department.folder / "site/rigs/bench-1.html").read_text("utf-8")
    assert "nominal" in (department.folder / "site/rigs/bench-1.html").read_text("utf-8").lower()
    # two groups depart in the same, the one in the clamp has no counterpart
    assert "departs: support-span)" in material
    assert "departs: impact-velocity" not in material
    exercise = (department.folder / "site/exercises/notched-charpy.html").read_text("utf-8")
    assert "own results of 20 bars; all depart from the method (support-span)" in exercise
