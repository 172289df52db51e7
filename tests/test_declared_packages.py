"""Every package that is imported is one that `pyproject.toml` declares, and none comes with another by chance."""

import ast
import re
import sys
import tomllib
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
# Names that a file of ours can have, by the folder that imports it.
OWN = {
    "plugins": {"notchbook"},
    "tools": {"notchbook", *(path.name for path in (ROOT / "tools").iterdir())},
    "tests": {
        "notchbook",
        *(path.name for path in (ROOT / "tools").iterdir()),
        *(path.stem for path in (ROOT / "tests").rglob("*.py") if "examples" not in path.parts),
    },
}


def _normal(name: str) -> str:
    """The name of a package as the index compares it (Python Packaging User Guide, name normalization)."""
    return re.sub(r"[-_.]+", "-", name).lower()


def _declared(*requirements: str) -> set[str]:
    return {_normal(re.split(r"[^\w.-]", each, maxsplit=1)[0]) for each in requirements}


BROUGHT_BY = packages_distributions()
DEPENDENCIES = _declared(*PROJECT["dependencies"])
OF_TESTS = DEPENDENCIES | _declared(*PROJECT["optional-dependencies"]["test"])


def _modules(source: str) -> set[str]:
    """The first names of all modules that a source imports, for types or when they are needed as well."""
    found = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            found |= {each.name.partition(".")[0] for each in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            found.add(node.module.partition(".")[0])
    return found


def _undeclared(modules: set[str], own: set[str], declared: set[str]) -> set[str]:
    """Modules that no declared package brings; one that is not installed has to be declared by its own name."""
    foreign = modules - own - set(sys.stdlib_module_names)
    return {each for each in foreign if not {_normal(name) for name in BROUGHT_BY.get(each, [each])} & declared}


@pytest.mark.parametrize(("folder", "declared"), [("plugins", DEPENDENCIES), ("tests", OF_TESTS), ("tools", OF_TESTS)])
def test_what_is_imported_is_declared(folder: str, declared: set[str]) -> None:
    found = {
        f"{path.relative_to(ROOT).as_posix()}: {each}"
        for path in (ROOT / folder).rglob("*.py")
        if "examples" not in path.parts
        for each in _undeclared(_modules(path.read_text(encoding="utf-8")), OWN[folder], declared)
    }
    assert sorted(found) == []


def test_what_the_engine_needs_is_imported_or_named_by_a_site() -> None:
    sources = [path.read_text(encoding="utf-8") for path in (ROOT / "plugins").rglob("*.py")]
    imported = set().union(*map(_modules, sources))
    used = {_normal(name) for each in imported for name in BROUGHT_BY.get(each, [])}
    assert DEPENDENCIES - used == {"mkdocs-material"}  # the theme


@pytest.mark.parametrize(
    "source", ["import jinja2.ext", "def f():\n    from jinja2 import ext", "import nowhere.at_all"]
)
def test_an_undeclared_one_is_found(source: str) -> None:
    assert _undeclared(_modules(source), {"notchbook"}, {"mkdocs"}) == _modules(source)
    assert _undeclared(_modules("import os, notchbook.cli\nfrom . import x"), {"notchbook"}, set()) == set()
