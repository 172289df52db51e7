"""What is wrong with the data stops the command and the build at the same place, before anything is written."""

import re
from dataclasses import dataclass
from pathlib import Path

import pytest
from site_building import build, contents, copy_demo, run

import small_handbook as small
from repeating import repeated

FINDING = re.compile(r"(?P<path>\S+):(?P<line>\d+):(?P<column>\d+): (?P<severity>error|warning|note): (?P<message>.+)")
RECORD = "results/tests/2026-10-07-g2-pp-h-notched.yaml"
DEVIATING = "results/tests/2026-10-14-g4-pp-h-notched.yaml"


@dataclass(frozen=True)
class Fault:
    """A change of one value in a file of the demo; a bar in the text stands where the fault must show."""

    path: str
    old: str
    new: str
    shows_in: tuple[str, str] | None = None
    """Another file, and the place in it, where the fault shows instead."""


FAULTS = {
    "moment": Fault("procedures/rigs/bench-1.yaml", "moment_Nm: 1.0712", "moment_Nm: |1.1712"),
    "free-swing": Fault(
        "results/verifications/2026-09-08-bench-1-charpy-1.yaml", "second_rise_deg: 14", "second_rise_deg: |154.1 #"
    ),
    "width": Fault(RECORD, 'id: "01", width_mm: 9.99', 'id: "01", width_mm: |99.9'),
    "rise-angle": Fault(RECORD, "rise_angle_deg: 129.8", "rise_angle_deg: |159.8"),
    "typical-range": Fault("procedures/materials/pc.yaml", "[60, 80]", "|[90, 80]"),
    "notch": Fault("procedures/exercises/notched-izod.yaml", "notch: A", "notch: |D"),
    "hazard": Fault(
        "procedures/hazards.yaml", "id: sharp-edges", "id: sharp-edge",
        ("procedures/exercises/notched-izod.yaml", "flying-fragments, |sharp-edges"),
    ),
    "no-such-day": Fault(RECORD, "date: 2026-10-07", "date: |2026-13-07"),
    "future": Fault(RECORD, "date: 2026-10-07", "date: |2027-03-07"),
    "conditioning": Fault(RECORD, "hours: 24", "hours: |2.4"),
    "reported": Fault(RECORD, "mean_kJ_m2: 3.9", "mean_kJ_m2: |9.3"),
    "unknown-key": Fault(RECORD, "batch:", "|bach:"),
    "key-twice": Fault("procedures/materials/pc.yaml", "notes: Tough", "|title: PC\nnotes: Tough"),
    "setting": Fault("mkdocs.yml", "deviations: label", "deviations: |hide"),
}  # fmt: skip


def _place(text: str, marked: str) -> tuple[int, int]:
    """Line and column of the bar in a text that stands once in the file's text."""
    plain = marked.replace("|", "")
    assert text.count(plain) == 1, f"{plain!r} stands there {text.count(plain)} times"
    start = text.index(plain) + marked.index("|")
    return text.count("\n", 0, start) + 1, start - text.rfind("\n", 0, start)


def _plant(root: Path, fault: Fault) -> tuple[str, int, int]:
    """Change the file; the file, line and column where the fault must show."""
    path = root / fault.path
    before = path.read_text(encoding="utf-8")
    assert before.count(fault.old) == 1, f"{fault.path} holds {fault.old!r} {before.count(fault.old)} times"
    path.write_text(before.replace(fault.old, fault.new.replace("|", "")), encoding="utf-8")
    name, marked = fault.shows_in or (fault.path, fault.new)
    return name, *_place((root / name).read_text(encoding="utf-8"), marked)


def _earlier_site(root: Path) -> dict[str, tuple[bytes, int]]:
    files = {"index.html": "earlier", "assets/notchbook.css": "", "data/results.json": "{}"}
    small.write(root / "site", {**files, "records/gone.html": b"\x00\xff"})
    return _stamped(root)


def _stamped(root: Path) -> dict[str, tuple[bytes, int]]:
    folder = root / "site"
    return {name: (data, (folder / name).stat().st_mtime_ns) for name, data in contents(folder).items()}


def _errors(output: str) -> list[str]:
    return [found[0] for found in FINDING.finditer(output) if found["severity"] == "error"]


@pytest.mark.parametrize("name", repeated(FAULTS, but=[*FAULTS][:3]))
def test_fault_stops_command_and_build_at_the_same_place(name: str, tmp_path: Path) -> None:
    root = copy_demo(tmp_path)
    place = _plant(root, FAULTS[name])
    earlier = _earlier_site(root)
    checked, done = run(root, "notchbook", "check"), build(root)
    assert (checked.returncode, done.returncode) == (1, 1)
    assert "Traceback" not in checked.stdout + done.stdout
    assert _errors(checked.stdout) == _errors(done.stdout)
    assert "Nothing was built" in done.stdout
    assert _stamped(root) == earlier
    found = [FINDING.fullmatch(each) for each in _errors(checked.stdout)]
    assert place in [(each["path"], int(each["line"]), int(each["column"])) for each in found if each], checked.stdout


@pytest.mark.repeats
@pytest.mark.parametrize("strict", [False, True], ids=["usual", "strict"])
def test_warning_stops_a_strict_build_only(strict: bool, tmp_path: Path) -> None:
    root = copy_demo(tmp_path)
    # the record declares that its bars were conditioned for too short a time
    fault = Fault(DEVIATING, "hours: 12", "hours: 24", (DEVIATING, "rule: |conditioning"))
    path, line, column = _plant(root, fault)
    earlier = _earlier_site(root)
    checked = run(root, "notchbook", "check")
    assert checked.returncode == 0, checked.stdout
    assert f"{path}:{line}:{column}: warning: " in checked.stdout
    done = build(root, *(["--strict"] if strict else []))
    assert "Traceback" not in done.stdout
    assert f"WARNING -  {path}:{line}:{column}: warning: " in done.stdout
    assert done.returncode == int(strict)
    if strict:
        assert _stamped(root) == earlier
    else:
        assert (root / "site/records/index.html").is_file()
        assert not (root / "site/records/gone.html").exists()


def test_deviation_is_refused_unless_it_may_be_published(tmp_path: Path) -> None:
    root = copy_demo(tmp_path)
    settings = (root / "mkdocs.yml").read_text(encoding="utf-8")
    (root / "mkdocs.yml").write_text(settings.replace("deviations: label", "deviations: refuse"), encoding="utf-8")
    earlier = _earlier_site(root)
    checked, done = run(root, "notchbook", "check"), build(root)
    assert (checked.returncode, done.returncode) == (1, 1)
    assert [each.partition(":")[0] for each in _errors(checked.stdout)] == [DEVIATING]
    assert _errors(checked.stdout) == _errors(done.stdout)
    assert _stamped(root) == earlier


def test_deviations_are_refused_where_nothing_is_said(tmp_path: Path) -> None:
    root = copy_demo(tmp_path)
    text = (root / "mkdocs.yml").read_text(encoding="utf-8")
    (root / "mkdocs.yml").write_text(text.replace("      deviations: label\n", ""), encoding="utf-8")
    checked, done = run(root, "notchbook", "check"), build(root)
    assert (checked.returncode, done.returncode) == (1, 1)
    assert _errors(checked.stdout) == _errors(done.stdout)


def test_undeclared_deviation_is_refused_even_where_declared_ones_are_published(tmp_path: Path) -> None:
    root = copy_demo(tmp_path)
    text = (root / DEVIATING).read_text(encoding="utf-8")
    (root / DEVIATING).write_text(re.sub(r"(?m)^deviations:\n(?: .*\n)+", "", text), encoding="utf-8")
    checked = run(root, "notchbook", "check")
    assert checked.returncode == 1
    assert "[conditioning]" in checked.stdout


@pytest.mark.parametrize("folder", ["procedures", "results"])
def test_missing_folder_is_no_traceback(folder: str, tmp_path: Path) -> None:
    root = copy_demo(tmp_path)
    (root / folder).rename(root / "elsewhere")
    checked, done = run(root, "notchbook", "check"), build(root)
    assert "Traceback" not in checked.stdout + done.stdout
    assert checked.returncode == done.returncode
    assert _errors(checked.stdout) == _errors(done.stdout)


def test_every_finding_is_told_and_the_errors_come_last(tmp_path: Path) -> None:
    root = copy_demo(tmp_path)
    for name in ("width", "typical-range", "moment"):
        _plant(root, FAULTS[name])
    done = build(root)
    severities = [found["severity"] for found in FINDING.finditer(done.stdout)]
    assert severities == sorted(severities, key=["note", "warning", "error"].index)
    assert {found["path"] for found in FINDING.finditer(done.stdout)} >= {
        FAULTS[name].path for name in ("width", "typical-range", "moment")
    }
