"""The plugin's settings in mkdocs.yml, read without MkDocs so that the command line obeys them too."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal

import yaml

from notchbook.reading import rules
from notchbook.reading.document import finding_of

if TYPE_CHECKING:
    from pathlib import Path

    from notchbook.findings import Finding

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


@dataclass(slots=True)
class _Read:
    values: dict[str, Any] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)


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
        config = yaml.load(path.read_text(encoding="utf-8"), Loader=_AnyTagLoader)  # noqa: S506  # a safe loader
    except (yaml.YAMLError, UnicodeDecodeError, OSError) as error:
        mark = getattr(error, "problem_mark", None)
        place = (mark.line + 1, mark.column + 1) if mark else (1, 1)
        message = f"cannot be read: {getattr(error, 'problem', None) or error}"
        return Settings(), [finding_of(rules.SETTINGS, CONFIG_NAME, place, message, "mend the file")]
    read = _plugin_values(config)
    return _settings(read), read.findings


def _plugin_values(config: Any) -> _Read:
    plugins = config.get("plugins", []) if isinstance(config, dict) else []
    pairs = plugins.items() if isinstance(plugins, dict) else [item for each in plugins for item in _pairs(each)]
    values = next((value for name, value in pairs if name == "notchbook"), None)
    return _Read(values if isinstance(values, dict) else {})


def _pairs(entry: Any) -> list[tuple[Any, Any]]:
    return list(entry.items()) if isinstance(entry, dict) else [(entry, {})]


def _settings(read: _Read) -> Settings:
    known = {"procedures", "results", "deviations", "enabled"}
    for key in read.values:
        if key not in known:
            message = f"plugin setting '{key}' is not known"
            hint = f"the settings are {', '.join(sorted(known))}"
            read.findings.append(finding_of(rules.SETTINGS, CONFIG_NAME, (1, 1), message, hint))
    deviations = read.values.get("deviations", "refuse")
    if deviations not in ("refuse", "label"):
        message = f"plugin setting 'deviations' is '{deviations}'; it can be refuse or label"
        read.findings.append(finding_of(rules.SETTINGS, CONFIG_NAME, (1, 1), message, "write one of the two"))
        deviations = "refuse"
    defaults = Settings()
    return Settings(
        str(read.values.get("procedures", defaults.procedures)),
        str(read.values.get("results", defaults.results)),
        deviations,
    )
