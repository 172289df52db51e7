"""The pipelines of the guide: each is one by its forge's published schema, and their commands are the program's."""

import importlib.resources
import json
import re

import check_jsonschema
import jsonschema
import pytest
import yaml
from click.testing import CliRunner
from guide_blocks import GUIDE, ROOT

from notchbook.cli import main

PAGE = GUIDE / "pipeline.md"
FILES = {
    match["path"]: match["text"]
    for match in re.finditer(
        r"^```yaml\n# (?P<path>\S+)\n(?P<text>.*?)^```$", PAGE.read_text(encoding="utf-8"), re.DOTALL | re.MULTILINE
    )
}
HOOKS = yaml.safe_load((ROOT / ".pre-commit-hooks.yaml").read_text(encoding="utf-8"))


def published_schema(name):
    """A schema of the JSON Schema Store, as the package check-jsonschema carries it."""
    folder = importlib.resources.files(check_jsonschema) / "builtin_schemas/vendor"
    return json.loads((folder / f"{name}.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize(
    ("path", "name"), [(".github/workflows/handbook.yml", "github-workflows"), (".gitlab-ci.yml", "gitlab-ci")]
)
def test_a_pipeline_is_one_by_its_schema(path, name):
    # the key `on` of a workflow is a word in YAML 1.2 and a truth value in YAML 1.1
    text = re.sub(r"^on:", '"on":', FILES[path], flags=re.MULTILINE)
    schema = published_schema(name)
    jsonschema.validators.validator_for(schema)(schema).validate(yaml.safe_load(text))


def test_commands_of_the_pipelines_are_those_of_the_program():
    text = PAGE.read_text(encoding="utf-8")
    typed = re.findall(r"notchbook (check|review|results|site)((?: --[a-z]+(?: [a-z]+)?)*)", text)
    assert {command for command, _ in typed} == {"check", "review", "site"}
    for command, options in typed:
        help_text = CliRunner().invoke(main, [command, "--help"]).stdout
        for option in re.findall(r"--[a-z]+", options):
            assert option in help_text, f"{command} {option}"
        for form in re.findall(r"--format ([a-z]+)", options):
            assert form in help_text, f"{command} {form}"


def test_hooks_are_those_that_the_guide_names():
    ids = {hook["id"] for hook in HOOKS}
    named = yaml.safe_load(FILES[".pre-commit-config.yaml"])["repos"][0]["hooks"]
    assert {hook["id"] for hook in named} <= ids
    for hook in HOOKS:
        # the keys that pre-commit requires of a manifest, by its documentation (new hooks)
        assert {"id", "name", "entry", "language"} <= set(hook)
        assert hook["pass_filenames"] is False
        # no shell, which Windows lacks, and options that the command has
        name, *options = hook["entry"].removeprefix("notchbook ").split()
        helped = CliRunner().invoke(main, [name, "--help"])
        assert (hook["entry"].startswith("notchbook "), helped.exit_code) == (True, 0)
        assert all(option in helped.stdout for option in options)


def test_hooks_run_whichever_file_changed():
    """What a page, a picture or a setting shows is checked too, and the folders' names are the department's."""
    assert all(hook["always_run"] is True and "files" not in hook for hook in HOOKS)


def test_actions_are_named_by_a_digest():
    used = re.findall(r"uses: (\S+)(.*)", FILES[".github/workflows/handbook.yml"])
    assert len(used) > 5
    for action, said in used:
        assert re.fullmatch(r"[\w/-]+@[0-9a-f]{40}", action), action
        assert re.fullmatch(r" # v[\d.]+", said), action


def test_nothing_tells_to_install_a_name_that_somebody_else_could_take():
    pages = [*GUIDE.glob("*.md"), ROOT / "README.md", ROOT / ".pre-commit-hooks.yaml"]
    for page in pages:
        assert not re.search(r"pipx? install (?:-\S+ )*notchbook\b(?! @)", page.read_text(encoding="utf-8")), page.name
