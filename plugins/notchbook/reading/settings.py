"""The plugin's settings in mkdocs.yml, read without MkDocs so that the command line obeys them too."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal

import yaml

from notchbook.reading import rules
from notchbook.reading.document import finding_of
from notchbook.reading.files import Refused, text_of
from notchbook.reading.nodes import BoundedLoader, TooMuchError, compose, place_at, position, start_of, too_many
from notchbook.reading.refusal import shown

if TYPE_CHECKING:
    from pathlib import Path

    from notchbook.findings import Finding
    from notchbook.reading.nodes import Keys

CONFIG_NAME = "mkdocs.yml"


@dataclass(frozen=True, slots=True)
class Settings:
    """Where the data lies and what is done with a departure from the method."""

    procedures: str = "procedures"
    """Folder of the procedures, relative to the handbook's root."""
    results: str = "results"
    """Folder of the results, relative to the handbook's root."""
    deviations: Literal["refuse", "label"] = "refuse"
    """`refuse`: a departure fails the build; `label`: a declared one is published and marked."""
    notice: str = ""
    """Shown at the top of every page, such as that the data is invented."""
    prose: str | None = None
    """Folder of the hand-written pages, relative to the handbook's root; None where no site is set up."""


_MOST_UNKNOWN = 20
"""Keys that are not known; nobody reads more of them."""
_LONGEST_NAME = 255
_MOST_MERGED = 10_000


@dataclass(slots=True)
class _Read:
    text: str
    keys: Keys = ()
    """Where the plugin's settings stand in the file."""
    values: dict[Any, Any] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    prose: str | None = None
    node: yaml.Node | None = None

    def refuse(self, key: str, message: str, hint: str, *, at_key: bool = False, keys: Keys | None = None) -> None:
        """Keep a finding at the setting's value, or at its key."""
        self.node = self.node or compose(self.text)
        within = (*self.keys, key) if keys is None else keys
        place = position(self.node, within, at_key=at_key) if self.node is not None else (1, 1)
        self.findings.append(finding_of(rules.SETTINGS, CONFIG_NAME, place, message, hint))


class _AnyTagLoader(BoundedLoader):
    """Reads mkdocs.yml, whose tags name Python objects and environment variables that do not matter here."""

    def flatten_mapping(self, node: yaml.MappingNode) -> None:
        """Merge what `<<` names; of merges within merges the number could double at each."""
        super().flatten_mapping(node)
        if len(node.value) > _MOST_MERGED:
            raise too_many(node.start_mark)


def _without_tag(loader: _AnyTagLoader, _suffix: str, node: yaml.Node) -> Any:
    if isinstance(node, yaml.MappingNode):
        return loader.construct_mapping(node)
    if isinstance(node, yaml.SequenceNode):
        return loader.construct_sequence(node)
    return loader.construct_scalar(node)  # type: ignore[arg-type]  # the last of three node types


_AnyTagLoader.add_multi_constructor("!", _without_tag)
_AnyTagLoader.add_multi_constructor("tag:", _without_tag)


def read_settings(root: Path) -> tuple[Settings, list[Finding]]:
    """The settings in the mkdocs.yml of the root; the defaults where there is none or it does not name the plugin."""
    path = root / CONFIG_NAME
    if not path.exists() and not path.is_symlink():
        return Settings(), []
    text = text_of(path)
    if isinstance(text, Refused):
        return Settings(), [_unreadable(text.place, text.message)]
    try:
        config = yaml.load(text, Loader=_AnyTagLoader)  # noqa: S506  # a safe loader
    except TooMuchError as error:
        return Settings(), [_unreadable((error.flaw.line, error.flaw.column), error.flaw.message)]
    # PyYAML lets the errors of Python through where a value is not what its tag or form says: a 30th of February.
    except (yaml.YAMLError, ValueError, LookupError, AttributeError, RecursionError) as error:
        return Settings(), [_unreadable(_place_of(error, text), str(getattr(error, "problem", None) or error))]
    read = _plugin_values(text, config)
    if _named(config):
        read.prose = _prose_folder(read, config.get("docs_dir", "docs"))
    return _settings(read), read.findings


def setting_finding(root: Path, key: str, message: str, hint: str) -> Finding:
    """A finding at a setting of the plugin in the mkdocs.yml of the root."""
    text = text_of(root / CONFIG_NAME)
    try:
        read = _plugin_values(text, yaml.load(text, Loader=_AnyTagLoader)) if isinstance(text, str) else _Read("")  # noqa: S506
    except (yaml.YAMLError, ValueError, LookupError, AttributeError, RecursionError):
        read = _Read("")
    read.refuse(key, message, hint)
    return read.findings[0]


def _place_of(error: Exception, text: str) -> tuple[int, int]:
    """Where libyaml stumbled, in the lines that an editor counts."""
    line, column = start_of(getattr(error, "problem_mark", None))
    return (line, column) if line <= place_at(text, len(text))[0] else (1, 1)


def _unreadable(place: tuple[int, int], message: str) -> Finding:
    message = message if message.startswith("cannot be read") else f"cannot be read: {message}"
    return finding_of(rules.SETTINGS, CONFIG_NAME, place, message, "mend the file")


def _prose_folder(read: _Read, name: object) -> str | None:
    if _is_name(name):
        return str(name)
    message = f"'docs_dir' is {shown(name)}, which is no name of a folder"
    read.refuse("docs_dir", message, "write the folder's name as text", keys=("docs_dir",))
    return None


def _named(config: Any) -> bool:
    """Whether the plugin is among those of the site, with settings of its own or without."""
    plugins = config.get("plugins") if isinstance(config, dict) else None
    entries = plugins if isinstance(plugins, list | dict) else []
    return any(entry == "notchbook" or (isinstance(entry, dict) and "notchbook" in entry) for entry in entries)


def _plugin_values(text: str, config: Any) -> _Read:
    plugins = config.get("plugins") if isinstance(config, dict) else None
    listed = enumerate(plugins) if isinstance(plugins, list) else [(None, plugins)]
    for index, entry in listed:
        values = entry.get("notchbook") if isinstance(entry, dict) else None
        if isinstance(values, dict):
            keys: Keys = ("plugins", "notchbook") if index is None else ("plugins", index, "notchbook")
            return _Read(text, keys, values)
    return _Read(text)


def _settings(read: _Read) -> Settings:
    known = {"procedures", "results", "deviations", "notice", "enabled"}
    unknown = [key for key in read.values if key not in known]
    for key in unknown[:_MOST_UNKNOWN]:
        message = f"plugin setting {shown(key)} is not known"
        read.refuse(str(key), message, f"the settings are {', '.join(sorted(known))}", at_key=True)
    deviations = read.values.get("deviations", "refuse")
    if not isinstance(deviations, str) or deviations not in ("refuse", "label"):
        message = f"plugin setting 'deviations' is {shown(deviations)}; it can be refuse or label"
        read.refuse("deviations", message, "write one of the two")
        deviations = "refuse"
    defaults = Settings()
    return Settings(
        _folder(read, "procedures", defaults.procedures),
        _folder(read, "results", defaults.results),
        "label" if deviations == "label" else "refuse",
        _notice(read, defaults.notice),
        read.prose,
    )


def _folder(read: _Read, key: str, default: str) -> str:
    name = read.values.get(key, default)
    if _is_name(name):
        return str(name)
    message = f"plugin setting '{key}' is {shown(name)}, which is no name of a folder"
    read.refuse(key, message, "write the folder's name as text")
    return default


def _is_name(name: object) -> bool:
    return isinstance(name, str) and name.isprintable() and len(name.encode("utf-8", "replace")) <= _LONGEST_NAME


def _notice(read: _Read, default: str) -> str:
    notice = read.values.get("notice", default)
    if isinstance(notice, str):
        return notice
    read.refuse("notice", f"plugin setting 'notice' is {shown(notice)}, where text is expected", "put it in quotes")
    return default
