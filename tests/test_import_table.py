"""Data runs one way: which room of the package may import which, walked through every file.

files -> reading -> model -> evaluation (physics, statistics) -> checks -> pages, charts -> site or export
"""

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parents[1] / "plugins" / "notchbook"
# What a room may import of the others. `handbook` holds everything before it, so that what comes after needs no more.
ALLOWED = {
    "git": set(),
    "commits": {"git"},
    "commit_time": {"git", "commits"},
    "wording": set(),
    "findings": {"wording"},
    "model": set(),
    "physics": set(),
    "statistics": set(),
    "reading": {"model", "findings", "wording"},
    "evaluation": {"model", "physics", "statistics"},
    "checks": {"model", "statistics", "evaluation", "findings", "wording"},
    "handbook": {"findings", "model", "reading", "physics", "statistics", "evaluation", "checks", "commit_time"},
    "results_data": {"handbook", "wording"},
    "charts": {"model", "evaluation", "wording"},
    "pages": {"handbook", "charts", "wording"},
    "building": set(),
    "mkdocs_plugin": {"pages", "handbook", "building", "commit_time", "wording"},
    "exporting": {"pages", "handbook", "building", "wording"},
    "review": {"handbook", "git", "commits", "commit_time", "wording"},
    "writing": {"model", "wording"},
    "commands": {"pages", "handbook", "exporting", "building", "review", "writing", "wording"},
    "cli": {"commands"},
    "__main__": {"cli"},
}
# Names of types alone, never imported when the program runs: a door that takes parts of the handbook in its hands has
# to name what they are.
TYPES_ALLOWED = {
    "results_data": {"evaluation"},
    "pages": {"model", "evaluation", "checks", "findings"},
    "mkdocs_plugin": {"checks"},
    "exporting": {"findings", "reading"},
    "review": {"model", "evaluation", "reading"},
    "commands": {"model"},
}
# Single modules that a room may import besides, and why.
EXCEPTIONS = {
    ("reading", "physics.gravity"): "the gravity of a place is worked out when the rig is built",
    ("checks", "physics.pendulum"): "a check works out what a reading ought to be; pure functions of numbers",
    ("checks", "statistics.coincidence"): "how likely numbers agree by chance is asked for by the checks alone",
    ("checks", "statistics.values"): "the type of an array that those functions take",
    ("pages", "physics.units"): "a page of a method shows its values in older units; pure functions of numbers",
    ("pages", "physics.losses"): "one specimen is worked through with the numbers shown; pure functions of numbers",
    ("pages", "physics.pendulum"): "one specimen is worked through with the numbers shown; pure functions of numbers",
    ("pages", "physics.strength"): "one specimen is worked through with the numbers shown; pure functions of numbers",
    ("pages", "evaluation.hammer_choice"): "which hammer to take is asked for by the page of an exercise alone",
    ("pages", "evaluation.section"): "the nominal section of a bar is asked for by the page of an exercise alone",
    ("pages", "evaluation.lookup"): "what a reading means is asked for by the page of an exercise alone",
    ("pages", "evaluation.energy_left"): "how a pendulum's energy dies away is asked for by the pages of losses alone",
    ("pages", "evaluation.loss_history"): "how a loss lies among earlier ones is shown by the page of a verification",
    ("pages", "evaluation.sensitivity"): "which records share a ratio is a matter of the material's page",
    ("pages", "evaluation.precision"): "how many specimens a mean takes is asked for by a hand-written page alone",
    ("pages", "evaluation.records"): "which specimens stand apart is asked for by the page of a record alone",
    ("pages", "statistics.quantiles"): "the worksheet is given the quantiles that it finds its intervals with",
    ("pages", "checks.bench_limits"): "the worksheet is given the numbers of the rules that it tells",
    ("pages", "reading.scalars"): "the worksheet takes no number that the reader of files would not take",
    ("pages", "checks.registry"): "the page of checks lists every rule by what it looks at",
    ("pages", "reading.rules"): "the page of checks lists the rules of a file as such",
    ("pages", "checks.swings"): "the page of a verification tells what its free swings are allowed",
    ("pages", "checks.verifications"): "the page of a verification tells what its timed runs are allowed",
    ("pages", "checks.words"): "how far a value departs from what is asked is worked out once",
    ("pages", "reading.pages"): "hand-written pages are read, and what is wrong with one becomes a finding",
    ("pages", "reading.docs_files"): "files among the hand-written pages are looked at with them",
    ("pages", "reading.site_config"): "the extensions of Markdown that a site has are asked before its pages are read",
    ("pages", "reading.front_matter"): "the head of a hand-written page is no part of its Markdown",
    ("pages", "reading.markup"): "the HTML of a hand-written page is looked at where Markdown made it",
    ("pages", "reading.sanitiser"): "a hand-written page is published as the sanitiser leaves it",
    ("pages", "reading.schemas"): "the page of keys is the schemas as tables",
    ("pages", "reading.folder"): "the page of keys says where each kind of file lies",
    ("pages", "results_data"): "the data folder of the site holds what the command prints",
    ("pages", "reading.document"): "a file that lies where a page is computed becomes a finding",
    ("pages", "reading.files"): "files that lie where a page is computed are looked for",
    ("exporting", "reading.files"): "files among the hand-written pages are read and copied",
    ("exporting", "reading.pages"): "the hand-written pages are exported with the computed ones",
    ("exporting", "reading.site_marks"): "a site that a builder made of an export is known by its marks",
    ("exporting", "reading.site_places"): "where no site may lie, no export may",
    ("building", "reading.site_marks"): "the mark of a site that is not whole is one that a site is known by",
    ("review", "findings"): "what a file says is made visible, and findings come and go",
    ("review", "reading.settings"): "where the folders of a revision are is asked before it is opened",
    ("review", "reading.site_config"): "what the settings of a revision inherit from is read at the revision too",
    ("review", "reading.rules"): "a file of settings that a revision does not have is refused like any other",
    ("review", "reading.files"): "which files of a revision are read, and up to which size, is asked before they are",
    ("review", "reading.pages"): "which files of a revision are pages is asked before they are written",
    ("review", "reading.folder"): "where data lies is asked to tell what there could not be compared",
    ("review", "reading.as_written"): "settings are compared as they were written, tags and all",
    ("review", "reading.document"): "a file of settings is told by its lines like any other",
    ("writing", "reading.schemas"): "the keys of a record, their order and their limits are those of its schema",
    ("writing", "reading.strict_yaml"): "what is written is read back before it is let go",
    ("commands", "results_data"): "the command prints it",
    ("commands", "findings"): "the command prints them in four forms",
    ("commands", "reading.files"): "whether there is such a folder is asked of any path that somebody wrote",
    ("commands", "reading.inherited"): "a folder that is named is compared with those of the settings in one form",
    ("commands", "reading.site_config"): "an export takes the settings of the site over",
    ("commands", "reading.site_marks"): "a site that another builder made is known by its marks",
    ("commands", "reading.settings"): "where the folders are is asked before the handbook is opened",
    ("mkdocs_plugin", "findings"): "the build logs them by severity",
    ("mkdocs_plugin", "reading.settings"): "the settings of the plugin become those of the handbook",
    ("mkdocs_plugin", "reading.inherited"): "paths of MkDocs and of the settings are compared in one form",
    ("mkdocs_plugin", "reading.site_config"): "what MkDocs was given is held against what the check reads",
    ("mkdocs_plugin", "reading.site_places"): "where the site goes is known when MkDocs has read its command line",
    ("mkdocs_plugin", "reading.unchanged"): "a preview holds what was made of files that did not change",
}
# Libraries that belong to some rooms only.
LIBRARIES = {
    "mkdocs": {"mkdocs_plugin"},
    "subprocess": {"git"},
    "yaml": {"reading"},
    "nh3": {"reading"},
    "markdown": {"pages"},
    "pymdownx": {"pages"},
    "jsonschema": {"reading"},
    "jsonschema_rs": {"reading"},
    "click": {"cli", "commands"},
    "jinja2": {"pages", "exporting"},
    "pathspec": {"exporting"},
    "scipy": {"statistics"},
}


def room_of(path):
    """The room of a file: the folder or module right under the package."""
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def _type_imports(tree):
    """The import statements under `if TYPE_CHECKING:`."""
    blocks = [
        node for node in ast.walk(tree) if isinstance(node, ast.If) and ast.unparse(node.test).endswith("TYPE_CHECKING")
    ]
    return {id(node) for block in blocks for part in block.body for node in ast.walk(part)}


def imports(source):
    """Every module that a source imports, with its line, and whether it does so for types alone."""
    tree = ast.parse(source)
    for_types = _type_imports(tree)
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            modules = [each.name for each in node.names]
        elif isinstance(node, ast.ImportFrom):
            start = "." * node.level + (node.module or "")
            modules = [f"{start}.{each.name}" for each in node.names]
        else:
            continue
        for module in modules:
            yield module, node.lineno, id(node) in for_types


def forbidden(room, source):
    """What a source in a room imports against the table, as `line: module`."""
    found = []
    for module, line, for_types in imports(source):
        top, *rest = module.split(".")
        allowed_library = room in LIBRARIES.get(top, {room})
        allowed = not module.startswith(".") and allowed_library
        # what the package itself holds, such as its version, belongs to no room
        if top == "notchbook" and rest and rest[0] in ALLOWED and rest[0] != room:
            types = TYPES_ALLOWED.get(room, set()) if for_types else set()
            exception = {(room, rest[0]), (room, ".".join(rest[:2]))} & EXCEPTIONS.keys()
            allowed = rest[0] in ALLOWED[room] | types or bool(exception)
        if not allowed:
            found.append(f"{line}: {module}")
    return found


FILES = sorted(PACKAGE.rglob("*.py"))


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_a_file_imports_what_its_room_may(path):
    assert forbidden(room_of(path), path.read_text("utf-8")) == []


def test_every_room_is_in_the_table():
    assert {room_of(path) for path in FILES} - {"__init__"} <= set(ALLOWED)
    assert {"model", "reading", "physics", "statistics", "evaluation", "checks", "handbook"} <= {
        room_of(path) for path in FILES
    }


def test_the_table_has_no_circle():
    """Rooms can be put in an order in which each imports earlier ones only."""
    placed = set()
    while len(placed) < len(ALLOWED):
        ready = {room for room, others in ALLOWED.items() if room not in placed and others <= placed}
        assert ready, set(ALLOWED) - placed
        placed |= ready


def test_every_exception_is_needed():
    used = {
        (room_of(path), target)
        for path in FILES
        for module, _, _ in imports(path.read_text("utf-8"))
        for target in (".".join(module.split(".")[1:2]), ".".join(module.split(".")[1:3]))
    }
    assert set(EXCEPTIONS) <= used


@pytest.mark.parametrize(
    ("room", "source"),
    [
        ("model", "from notchbook.reading import rules"),
        ("model", "import notchbook.findings"),
        ("physics", "from notchbook.model.rig import Rig"),
        ("statistics", "from notchbook import physics"),
        ("reading", "from notchbook.evaluation.hammers import chain"),
        ("reading", "from notchbook.physics.pendulum import potential_energy_J"),
        ("evaluation", "def f():\n    from notchbook.reading.folder import Read"),
        ("evaluation", "if TYPE_CHECKING:\n    from notchbook.findings import Finding"),
        ("checks", "from notchbook.handbook import Handbook"),
        ("checks", "if TYPE_CHECKING:\n    from notchbook.reading.document import Document"),
        ("charts", "if typing.TYPE_CHECKING:\n    from notchbook.handbook import Handbook"),
        ("pages", "from notchbook.model.rig import Rig"),
        ("pages", "if TYPE_CHECKING:\n    pass\nelse:\n    from notchbook.model.rig import Rig"),
        ("handbook", "from notchbook.pages.site import build"),
        ("cli", "from notchbook.pages.site import build"),
        ("pages", "import mkdocs"),
        ("commands", "from mkdocs.commands.build import build"),
        ("model", "import yaml"),
        ("review", "import subprocess"),
        ("reading", "from ..evaluation import hammers"),
    ],
)
def test_a_forbidden_import_is_caught(room, source):
    assert len(forbidden(room, source)) == 1


@pytest.mark.parametrize(
    ("room", "source"),
    [
        ("reading", "from notchbook.model.rig import Rig"),
        ("reading", "from notchbook.physics.gravity import STANDARD_GRAVITY_m_s2"),
        ("reading", "from notchbook.reading import rules"),
        ("findings", "from notchbook import __version__"),
        ("pages", "if TYPE_CHECKING:\n    from notchbook.model.rig import Rig"),
        ("mkdocs_plugin", "from mkdocs.plugins import BasePlugin"),
        ("model", "import math\nimport numpy as np"),
    ],
)
def test_an_allowed_import_passes(room, source):
    assert forbidden(room, source) == []
