"""Sessions at the pendulum that the worksheet is filled in with as a hand would."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from selenium.webdriver import Chrome

from notchbook.handbook import Handbook
from notchbook.pages.assets import asset_files
from notchbook.pages.site import build_site

# Fills the form as a hand would, field by field, each with its event.
FILL = """
const [session] = arguments, form = document.querySelector('form.nb-worksheet');
const set = (control, text) => {
  control.value = text;
  control.dispatchEvent(new Event('input', {bubbles: true}));
};
const bars = () => form.querySelector('.nb-ws-bars').children;
form.querySelector('[data-clear]').click();
form.querySelector('.nb-ws-ask button').click();
while (bars().length > session.bars.length) form.querySelector('[data-remove]').click();
while (bars().length < session.bars.length) form.querySelector('[data-add]').click();
for (const [key, text] of session.fields) set(form.querySelector(`[data-key="${key}"]`), text);
session.bars.forEach((bar, row) => {
  for (const [name, text] of Object.entries(bar)) set(bars()[row].querySelector(`[data-name=${name}]`), text);
});
const sheet = notchbookWorksheet.sheet, {found, findings, read} = sheet.evaluated();
return {yaml: sheet.yaml(), csv: sheet.csv(), name: sheet.fileName('yaml'), found, findings, read};
"""


@dataclass(frozen=True)
class Session:
    """What a group types: texts by field in the order of typing, and texts by field for each bar."""

    exercise: str
    fields: tuple[tuple[str, str], ...]
    bars: tuple[dict[str, str], ...]


def typed_in(chrome: Chrome, session: Session) -> dict[str, Any]:
    """The worksheet's own words and numbers for a session; the page of its exercise is shown."""
    given: dict[str, Any] = chrome.execute_script(FILL, {"fields": session.fields, "bars": session.bars})
    return given


def bare_page(handbook: Handbook, exercise: str, folder: Path) -> Path:
    """The page of an exercise with its scripts and no theme around it."""
    html = build_site(handbook).pages[f"exercises/{exercise}.md"].body
    for name, content in asset_files().items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(content)
    page = folder / f"exercises/{exercise}.html"
    page.parent.mkdir(exist_ok=True)
    page.write_text(f"<!doctype html><meta charset=utf-8><title>{exercise}</title><body>{html}", encoding="utf-8")
    return page
