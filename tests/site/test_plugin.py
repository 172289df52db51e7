"""Whole builds: what goes into the site and its navigation, and what the settings change."""

import re
from pathlib import Path

import pytest
import yaml
from site_building import DEMO_PARTS, build, built, contents, copy_demo, run, run_alone

import small_handbook as small
from conftest import DemoSite
from html_tree import Element, parse

RECORD_PAGE = f"records/{small.TEST_ID}.html"


def _handbook(root: Path, settings: str = "", pages: dict[str, str] | None = None, **files: small.Data) -> Path:
    """The small handbook with a mkdocs.yml, in the plainest theme, and some pages written by hand."""
    small.write(root, small.files() | files)
    (root / "docs").mkdir(exist_ok=True)
    for name, text in (pages or {}).items():
        (root / "docs" / name).parent.mkdir(parents=True, exist_ok=True)
        (root / "docs" / name).write_text(text, encoding="utf-8")
    head = "site_name: Bench\ntheme: {name: mkdocs}\nuse_directory_urls: false\n"
    if "plugins:" not in settings:
        settings += "plugins: [search, notchbook]\n"
    (root / "mkdocs.yml").write_text(head + settings, encoding="utf-8")
    return root


def _page(site: Path, name: str) -> Element:
    return parse((site / name).read_text(encoding="utf-8"))


def _navigation(page: Element) -> list[tuple[str, str]]:
    """Titles and addresses of the links in the plain theme's bar, sections without an address among them."""
    return [(each.text, each.attributes["href"]) for each in page.all("ul", css="navbar-nav")[0].all("a")]


def test_demo_builds_without_a_warning(either_site: DemoSite) -> None:
    lines = [line for line in either_site.build.stdout.splitlines() if line.strip()]
    assert {line.partition(" ")[0] for line in lines} == {"INFO"}, either_site.build.stdout
    said = [line.partition(" -  ")[2] for line in lines]
    notes = [each for each in said if re.match(r"\S+:\d+:\d+: note: ", each)]
    rest = [re.sub(r" in [\d.]+ seconds|-[0-9a-f]{8}$", "", each) for each in said if each not in notes]
    assert rest == [
        "Cleaning site directory",
        f"Building documentation to directory: {either_site.folder.parent / '.site.building'}",
        f"The site is in place: {either_site.folder}",
        "Documentation built",
    ]
    checked = run(either_site.root, "notchbook", "check")
    assert checked.returncode == 0
    *found, total = checked.stdout.splitlines()
    assert notes == found
    assert total.startswith("0 errors, 0 warnings,")


@pytest.mark.repeats
@pytest.mark.parametrize(
    ("folder", "pages"),
    [
        ("results/tests", "records"),
        ("procedures/exercises", "exercises"),
        ("procedures/rigs", "rigs"),
        ("procedures/materials", "materials"),
    ],
)
def test_every_data_file_has_its_page(folder: str, pages: str, demo_site: DemoSite, directory_site: DemoSite) -> None:
    ids = {path.stem for path in (demo_site.root / folder).glob("*.yaml")}
    assert ids
    if pages == "rigs":
        ids |= {f"{each}--wall-card" for each in ids}
    assert {path.stem for path in (demo_site.folder / pages).glob("*.html")} == ids | {"index"}
    assert {path.parent.name for path in (directory_site.folder / pages).glob("*/index.html")} == ids


def test_every_method_has_its_page(demo_site: DemoSite) -> None:
    assert {path.stem for path in (demo_site.folder / "methods").glob("*.html")} >= {"index", "iso-179-1", "iso-180"}


def test_page_shows_what_its_data_file_is_called(demo_site: DemoSite) -> None:
    for folder in ("exercises", "rigs", "materials"):
        for path in (demo_site.root / "procedures" / folder).glob("*.yaml"):
            title = yaml.safe_load(path.read_text(encoding="utf-8"))["title"]
            assert _page(demo_site.folder, f"{folder}/{path.stem}.html").one("article").one("h1").text == title


def test_records_are_reached_by_their_index_and_not_by_the_navigation(demo_site: DemoSite) -> None:
    records = {path.stem for path in (demo_site.root / "results/tests").glob("*.yaml")}
    for name in ("index.html", "records/index.html", f"records/{min(records)}.html"):
        page = _page(demo_site.folder, name)
        links = [each for bar in page.all("nav") for each in bar.all("a")]
        linked = [each.attributes["href"] for each in links if "href" in each.attributes]
        assert linked
        assert not [each for each in linked if each.rpartition("/")[2].removesuffix(".html") in records]
    index = _page(demo_site.folder, "records/index.html").one("article")
    assert {each.attributes["href"].removesuffix(".html") for each in index.all("a")} >= records


@pytest.mark.parametrize("form", ["json", "csv"])
def test_data_of_the_site_is_that_of_the_command(form: str, either_site: DemoSite) -> None:
    printed = run(either_site.root, "notchbook", "results", "--format", form)
    assert printed.returncode == 0
    in_site = (either_site.folder / f"data/results.{form}").read_text(encoding="utf-8")
    # the site rounds to ten figures, which all versions of the packages work out alike
    told = [re.sub(r"-?[0-9]+\.[0-9]+(e-?[0-9]+)?", _rounded, each) for each in (in_site, printed.stdout)]
    assert told[0].splitlines() == told[1].splitlines()
    assert len(in_site) > 1000


def _rounded(number: re.Match[str]) -> str:
    return f"{float(number[0]):.10g}"


def test_notice_stands_on_every_page(demo_site: DemoSite) -> None:
    for path in demo_site.folder.rglob("*.html"):
        if path.name != "404.html":
            article = _page(demo_site.folder, str(path.relative_to(demo_site.folder))).one("article")
            assert article.one("p", css="nb-notice").text.startswith("Invented data: "), path.name


@pytest.mark.repeats
def test_same_data_gives_the_same_site(demo_site: DemoSite, tmp_path: Path) -> None:
    done = run_alone(copy_demo(tmp_path / "elsewhere"), "mkdocs", "build", "--strict", PYTHONHASHSEED="7")
    assert done.returncode == 0, done.stdout
    again = tmp_path / "elsewhere/site"
    first, second = contents(demo_site.folder), contents(again)
    assert first.keys() == second.keys()
    different = {name for name in first if first[name] != second[name]}
    assert different <= {"sitemap.xml", "sitemap.xml.gz"}


def test_build_writes_nothing_beside_the_site(tmp_path: Path) -> None:
    root = copy_demo(tmp_path)
    before = contents(root)
    built(root)
    after = {name: data for name, data in contents(root).items() if not name.startswith("site/")}
    assert after == before
    assert {path.name for path in root.iterdir()} == {*DEMO_PARTS, "site"}


def test_site_says_nothing_of_the_machine(demo_site: DemoSite) -> None:
    for name, data in contents(demo_site.folder).items():
        assert str(demo_site.root).encode() not in data, name


def test_switched_off(tmp_path: Path) -> None:
    root = _handbook(
        tmp_path,
        "plugins:\n  - notchbook: {enabled: false}\n",
        {"index.md": "# By hand\n"},
        **{small.MATERIAL: {"kind": "material"}},
    )
    site = built(root, "--strict")
    assert {path.name for path in site.rglob("*.html")} == {"index.html", "404.html"}
    assert not (site / "data").exists()


def test_home_written_by_hand_stays(tmp_path: Path) -> None:
    site = built(_handbook(tmp_path, pages={"index.md": "# By hand\n\nMine.\n"}), "--strict")
    text = _page(site, "index.html").text
    assert "Mine." in text
    assert "Newest results" not in text
    assert (site / RECORD_PAGE).is_file()


def test_home_in_a_readme_stays(tmp_path: Path) -> None:
    site = built(_handbook(tmp_path, pages={"README.md": "# By hand\n\nMine.\n"}), "--strict")
    assert "Mine." in _page(site, "index.html").text
    assert _navigation(_page(site, RECORD_PAGE))[0] == ("Home", "../index.html")


def test_pages_without_navigation_are_listed_behind_the_handbook(tmp_path: Path) -> None:
    site = built(_handbook(tmp_path, pages={"rules.md": "# House rules\n", "who/us.md": "# We\n"}), "--strict")
    linked = _navigation(_page(site, "index.html"))
    assert linked[-3:] == [("More", "#"), ("House rules", "rules.html"), ("We", "who/us.html")]
    assert ("Notched bars", "exercises/notched-charpy.html") in linked


def test_navigation_is_appended(tmp_path: Path) -> None:
    root = _handbook(tmp_path, "nav:\n  - Rules: rules.md\n", {"rules.md": "# House rules\n"})
    linked = _navigation(_page(built(root, "--strict"), "index.html"))
    assert linked[-1] == ("Rules", "rules.html")
    assert ("Notched bars", "exercises/notched-charpy.html") in linked


def test_navigation_that_names_the_handbook_replaces_its_own(tmp_path: Path) -> None:
    nav = "nav:\n  - Start: index.md\n  - Do: [exercises/notched-charpy.md, rules.md]\n"
    site = built(_handbook(tmp_path, nav, {"rules.md": "# House rules\n"}))
    assert _navigation(_page(site, "index.html")) == [
        ("Start", "index.html"),
        ("Do", "#"),
        ("Notched bars", "exercises/notched-charpy.html"),
        ("House rules", "rules.html"),
    ]
    assert (site / "rigs/bench-1.html").is_file()


def test_other_folders(tmp_path: Path) -> None:
    root = _handbook(tmp_path, "plugins:\n  - notchbook: {procedures: lab/how, results: lab/what}\n")
    (root / "lab").mkdir()
    (root / "procedures").rename(root / "lab/how")
    (root / "results").rename(root / "lab/what")
    site = built(root, "--strict")
    assert f"lab/what/tests/{small.TEST_ID}.yaml" in _page(site, RECORD_PAGE).text


def test_built_from_another_folder(tmp_path: Path) -> None:
    root = _handbook(tmp_path / "handbook")
    done = build(tmp_path, "--strict", "--config-file", str(root / "mkdocs.yml"))
    assert done.returncode == 0, done.stdout
    assert (root / "site" / RECORD_PAGE).is_file()


def test_style_comes_before_that_of_the_department(tmp_path: Path) -> None:
    root = _handbook(tmp_path, "extra_css: [own.css]\n", {"own.css": "p { color: red }\n"})
    head = _page(built(root, "--strict"), RECORD_PAGE).one("head")
    styles = [each.attributes["href"] for each in head.all("link") if each.attributes.get("rel") == "stylesheet"]
    assert styles.index("../assets/notchbook.css") < styles.index("../own.css")


def test_page_leads_to_its_data_file_for_editing(tmp_path: Path) -> None:
    settings = "repo_url: https://code.example/lab/handbook\nedit_uri: edit/main/docs/\n"
    site = built(_handbook(tmp_path, settings), "--strict")
    addresses = [each.attributes.get("href") for each in _page(site, RECORD_PAGE).all("a")]
    assert f"https://code.example/lab/handbook/edit/main/{small.TEST}" in addresses


@pytest.mark.parametrize("directory_urls", [False, True], ids=["html", "directories"])
def test_every_id_has_a_page_of_its_own(directory_urls: bool, tmp_path: Path) -> None:
    files = small.files()
    rig, material, exercise = files[small.RIG], files[small.MATERIAL], files[small.EXERCISE]
    verification, test = files[small.VERIFICATION], files[small.TEST]
    ids = ["index", "a.b", "readme", "index.html", "404"]
    for place, each in enumerate(ids):
        files[f"procedures/rigs/{each}.yaml"] = rig | {"title": f"Rig {place}"}
        files[f"procedures/materials/{each}.yaml"] = material | {"title": f"Material {place}"}
        files[f"procedures/exercises/{each}.yaml"] = exercise | {"title": f"Exercise {place}"}
        files[f"results/verifications/{each}.yaml"] = verification | {"rig": each}
        own = {"rig": each, "exercise": each, "material": each, "group": f"G{place}"}
        bars = [bar | {"width_mm": round(bar["width_mm"] + (place + 1) / 100, 2)} for bar in test["specimens"]]
        files[f"results/tests/{each}.yaml"] = test | own | {"specimens": bars}
    root = _handbook(tmp_path, **files)
    settings = root / "mkdocs.yml"
    text = settings.read_text(encoding="utf-8")
    settings.write_text(text.replace("urls: false", f"urls: {str(directory_urls).lower()}"), encoding="utf-8")
    site = built(root)
    for folder, word in (("rigs", "Rig"), ("materials", "Material"), ("exercises", "Exercise")):
        index = _page(site, f"{folder}/index.html")
        targets = {each.text: each.attributes["href"] for each in index.all("a")}
        for place in range(len(ids)):
            target = site / folder / targets[f"{word} {place}"]
            page = parse((target / "index.html" if directory_urls else target).read_text(encoding="utf-8"))
            assert page.one("h1").text == f"{word} {place}"
    records = [path.read_text(encoding="utf-8") for path in (site / "records").rglob("*.html") if path.is_file()]
    assert sum('class="nb-result"' in each for each in records) == len(ids) + 1


HOOK = """
def on_page_read_source(page, config):
    if page.file.src_uri.startswith("records/"):
        return "# Forged"

def on_page_markdown(markdown, page, config, files):
    return markdown + "\\n\\nAdded to Markdown.\\n"

def on_page_content(html, page, config, files):
    return html + "<p>Added to HTML.</p>"
"""


def test_hooks_see_the_content_of_computed_pages_and_no_markdown_of_theirs(tmp_path: Path) -> None:
    root = _handbook(tmp_path, "hooks: [hook.py]\n", {"rules.md": "# House rules\n"})
    (root / "hook.py").write_text(HOOK, encoding="utf-8")
    site = built(root, "--strict")
    computed, by_hand = (_page(site, name).text for name in (RECORD_PAGE, "rules.html"))
    assert ("Added to HTML." in computed, "Added to Markdown." in computed) == (True, False)
    assert ("Added to HTML." in by_hand, "Added to Markdown." in by_hand) == (True, True)
    assert "Forged" not in computed


def test_links_into_parts_of_computed_pages_are_held(tmp_path: Path) -> None:
    settings = "validation: {links: {anchors: warn}}\n"
    page = "# House rules\n\n[Bars](records/{id}.md#{part})\n"
    right = _handbook(tmp_path / "a", settings, {"rules.md": page.format(id=small.TEST_ID, part="specimens")})
    assert build(right, "--strict").returncode == 0
    wrong = _handbook(tmp_path / "b", settings, {"rules.md": page.format(id=small.TEST_ID, part="pieces")})
    done = build(wrong, "--strict")
    assert done.returncode == 1
    assert "does not contain an anchor '#pieces'" in done.stdout


@pytest.mark.parametrize(("depth", "shown"), [("1", False), ("2", True)])
def test_depth_of_the_table_of_contents_holds_for_computed_pages(depth: str, shown: bool, tmp_path: Path) -> None:
    site = built(_handbook(tmp_path, f"markdown_extensions: [{{toc: {{toc_depth: {depth}}}}}]\n"), "--strict")
    linked = [each.attributes.get("href") for each in _page(site, RECORD_PAGE).all("a")]
    assert ("#data-of-this-record" in linked) is shown
