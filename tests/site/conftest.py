"""Sites of the demo, built once."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import pytest
from site_building import build, copy_demo

if TYPE_CHECKING:
    import subprocess
    from pathlib import Path


@dataclass(frozen=True)
class DemoSite:
    """The demo's folder, its site and what the build said."""

    root: Path
    build: subprocess.CompletedProcess[str]

    @property
    def folder(self) -> Path:
        return self.root / "site"


def _demo_site(root: Path, *, directory_urls: bool) -> DemoSite:
    copy_demo(root)
    settings = root / "mkdocs.yml"
    text = settings.read_text(encoding="utf-8")
    assert "use_directory_urls: false" in text
    wanted = text.replace("use_directory_urls: false", f"use_directory_urls: {str(directory_urls).lower()}")
    settings.write_text(wanted, encoding="utf-8")
    done = build(root, "--strict")
    assert done.returncode == 0, done.stdout
    return DemoSite(root, done)


@pytest.fixture(scope="session")
def demo_site(tmp_path_factory: pytest.TempPathFactory) -> DemoSite:
    """The demo with addresses that end in `.html`, built strictly."""
    return _demo_site(tmp_path_factory.mktemp("demo"), directory_urls=False)


@pytest.fixture(scope="session")
def directory_site(tmp_path_factory: pytest.TempPathFactory) -> DemoSite:
    """The demo with addresses that end in a slash, built strictly."""
    return _demo_site(tmp_path_factory.mktemp("directories"), directory_urls=True)


@pytest.fixture(params=["html", "directories"])
def either_site(request: pytest.FixtureRequest) -> DemoSite:
    """The demo in both forms of addresses."""
    site: DemoSite = request.getfixturevalue("demo_site" if request.param == "html" else "directory_site")
    return site
