"""The page on which a reader picks two sets says of every pair what the engine says."""

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

import small_handbook as small
from notchbook.facts.facts import Facts
from notchbook.facts.records import RecordFacts
from notchbook.facts.sets_to_pick import Picked, sets_of, two_sets_data
from notchbook.facts.two_sets import TwoSets
from notchbook.handbook import Handbook
from notchbook.pages.assets import ASSETS
from notchbook.pages.comparison.two_sets import SCRIPTS

RUNNER = Path(__file__).parent / "two_sets.js"


def picked(lines: list[RecordFacts]) -> list[Picked]:
    return [each for line in lines for each in sets_of(line)]


def _told(data: dict[str, Any]) -> list[list[dict[str, str]]]:
    node = shutil.which("node")
    assert node is not None, "no node was found"
    names = [each for each in SCRIPTS if not each.endswith("pick.js")]
    scripts = [(each, (ASSETS.parent / each).read_text("utf-8")) for each in names]
    done = subprocess.run(
        [node, str(RUNNER)], input=json.dumps({"scripts": scripts, "data": data}), capture_output=True, text=True,
        check=False, timeout=120,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    found: list[list[dict[str, str]]] = json.loads(done.stdout)
    return found


def _expected(pair: TwoSets) -> dict[str, str]:
    if pair.obstacles:
        return {"result": pair.told, "basis": "", "beside": ""}
    *most, last = pair.differs_beside or [""]
    return {"result": pair.told, "basis": pair.basis, "beside": f"{', '.join(most)} and {last}" if most else last}


def test_every_pair_of_the_demo_is_told_as_the_engine_tells_it(demo: Handbook) -> None:
    lines = Facts(demo).newest_records
    sets = [each for line in lines for each in line.sets]
    told = _told(two_sets_data(picked(lines)))
    differing = [
        (one.line.record.id, other.line.record.id, said, wanted)
        for one, row in zip(sets, told, strict=True)
        for other, said in zip(sets, row, strict=True)
        for wanted in (_expected(TwoSets(one, other)),)
        if said != wanted
    ]
    assert differing == []
    results = [said["result"] for row in told for said in row]
    for words in ("not comparable", "does not contain 0", "kJ/m² higher", "kJ/m² lower", "one and the same set"):
        assert any(words in each for each in results), words
    assert any("of the two pendulums" in said["basis"] for row in told for said in row)


def test_single_bars_and_equal_ones_are_told_too(tmp_path: Path) -> None:
    contents = small.files()
    other = json.loads(json.dumps(contents[small.TEST])) | {"group": "G5", "date": "2026-10-07"}
    other["specimens"] = [{**bar, "rise_angle_deg": 86.4, "width_mm": 10.0} for bar in other["specimens"][:2]]
    contents["results/tests/2026-10-07-g5-pp-h.yaml"] = other
    lines = Facts(small.opened(tmp_path, contents)).newest_records
    sets = [each for line in lines for each in line.sets]
    told = _told(two_sets_data(picked(lines)))
    assert told == [[_expected(TwoSets(one, other)) for other in sets] for one in sets]


@pytest.mark.parametrize("name", SCRIPTS)
def test_scripts_are_at_hand(name: str) -> None:
    assert (ASSETS.parent / name).is_file()
