"""What may be typed into the worksheet: texts and numbers as the file holds them, what is refused, what is missing."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from browser import browser, served, told_by
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import WebDriverWait
from worksheet_form import PAGE, SESSION, click, enter, field, of_bar, opened, press, told, values
from worksheet_sessions import Session, bare_page, typed_in

import hostile_handbook as hostile
import small_handbook as small
from conftest import DemoSite
from notchbook.handbook import open_handbook
from notchbook.reading.strict_yaml import parse


@pytest.fixture(scope="module")
def chrome(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Chrome]:
    with browser(tmp_path_factory.mktemp("profile")) as found:
        yield found


@pytest.fixture(scope="module")
def address(demo_site: DemoSite) -> Iterator[str]:
    with served(demo_site.folder) as found:
        yield f"{found}/{PAGE}"


@pytest.fixture
def sheet(chrome: Chrome, address: str) -> Chrome:
    return opened(chrome, address)


@pytest.mark.parametrize("shift", [0, 9])
def test_names_of_the_handbook_come_back_from_the_file(shift: int, chrome: Chrome, tmp_path: Path) -> None:
    """Titles, directions and the standard's name may be any text; they are shown, and stand in the file, as text."""
    files, _ = hostile.handbook_of(
        lambda number: hostile.HOSTILE[(number + shift) % len(hostile.HOSTILE)], "\"{0}: # <b>' ".format
    )
    settings = "plugins:\n  - notchbook:\n      deviations: label\n"
    small.write(tmp_path / "handbook", {**files, "mkdocs.yml": settings})
    handbook = open_handbook(tmp_path / "handbook", day=small.DAY)
    told_by(chrome)
    chrome.get(bare_page(handbook, "notched-charpy", tmp_path / "site").as_uri())
    fields = tuple((key, text) for key, text in SESSION.fields if not key.startswith("batch"))
    given = typed_in(chrome, Session("notched-charpy", fields, SESSION.bars))
    data, flaws = parse(given["yaml"])
    assert not flaws
    exercise = handbook.library.exercises["notched-charpy"]
    assert exercise.specimen is not None
    assert data["specimen"]["direction"] == exercise.specimen.direction
    options = chrome.execute_script("return [...document.querySelector('[data-key=hammer]').options].map(e => e.text)")
    titles = [handbook.evaluation.hammers["bench-1", each].title for each in ("charpy-1", "charpy-2")]
    assert [" ".join(each.split()) for each in options[1:]] == [" ".join(each.split()) for each in titles]
    assert not told_by(chrome).severe


def test_what_no_file_may_hold_is_told_and_no_file_is_written(sheet: Chrome) -> None:
    typed_in(sheet, SESSION)
    for name, text, words in (
        ("width_mm", "0", "Must be more than 0 to 10000 mm"), ("thickness_mm", "4 mm", "No number"),
        ("reading", "-5", "Must be 0 to 180°"), ("reading", "181", "Must be 0 to 180°"),
        ("reading", "abc", "No number"), ("id", "x" * 41, "At most 40 characters"),
    ):  # fmt: skip
        control = of_bar(sheet, 3, name)
        assert control.get_attribute("aria-invalid") == "false"
        enter(sheet, control, text)
        assert control.get_attribute("aria-invalid") == "true"
        assert told(sheet, control).startswith(f"Error: {words}")
        assert sheet.execute_script("return notchbookWorksheet.sheet.yaml()") is None
        press(sheet, "yaml")
        box = sheet.find_element(By.CSS_SELECTOR, ".nb-ws-missing")
        assert sheet.switch_to.active_element == box
        assert words in box.text
        click(sheet, box.find_element(By.CSS_SELECTOR, "li button"))
        assert sheet.switch_to.active_element == control
        # mended, it is a file
        enter(sheet, control, SESSION.bars[3][name])
        assert not box.is_displayed()
        assert sheet.execute_script("return notchbookWorksheet.sheet.yaml()")


def test_what_is_missing_is_listed_with_a_way_to_it(sheet: Chrome) -> None:
    typed_in(sheet, SESSION)
    for control in (field(sheet, "group"), field(sheet, "conditioning.hours"), of_bar(sheet, 4, "break")):
        enter(sheet, control, "")
    enter(sheet, field(sheet, "rig"), "")
    press(sheet, "yaml")
    items = sheet.find_elements(By.CSS_SELECTOR, ".nb-ws-missing li button")
    assert [each.text for each in items] == [
        "group", "rig", "hammer", "hours, conditioning", "bar 05: break type",
    ]  # fmt: skip
    click(sheet, items[4])
    assert sheet.switch_to.active_element == of_bar(sheet, 4, "break")


def test_bars_without_entries_are_left_out_and_named(sheet: Chrome) -> None:
    typed_in(sheet, SESSION)
    press(sheet, "add")
    press(sheet, "add")
    assert "bar 11, 12" in sheet.find_element(By.CSS_SELECTOR, ".nb-ws-left").text
    data, _ = parse(sheet.execute_script("return notchbookWorksheet.sheet.yaml()"))
    assert len(data["specimens"]) == 10


def test_bar_with_entries_is_not_removed_unasked(sheet: Chrome) -> None:
    typed_in(sheet, SESSION)
    question = sheet.find_element(By.CSS_SELECTOR, ".nb-ws-ask")
    press(sheet, "add")
    press(sheet, "remove")
    assert len(values(sheet)["bars"]) == 10
    press(sheet, "remove")
    assert question.is_displayed()
    assert len(values(sheet)["bars"]) == 10
    click(sheet, question.find_element(By.CSS_SELECTOR, "button"))
    assert len(values(sheet)["bars"]) == 9


def test_half_a_number_is_not_complained_of_while_it_is_typed(sheet: Chrome) -> None:
    control = of_bar(sheet, 0, "width_mm")
    click(sheet, control)
    control.send_keys("1")
    assert sheet.execute_script("return arguments[0].getAttribute('aria-describedby')", control) is None
    WebDriverWait(sheet, 20).until(lambda chrome: "Looks like tenths" in told(chrome, control) or
                                   "Looks like centimetres" in told(chrome, control))  # fmt: skip
    # a complaint that no longer holds goes at once
    control.send_keys("0,02")
    assert told(sheet, control) == ""
