"""Settings that an export writes for builders: the same for each, without the plugin, and with nothing of Python."""

import tomllib
from pathlib import Path

import pytest
import yaml
from exported import SETTINGS, export, handbook

FULL = """\
site_name: 'Bench: #1 "\u2028"'
site_url: https://bench.example/x/
copyright: Ours
use_directory_urls: true
theme:
  name: material
  language: de
  custom_dir: over
  features: [navigation.tabs]
  palette: {scheme: slate, primary: custom}
extra_css: [own.css, assets/notchbook.css]
extra_javascript: [own.js, {path: mod.js, type: module}]
extra: {generator: false, "no": "yes", odd: !!python/name:os.system }
markdown_extensions:
  - toc: {permalink: true}
plugins:
  - search: {lang: [de, en]}
  - notchbook
nav:
  - more/one.md
  - Two: more/README.md
  - Elsewhere: https://bench.example/
"""
PAGES = {"own.css": "b{}", "own.js": "", "mod.js": "", "more/one.md": "# One\n", "more/README.md": "x\n", "z.md": "z\n"}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = handbook(tmp_path_factory.mktemp("settings") / "lab", FULL, {**PAGES, "../over/main.html": "x"})
    done = export(root, root.parent / "out")
    assert done.exit_code == 0, done.output
    assert "the theme's own templates" in done.output
    return root.parent / "out"


def test_mkdocs_gets_the_settings_without_the_plugin(folder: Path) -> None:
    found = yaml.safe_load((folder / "mkdocs.yml").read_text("utf-8"))
    assert found["site_name"] == 'Bench: #1 "\u2028"'
    assert (found["site_url"], found["copyright"], found["use_directory_urls"]) == (
        "https://bench.example/x/", "Ours", True,
    )  # fmt: skip
    assert found["theme"] == {
        "name": "material", "language": "de", "features": ["navigation.tabs"],
        "palette": {"scheme": "slate", "primary": "custom"},
    }  # fmt: skip
    assert found["plugins"] == [{"search": {"lang": ["de", "en"]}}]
    assert found["extra"]["generator"] is False
    assert found["extra"]["no"] == "yes"
    assert not {"markdown_extensions", "hooks", "INHERIT"} & set(found)
    assert found["extra_css"].count("assets/notchbook.css") == 1
    assert found["extra_css"][0] == "assets/theme.css"
    assert found["extra_javascript"][-2:] == ["own.js", {"path": "mod.js", "type": "module"}]
    assert found["nav"][-3:] == ["more/one.md", {"Two": "more/index.md"}, {"Elsewhere": "https://bench.example/"}]
    # a folder of which only the index is named, by one pattern; single pages by their names
    patterns = found["not_in_nav"].splitlines()
    assert {"/records/*.md", "!/records/index.md", "/z.md"} <= set(patterns)


def test_the_successor_gets_the_same(folder: Path) -> None:
    found = tomllib.loads((folder / "zensical.toml").read_text("utf-8"))["project"]
    other = yaml.safe_load((folder / "mkdocs.yml").read_text("utf-8"))
    theme = found.pop("theme")
    assert theme.pop("variant") == "classic"
    assert {"name": "material", **theme} == other["theme"]
    assert found == {key: other[key] for key in found}
    assert {"nav", "extra_css", "extra_javascript", "docs_dir", "site_name", "use_directory_urls"} <= set(found)


def test_the_fork_gets_the_same_by_its_own_name(folder: Path) -> None:
    assert yaml.safe_load((folder / "properdocs.yml").read_text("utf-8")) == {"INHERIT": "mkdocs.yml"}


def test_another_theme_stays(tmp_path: Path) -> None:
    settings = SETTINGS.replace("{name: material, language: en}", "readthedocs")
    assert export(handbook(tmp_path / "lab", settings), tmp_path / "out").exit_code == 0
    found = yaml.safe_load((tmp_path / "out/mkdocs.yml").read_text("utf-8"))
    assert found["theme"] == {"name": "readthedocs"}
    assert "assets/theme.css" not in found["extra_css"]
    assert "polyfills" not in found["extra"]
