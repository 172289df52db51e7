"""Sessions at the pendulum made up at random, to fill in the worksheet with, and what the engine says of them."""

from __future__ import annotations

import datetime as dt
import json
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from notchbook.pages.assets import asset_files
from notchbook.pages.site import build_site

if TYPE_CHECKING:
    import random
    from pathlib import Path

    from selenium.webdriver import Chrome

    from notchbook.evaluation.hammers import SwungHammer
    from notchbook.handbook import Handbook
    from notchbook.model.method import Method
    from notchbook.model.procedure import Exercise

# Fills the form as a hand would, field by field, each with its event.
FILL = """
const [session] = arguments, form = document.querySelector('form.nb-worksheet');
const set = (control, text) => {
  control.value = text;
  control.dispatchEvent(new Event('input', {bubbles: true}));
};
const bars = () => form.querySelectorAll('.nb-ws-bar');
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


def made_up(chance: random.Random, handbook: Handbook, exercise: Exercise) -> Session:
    """A session with any hammer of the exercise's method, most of it sound."""
    method = handbook.library.methods[exercise.method]
    hammers = [each for each in handbook.evaluation.hammers.values() if each.method == exercise.method]
    hammer = chance.choice(hammers)
    reads = handbook.library.rigs[hammer.rig].indicator.reads
    day = dt.date(2024, 8, 1) + dt.timedelta(days=chance.randrange(840)) if chance.random() < 0.9 else dt.date.max
    climate = method.conditioning.temperature_C.value
    fields = [
        ("group", chance.choice(["G1", "LT-2", "G12", "XAB-9", "group 7", "Anna"] + ["G4"] * 4)),
        ("date", day.isoformat()),
        ("material", chance.choice(sorted(handbook.library.materials))),
        ("batch", chance.choice(["", "PP-26-01", "no. 7: # left bag"])),
        ("rig", hammer.rig),
        ("hammer", hammer.id),
        ("conditioning.temperature_C", _text(chance, climate + chance.gauss(0, 1.2), 1)),
        ("conditioning.humidity_pct", _text(chance, chance.uniform(36, 64), 0)),
        ("conditioning.hours", _text(chance, chance.choice([1, 16, 24, 48]), 0)),
        ("test_atmosphere.temperature_C", _text(chance, chance.gauss(23, 1.2), 1)),
        ("test_atmosphere.humidity_pct", _text(chance, chance.uniform(36, 64), 0)),
    ]
    if chance.random() < 0.5:
        fields += _swings(chance, hammer, reads)
    number = chance.choice([1, 2, 5, 9, 10, 10, 12])
    bars = [_bar(chance, method, exercise, hammer, reads, row) for row in range(number)]
    if chance.random() < 0.3:
        bars = _alike(chance, bars, hammer, reads)
    elif number > 1 and chance.random() < 0.2:
        bars[-1] = dict(bars[0])
    return Session(exercise.id, tuple(fields), tuple(bars))


def _text(chance: random.Random, value: float, decimals: int) -> str:
    """A number as somebody types it: with a point or a comma."""
    text = f"{value:.{decimals}f}"
    return text.replace(".", ",") if chance.random() < 0.3 else text


def _swings(chance: random.Random, hammer: SwungHammer, reads: str) -> list[tuple[str, str]]:
    """Readings of the day's free swings, now and then one too few, out of order or beyond what is allowed."""
    steps = [chance.uniform(0.5, 3.0), chance.uniform(0.0, 1.4), chance.uniform(4.0, 14.0)]
    if reads == "angle":
        first, second, later = (f"{hammer.release_angle_deg - each:.1f}" for each in steps)
    else:
        worth = hammer.potential_energy_J / 300
        first, second, later = (f"{worth * each:.3f}" for each in steps)
    if chance.random() < 0.2:
        second, later = later, second
    swings = {"first": first, "second": second, "half_swings": chance.choice(["10", "5", "10"]), "later": later}
    left_out = [(), (), (), ("half_swings", "later"), ("second",), ("later",), ("first", "half_swings")]
    for name in chance.choice(left_out):
        del swings[name]
    return [(f"free_swings.{name}", text) for name, text in swings.items()]


def _bar(
    chance: random.Random, method: Method, exercise: Exercise, hammer: SwungHammer, reads: str, row: int
) -> dict[str, str]:
    chosen = exercise.specimen
    assert chosen is not None
    kind, notch = method.specimen_type(chosen.type), method.notch(chosen.notch)
    assert kind is not None
    asked = {"width_mm": kind.width_mm.value, "thickness_mm": kind.thickness_mm.value}
    if notch is not None:
        asked["remaining_width_mm"] = notch.remaining_width_mm.value
    bar = {"id": f"{row + 1:02}" if chance.random() < 0.95 else "01"}
    for name, value in asked.items():
        factor = chance.choice([1.0] * 20 + [0.1, 100.0, 1.03, 1.25, 0.97])
        bar[name] = _text(chance, chance.gauss(value, 0.03) * factor, 3 if factor < 1 else 2)
    odd = [chance.uniform(0.0, 0.06), chance.uniform(0.003, 0.02), chance.uniform(-0.1, 1.0)]
    lost = chance.choice([chance.uniform(0.08, 0.85)] * 10 + odd)
    if reads == "angle":
        bar["reading"] = _text(chance, max(0.0, min(180.0, hammer.release_angle_deg * (1 - lost) + 1)), 1)
    else:
        bar["reading"] = _text(chance, max(0.0, lost * hammer.potential_energy_J * 1.05), 3)
    bar["break"] = chance.choice([each.letter for each in method.breaks.types] + ["C"] * 6)
    if chance.random() < 0.1:
        bar["excluded"] = chance.choice(["notch base cracked", 'fell: "again" # twice'])
        bar["reading"] = chance.choice([bar["reading"], "", "0"])
    return bar


def _alike(
    chance: random.Random, bars: list[dict[str, str]], hammer: SwungHammer, reads: str
) -> list[dict[str, str]]:
    """The bars with sizes and energies of one batch, and two that broke before they were struck."""
    lost, scatter = chance.uniform(0.2, 0.6), chance.choice([0.02, 0.04, 0.06, 0.08])
    for bar in bars:
        bar.update({"width_mm": "10.00", "thickness_mm": "4.00", "break": "C"})
        if "remaining_width_mm" in bar:
            bar["remaining_width_mm"] = "8.00"
        energy = hammer.potential_energy_J * lost * chance.gauss(1, scatter)
        rise = math.degrees(math.acos(energy / hammer.moment_Nm + math.cos(math.radians(hammer.release_angle_deg))))
        bar["reading"] = f"{rise:.1f}" if reads == "angle" else f"{energy:.3f}"
        bar.pop("excluded", None)
    unread = {**bars[0], "reading": "", "excluded": "broke in the clamp"}
    return [*bars, {**unread, "id": "31"}, {**unread, "id": "32"}]


def said_by_engine(handbook: Handbook, record_id: str, rules: frozenset[str]) -> set[tuple[str, str, str]]:
    """Rule, severity and keys to the place of each complaint about a record itself."""
    return {
        (each.rule.id, str(each.rule.severity), ".".join(map(str, each.complaint.keys)))
        for each in handbook.verdicts.placed
        if (each.kind, each.id) == ("test", record_id) and each.rule.id in rules
    }


def as_text(session: Session) -> str:
    """A session in a message of a failing test."""
    return json.dumps({"fields": dict(session.fields), "bars": session.bars}, ensure_ascii=False)
