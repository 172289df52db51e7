"""Settings shared by all tests, and which of them begin where several processes share them."""

from pathlib import Path

import pytest
from hypothesis import settings

# No test is timed: the first example may have to load a library. Where repeats are left out there are fewer examples.
# A commit passes or fails, whenever it is tried; `make fuzz` looks for what has not been tried.
settings.register_profile("all", deadline=None, derandomize=True)
settings.register_profile("fewer", deadline=None, derandomize=True, max_examples=20)
WITHOUT_REPEATS = "not repeats"
# Long rooms begin, so that no process is left alone with one.
FIRST = ("site", "pages", "commands", "hostile")


def pytest_configure(config: pytest.Config) -> None:
    settings.load_profile("fewer" if config.option.markexpr == WITHOUT_REPEATS else "all")


def _room(config: pytest.Config, path: Path) -> str:
    parts = path.relative_to(config.rootpath).parts
    return parts[1] if len(parts) > 2 else ""


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    rooms = {item: _room(config, item.path) for item in items}
    if config.getoption("dist", "no") != "no" or hasattr(config, "workerinput"):
        items.sort(key=lambda item: FIRST.index(rooms[item]) if rooms[item] in FIRST else len(FIRST))
