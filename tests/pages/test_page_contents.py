"""What must be on a page and in which order: safety first, deviations marked, sources named, tables fit to use."""

import itertools
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml
from page_html import pages_of

import small_handbook as small
from html_tree import Element, rows_of
from notchbook.charts.comparison import MOST_ROWS
from notchbook.handbook import RULES, Handbook, open_handbook
from notchbook.wording.dates import day_words

DEMO = Path(__file__).resolve().parents[2]
EXERCISES = sorted(path.stem for path in (DEMO / "procedures/exercises").glob("*.yaml"))
METHODS = {path.stem: path for path in (DEMO / "plugins/notchbook/methods").glob("*.yaml")}
MEMORY = "memory"
IN_WORDS = re.compile(r"(?P<clause>.+); (?P<how>(?:memory|seen|set here)[^;]*)")
"""Clause and origin of a number that stands in a sentence, without the brackets around both."""


def _read(path: Path) -> Any:
    return yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)  # noqa: S506  # makes texts only


def _one_line(words: str) -> str:
    return " ".join(words.split())


def _place(page: Element, element: Element) -> int:
    return next(place for place, each in enumerate(page) if each is element)


@pytest.mark.parametrize("exercise_id", EXERCISES)
def test_exercise_begins_with_what_can_hurt(exercise_id: str, demo_pages: dict[str, Element]) -> None:
    data = _read(DEMO / f"procedures/exercises/{exercise_id}.yaml")
    listed = {each["id"]: each for each in _read(DEMO / "procedures/hazards.yaml")["hazards"]}
    page = demo_pages[f"exercises/{exercise_id}.md"]
    first_step = min(_place(page, each) for each in page.all("ol", css="nb-steps"))
    caution = page.one("p", css="nb-caution")
    assert "The local risk assessment and the responsible person come before this page." in caution.text
    assert _place(page, page.one("h1")) < _place(page, page.all("h2")[0]) < _place(page, caution) < first_step
    blocks = page.all("details", css="nb-hazard")
    assert [each.attributes["id"] for each in blocks] == [f"hazard-{each}" for each in data["hazards"]]
    for block, hazard_id in zip(blocks, data["hazards"], strict=True):
        assert _place(page, caution) < _place(page, block) < first_step
        # folded by a script where the screen is narrow, and open without one
        assert "open" in block.attributes
        hazard = listed[hazard_id]
        assert block.one("h3").text == hazard["title"]
        for words in (hazard["harm"], hazard["whom"], *(each for part in hazard["controls"].values() for each in part)):
            assert _one_line(words) in block.text
        # the hierarchy of controls of ISO 45001:2018, 8.1.2: what removes a hazard before what is worn
        order = [name for name in ("remove", "guard", "arrange", "wear") if name in hazard["controls"]]
        assert [each.text.lower() for each in block.all("dt")] == order


@pytest.mark.parametrize("exercise_id", EXERCISES)
def test_steps_in_their_order_with_their_hazards(exercise_id: str, demo_pages: dict[str, Element]) -> None:
    data = _read(DEMO / f"procedures/exercises/{exercise_id}.yaml")
    page = demo_pages[f"exercises/{exercise_id}.md"]
    planned = [step for part in ("prepare", "steps", "finish") for step in data.get(part, ())]
    shown = [each for part in page.all("ol", css="nb-steps") for each in part.all("li")]
    assert len(shown) == len(planned)
    for item, step in zip(shown, planned, strict=True):
        label = item.one("label")
        assert label.text == _one_line(step["do"])
        assert label.one("input").attributes["type"] == "checkbox"
        looks = [each.text for each in item.all("p", css="nb-look")]
        assert looks == ([f"Look for: {_one_line(step['look_for'])}"] if "look_for" in step else [])
        links = [each.attributes["href"] for each in item.all("a")]
        assert links == ([f"#hazard-{step['hazard']}"] if "hazard" in step else [])


@pytest.mark.parametrize("uri", ["index.md", "exercises/index.md", "rigs/index.md", "rigs/bench-1.md"])
def test_page_that_leads_to_a_pendulum_defers_to_the_laboratory(uri: str, demo_pages: dict[str, Element]) -> None:
    assert "local risk assessment" in demo_pages[uri].one("p", css="nb-caution").text


def _record_rows(page: Element) -> Iterator[tuple[str, Element]]:
    for table in page.all("table", css="nb-records"):
        for cells in rows_of(table):
            href = cells["Date"].one("a").attributes["href"]
            yield href.rpartition("/")[2].removesuffix(".html"), cells["Result, kJ/m²"]


def test_deviating_record_is_marked_wherever_it_stands(demo: Handbook, demo_pages: dict[str, Element]) -> None:
    deviating = {path.stem for path in (DEMO / "results/tests").glob("*.yaml") if "deviations" in _read(path)}
    assert deviating
    marked_on: dict[str, set[str]] = {each: set() for each in deviating}
    for uri, page in demo_pages.items():
        for record_id, cell in _record_rows(page):
            marks = [each.text for each in cell.all(css="nb-mark")]
            assert marks == (["deviates"] if record_id in deviating else []), f"{record_id} on {uri}"
            if record_id in deviating:
                marked_on[record_id].add(uri)
    for record_id, uris in marked_on.items():
        record = demo.library.records[record_id]
        assert uris >= {"records/index.md", f"exercises/{record.exercise}.md", f"materials/{record.material}.md"}
    for record_id in demo.library.records:
        notes = demo_pages[f"records/{record_id}.md"].all("div", css="nb-deviation")
        assert len(notes) == (record_id in deviating)
        for note in notes:
            for declared in _read(DEMO / f"results/tests/{record_id}.yaml")["deviations"]:
                assert all(_one_line(declared[key]) in note.text for key in ("rule", "reason", "accepted_by"))
                assert f"../checks.html#{declared['rule']}" in [each.attributes["href"] for each in note.all("a")]


def _described(page: Element) -> str:
    return " ".join(each.text for each in page.all("desc"))


def test_comparisons_show_the_conforming_records_only(demo: Handbook, demo_pages: dict[str, Element]) -> None:
    seen = 0
    for record in demo.library.records.values():
        label = re.compile(rf"\b{record.date:%Y-%m-%d} {re.escape(record.group)} ")
        own = demo.verdicts.records[record.id]
        for uri in (f"exercises/{record.exercise}.md", f"materials/{record.material}.md"):
            # a day's other records of the group on that page would have the same label
            same = [
                each for each in demo.library.records.values()
                if (each.date, each.group) == (record.date, record.group) and each.id != record.id
            ]  # fmt: skip
            drawn = len(label.findall(_described(demo_pages[uri])))
            if own.deviations:
                assert drawn == 0 or same
            elif demo.evaluation.records[record.id].sets and sum(1 for _ in _record_rows(demo_pages[uri])) <= MOST_ROWS:
                assert drawn, f"{record.id} on {uri}"
                seen += 1
    assert seen > len(demo.library.records)


def test_checks_page_lists_every_rule(demo_pages: dict[str, Element]) -> None:
    page = demo_pages["checks.md"]
    terms = page.all("dt")
    assert sorted(each.attributes["id"] for each in terms) == sorted(RULES)
    for term in terms:
        rule = RULES[term.attributes["id"]]
        assert (term.one("b").text, term.one("code").text) == (rule.title, rule.id)
        assert rule.severity in [each.text for each in term.all("span")]
        assert ("can be declared" in term.text) == rule.declarable
        assert term.parent is not None
        definition = term.parent.all("dd")[term.parent.all("dt").index(term)]
        about = f"{_one_line(rule.why)} Basis: {_one_line(rule.basis)}."
        assert definition.text == f"{about} Put it right: {_one_line(rule.remedy)}"


def test_findings_of_the_handbook_stand_on_the_checks_page(demo: Handbook, demo_pages: dict[str, Element]) -> None:
    listed = [each.text for each in demo_pages["checks.md"].one("ul", css="nb-findings").all("li")]
    assert demo.findings
    assert listed == [
        f"{each.severity.capitalize()} {each.text} {each.rule}, {each.path}, line {each.line}" for each in demo.findings
    ]


def _origins(data: Any) -> Iterator[dict[str, Any]]:
    if isinstance(data, dict):
        if "confidence" in data:
            yield data
        for each in data.values():
            yield from _origins(each)
    elif isinstance(data, list):
        for each in data:
            yield from _origins(each)


@pytest.mark.parametrize("method_id", sorted(METHODS))
def test_method_says_of_every_number_how_it_is_known(method_id: str, demo_pages: dict[str, Element]) -> None:
    page = demo_pages[f"methods/{method_id}.md"]
    planned = sorted(
        (each["clause"], each["confidence"], each["certainty"] if each["confidence"] == "memory" else each["source"])
        for each in _origins(_read(METHODS[method_id]))
    )
    shown = []
    for table in page.all("table"):
        for row in rows_of(table):
            how = row["How sure"].text
            assert (MEMORY in how) == bool(row["How sure"].all(css="nb-memory"))
            shown.append((row["Clause"].text, how))
    for value in page.all("span", css="nb-origin"):
        found = IN_WORDS.fullmatch(value.text[1:-1])
        assert found, value.text
        assert (MEMORY in found["how"]) == bool(value.all(css="nb-memory"))
        shown.append((found["clause"], found["how"]))
    words = {"memory": "memory", "seen": "quoted", "set": "department"}
    told = sorted(
        (clause, words[how.split()[0]], (re.search(r"\((\w+)\)", how) or ["", ""])[1]) for clause, how in shown
    )
    assert told == planned
    # what the short words mean stands above the first of them
    meaning = page.one("dl", css="nb-sure")
    assert "from memory; check against your copy" in meaning.text
    assert _place(page, meaning) < _place(page, page.all("table")[0])


@pytest.mark.parametrize("method_id", sorted(METHODS))
def test_method_tells_that_its_text_was_not_seen_whole(method_id: str, demo_pages: dict[str, Element]) -> None:
    note = demo_pages[f"methods/{method_id}.md"].one("div", css="nb-deviation").text
    assert _read(METHODS[method_id])["text_seen"] in ("none", "parts")
    assert "check against your copy" in note
    assert "no substitute for the standard" in note


def test_tables_have_heads_and_scroll_in_a_region_of_their_own(demo_pages: dict[str, Element]) -> None:
    for uri, page in demo_pages.items():
        labels = []
        for table in page.all("table"):
            if any("nb-paper" in above.classes for above in table.ancestors):
                continue  # filled in by pen, and never on the screen
            region = table.parent
            assert region is not None
            # WCAG 2.1, 2.1.1 and 4.1.2: what scrolls can be reached with the keyboard and has a name
            assert (region.tag, region.attributes["tabindex"], region.attributes["role"]) == ("div", "0", "region"), uri
            labels.append(region.attributes["aria-label"])
            assert all(each.attributes["scope"] == "col" for each in table.one("thead").all("th"))
            assert all(each.text for each in table.one("thead").all("th")), uri
            assert all(each.attributes["scope"] == "row" for each in table.one("tbody").all("th"))
            assert rows_of(table), uri
        assert len(set(labels)) == len(labels), f"{uri}: {labels}"
        assert all(labels)


def test_page_has_one_h1_and_skips_no_level(demo_pages: dict[str, Element]) -> None:
    for uri, page in demo_pages.items():
        levels = [int(each.tag[1]) for each in page.all("h1", "h2", "h3", "h4", "h5", "h6")]
        assert (levels[0], levels.count(1)) == (1, 1), uri
        assert all(below - above <= 1 for above, below in itertools.pairwise(levels)), f"{uri}: {levels}"


def test_ids_are_unique_and_charts_have_names(demo_pages: dict[str, Element]) -> None:
    for uri, page in demo_pages.items():
        ids = [each.attributes["id"] for each in page if "id" in each.attributes]
        assert len(set(ids)) == len(ids), uri
        for chart in page.all("svg"):
            assert chart.attributes["role"] == "img"
            for named in chart.attributes["aria-labelledby"].split():
                assert page.with_id(named).text


def test_empty_handbook_has_its_pages(tmp_path: Path) -> None:
    kept = {name: data for name, data in small.files().items() if name in (small.RIG, "procedures/hazards.yaml")}
    pages = pages_of(small.opened(tmp_path, kept))
    assert {"index.md", "records/index.md", "exercises/index.md", "rigs/bench-1.md", "checks.md"} <= set(pages)


def test_material_and_exercise_without_records(tmp_path: Path) -> None:
    contents = small.files()
    del contents[small.TEST]
    pages = pages_of(small.opened(tmp_path, contents))
    assert "has not been tested yet" in pages["materials/pp-h.md"].text
    assert not pages["exercises/notched-charpy.md"].all("svg", css="nb-chart")


def test_handbook_of_deviating_records_has_no_comparison(tmp_path: Path) -> None:
    contents = small.files()
    contents[small.TEST]["conditioning"]["hours"] = 2
    contents[small.TEST]["deviations"] = [{"rule": "conditioning", "reason": "wanted so", "accepted_by": "LT-1"}]
    small.write(tmp_path, contents | {"mkdocs.yml": "plugins:\n  - notchbook:\n      deviations: label\n"})
    handbook = open_handbook(tmp_path, day=small.DAY)
    assert handbook.verdicts.records[small.TEST_ID].deviations
    pages = pages_of(handbook)
    assert not pages["exercises/notched-charpy.md"].all("svg", css="nb-chart")
    assert not pages["materials/pp-h.md"].all("svg")
    assert "departs from its method" in pages[f"records/{small.TEST_ID}.md"].text


def test_next_verifications_are_listed_by_urgency(demo: Handbook, demo_pages: dict[str, Element]) -> None:
    hammers = demo.evaluation.hammers
    days = {hammer: demo.evaluation.by_hammer[hammer][0].valid_until for hammer in hammers}
    for uri, rigs in (("rigs/bench-1.md", {"bench-1"}), ("rigs/bench-2.md", {"bench-2"})):
        listed = [each.text for each in demo_pages[uri].one("ol", css="nb-due").all("li")]
        expected = sorted({day for (rig, _), day in days.items() if rig in rigs})
        assert [each.rpartition("until ")[2] for each in listed] == [day_words(each) for each in expected]
        titles = [hammer.title for (rig, _), hammer in hammers.items() if rig in rigs]
        assert all(any(title in each for each in listed) for title in titles)
    first = demo_pages["index.md"].one("ol", css="nb-due").all("li")[0].text
    assert day_words(min(days.values())) in first
