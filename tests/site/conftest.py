"""Sites of the demo, built once."""

import json
import subprocess
from dataclasses import dataclass
from pathlib import Path

import pytest
from site_building import copy_demo, run_alone

from once_a_run import made_once

BROWSERS = frozenset({"chrome", "phone", "large_text", "sheet", "searched", "printer"})
"""Fixtures that are a browser."""
FIRST_LOOKED_AT = frozenset({
    "test_hazards_and_their_controls_are_printed", "test_caution_stands_on_the_first_screen",
})  # fmt: skip
"""What `make test` looks at in a browser; all else there waits for `make test-all`."""


def pytest_itemcollected(item: pytest.Function) -> None:
    """Mark what needs a browser and is not looked at first."""
    if not BROWSERS.isdisjoint(item.fixturenames) and item.originalname not in FIRST_LOOKED_AT:
        item.add_marker(pytest.mark.repeats)


@dataclass(frozen=True)
class DemoSite:
    """The demo's folder, its site and what the build said."""

    root: Path
    build: subprocess.CompletedProcess[str]

    @property
    def folder(self) -> Path:
        return self.root / "site"


def _demo_site(factory: pytest.TempPathFactory, name: str, *, directory_urls: bool) -> DemoSite:
    """The site; whoever of several processes of one run comes first builds it, the others wait for it."""

    def make(root: Path) -> None:
        copy_demo(root)
        settings = root / "mkdocs.yml"
        text = settings.read_text(encoding="utf-8")
        assert "use_directory_urls: false" in text
        wanted = text.replace("use_directory_urls: false", f"use_directory_urls: {str(directory_urls).lower()}")
        settings.write_text(wanted, encoding="utf-8")
        done = run_alone(root, "mkdocs", "build", "--strict")
        (root.parent / f"{name}.json").write_text(json.dumps([done.returncode, done.stdout]), encoding="utf-8")

    root = made_once(factory, name, make)
    status, said = json.loads((root.parent / f"{name}.json").read_text(encoding="utf-8"))
    assert status == 0, said
    return DemoSite(root, subprocess.CompletedProcess(("mkdocs", "build", "--strict"), status, said))


@pytest.fixture(scope="session")
def demo_site(tmp_path_factory: pytest.TempPathFactory) -> DemoSite:
    """The demo with addresses that end in `.html`, built strictly."""
    return _demo_site(tmp_path_factory, "demo", directory_urls=False)


@pytest.fixture(scope="session")
def directory_site(tmp_path_factory: pytest.TempPathFactory) -> DemoSite:
    """The demo with addresses that end in a slash, built strictly."""
    return _demo_site(tmp_path_factory, "directories", directory_urls=True)


@pytest.fixture(params=["html", pytest.param("directories", marks=pytest.mark.repeats)])
def either_site(request: pytest.FixtureRequest) -> DemoSite:
    """The demo in both forms of addresses."""
    site: DemoSite = request.getfixturevalue("demo_site" if request.param == "html" else "directory_site")
    return site
