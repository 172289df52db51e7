"""What the documents promise: commands, options, targets, links, the handbook to start from."""

import re
import shutil
import subprocess
from pathlib import Path

import click
import pytest

from notchbook.cli import main
from notchbook.findings import Severity
from notchbook.handbook import open_handbook
from notchbook.starting.beginning import beginning, write
from notchbook.starting.wishes import Wishes

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "plugins/notchbook"
README, DEVELOPERS = ROOT / "README.md", ROOT / "DEVELOPERS.md"
DOCUMENTS = [README, DEVELOPERS, ROOT / "CHANGELOG.md"]
EXAMPLE_FILE = re.compile(r"^```yaml\n# (?P<path>\S+)\n(?P<text>.*?)^```$", re.DOTALL | re.MULTILINE)
LINK = re.compile(r"!?\[[^\]]*\]\((?P<target>[^)\s]+)\)")


def _documented() -> str:
    folders = (ROOT / "site_src", ROOT / "plugins/notchbook/guide")
    pages = [*DOCUMENTS, *(path for folder in folders for path in sorted(folder.rglob("*.md")))]
    return "\n".join(path.read_text(encoding="utf-8") for path in pages)


CONTEXT = click.Context(main)
COMMANDS = {name: main.get_command(CONTEXT, name) for name in main.list_commands(CONTEXT)}


def _parameters() -> list[tuple[str, str]]:
    return [
        (name, option)
        for name, command in COMMANDS.items()
        for parameter in command.params
        if isinstance(parameter, click.Option)
        for option in parameter.opts
        if option.startswith("--")
    ]


@pytest.mark.parametrize("name", COMMANDS)
def test_command_is_documented(name: str) -> None:
    assert f"notchbook {name}" in _documented()


@pytest.mark.parametrize(("name", "option"), _parameters())
def test_option_is_documented_beside_its_command(name: str, option: str) -> None:
    paragraphs = re.split(r"\n\s*\n", _documented())
    assert any(option in each and re.search(rf"\b{name}\b", each) for each in paragraphs), f"{name} {option}"


@pytest.mark.parametrize(
    "choice",
    sorted(
        {
            choice
            for command in COMMANDS.values()
            for parameter in command.params
            if isinstance(parameter.type, click.Choice)
            for choice in parameter.type.choices
        }
    ),
)
def test_choice_of_an_option_is_documented(choice: str) -> None:
    assert re.search(rf"\b{choice}\b", _documented(), re.IGNORECASE)


def test_settings_of_the_plugin_are_documented() -> None:
    from notchbook.mkdocs_plugin import NotchbookConfig

    named = re.findall(r"\b([a-z_]+): ", README.read_text(encoding="utf-8"))
    assert {name for name, _ in NotchbookConfig._schema} - set(named) == set()


def _start(root: Path) -> list[str]:
    """Follow the README: what its command writes, and its files."""
    write(root, beginning(Wishes()))
    found = EXAMPLE_FILE.findall(README.read_text(encoding="utf-8"))
    for path, text in found:
        (root / path).parent.mkdir(parents=True, exist_ok=True)
        (root / path).write_text(text, encoding="utf-8")
    return [path for path, _ in found]


def test_handbook_to_start_from_is_free_of_errors_and_warnings(tmp_path: Path) -> None:
    paths = _start(tmp_path)
    handbook = open_handbook(tmp_path)
    assert [str(each) for each in handbook.findings if each.severity is not Severity.NOTE] == []
    assert len(paths) > 1
    library = handbook.library
    assert all((library.rigs, library.materials, library.exercises, library.verifications, library.records))


def test_handbook_to_start_from_gives_the_result_of_its_readings(tmp_path: Path) -> None:
    """First bar by hand: M (cos 86.4 - cos 95.7) less 1/2 [W_AB + (86.4/95.7)(W_AB + 2 W_P)], over 4.01 x 8.02 mm2."""
    _start(tmp_path)
    (result,) = open_handbook(tmp_path).evaluation.records.values()
    # 0.9097 (0.062791 + 0.099320) J less the loss of beta_1 = 94.6, beta_2 = 95.0 deg; five digits of a pocket table
    assert result.specimens[0].energy_J == pytest.approx(0.13123, abs=2e-5)
    assert result.specimens[0].strength_kJ_m2 == pytest.approx(0.13123 / (4.01 * 8.02) * 1000, abs=1e-3)


def test_tree_in_the_readme_is_that_of_its_files(tmp_path: Path) -> None:
    written = _start(tmp_path)
    text = README.read_text(encoding="utf-8")
    for path in (*written, *(each.relative_to(tmp_path).as_posix() for each in tmp_path.glob("[a-z]*/**/*.*"))):
        below = re.sub(r"^(?:procedures/|results/|docs/)(?:exercises/)?", "", path)
        named = re.search(rf"^    +(?:.*, )?(?:exercises/)?{re.escape(below)}\b", text, re.MULTILINE)
        assert named or "/blank-" in path or path.startswith("schema/"), f"the tree lacks {path}"


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: path.name)
def test_make_targets_exist(document: Path) -> None:
    named = set(re.findall(r"\bmake ([a-z]+(?:-[a-z]+)*)\b", _code(document)))
    targets = set(re.findall(r"^([a-z-]+):", (ROOT / "Makefile").read_text(encoding="utf-8"), re.MULTILINE))
    assert named <= targets
    if document == README:
        assert {"site", "test"} <= named


def _code(document: Path) -> str:
    """Everything in the document that is set as code."""
    text = document.read_text(encoding="utf-8")
    blocks = [line for line in text.splitlines() if line.startswith("    ")]
    return "\n".join(blocks + re.findall(r"`([^`\n]+)`", text))


@pytest.mark.skipif(shutil.which("make") is None, reason="there is no make here")
def test_make_help_names_every_target_that_a_person_types() -> None:
    makefile = (ROOT / "Makefile").read_text(encoding="utf-8")
    (typed,) = re.findall(r"^\.PHONY: (.+)$", makefile, re.MULTILINE)
    said = subprocess.run(["make", "help"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    assert set(typed.split()) == set(re.findall(r"^  make ([a-z-]+) ", said, re.MULTILINE))


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: path.name)
def test_relative_links_resolve(document: Path) -> None:
    targets = [match["target"] for match in LINK.finditer(document.read_text(encoding="utf-8"))]
    local = [each for each in targets if "://" not in each and not each.startswith(("#", "mailto:"))]
    assert [each for each in local if not (ROOT / each.partition("#")[0]).exists()] == []


@pytest.mark.parametrize("document", [README, DEVELOPERS], ids=lambda path: path.name)
def test_paths_that_are_named_exist(document: Path) -> None:
    """Paths of the repository set as code; one inside the package may leave `plugins/notchbook/` out."""
    named = re.findall(r"`([\w./*-]+/[\w./*-]*)`", document.read_text(encoding="utf-8"))
    made = ("site/", ".venv", ".fuzz/", "docs/", "procedures/methods/")
    places = (ROOT, PACKAGE)
    missing = [
        each
        for each in named
        if not each.startswith(made) and not any((place / each).exists() or _matches(place, each) for place in places)
    ]
    assert missing == []


def _matches(place: Path, pattern: str) -> bool:
    return "*" in pattern and any(place.glob(pattern))


def test_dependencies_are_those_of_the_project() -> None:
    import tomllib

    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    asked = {re.split(r"[<>=~! ]", each)[0] for each in project["dependencies"]}
    listed = set(re.findall(r"^\| `([a-z0-9-]+)` \| ", README.read_text(encoding="utf-8"), re.MULTILINE))
    assert listed == asked
