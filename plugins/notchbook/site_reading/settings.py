"""The plugin's settings, read without MkDocs so that every door obeys the same ones."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from notchbook.findings import Finding
from notchbook.model.settings import Settings
from notchbook.reading.files import is_folder, missing_folder_hint
from notchbook.reading.nodes import Keys
from notchbook.reading.refusal import shown
from notchbook.site_reading.inherited import is_name, named
from notchbook.site_reading.site_config import SiteConfig, config_path, read_site_config
from notchbook.site_reading.site_places import site_findings, source_findings

_MOST_UNKNOWN = 20
"""Keys that are not known; nobody reads more of them."""
_LANGUAGE = re.compile(r"[A-Za-z]{2,3}(?:[-_][A-Za-z0-9]{2,8})*\Z")
_KNOWN = frozenset({"procedures", "results", "deviations", "notice", "raw_html", "enabled"})


@dataclass(slots=True)
class _Read:
    """The plugin's own settings."""

    config: SiteConfig
    keys: Keys = ()
    """Where they stand."""
    values: dict[Any, Any] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)

    def refuse(self, key: str, message: str, hint: str, *, at_key: bool = False) -> None:
        """Keep a finding at the setting's value, or at its key."""
        self.findings.append(self.config.finding((*self.keys, key), message, hint, at_key=at_key))


def read_settings(root: Path) -> tuple[Settings, list[Finding]]:
    """The settings in the mkdocs.yml of the root; the defaults where there is none or it does not name the plugin."""
    config = read_site_config(config_path(root))
    settings, found = settings_of(config)
    return settings, [*found, *site_findings(config, settings)]


def settings_of(config: SiteConfig) -> tuple[Settings, list[Finding]]:
    """The plugin's settings among those of the site, and all that is wrong with either but the place of the site."""
    if not config.chain.sources:
        return Settings(), list(config.findings)
    read = _plugin_values(config)
    defaults = Settings()
    settings = Settings(
        _folder(read, "procedures", defaults.procedures),
        _folder(read, "results", defaults.results),
        "label" if _choice(read, "deviations", ("refuse", "label")) == "label" else "refuse",
        _notice(read, defaults.notice),
        prose=named(config.root, config.docs_dir) if read.keys and config.docs_dir else None,
        theme=named(config.root, config.custom_dir) if read.keys and config.custom_dir else None,
        language=_language(config.values.get("theme")),
        raw_html="publish" if _choice(read, "raw_html", ("refuse", "publish")) == "publish" else "refuse",
    )
    for key in [each for each in read.values if each not in _KNOWN][:_MOST_UNKNOWN]:
        message = f"plugin setting {shown(key)} is not known"
        read.refuse(str(key), message, f"the settings are {', '.join(sorted(_KNOWN))}", at_key=True)
    return settings, [*config.findings, *read.findings, *source_findings(config, settings)]


def changed_since(
    read: SiteConfig, settings: Settings, docs_dir: Path, custom_dir: Path | None, own: Mapping[str, object]
) -> list[str]:
    """What a builder has in place of what stands in the file, in words: its folders and its own settings of the plugin.

    A builder that takes no files of a theme's own has no `custom_dir`.
    """
    pairs: list[tuple[str, object, object]] = [("docs_dir", str(docs_dir), str(read.docs_dir))]
    if custom_dir is not None:
        pairs.append(("theme.custom_dir", str(custom_dir), str(read.custom_dir)))
    pairs += [(key, now, getattr(settings, key)) for key, now in own.items()]
    return [f"'{key}' is '{now}', and in {read.path.name} it is '{was}'" for key, now, was in pairs if now != was]


def _plugin_values(config: SiteConfig) -> _Read:
    """The settings of the plugin where it is among those of the site, with settings of its own or without."""
    entries = list(_entries(config.values.get("plugins")))
    if not entries:
        return _Read(config)
    keys, values = entries[0]
    read = _Read(config, keys, values if isinstance(values, dict) else {})
    if len(entries) > 1:
        message = "the plugin 'notchbook' is named a second time"
        read.findings.append(config.finding(entries[1][0], message, "put all settings in one place"))
    return read


def _entries(plugins: Any) -> Iterator[tuple[Keys, Any]]:
    """Each place where the site's list or mapping of plugins names this one, and what stands there."""
    if isinstance(plugins, dict) and "notchbook" in plugins:
        yield ("plugins", "notchbook"), plugins["notchbook"]
    for number, each in enumerate(plugins if isinstance(plugins, list) else []):
        if each == "notchbook":
            yield ("plugins", number), None
        elif isinstance(each, dict) and "notchbook" in each:
            yield ("plugins", number, "notchbook"), each["notchbook"]


def _choice(read: _Read, key: str, choices: tuple[str, str]) -> str:
    """One of two words, the first where nothing is said."""
    chosen = read.values.get(key, choices[0])
    if isinstance(chosen, str) and chosen in choices:
        return chosen
    message = f"plugin setting '{key}' is {shown(chosen)}; it can be {' or '.join(choices)}"
    read.refuse(key, message, "write one of the two")
    return choices[0]


def _folder(read: _Read, key: str, default: str) -> str:
    """The name of a folder of data; one that somebody chose has to be there, or all that it holds would be left out."""
    name = read.values.get(key, default)
    if not is_name(name):
        message = f"plugin setting '{key}' is {shown(name)}, which is no name of a folder"
        read.refuse(key, message, "write the folder's name as text")
        return default
    if name != default and not is_folder(read.config.root / name):
        message = f"plugin setting '{key}' is '{name[:100]}', a folder that does not exist"
        read.refuse(key, message, missing_folder_hint(read.config.root / name))
    return str(name)


def _language(theme: Any) -> str:
    """The language that the theme is set to, as the themes of MkDocs call it; English where nothing is said."""
    said = [theme.get(key) for key in ("language", "locale")] if isinstance(theme, dict) else []
    named = next((each for each in said if isinstance(each, str) and _LANGUAGE.match(each)), Settings().language)
    return named.replace("_", "-")


def _notice(read: _Read, default: str) -> str:
    notice = read.values.get("notice", default)
    if isinstance(notice, str):
        return notice
    read.refuse("notice", f"plugin setting 'notice' is {shown(notice)}, where text is expected", "put it in quotes")
    return default
