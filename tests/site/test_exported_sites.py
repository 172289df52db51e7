"""The demo exported: whatever makes a site of it, the text of every article is that of the plugin's own site."""

import json
from pathlib import Path

import jsonschema
import pytest
from exported_demo import articles, export
from site_building import ROOT, contents, run, run_alone

from conftest import DemoSite
from repeating import repeated


@pytest.fixture(scope="module")
def tree(demo_site: DemoSite, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return export(demo_site.root, tmp_path_factory.mktemp("exported") / "tree")


@pytest.fixture(scope="module")
def expected(demo_site: DemoSite) -> dict[str, str]:
    found = articles(demo_site.folder)
    assert len(found) > 140
    assert all(found.values())
    return found


@pytest.mark.repeats
def test_the_list_of_the_pages_holds_to_its_schema(tree: Path, expected: dict[str, str]) -> None:
    listed = json.loads((tree / "pages.json").read_text("utf-8"))
    jsonschema.validate(listed, json.loads((ROOT / "schema/outputs/pages.schema.json").read_text("utf-8")))
    written = {each["path"].removesuffix(".md") + ".html" for each in listed["pages"]}
    # the page for addresses that are not there is the builder's
    assert written == expected.keys() - {"404.html"}


@pytest.mark.repeats
def test_the_site_by_itself_says_the_same(demo_site: DemoSite, expected: dict[str, str], tmp_path: Path) -> None:
    assert articles(export(demo_site.root, tmp_path / "site", "--html")) == expected


@pytest.mark.parametrize("builder", repeated(["mkdocs", "properdocs"], but=[]))
def test_mkdocs_and_its_fork_without_the_plugin_say_the_same(
    builder: str, tree: Path, expected: dict[str, str], tmp_path: Path
) -> None:
    assert "notchbook:" not in (tree / "mkdocs.yml").read_text("utf-8")
    site = tmp_path / "site"
    # the fork stands in for MkDocs in a process of its own
    done = run_alone(tree, builder, "build", "--strict", "--quiet", "--site-dir", str(site))
    assert done.returncode == 0, done.stdout
    assert done.stdout == ""
    assert articles(site) == expected


@pytest.mark.repeats
def test_a_site_that_mkdocs_made_of_an_export_is_finished(tree: Path, demo_site: DemoSite, tmp_path: Path) -> None:
    site = tmp_path / "site"
    assert run(tree, "mkdocs", "build", "--quiet", "--site-dir", str(site)).returncode == 0
    assert run(tree, "notchbook", "finish", str(site)).returncode == 0
    assert (site / "search/search_index.js").is_file()
    assert (site / "service-worker.js").is_file()
    # what programs read is byte for byte the same
    own, theirs = (
        {path: data for path, data in contents(folder).items() if path.startswith("data/")}
        for folder in (demo_site.folder, site)
    )
    assert own == theirs


@pytest.mark.repeats
def test_addresses_that_end_in_a_slash_stay_so(directory_site: DemoSite, tmp_path: Path) -> None:
    tree = export(directory_site.root, tmp_path / "tree")
    done = run(tree, "mkdocs", "build", "--strict", "--quiet")
    assert done.returncode == 0, done.stdout
    assert articles(tree / "site") == articles(directory_site.folder)
