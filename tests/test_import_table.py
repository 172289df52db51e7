"""Data runs one way: the table of rooms in DEVELOPERS.md, walked through every file of the package."""

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = ROOT / "plugins" / "notchbook"
FILES = sorted(PACKAGE.rglob("*.py"))
# Single files that import from a room, or a library, which is not given to theirs, and why.
EXCEPTIONS = {
    ("reading/building.py", "physics.gravity"): "the gravity of a place is worked out when its rig is built",
    ("pages/record/worked.py", "physics"): "one bar is worked through step by step with the numbers that are shown",
    ("pages/reference/methods.py", "physics.units"): "a page of a method says its values in older units too",
    ("pages/rig/verification_rows.py", "physics.pendulum"): "a row says what energy a measured release angle gives",
    ("pages/rig/verification_rows.py", "checks"): "a row says what the checks hold a measured value against",
    ("pages/reference/key_rows.py", "reading.schemas"): "the page of keys is the schemas as tables",
    ("pages/reference/guide.py", "reading.folder"): "the page of keys says where each kind of file lies",
    ("pages/data/columns.py", "reading.schemas"): "a column that holds a key is described by its schema",
    ("pages/written/places.py", "reading"): "a file in the place of a computed one becomes a finding",
    ("commands/builder.py", "subprocess"): "MkDocs is started as a program, since only its plugin imports it",
}
# Libraries that belong to some rooms only.
LIBRARIES = {
    "mkdocs": {"mkdocs_plugin"},
    "subprocess": {"git"},
    "yaml": {"reading", "site_reading", "exporting"},
    "nh3": {"site_reading"},
    "markdown": {"pages"},
    "pymdownx": {"pages"},
    "jsonschema": {"reading"},
    "jsonschema_rs": {"reading"},
    "click": {"cli", "commands"},
    "jinja2": {"pages", "mkdocs_plugin", "starting"},
    "pathspec": {"exporting"},
    "scipy": {"statistics"},
}


@cache
def table() -> dict[str, tuple[set[str], set[str]]]:
    """By room, the rooms that it imports and those of which it names types alone."""
    found = {}
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    for rooms, used, named in re.findall(r"^\| (`[^|]+) \|[^|]*\| ([^|]+) \| ([^|]+) \|$", text, re.MULTILINE):
        columns = tuple(set() if each == "-" else set(each.split(", ")) for each in (used, named))
        for room in re.findall(r"`([\w.]+)/?`", rooms):
            found[room.removesuffix(".py")] = columns
    return found


def room_of(path: Path) -> str:
    """The room of a file: the folder or module right under the package."""
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def imports(source: str) -> Iterator[tuple[str, int, bool]]:
    """Every module that a source imports, with its line, and whether its names stand in annotations alone."""
    tree = ast.parse(source)
    annotations = [getattr(node, key, None) for node in ast.walk(tree) for key in ("annotation", "returns")]
    as_types = {id(node) for each in annotations if each is not None for node in ast.walk(each)}
    used = {each.id for each in ast.walk(tree) if isinstance(each, ast.Name) and id(each) not in as_types}
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            names = [(each.name, each.asname or each.name.partition(".")[0]) for each in node.names]
        elif isinstance(node, ast.ImportFrom):
            start = f"{'.' * node.level}{node.module or ''}"
            names = [(f"{start}.{each.name}", each.asname or each.name) for each in node.names]
        else:
            continue
        for module, name in names:
            yield module, node.lineno, name not in used


def forbidden(path: str, source: str) -> list[str]:
    """What a file of the package imports against the table, as `line: module`."""
    room, found = path.split("/", 1)[0].removesuffix(".py"), []
    used, named = table().get(room, (set(), set()))
    for module, line, for_types in imports(source):
        top, *rest = module.split(".")
        allowed = (bool(top) and room in LIBRARIES.get(top, {room})) or (path, top) in EXCEPTIONS
        # what the package itself holds, such as its version, belongs to no room
        if top == "notchbook" and rest and rest[0] in table() and rest[0] != room:
            excepted = {(path, rest[0]), (path, ".".join(rest[:2]))} & EXCEPTIONS.keys()
            allowed = rest[0] in (used | named if for_types else used) or bool(excepted)
        if not allowed:
            found.append(f"{line}: {module}")
    return found


@pytest.mark.parametrize("path", [each.relative_to(PACKAGE).as_posix() for each in FILES])
def test_a_file_imports_what_its_room_may(path: str) -> None:
    assert forbidden(path, (PACKAGE / path).read_text("utf-8")) == []


@pytest.mark.parametrize(("path", "room"), EXCEPTIONS)
def test_an_exception_is_needed(path: str, room: str) -> None:
    imported = {module.removeprefix("notchbook.") for module, *_ in imports((PACKAGE / path).read_text("utf-8"))}
    assert any(f"{each}.".startswith(f"{room}.") for each in imported)
    assert room.split(".", 1)[0] not in table()[path.split("/", 1)[0]][0]


@pytest.mark.parametrize(
    ("path", "source"),
    [
        ("pages/site.py", "from notchbook.evaluation.library import evaluate_library\nevaluate_library()"),
        ("pages/record/pages.py", "def page():\n    import notchbook.physics.losses\n    notchbook.physics"),
        ("pages/site.py", "from .. import reading"),
        ("charts/window.py", "from notchbook.facts.facts import Facts"),
        ("model/rig.py", "from notchbook import reading"),
        ("commands/check.py", "import mkdocs.config"),
    ],
)
def test_what_the_table_does_not_allow_is_told(path: str, source: str) -> None:
    assert len(forbidden(path, source)) == 1


def test_a_room_may_name_types_that_it_may_not_import() -> None:
    source = "from notchbook.evaluation.library import Evaluation\ndef page(given: Evaluation) -> None: "
    assert forbidden("pages/site.py", f"{source}...") == []
    assert forbidden("pages/site.py", f"{source}Evaluation()") == ["1: notchbook.evaluation.library.Evaluation"]


def test_the_table_names_every_room_and_no_other() -> None:
    assert set(table()) == {room_of(path) for path in FILES} | {"templates", "assets", "guide"}


def test_rooms_form_no_circle() -> None:
    """They can be put in an order in which each imports, or names types of, earlier ones only."""
    placed: set[str] = set()
    while len(placed) < len(table()):
        ready = {room for room, columns in table().items() if room not in placed and set.union(*columns) <= placed}
        assert ready, set(table()) - placed
        placed |= ready


def test_modules_form_no_circle() -> None:
    """The same of single files, their imports for types included."""
    names = {path: ".".join(("notchbook", *path.relative_to(PACKAGE).with_suffix("").parts)) for path in FILES}
    modules = {name.removesuffix(".__init__"): path for path, name in names.items()}
    needs = {
        name: {
            next((each for each in (module, module.rpartition(".")[0]) if each in modules), name)
            for module, *_ in imports(path.read_text("utf-8"))
        }
        - {name}
        for name, path in modules.items()
    }
    placed: set[str] = set()
    while ready := {name for name in modules if name not in placed and needs[name] <= placed}:
        placed |= ready
    assert sorted(set(modules) - placed) == []
