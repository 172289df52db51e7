"""A preview that is kept through changes shows after each what one that begins anew shows, byte for byte."""

import json
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from site_building import ROOT, environment, small_demo

HERE = Path(__file__).resolve().parent
Step = tuple[str, str | None]
LOSS = "first_rise_deg: 148.3"


def _changed(path: str, pattern: str, new: str) -> Callable[[Path], list[Step]]:
    def step(root: Path) -> list[Step]:
        text, times = re.subn(pattern, new, (root / path).read_text("utf-8"), count=1, flags=re.MULTILINE)
        assert times == 1, path
        return [(path, text)]

    return step


def _together(*changes: Callable[[Path], list[Step]]) -> Callable[[Path], list[Step]]:
    return lambda root: [step for change in changes for step in change(root)]


RECORD = "results/tests/2026-10-30-g4-pom-notched.yaml"
OTHER = "results/tests/2026-10-28-g2-abs-notched.yaml"
ABOUT = "# About\n\nThe mean was [[test 2026-10-30-g4-pom-notched: mean]].\n"
PACKAGED = (ROOT / "plugins/notchbook/methods/iso-179-1.yaml").read_text("utf-8")
CHANGES: dict[str, Callable[[Path], list[Step]]] = {
    "a reading": _changed(RECORD, "rise_angle_deg: 128.8", "rise_angle_deg: 128.6"),
    "a page by hand": lambda _: [("site_src/about.md", ABOUT)],
    "a reading that the page by hand shows": _changed(RECORD, "rise_angle_deg: 128.2", "rise_angle_deg: 127.8"),
    "losses": _changed("results/verifications/2026-09-08-bench-1-charpy-2.yaml", "first_rise_deg: .*", LOSS),
    "titles": _together(
        _changed("procedures/materials/pom.yaml", "^title: .*", "title: Acetal"),
        _changed("procedures/rigs/bench-1.yaml", "^title: .*", "title: Pendulum by the door"),
        _changed("procedures/exercises/notched-charpy.yaml", "^title: .*", "title: Bars on supports"),
    ),
    "hazards": _changed("procedures/hazards.yaml", "title: .*", "title: The pendulum swings"),
    "a method": lambda _: [("procedures/methods/iso-179-1.yaml", PACKAGED.replace("figures: 2", "figures: 3"))],
    "a record less": lambda _: [(OTHER, None)],
    "a record more": lambda _: [(OTHER, (ROOT / OTHER).read_text("utf-8"))],
    "the notice": _changed("mkdocs.yml", "notice: >-$", "notice: >-\n        New:"),
    "the name of the site": _changed("mkdocs.yml", "^site_name: .*", "site_name: Another handbook"),
    "addresses": _changed("mkdocs.yml", "^use_directory_urls: false", "use_directory_urls: true"),
    "nothing": lambda _: [],
}


FIRST = ("a reading", "the name of the site", "nothing")


@pytest.fixture(scope="module", params=[FIRST, pytest.param(tuple(CHANGES), marks=pytest.mark.repeats)], ids=len)
def told(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> dict[str, tuple[list[str], int]]:
    """What differs after each change, and how many pages were made again."""
    root = small_demo(tmp_path_factory.mktemp("preview") / "handbook")
    # what a group reported beside its readings would no longer agree with them
    text = (root / RECORD).read_text("utf-8")
    (root / RECORD).write_text(re.sub(r"^reported:.*\n(?: .*\n)*", "", text, flags=re.MULTILINE), "utf-8")
    trial = root.parent / "trial"
    shutil.copytree(root, trial)
    steps = []
    for name in request.param:
        steps.append(CHANGES[name](trial))
        for path, text in steps[-1]:
            (trial / path).unlink() if text is None else (trial / path).write_text(text, "utf-8")
    (root.parent / "changes.json").write_text(json.dumps(steps), "utf-8")
    command = [sys.executable, str(HERE / "preview_run.py"), str(root), str(root.parent / "changes.json")]
    done = subprocess.run(command, env=environment(), capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr[-3000:]
    found = json.loads(done.stdout.splitlines()[-1])
    return {name: (differ, times) for name, (differ, times) in zip(request.param, found, strict=True)}


def test_a_kept_preview_shows_what_a_new_one_shows(told: dict[str, tuple[list[str], int]]) -> None:
    assert {name: differ for name, (differ, _) in told.items() if differ} == {}


def test_a_reading_leaves_pages_that_it_is_not_on(told: dict[str, tuple[list[str], int]]) -> None:
    # of some eighty pages: the record, its material, exercise, the lists and the home page
    assert 1 <= told["a reading"][1] <= 12
    assert told["nothing"][1] == 0
    assert told["the name of the site"][1] > 50
