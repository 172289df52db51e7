"""Whole sessions in the browser: what node does not see of them, and what becomes of the file.

What the scripts compute, refuse, complain of and write is held against the engine in `tests/worksheet`.
"""

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest
from browser import browser, told_by
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By
from site_building import copy_demo
from worksheet_form import SESSION, enter, field, press, told
from worksheet_sessions import Session, typed_in

from conftest import DemoSite
from notchbook.handbook import open_handbook
from notchbook.pages.exercise.worksheet import MOST_BARS
from notchbook.wording.numbers import to_decimals, to_figures

ENERGIES = Session(
    "notched-izod",
    (
        ("group", "G3"), ("date", "2026-10-20"), ("material", "pp-h"), ("rig", "bench-2"), ("hammer", "izod-1"),
        ("conditioning.temperature_C", "23,1"), ("conditioning.humidity_pct", "50"), ("conditioning.hours", "48"),
        ("test_atmosphere.temperature_C", "22.9"), ("test_atmosphere.humidity_pct", "49"),
    ),
    tuple(
        {**bar, "reading": f"{reading:.3f}"}
        for bar, reading in zip(
            SESSION.bars, [0.150, 0.146, 0.156, 0.144, 0.154, 0.152, 0.142, 0.158, 0.148, 0.153], strict=True
        )
    ),
)  # fmt: skip
"""A session on a scale of energies with nothing wrong in it."""


SWINGS = Session(
    "pendulum-losses",
    (
        ("group", "G3"), ("date", "2026-10-20"), ("rig", "bench-1"), ("hammer", "charpy-1"),
        ("free_swings.first", "147,8"), ("free_swings.second", "148.6"), ("free_swings.half_swings", "10"),
        ("free_swings.later", "137.8"), ("series.half_swings_between", "2"), ("notes", "ask g3@lab.example"),
    ),
    tuple({"reading": reading} for reading in ("148.6", "146.2", "144.0", "141,8", "")),
)  # fmt: skip
"""Free swings with nothing wrong in them but an address that no public page may hold."""


@pytest.fixture(scope="module")
def chrome(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Chrome]:
    with browser(tmp_path_factory.mktemp("profile")) as found:
        yield found


@pytest.mark.parametrize("session", [SESSION, ENERGIES], ids=["angles", "energies"])
def test_session_is_shown_and_its_file_read(
    session: Session, chrome: Chrome, demo_site: DemoSite, tmp_path: Path
) -> None:
    """On the page as it is opened from a disk; the check has nothing to say of the file."""
    told_by(chrome)
    chrome.get((demo_site.folder / f"exercises/{session.exercise}.html").as_uri())
    given = typed_in(chrome, session)
    shown = chrome.find_element(By.CSS_SELECTOR, ".nb-ws-result").text
    root = copy_demo(tmp_path)
    (root / "results/tests" / given["name"]).write_text(given["yaml"], encoding="utf-8")
    today = dt.date.fromisoformat(chrome.execute_script("return notchbookWorksheet.checksDay.today()"))
    handbook = open_handbook(root, day=today)
    record_id = given["name"].removesuffix(".yaml")
    assert not handbook.findings_in("test", record_id)
    (found,) = handbook.evaluation.records[record_id].sets
    assert f"C complete: mean {to_figures(found.summary.mean, 2)} kJ/m²" in shown
    assert "0 errors, 0 warnings; complete." in shown
    assert not told_by(chrome).severe


def test_free_swings_are_shown_and_their_file_read(chrome: Chrome, demo_site: DemoSite, tmp_path: Path) -> None:
    told_by(chrome)
    chrome.get((demo_site.folder / f"exercises/{SWINGS.exercise}.html").as_uri())
    assert [each["rule"] for each in typed_in(chrome, SWINGS)["findings"]] == ["email-address"]
    notes = field(chrome, "notes")
    assert told(chrome, notes).startswith("Error: No e-mail address")
    enter(chrome, notes, "one of us held the clock")
    shown = chrome.find_element(By.CSS_SELECTOR, ".nb-ws-result").text
    root = copy_demo(tmp_path)
    name = chrome.execute_script("return notchbookWorksheet.sheet.fileName('yaml')")
    written = chrome.execute_script("return notchbookWorksheet.sheet.yaml()")
    (root / "results/swings" / name).write_text(written, encoding="utf-8")
    today = dt.date.fromisoformat(chrome.execute_script("return notchbookWorksheet.checksDay.today()"))
    handbook = open_handbook(root, day=today)
    record_id = name.removesuffix(".yaml")
    assert not handbook.findings_in("swings", record_id)
    losses = handbook.evaluation.swings[record_id].losses
    assert losses is not None
    assert f"Both losses together: {to_decimals(losses.loss_pct, 2)} % of the nominal energy" in shown
    assert "0 errors, 0 warnings; complete." in shown
    assert not told_by(chrome).severe


def test_reading_of_a_series_that_rises_again_is_told_beside_its_field(chrome: Chrome, demo_site: DemoSite) -> None:
    chrome.get((demo_site.folder / f"exercises/{SWINGS.exercise}.html").as_uri())
    typed_in(chrome, SWINGS)
    readings = chrome.find_elements(By.CSS_SELECTOR, ".nb-ws-bars [data-name=reading]")
    assert len(readings) == len(SWINGS.bars)
    enter(chrome, readings[2], "146.2")
    assert told(chrome, readings[2]).startswith("Error: As high as the one before")
    press(chrome, "add")
    assert len(chrome.find_elements(By.CSS_SELECTOR, ".nb-ws-bars [data-name=reading]")) == len(readings) + 1


def test_form_takes_no_more_bars_than_can_be_evaluated(chrome: Chrome, demo_site: DemoSite) -> None:
    chrome.get((demo_site.folder / "exercises/notched-charpy.html").as_uri())
    bars = tuple({**SESSION.bars[0], "id": f"{n}"} for n in range(MOST_BARS))
    given = typed_in(chrome, Session(SESSION.exercise, SESSION.fields, bars))
    assert given["found"]["sets"][0]["n"] == MOST_BARS
    press(chrome, "add")
    assert len(chrome.find_elements(By.CSS_SELECTOR, ".nb-ws-bar")) == MOST_BARS
