"""The base handbook of these tests, to be copied and spoiled."""

import datetime as dt
import shutil
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import pytest

from notchbook.findings import Finding, Severity
from notchbook.handbook import Handbook, open_handbook
from notchbook.model.settings import Settings

BASE = Path(__file__).parent / "handbook"
DAY = dt.date(2027, 3, 15)
"""After every date in the base handbook."""


@dataclass(frozen=True)
class Bench:
    """A copy of the base handbook."""

    root: Path

    def change(self, path: str, *pairs: tuple[str, str]) -> None:
        """Put the second text of each pair in the place of the first, which must stand in the file once."""
        text = (self.root / path).read_text(encoding="utf-8")
        for old, new in pairs:
            assert text.count(old) == 1, f"{path} holds {old!r} {text.count(old)} times"
            text = text.replace(old, new)
        (self.root / path).write_text(text, encoding="utf-8")

    def add(self, path: str, text: str) -> None:
        """Write or append to a file."""
        with (self.root / path).open("a", encoding="utf-8") as file:
            file.write(text)

    def open(self, deviations: Literal["refuse", "label"] = "refuse") -> Handbook:
        """The handbook, read and checked."""
        return open_handbook(self.root, Settings(deviations=deviations), day=DAY)

    def findings(self, rule: str, deviations: Literal["refuse", "label"] = "refuse") -> list[Finding]:
        """The findings of one rule."""
        return [each for each in self.open(deviations).findings if each.rule == rule]

    def errors(self, deviations: Literal["refuse", "label"] = "refuse") -> list[Finding]:
        """The findings at error severity."""
        return [each for each in self.open(deviations).findings if each.severity is Severity.ERROR]


@pytest.fixture
def bench(tmp_path: Path) -> Bench:
    root = tmp_path / "handbook"
    shutil.copytree(BASE, root)
    return Bench(root)


@pytest.fixture(scope="session")
def day() -> dt.date:
    return DAY
