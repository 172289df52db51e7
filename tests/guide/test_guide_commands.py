"""The page of settings and commands against the commands and settings themselves."""

import re

import click
import pytest
from guide_blocks import GUIDE

from notchbook.cli import main
from notchbook.mkdocs_plugin import NotchbookConfig

PAGE = (GUIDE / "commands.md").read_text(encoding="utf-8")
SECTIONS = dict(re.findall(r"^### notchbook ([\w ]+)\n(.*?)(?=^#|\Z)", PAGE, re.DOTALL | re.MULTILINE))
ROW = re.compile(r"^\| `(?P<name>[^`]+)` \|(?P<default>[^|]*)\|(?P<does>[^|]+)\|$", re.MULTILINE)


def _commands(group: click.Command = main, before: str = "") -> dict[str, click.Command]:
    """Every command that can be typed, by its words."""
    assert isinstance(group, click.Group)
    found: dict[str, click.Command] = {}
    context = click.Context(group)
    for name in group.list_commands(context):
        command = group.get_command(context, name)
        assert command is not None
        found |= _commands(command, f"{name} ") if isinstance(command, click.Group) else {before + name: command}
    return found


def _command(name: str) -> click.Command:
    return _commands()[name]


def _rows(name: str) -> dict[str, str]:
    """What is said where an option is left out, by the option; those that a group's commands share are the group's."""
    sections = [SECTIONS[name], SECTIONS[name.partition(" ")[0]] if " " in name else ""]
    return {each["name"]: each["default"].strip() for section in sections for each in ROW.finditer(section)}


def _arguments(name: str) -> list[str]:
    return [each.human_readable_name for each in _command(name).params if isinstance(each, click.Argument)]


def _written(name: str) -> set[str]:
    """Every option of a command as the page should write it, one with choices once for each."""
    found = set()
    for parameter in _command(name).params:
        (option,) = parameter.opts
        if isinstance(parameter, click.Argument):
            continue
        if isinstance(parameter.type, click.Choice):
            found |= {f"{option} {choice}" for choice in parameter.type.choices}
        elif isinstance(parameter, click.Option) and parameter.is_flag:
            found |= {option, *parameter.secondary_opts}
        else:
            found.add(f"{option} {parameter.metavar or 'DIR'}")
    return found


def test_every_command_has_its_section_and_its_row() -> None:
    groups = {name.partition(" ")[0] for name in _commands() if " " in name}
    assert set(SECTIONS) == set(_commands()) | groups
    overview = PAGE.partition("\n## Commands")[2].partition("\n### ")[0]
    rows = {each["name"] for each in re.finditer(r"^\| `(?P<name>[^`]+)` \|", overview, re.MULTILINE)}
    typed = {" ".join(["notchbook", name, *_arguments(name)]) for name in _commands()}
    assert typed <= rows


@pytest.mark.parametrize("name", sorted(_commands()))
def test_options_of_a_command(name: str) -> None:
    rows = _rows(name)
    assert set(rows) == _written(name)
    for parameter in _command(name).params:
        if isinstance(parameter.type, click.Choice):
            said = {choice for choice in parameter.type.choices if rows[f"{parameter.opts[0]} {choice}"] == "yes"}
            # one that is asked for has no default of its own
            assert said == ({parameter.default} if isinstance(parameter.default, str) else set())


def test_exit_statuses_are_those_of_the_help() -> None:
    helped = re.findall(r"^ *(?:Exit status: )? *(\d)  (.+)$", _command("check").help or "", re.MULTILINE)
    assert [number for number, _ in helped] == ["0", "1", "2"]
    words = " ".join(SECTIONS["check"].split())
    for number, meaning in helped:
        assert re.search(rf"with {number} where (there is )?{re.escape(meaning)}", words), meaning


def test_settings_are_those_of_the_plugin() -> None:
    section = PAGE.partition("\n## Settings")[2].partition("\n## ")[0]
    rows = {each["name"]: each["default"].strip(" `") for each in ROW.finditer(section)}
    known = dict(NotchbookConfig._schema)
    # the switch that MkDocs gives to every plugin
    assert rows.pop("enabled") == "true"
    assert set(rows) == set(known) - {"enabled"}
    for name, default in rows.items():
        assert known[name].default == ("" if default == "nothing" else default)
