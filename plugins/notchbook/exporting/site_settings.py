"""Settings of builders for an exported tree: those of MkDocs and its maintained fork, and those of the successor."""

import importlib.util
import json
import math
import re
from collections.abc import Iterator
from importlib.metadata import entry_points
from pathlib import Path
from typing import Any

import yaml

from notchbook.exporting.content import Content
from notchbook.exporting.markdown_tree import quoted
from notchbook.findings import Finding
from notchbook.pages.assets import FIRST_SCRIPTS, KEEP_SCRIPT, SCRIPTS, STYLES, THEME_STYLE, before
from notchbook.site_reading.site_config import SiteConfig
from notchbook.wording.lines import printable

_HEAD = """\
# Written by `notchbook export`, which replaces this folder as a whole: change the handbook, not what is here.
# The pages are finished HTML, so that no plugin and no extension of Markdown is needed.
"""
_THEME = "material"
_COPIED = ("site_description", "site_author", "copyright", "repo_url", "repo_name")
_LANGUAGE = re.compile(r"[A-Za-z]{2,3}(?:[-_][A-Za-z0-9]{2,8})*\Z")


def theme_findings(config: SiteConfig, *, is_used: bool) -> Iterator[Finding]:
    """What is wrong with the theme and the language that the settings name.

    Arguments:
        config: the settings of the site.
        is_used: whether the export is for a builder, which needs the theme.
    """
    theme = theme_of(config)
    name, language = theme["name"], theme.get("language", "en")
    known = {each.name for each in entry_points(group="mkdocs.themes")}
    at_name = ("theme", "name") if isinstance(config.values.get("theme"), dict) else ("theme",)
    if is_used and name not in known:
        there = ", ".join(sorted(known))
        yield config.finding(at_name, f"no theme '{printable(str(name))[:60]}' is installed", f"there are {there}")
    languages = _languages() if name == _THEME else frozenset()
    is_known = isinstance(language, str) and (language in languages if languages else _LANGUAGE.match(language))
    if not is_known:
        message = f"the theme has no language '{printable(str(language))[:60]}'"
        yield config.finding(("theme", "language"), message, "write one that it has, such as en or de")


def theme_of(config: SiteConfig) -> dict[str, Any]:
    """The theme of the settings, without templates of its own; the usual one where they name none."""
    theme = config.values.get("theme")
    if isinstance(theme, str):
        return {"name": theme}
    plain = _plain(theme) if isinstance(theme, dict) else {}
    return {"name": _THEME, **{key: each for key, each in plain.items() if key != "custom_dir"}}


def _languages() -> frozenset[str]:
    """The languages of the theme; none where it is not installed."""
    found = importlib.util.find_spec(_THEME)
    places = found.submodule_search_locations if found is not None else None
    folders = [Path(each) / "templates/partials/languages" for each in places or ()]
    return frozenset(each.stem for folder in folders for each in folder.glob("*.html"))


def mkdocs_settings(content: Content) -> str:
    """`mkdocs.yml` of the exported tree."""
    values = _common(content)
    theme = values["theme"]
    plugins = content.config.values.get("plugins")
    search = next((each["search"] for each in plugins or () if isinstance(each, dict) and "search" in each), None)
    if isinstance(plugins, dict):
        search = plugins.get("search")
    values["plugins"] = [{"search": _plain(search)}] if isinstance(search, dict) else ["search"]
    extra = _plain(content.config.values.get("extra"))
    extra = extra if isinstance(extra, dict) else {}
    if theme["name"] == _THEME:
        extra["polyfills"] = before(FIRST_SCRIPTS, extra.get("polyfills", []))
    values["extra"] = extra
    not_in_nav = "\n".join(_not_in_nav(content))
    if not_in_nav:
        values["not_in_nav"] = not_in_nav + "\n"
    # all that lies in the tree is meant: what the handbook leaves out is not there
    values["exclude_docs"] = "!/templates/\n!.*\n"
    return _HEAD + yaml.safe_dump(values, allow_unicode=True, sort_keys=False, width=math.inf)


def fork_settings() -> str:
    """`properdocs.yml` of the exported tree: the fork of MkDocs has the same settings under another name."""
    return f"{_HEAD}INHERIT: mkdocs.yml\n"


def successor_settings(content: Content) -> str:
    """`zensical.toml` of the exported tree."""
    values = _common(content)
    theme = values.pop("theme")
    theme.pop("name")
    lines = [*(f"{key} = {_toml(each)}" for key, each in values.items()), "", "[project.theme]"]
    lines += [f"{key} = {_toml(each)}" for key, each in {"variant": "classic", **theme}.items()]
    return f"{_HEAD}\n[project]\n" + "\n".join(lines) + "\n"


def _common(content: Content) -> dict[str, Any]:
    values = content.config.values
    named = {key: values[key] for key in _COPIED if isinstance(values.get(key), str)}
    theme = theme_of(content.config)
    styles = (THEME_STYLE, *STYLES) if theme["name"] == _THEME else STYLES
    return {
        "site_name": content.name,
        **({"site_url": content.url} if content.url else {}),
        **named,
        "docs_dir": "docs",
        "site_dir": "site",
        "use_directory_urls": content.directory_urls,
        "theme": theme,
        "extra_css": before(styles, listed_files(values.get("extra_css"))),
        "extra_javascript": [*SCRIPTS, KEEP_SCRIPT, *_plain_list(values.get("extra_javascript"))],
        "nav": content.site.nav,
    }


def listed_files(value: Any) -> list[str]:
    """What a setting lists as texts."""
    return [each for each in value if isinstance(each, str)] if isinstance(value, list) else []


def _plain_list(value: Any) -> list[Any]:
    plain = _plain(value)
    return plain if isinstance(plain, list) else []


def _not_in_nav(content: Content) -> Iterator[str]:
    """Patterns for the pages that the navigation leaves out: a folder of many by one."""
    others = [place for place, page in content.site.pages.items() if not page.listed]
    folders = {place.rpartition("/")[0] for place in others}
    for folder in sorted(folders):
        inside = [place for place in content.site.pages if place.rpartition("/")[0] == folder]
        named = [place for place in inside if content.site.pages[place].listed]
        if folder and set(named) <= {f"{folder}/index.md"}:
            yield f"/{folder}/*.md"
            yield from (f"!/{each}" for each in named)
        else:
            yield from (f"/{each}" for each in sorted(set(inside) - set(named)))


def _plain(value: Any, depth: int = 20) -> Any:
    """The value without what is no text, number, list or mapping; None in the place of that."""
    if isinstance(value, dict) and depth:
        return {key: _plain(each, depth - 1) for key, each in value.items() if isinstance(key, str)}
    if isinstance(value, list) and depth:
        return [_plain(each, depth - 1) for each in value]
    return value if isinstance(value, str | int | float | bool) else None


def _toml(value: Any) -> str:
    """The value in one line of TOML, which has no null: what would be is left out."""
    if isinstance(value, dict):
        pairs = (f"{quoted(key)} = {_toml(each)}" for key, each in value.items() if each is not None)
        return "{" + ", ".join(pairs) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(_toml(each) for each in value if each is not None) + "]"
    return quoted(value) if isinstance(value, str) else json.dumps(value)
