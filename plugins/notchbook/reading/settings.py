"""The plugin's settings in mkdocs.yml, read without MkDocs so that the command line obeys them too."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal

import yaml

from notchbook.reading import rules
from notchbook.reading.document import finding_of
from notchbook.reading.strict_yaml import compose, position

if TYPE_CHECKING:
    from pathlib import Path

    from notchbook.findings import Finding
    from notchbook.reading.strict_yaml import Keys

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


@dataclass(slots=True)
class _Read:
    text: str
    keys: Keys = ()
    """Where the plugin's settings stand in the file."""
    values: dict[str, Any] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    prose: str | None = None

    def refuse(self, key: str, message: str, hint: str, *, at_key: bool = False) -> None:
        """Keep a finding at the setting's value, or at its key."""
        node = compose(self.text)
        place = position(node, (*self.keys, key), at_key=at_key) if node is not None else (1, 1)
        self.findings.append(finding_of(rules.SETTINGS, CONFIG_NAME, place, message, hint))


class _AnyTagLoader(yaml.CSafeLoader):
    """Reads mkdocs.yml, whose tags name Python objects and environment variables that do not matter here."""


def _without_tag(loader: yaml.CSafeLoader, _suffix: str, node: yaml.Node) -> Any:
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
    if not path.is_file():
        return Settings(), []
    try:
        text = path.read_text(encoding="utf-8")
        config = yaml.load(text, Loader=_AnyTagLoader)  # noqa: S506  # a safe loader
    # PyYAML lets the errors of Python through where a value is not what its tag or form says: a 30th of February.
    except (yaml.YAMLError, OSError, ValueError, LookupError, AttributeError, RecursionError) as error:
        mark = getattr(error, "problem_mark", None)
        place = (mark.line + 1, mark.column + 1) if mark else (1, 1)
        message = f"cannot be read: {getattr(error, 'problem', None) or error}"
        return Settings(), [finding_of(rules.SETTINGS, CONFIG_NAME, place, message, "mend the file")]
    read = _plugin_values(text, config)
    if _named(config):
        read.prose = str(config.get("docs_dir", "docs"))
    return _settings(read), read.findings


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
    for key in read.values:
        if key not in known:
            message = f"plugin setting '{key}' is not known"
            hint = f"the settings are {', '.join(sorted(known))}"
            read.refuse(key, message, hint, at_key=True)
    deviations = read.values.get("deviations", "refuse")
    if deviations not in ("refuse", "label"):
        message = f"plugin setting 'deviations' is '{deviations}'; it can be refuse or label"
        read.refuse("deviations", message, "write one of the two")
        deviations = "refuse"
    defaults = Settings()
    return Settings(
        _folder(read, "procedures", defaults.procedures),
        _folder(read, "results", defaults.results),
        deviations,
        str(read.values.get("notice", defaults.notice)),
        read.prose,
    )


def _folder(read: _Read, key: str, default: str) -> str:
    name = read.values.get(key, default)
    if isinstance(name, str) and name.isprintable():
        return name
    message = f"plugin setting '{key}' is '{name}', which is no name of a folder"
    read.refuse(key, message, "write the folder's name as text")
    return default
