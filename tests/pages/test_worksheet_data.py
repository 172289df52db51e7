"""The data that an exercise's page gives its worksheet: the engine's, and safe whatever stands in a data file."""

import json
import math
import re
from pathlib import Path
from typing import Any

import pytest
from page_html import pages_of
from scipy.stats import t as students_t

import hostile_handbook as hostile
import small_handbook as small
from html_tree import Element
from notchbook.facts.worksheet_limits import swings_limits, told_rules, told_swings_rules, worksheet_limits
from notchbook.handbook import Handbook, open_handbook
from notchbook.pages.assets import ASSETS, STYLES
from notchbook.pages.exercise.embedded_json import embedded
from notchbook.pages.exercise.worksheet import MOST_BARS, SCRIPTS
from notchbook.pages.site import build_site

DEMO = Path(__file__).resolve().parents[2]
EXERCISES = sorted(path.stem for path in (DEMO / "procedures/exercises").glob("*.yaml"))
WITH_BARS = [each for each in EXERCISES if each != "pendulum-losses"]


def _data(page: Element) -> dict[str, Any]:
    data: dict[str, Any] = json.loads(page.one("script", css="nb-worksheet-data").raw_text)
    return data


@pytest.mark.parametrize("exercise_id", WITH_BARS)
def test_hammers_are_the_engines(exercise_id: str, demo: Handbook, demo_pages: dict[str, Element]) -> None:
    data = _data(demo_pages[f"exercises/{exercise_id}.md"])
    exercise = demo.library.exercises[exercise_id]
    swung = {key: each for key, each in demo.evaluation.hammers.items() if each.method == exercise.method}
    given = {(rig, hammer): each for rig, one in data["rigs"].items() for hammer, each in one["hammers"].items()}
    assert given.keys() == swung.keys()
    allowed = {each.nominal_energy_J: each.loss_pct for each in demo.library.methods[exercise.method].pendulums.classes}
    for key, hammer in swung.items():
        each = given[key]
        assert each["title"] == hammer.title
        assert each["nominal_J"] == hammer.nominal_energy_J
        assert each["potential_J"] == hammer.potential_energy_J
        assert each["moment_Nm"] == hammer.moment_Nm
        assert each["release_deg"] == hammer.release_angle_deg
        assert each["loss_pct"] == allowed[hammer.nominal_energy_J]
        indicator, rig = demo.library.rigs[key[0]].indicator, data["rigs"][key[0]]
        assert (rig["reads"], each["division_deg"], each["division_J"]) == (
            indicator.reads, indicator.division_deg, indicator.division_J,
        )  # fmt: skip


@pytest.mark.parametrize("exercise_id", WITH_BARS)
def test_verifications_are_the_engines_the_newest_first(
    exercise_id: str, demo: Handbook, demo_pages: dict[str, Element]
) -> None:
    data = _data(demo_pages[f"exercises/{exercise_id}.md"])
    seen = 0
    for rig_id, rig in data["rigs"].items():
        for hammer_id, hammer in rig["hammers"].items():
            known = [
                each for each in demo.library.verifications.values() if (each.rig, each.hammer) == (rig_id, hammer_id)
            ]
            known.sort(key=lambda each: each.date, reverse=True)
            assert [each["date"] for each in hammer["verifications"]] == [each.date.isoformat() for each in known]
            for given, verification in zip(hammer["verifications"], known, strict=True):
                losses = demo.evaluation.verifications[verification.id].losses
                assert losses is not None
                assert given["valid_until"] == verification.valid_until.isoformat()
                assert given["losses"] == [
                    losses.first_rise_deg, losses.second_rise_deg, losses.indicator_loss_J, losses.swing_loss_J,
                    losses.half_swing_loss_J,
                ]  # fmt: skip
                seen += 1
    assert seen


@pytest.mark.parametrize("exercise_id", WITH_BARS)
def test_method_and_exercise_are_the_handbooks(
    exercise_id: str, demo: Handbook, demo_pages: dict[str, Element]
) -> None:
    data = _data(demo_pages[f"exercises/{exercise_id}.md"])
    exercise = demo.library.exercises[exercise_id]
    method, chosen = demo.library.methods[exercise.method], exercise.specimen
    assert chosen is not None
    kind, notch = method.specimen_type(chosen.type), method.notch(chosen.notch)
    assert kind is not None
    asked = {"width_mm": kind.width_mm, "thickness_mm": kind.thickness_mm}
    if notch is not None:
        asked["remaining_width_mm"] = notch.remaining_width_mm
    given = data["method"]
    assert given["dimensions"].keys() == asked.keys()
    for name, requirement in asked.items():
        assert given["dimensions"][name]["low"] == requirement.lowest
        assert given["dimensions"][name]["high"] == requirement.highest
        assert given["dimensions"][name]["text"] == requirement.text("mm")
    assert given["conditioning"]["hours"]["high"] is None  # at least so long
    assert given["test_atmosphere"]["temperature_C"]["value"] == method.test_atmosphere.temperature_C.value
    assert given["window_pct"] == [method.energy_window.low_pct, method.energy_window.high_pct]
    assert given["loss_correction"] == method.loss_correction
    assert given["breaks"]["H"] == {"title": "hinge", "group": ["C", "H"], "role": "hinge", "has_strength": True}
    assert given["breaks"]["N"] == {"title": "none", "group": ["N"], "role": "none", "has_strength": False}
    assert data["limits"] == json.loads(json.dumps(worksheet_limits()))
    assert data["rules"] == told_rules()
    assert data["rows"] == {"first": exercise.number_of_specimens, "most": MOST_BARS}
    assert data["specimen"] == {"type": chosen.type, "notch": chosen.notch, "direction": chosen.direction}


def test_quantiles_are_those_of_students_t(demo_pages: dict[str, Element]) -> None:
    """At the Chebyshev points of 1 over the degrees of freedom; held against scipy.stats, which has another way."""
    quantiles = _data(demo_pages["exercises/notched-charpy.md"])["student_t"]
    last = len(quantiles) - 1
    for place, quantile in enumerate(quantiles):
        inverse = math.sin(math.pi * place / (2 * last)) ** 2
        assert quantile == pytest.approx(students_t.ppf(0.975, 1.0 / inverse if inverse else math.inf), rel=1e-11)
    # 1.960 and 12.706 are printed in every table (ISO 2602)
    assert (round(quantiles[0], 3), round(quantiles[-1], 3)) == (1.960, 12.706)


def test_exercise_without_bars_has_a_worksheet_of_free_swings(demo: Handbook, demo_pages: dict[str, Element]) -> None:
    page = demo_pages["exercises/pendulum-losses.md"]
    data = _data(page)
    assert data["limits"] == json.loads(json.dumps(swings_limits()))
    assert data["rules"] == told_swings_rules()
    method = demo.library.methods[demo.library.exercises["pendulum-losses"].method]
    assert data["method"] == {"standard": method.standard, "loss_correction": method.loss_correction}
    form = page.one("form", css="nb-worksheet")
    asked = {each.attributes.get("data-key", "") for each in form.all("input", "select", "textarea")}
    assert asked - {""} == {
        "group", "date", "rig", "hammer", "notes", "series.half_swings_between", "free_swings.first",
        "free_swings.second", "free_swings.half_swings", "free_swings.later",
    }  # fmt: skip


@pytest.mark.parametrize("exercise_id", EXERCISES)
def test_scripts_are_named_in_order_and_start_after_the_page(exercise_id: str, demo_pages: dict[str, Element]) -> None:
    page = demo_pages[f"exercises/{exercise_id}.md"]
    scripts = [each for each in page.all("script") if "/worksheet/" in each.attributes.get("src", "")]
    kind = "test" if exercise_id in WITH_BARS else "swings"
    assert [each.attributes["src"] for each in scripts] == [f"../{each}" for each in SCRIPTS[kind]]
    assert all("defer" in each.attributes for each in scripts)
    at_hand = {f"assets/worksheet/{path.name}" for path in (ASSETS / "worksheet").glob("*.js")}
    assert at_hand == {each for scripts in SCRIPTS.values() for each in scripts}
    assert "assets/worksheet/worksheet.css" in STYLES


@pytest.mark.parametrize("exercise_id", WITH_BARS)
def test_every_control_has_a_label(exercise_id: str, demo_pages: dict[str, Element]) -> None:
    form = demo_pages[f"exercises/{exercise_id}.md"].one("form", css="nb-worksheet")
    controls = form.all("input", "select", "textarea")
    assert len(controls) > 20
    for control in controls:
        assert control.parent is not None
        label = control.parent.one("label")
        assert label.text or "data-scale" in label.attributes
    assert ("remaining_width_mm" in {each.attributes.get("data-name") for each in controls}) == (
        exercise_id != "unnotched-charpy"
    )


@pytest.mark.parametrize("shift", range(0, len(hostile.HOSTILE), 3))
def test_foreign_text_comes_back_as_it_was(shift: int, tmp_path: Path) -> None:
    def text_of(number: int) -> str:
        return hostile.HOSTILE[(number + shift) % len(hostile.HOSTILE)]

    files, _ = hostile.handbook_of(text_of, lambda word: f'<i>{word}" ')
    small.write(tmp_path, {**files, "mkdocs.yml": "plugins:\n  - notchbook:\n      deviations: label\n"})
    handbook = open_handbook(tmp_path, day=small.DAY)
    page = pages_of(handbook)["exercises/notched-charpy.md"]
    script = page.one("script", css="nb-worksheet-data")
    assert not re.search(r"[<>&\u2028\u2029]", script.raw_text)
    data = _data(page)
    given = {(rig, key): each["title"] for rig, one in data["rigs"].items() for key, each in one["hammers"].items()}
    assert given == {key: each.title for key, each in handbook.evaluation.hammers.items()}
    method = handbook.library.methods["own"]
    assert data["method"]["standard"] == method.standard
    chosen = handbook.library.exercises["notched-charpy"].specimen
    assert chosen is not None
    assert data["specimen"]["direction"] == chosen.direction


def test_text_that_ends_a_script_is_data() -> None:
    texts = ["</script><script>hit()</script>", "<!-- <script>", "\u2028\u2029", '"\\" {{ x }}', "\U0001f600"]
    given = embedded(texts)
    assert json.loads(given) == texts
    assert not re.search("[<>&\u2028\u2029]", given)
    assert given.isascii()


def test_page_of_an_exercise_stays_small(demo: Handbook) -> None:
    for uri, content in build_site(demo).pages.items():
        if uri.startswith("exercises/") and "nb-worksheet-data" in content.body:
            start = content.body.index('<form class="nb-worksheet"')
            assert len(content.body[start : content.body.index("</form>", start)].encode()) <= 17_000, uri
