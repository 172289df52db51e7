"""`notchbook export` on a small handbook: what is written, what is refused, and that nothing is ever half there."""

import json
import shutil
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml
from exported import SETTINGS, contents, export, handbook

import small_handbook as small
from html_tree import parse
from notchbook.building import staging
from notchbook.exporting import writing
from notchbook.site_reading.site_places import UNFINISHED

SCHEMA_FILE = Path(__file__).resolve().parents[2] / "schema/outputs/pages.schema.json"
LIST_SCHEMA = json.loads(SCHEMA_FILE.read_text("utf-8"))
FORMS = pytest.mark.parametrize("options", [(), ("--html",)], ids=["tree", "site"])


@FORMS
def test_an_export_lists_all_that_it_wrote(tmp_path: Path, options: tuple[str, ...]) -> None:
    target = tmp_path / "out"
    done = export(handbook(tmp_path / "lab"), target, *options)
    assert done.exit_code == 0, done.output
    listed = json.loads((target / "pages.json").read_text("utf-8"))
    assert {*listed["files"], "pages.json"} == set(contents(target))
    assert listed["form"] == ("html" if options else "markdown")
    assert {each["path"] for each in listed["pages"]} > {f"records/{small.TEST_ID}.md", "index.md", "checks.md"}
    record = next(each for each in listed["pages"] if each["path"] == f"records/{small.TEST_ID}.md")
    assert record["source"] == small.TEST
    assert not record["listed"]
    assert {"Home": "index.md"} in listed["navigation"]
    jsonschema.validate(listed, LIST_SCHEMA)


NAVIGATION = """nav:
- index.md
- Rules: [house.md, {Elsewhere: https://lab.example/}]
- records/index.md
"""


@FORMS
def test_a_list_with_a_navigation_of_the_settings_holds_to_its_schema(tmp_path: Path, options: tuple[str, ...]) -> None:
    pages = {"house.md": "---\nhide: [toc]\n---\n# House rules\n\n## At the *bench*\n\n[Bars](records/index.md)\n"}
    done = export(handbook(tmp_path / "lab", SETTINGS + NAVIGATION, pages), tmp_path / "out", *options)
    assert done.exit_code == 0, done.output
    listed = json.loads((tmp_path / "out/pages.json").read_text("utf-8"))
    jsonschema.validate(listed, LIST_SCHEMA)
    assert {"Rules": ["house.md", {"Elsewhere": "https://lab.example/"}]} in listed["navigation"]
    house = next(each for each in listed["pages"] if each["path"] == "house.md")
    assert house["headings"] == [{"level": 2, "anchor": "at-the-bench", "title": "At the bench"}]


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (lambda listed: listed.pop("day"), "'day' is a required property"),
        (lambda listed: listed.update(mine=1), "'mine' was unexpected"),
        (lambda listed: listed["navigation"].append({"Two": "a.md", "titles": "b.md"}), "'titles'"),
        (lambda listed: listed["pages"][0].update(path="index.html"), "'index.html' does not match"),
        (lambda listed: listed["pages"][0]["headings"].append({"level": 2, "title": "x"}), "'anchor' is a required"),
    ],
)
def test_the_schema_of_the_list_refuses_another_form(tmp_path: Path, change: Any, told: str) -> None:
    assert export(handbook(tmp_path / "lab"), tmp_path / "out").exit_code == 0
    listed = json.loads((tmp_path / "out/pages.json").read_text("utf-8"))
    change(listed)
    with pytest.raises(jsonschema.ValidationError, match=told):
        jsonschema.validate(listed, LIST_SCHEMA)


@FORMS
def test_an_export_takes_the_place_of_an_earlier_one_and_of_nothing_else(
    tmp_path: Path, options: tuple[str, ...]
) -> None:
    root, target = handbook(tmp_path / "lab"), tmp_path / "out"
    assert export(root, target, *options).exit_code == 0
    (target / ".git").mkdir()
    (target / ".git/config").write_text("kept", encoding="utf-8")
    (root / small.TEST).unlink()
    assert export(root, target, *options).exit_code == 0
    assert not [each for each in contents(target) if small.TEST_ID in each]
    assert (target / ".git/config").read_text("utf-8") == "kept"
    (target / "notes.txt").write_text("mine", encoding="utf-8")
    before = contents(target)
    done = export(root, target, *options)
    assert done.exit_code == 2
    assert "holds 'notes.txt', which no export wrote" in done.output
    assert contents(target) == before


@pytest.mark.parametrize(
    ("place", "words"),
    [
        ("lab", "is or holds 'results', a place of the data"),
        ("lab/results/tests/out", "lies in 'results', a place of the data"),
        ("lab/docs", "is or holds the hand-written pages"),
        ("lab/docs/out", "lies in the hand-written pages"),
        ("lab/mkdocs.yml", "is or holds the settings of the site"),
        ("full", "holds files and no earlier export"),
        ("full/a.txt", "is a file"),
        ("forged", "holds files and no earlier export"),
    ],
)
@FORMS
def test_a_place_that_holds_something_else_is_refused(
    tmp_path: Path, place: str, words: str, options: tuple[str, ...]
) -> None:
    root = handbook(tmp_path / "lab")
    small.write(tmp_path, {"full/a.txt": "mine", "forged/pages.json": '{"files": ["a.txt"]}', "forged/a.txt": "mine"})
    before = contents(tmp_path)
    done = export(root, tmp_path / place, *options)
    assert (done.exit_code, words in done.output) == (2, True), done.output
    assert contents(tmp_path) == before


def test_an_empty_folder_is_taken(tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()
    assert export(handbook(tmp_path / "lab"), tmp_path / "out", "--html").exit_code == 0


@FORMS
def test_a_handbook_with_errors_is_not_exported(tmp_path: Path, options: tuple[str, ...]) -> None:
    files = small.files()
    files[small.TEST]["specimens"][0]["rise_angle_deg"] = 200.0
    root = small.write(tmp_path / "lab", {**files, "mkdocs.yml": SETTINGS, "docs/.keep": ""})
    done = export(root, tmp_path / "out", *options)
    assert done.exit_code == 1
    assert f"{small.TEST}:" in done.output
    assert "Nothing was written: " in done.output
    assert not (tmp_path / "out").exists()


@FORMS
@pytest.mark.parametrize("broken", ["page_list", "Staging.publish"])
def test_an_export_that_is_cut_short_leaves_what_was_there(
    tmp_path: Path, options: tuple[str, ...], broken: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    root, target = handbook(tmp_path / "lab"), tmp_path / "out"
    assert export(root, target, *options).exit_code == 0
    before = contents(target)

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    owner = writing if broken == "page_list" else staging.Staging
    monkeypatch.setattr(owner, broken.rpartition(".")[2], full)
    done = export(root, target, *options)
    assert done.exit_code == 2
    assert "No space left on device" in done.output
    assert contents(target) == before
    assert sorted(each.name for each in tmp_path.iterdir()) == ["lab", "out"]


@FORMS
def test_a_half_export_on_a_mount_does_not_look_whole(
    tmp_path: Path, options: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    root, target = handbook(tmp_path / "lab"), tmp_path / "out"
    assert export(root, target, *options).exit_code == 0
    rename = type(target).rename

    def mounted(path: Path, to: Path) -> Path:
        if path == target.resolve():
            raise OSError(16, "Device or resource busy")
        return rename(path, to)

    copied = shutil.copyfile

    def full(source: object, to: object) -> object:
        if str(to).startswith(str(target)) and str(to).endswith("index.html" if options else "index.md"):
            raise OSError(28, "No space left on device")
        return copied(source, to)

    monkeypatch.setattr(type(target), "rename", mounted)
    monkeypatch.setattr(shutil, "copyfile", full)
    assert export(root, target, *options).exit_code == 2
    assert (target / UNFINISHED).exists()
    monkeypatch.setattr(shutil, "copyfile", copied)
    assert export(root, target, *options).exit_code == 0
    assert not (target / UNFINISHED).exists()


def test_a_site_that_was_built_of_an_export_goes_with_it(tmp_path: Path) -> None:
    root, target = handbook(tmp_path / "lab"), tmp_path / "out"
    assert export(root, target).exit_code == 0
    small.write(target, {"site/index.html": "<p>x", "site/assets/notchbook.css": "x", "site/own.html": "x"})
    assert export(root, target).exit_code == 0
    assert not (target / "site").exists()


@pytest.mark.parametrize(
    ("theme", "options", "words"),
    [
        ("{name: materiel}", (), "mkdocs.yml:3:15: error: no theme 'materiel' is installed"),
        ("materiel", (), "mkdocs.yml:3:8: error: no theme 'materiel' is installed"),
        ("{name: material, language: elvish}", (), "mkdocs.yml:3:35: error: the theme has no language 'elvish'"),
        ("{name: material, language: elvish}", ("--html",), "the theme has no language 'elvish'"),
        ("{name: material, language: 7}", (), "the theme has no language '7'"),
    ],
)
def test_an_unknown_theme_or_language_is_said(tmp_path: Path, theme: str, options: tuple[str, ...], words: str) -> None:
    settings = SETTINGS.replace("{name: material, language: en}", theme)
    done = export(handbook(tmp_path / "lab", settings), tmp_path / "out", *options)
    assert done.exit_code == 2
    assert words in done.output
    assert not (tmp_path / "out").exists()


def test_a_site_by_itself_needs_no_theme(tmp_path: Path) -> None:
    settings = SETTINGS.replace("material, language: en", "materiel, language: de")
    assert export(handbook(tmp_path / "lab", settings), tmp_path / "out", "--html").exit_code == 0
    assert '<html lang="de">' in (tmp_path / "out/index.html").read_text("utf-8")


def test_what_takes_no_part_is_said(tmp_path: Path) -> None:
    settings = SETTINGS.replace("[notchbook]", "[tags, notchbook]") + "markdown_extensions: [tables, odd.thing]\n"
    done = export(handbook(tmp_path / "lab", settings), tmp_path / "out", "--html")
    assert "Left out, because it belongs to the builder of the handbook's own site: the plugins tags\n" in done.output
    assert "the extensions of Markdown odd.thing\n" in done.output


def test_a_handbook_without_settings_of_a_site_is_exported(tmp_path: Path) -> None:
    root = small.write(tmp_path / "lab", small.files())
    assert export(root, tmp_path / "out").exit_code == 0
    settings = yaml.safe_load((tmp_path / "out/mkdocs.yml").read_text("utf-8"))
    assert (settings["site_name"], settings["theme"], settings["use_directory_urls"]) == (
        "Impact handbook", {"name": "material"}, True,
    )  # fmt: skip


def test_pages_by_hand_are_exported_as_they_are_published(tmp_path: Path) -> None:
    page = """---
title: A *title*
---
See [a record](../records/2026-10-06-g2-pp-h.md#specimens), [rules](README.md), [there](https://bench.example/x.md)
and [a table](data.csv?raw); [[test 2026-10-06-g2-pp-h: bar 01 strength]].

![a bench](bench.png) [nowhere](nowhere.md) <kept@bench.example>

| a |
|---|
| 1 |

    code

    more
"""
    pages = {
        "more/page.md": page, "more/README.md": "# Rules\n", "more/bench.png": b"\x89PNG", "more/data.csv": "a,b\n",
        "x.mkd": "x\n", ".hidden": "secret", "templates/t.md": "t\n",
    }  # fmt: skip
    root = handbook(tmp_path / "lab", pages=pages)
    done = export(root, tmp_path / "out", "--html")
    assert done.exit_code == 0, done.output
    out = tmp_path / "out"
    article = parse((out / "more/page.html").read_text("utf-8")).one("article")
    assert article.one("h1").text == "A *title*"
    addresses = [each.attributes["href"] for each in article.all("a")]
    assert addresses[:4] == [
        "../records/2026-10-06-g2-pp-h.html#specimens", "index.html", "https://bench.example/x.md", "data.csv?raw",
    ]  # fmt: skip
    assert addresses[4] == "nowhere.md"
    assert article.one("img").attributes["src"] == "bench.png"
    assert article.one("table").parent.attributes["role"] == "region"
    assert article.one("pre").raw_text == "code\n\nmore\n"
    assert (out / "more/bench.png").read_bytes() == b"\x89PNG"
    assert (out / "x.html").is_file()
    assert not [each for each in contents(out) if "hidden" in each or each.startswith("templates")]


def test_excluded_pages_and_drafts_are_not_exported(tmp_path: Path) -> None:
    settings = SETTINGS + "exclude_docs: private/\ndraft_docs: |\n  drafts/\n  !drafts/done.md\n"
    pages = {"private/a.md": "x\n", "drafts/b.md": "x\n", "drafts/done.md": "x\n"}
    export(handbook(tmp_path / "lab", settings, pages), tmp_path / "out", "--html")
    found = set(contents(tmp_path / "out"))
    assert "drafts/done.html" in found
    assert found.isdisjoint({"private/a.html", "drafts/b.html"})


def test_a_placeholder_gives_way_to_the_computed_home_page(tmp_path: Path) -> None:
    text = "---\nnotchbook: placeholder\n---\n# This site holds no records\n"
    root, target = handbook(tmp_path / "lab", pages={"index.md": text}), tmp_path / "out"
    export(root, target, "--html")
    assert parse((target / "index.html").read_text("utf-8")).one("article").one("h1").text == "Bench"
    (root / "docs/index.md").write_text("# By hand\n", encoding="utf-8")
    export(root, target, "--html")
    assert parse((target / "index.html").read_text("utf-8")).one("article").one("h1").text == "By hand"
