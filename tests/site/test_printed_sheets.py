"""Bench sheets and wall cards on paper: A4, whole, in the order of the work, with an address, a day and a code."""

import datetime as dt
import html
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import yaml
from browser import browser, served
from printing import A4_pt, POINTS_PER_mm, lines_across, needs_programs, picture, print_page, sheets, text_of
from selenium.webdriver import Chrome
from site_building import ROOT, built, copy_demo

import small_handbook as small
from conftest import DemoSite
from qr_reading import read
from repeating import repeated

pytestmark = needs_programs
SITE = "https://handbook.saltmere.example/"
FOOT = f"{SITE} · state of 2 November 2026"
EXERCISES = sorted(path.stem for path in (ROOT / "procedures/exercises").glob("*.yaml"))
RIGS = sorted(path.stem for path in (ROOT / "procedures/rigs").glob("*.yaml"))
PRINTED = [*(f"exercises/{each}" for each in EXERCISES), *(f"rigs/{each}--wall-card" for each in RIGS)]
MOST_SHEETS = {"notched-charpy": 3}
"""The longest exercise; the others are two sides of a sheet."""
_LEAST_MARGIN_PT = 20.0
_FOOT_mm = 12.0


class Prints:
    """Exercises and wall cards as PDF, by the path of their page, each printed when it is first looked at."""

    def __init__(self, chrome: Chrome, address: str, folder: Path) -> None:
        self._chrome, self._address, self._folder = chrome, address, folder

    def __getitem__(self, page: str) -> Path:
        pdf = self._folder / f"{page.replace('/', '_')}.pdf"
        return pdf if pdf.exists() else print_page(self._chrome, f"{self._address}/{page}.html", pdf)


@pytest.fixture(scope="module")
def chrome(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Chrome]:
    with browser(tmp_path_factory.mktemp("printing")) as found:
        yield found


@pytest.fixture(scope="module")
def address(demo_site: DemoSite) -> Iterator[str]:
    with served(demo_site.folder) as found:
        yield found


@pytest.fixture(scope="module")
def prints(chrome: Chrome, address: str, tmp_path_factory: pytest.TempPathFactory) -> Prints:
    return Prints(chrome, address, tmp_path_factory.mktemp("sheets"))


def _letters(text: str) -> str:
    """What is left of a text whose signs may have come out as others."""
    return re.sub(r"[^a-z0-9]+", " ", html.unescape(text).lower()).strip()


def _exercise(name: str) -> dict[str, Any]:
    found: dict[str, Any] = yaml.safe_load((ROOT / f"procedures/exercises/{name}.yaml").read_text(encoding="utf-8"))
    return found


def _assert_on_a4(pdf: Path) -> None:
    for sheet in sheets(pdf):
        # tolerance: a browser rounds A4 to whole pixels
        assert sheet.size_pt == pytest.approx(A4_pt, abs=1.0)
        width, height = sheet.size_pt
        assert sheet.words
        for word in sheet.words:
            assert word.left > _LEAST_MARGIN_PT, word
            assert word.right < width - _LEAST_MARGIN_PT, word
            assert word.top > 0.8 * _LEAST_MARGIN_PT, word
            assert word.bottom < height - 0.8 * _LEAST_MARGIN_PT, word


def _dark_lines(sheet: np.ndarray[Any, Any], at_x: int) -> list[int]:
    """Where lines across cross a column of pixels."""
    dark = np.flatnonzero(sheet[:, at_x] < 128)
    return [int(y) for place, y in enumerate(dark) if place == 0 or y > dark[place - 1] + 1]


@pytest.mark.parametrize("name", repeated(EXERCISES, but=EXERCISES[:1]))
def test_exercise_is_few_sheets_of_a4_and_nothing_is_cut(name: str, prints: Prints) -> None:
    pdf = prints[f"exercises/{name}"]
    _assert_on_a4(pdf)
    assert len(sheets(pdf)) <= MOST_SHEETS.get(name, 2)


@pytest.mark.parametrize("name", repeated(EXERCISES, but=EXERCISES[:1]))
def test_hazards_and_their_controls_are_printed(name: str, prints: Prints) -> None:
    exercise, said = _exercise(name), _letters(text_of(prints[f"exercises/{name}"]))
    hazards = yaml.safe_load((ROOT / "procedures/hazards.yaml").read_text(encoding="utf-8"))["hazards"]
    named = [each for each in hazards if each["id"] in exercise["hazards"]]
    assert len(named) == len(exercise["hazards"])
    for hazard in named:
        for each in (hazard["title"], *(control for part in hazard["controls"].values() for control in part)):
            assert _letters(each) in said, each
    for each in exercise["needs"]:
        assert _letters(each) in said, each


@pytest.mark.parametrize("name", repeated(EXERCISES, but=EXERCISES[:1]))
def test_safety_then_steps_then_the_record(name: str, prints: Prints) -> None:
    exercise = _exercise(name)
    said = _letters(" ".join(line for sheet in sheets(prints[f"exercises/{name}"]) for line in lines_across(sheet)))
    wanted = [exercise["title"], "The local risk assessment and the responsible person", "What you need"]
    for part in ("prepare", "steps", "finish"):
        for step in exercise.get(part, []):
            wanted += [step["do"], *([step["look_for"]] if "look_for" in step else [])]
    wanted += ["Record", "Date Group Rig Hammer"]
    at = 0
    for each in map(_letters, wanted):
        assert each in said[at:], f"{each!r} does not stand where it should"
        at = said.index(each, at) + len(each)


@pytest.mark.parametrize("name", repeated(EXERCISES, but=EXERCISES[:1]))
def test_every_step_has_an_empty_box(name: str, chrome: Chrome, address: str) -> None:
    chrome.get(f"{address}/exercises/{name}.html")
    chrome.execute_script("document.querySelectorAll('.nb-tick').forEach(box => { box.checked = true; });")
    chrome.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
    boxes = chrome.execute_script(
        "return [...document.querySelectorAll('.nb-steps > li')].map(step => {"
        " const box = getComputedStyle(step, '::before'), tick = step.querySelector('input');"
        " return [parseFloat(box.width), parseFloat(box.borderLeftWidth), box.backgroundColor,"
        "   tick === null || getComputedStyle(tick).display === 'none']; })"
    )
    chrome.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": ""})
    exercise = _exercise(name)
    assert len(boxes) == sum(len(exercise.get(part, [])) for part in ("prepare", "steps", "finish"))
    for width, border, ground, without_tick in boxes:
        # 3 mm at 96 pixels an inch are 11.3 pixels
        assert width > 11.3
        assert border >= 1.0
        assert ground == "rgba(0, 0, 0, 0)"
        assert without_tick


@pytest.mark.parametrize("name", repeated(EXERCISES, but=EXERCISES[:1]))
def test_record_has_its_rows_on_one_sheet_high_enough_to_write(name: str, prints: Prints) -> None:
    pdf, number = prints[f"exercises/{name}"], _exercise(name).get("number_of_specimens")
    last = sheets(pdf)[-1]
    (top,) = [each.bottom for each in last.words if each.text == "Remarks"]
    end = last.size_pt[1] - _FOOT_mm * POINTS_PER_mm
    names = [each.text for each in last.words if each.left < 50.0 and top < each.top < end]
    if number is None:
        rows = 9
        assert (names[0], names[-1]) == ("Force", "Later")
    else:
        rows = number + 2
        assert names == [*(f"{each:02}" for each in range(1, number + 1)), "spare", "spare"]
    dots_per_inch = 100
    shown = picture(pdf, len(sheets(pdf)), dots_per_inch)[: int(end / 72.0 * dots_per_inch)]
    # in the column of remarks, which is empty
    lines = _dark_lines(shown, int(190.0 / 25.4 * dots_per_inch))
    heights_mm = np.diff(lines) / dots_per_inch * 25.4
    # tolerance: one dot, 0.25 mm
    assert sum(height >= 7.0 - 0.3 for height in heights_mm[-rows:]) == rows


@pytest.mark.parametrize("page", repeated(PRINTED, but=PRINTED[:1]))
def test_every_sheet_says_site_day_and_number(page: str, prints: Prints) -> None:
    pdf = prints[page]
    found = sheets(pdf)
    for number, sheet in enumerate(found, start=1):
        foot = " ".join(each.text for each in sheet.words if each.top > sheet.size_pt[1] - _FOOT_mm * POINTS_PER_mm)
        assert foot == f"{FOOT} Sheet {number} of {len(found)}"


@pytest.mark.parametrize(
    "page",
    repeated([f"exercises/{each}" for each in EXERCISES] + [f"rigs/{each}" for each in RIGS], but=[f"rigs/{RIGS[0]}"]),
)
def test_code_is_read_from_the_paper(page: str, prints: Prints) -> None:
    pdf = prints[page]
    assert read(picture(pdf, dots_per_inch=150)) == [f"{SITE}{page}.html"]


@pytest.mark.parametrize("rig", repeated(RIGS, but=RIGS[:1]))
def test_wall_card_is_one_sheet_with_all_that_it_is_for(rig: str, prints: Prints) -> None:
    pdf = prints[f"rigs/{rig}--wall-card"]
    _assert_on_a4(pdf)
    assert len(sheets(pdf)) == 1
    data = yaml.safe_load((ROOT / f"procedures/rigs/{rig}.yaml").read_text(encoding="utf-8"))
    said = _letters(text_of(pdf))
    wanted = [data["title"], data["location"], "In force until", "When something is wrong", "Responsible person",
              "State of 2 November 2026", *(each["title"] for each in data["hammers"].values())]  # fmt: skip
    for each in wanted:
        assert _letters(each) in said, each
    assert read(picture(pdf, dots_per_inch=150)) == [f"{SITE}rigs/{rig}.html"]
    heights = [(each.text, each.bottom - each.top) for each in sheets(pdf)[0].words]
    # read from 1.5 m: letters of a two-hundredth of the distance (common practice, no source); capitals are about
    # 0.63 of the height of a word's box
    for word, distance_mm in (("pendulum", 1500.0), ("until", 1000.0)):
        greatest = max(height for text, height in heights if text == word)
        assert 0.63 * greatest / POINTS_PER_mm >= distance_mm / 200.0, word


@pytest.mark.parametrize("page", ["exercises/cold-bars", "rigs/bench-1--wall-card"])
@pytest.mark.parametrize("backgrounds", [False, True])
def test_a_dark_screen_prints_on_white(
    page: str, backgrounds: bool, prints: Prints, chrome: Chrome, address: str, tmp_path: Path
) -> None:
    dark = print_page(chrome, f"{address}/{page}.html", tmp_path / "dark.pdf", "dark", backgrounds=backgrounds)
    shades = {name: picture(pdf, dots_per_inch=30).mean() for name, pdf in (("light", prints[page]), ("dark", dark))}
    # tolerance: the tint behind the caution, which is not printed where backgrounds are not
    assert shades["dark"] == pytest.approx(shades["light"], abs=2.0)
    assert shades["light"] > 200.0
    corner = picture(dark, dots_per_inch=30)[:5, :5]
    assert corner.min() == 255


@pytest.mark.parametrize("name", repeated(EXERCISES, but=EXERCISES[:1]))
def test_what_is_for_the_screen_is_not_printed(name: str, prints: Prints) -> None:
    said = text_of(prints[f"exercises/{name}"])
    for each in ("Results so far", "Worksheet", "Which hammer to take", "Questions", "Data file", "Untick all"):
        assert each not in said


def test_nothing_for_paper_is_seen_on_the_screen(chrome: Chrome, address: str) -> None:
    for page in ("exercises/notched-charpy.html", "rigs/bench-1.html"):
        chrome.get(f"{address}/{page}")
        found = chrome.execute_script(
            "return [...document.querySelectorAll('.nb-paper')].map(each => getComputedStyle(each).display)"
        )
        assert found
        assert set(found) == {"none"}


@pytest.mark.repeats
def test_wall_card_is_one_sheet_when_nothing_is_in_force(chrome: Chrome, tmp_path: Path) -> None:
    after_all = dt.datetime(2028, 1, 3, tzinfo=dt.UTC)
    site = built(copy_demo(tmp_path), SOURCE_DATE_EPOCH=str(int(after_all.timestamp())))
    for rig in RIGS:
        pdf = print_page(chrome, (site / f"rigs/{rig}--wall-card.html").as_uri(), tmp_path / f"{rig}.pdf")
        assert len(sheets(pdf)) == 1
        _assert_on_a4(pdf)
        hammers = yaml.safe_load((ROOT / f"procedures/rigs/{rig}.yaml").read_text(encoding="utf-8"))["hammers"]
        assert text_of(pdf).count("Do not use: ended") == len(hammers)
        assert "Not in force: do not use" in text_of(pdf)


@pytest.mark.repeats
def test_a_rig_with_many_hammers_and_a_name_that_means_something_to_css(chrome: Chrome, tmp_path: Path) -> None:
    contents = small.files()
    rig = contents[small.RIG]
    for number in range(3, 13):
        rig["hammers"][f"charpy-{number}"] = rig["hammers"]["charpy-2"] | {"title": f"Hammer {number}"}
    small.write(tmp_path, contents)
    (tmp_path / "docs").mkdir()
    name = 'Our "bench" } body { display: none } \\ </style> é'
    settings = {"site_name": name, "theme": {"name": "material", "font": False}, "use_directory_urls": False,
                "plugins": ["search", {"notchbook": {"deviations": "label"}}]}  # fmt: skip
    (tmp_path / "mkdocs.yml").write_text(yaml.safe_dump(settings), encoding="utf-8")
    site = built(tmp_path)
    # opened from the disk it has no address at all
    card = print_page(chrome, (site / "rigs/bench-1--wall-card.html").as_uri(), tmp_path / "card.pdf")
    exercise = print_page(chrome, (site / "exercises/notched-charpy.html").as_uri(), tmp_path / "exercise.pdf")
    assert len(sheets(card)) == 1
    _assert_on_a4(card)
    for pdf in (card, exercise):
        assert f"{name} · state of 2 November 2026" in text_of(pdf)
        assert "no site address is set site url in mkdocs yml so there is no code" in _letters(text_of(pdf))
    assert "behind the code" not in text_of(card)
