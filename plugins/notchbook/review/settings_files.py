"""The settings of the site, every file of their chain value by value, and in words what the grave ones decide."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from notchbook.reading.document import Document
from notchbook.reading.files import text_of
from notchbook.review.changes import SettingEdit
from notchbook.review.differences import changes_between
from notchbook.review.edits import edits_of
from notchbook.site_reading.as_written import NotReadError, values_as_written

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from notchbook.model.settings import Settings
    from notchbook.review.changes import Review
    from notchbook.review.differences import ValueChange

_DECIDES = {
    ("hooks",): "code that runs when the site is built: hooks",
    ("plugins",): "code that runs when the site is built: plugins",
    ("theme", "custom_dir"): "templates of every page: theme.custom_dir",
    ("theme", "name"): "templates of every page: theme.name",
    ("extra_javascript",): "scripts that run in a reader's browser: extra_javascript",
    ("extra_templates",): "scripts that run in a reader's browser: extra_templates",
    ("extra",): "what the theme adds to every page, such as scripts: extra",
    ("extra_css",): "styles of every page, which can hide what it says: extra_css",
    ("markdown_extensions",): "what HTML and which files pages may bring in: markdown_extensions",
    ("INHERIT",): "settings taken over from another file: INHERIT",
    ("docs_dir",): "which pages are published: docs_dir",
    ("exclude_docs",): "which pages are published: exclude_docs",
}
"""What a setting decides, by its first keys."""
_OF_PLUGIN = {
    "procedures": "which data is published: notchbook › procedures",
    "results": "which data is published: notchbook › results",
    "enabled": "whether the handbook is checked at all: notchbook › enabled",
}
# What a key has behind it where it stands twice.
_SECOND = re.compile(r" \(\d+\)\Z")


def compare_settings(old_root: Path, new_root: Path, paths: Iterable[str], words: list[str], review: Review) -> None:
    """Tell every value of the settings files that differs, the grave ones first.

    Arguments:
        old_root: the handbook's root as it was.
        new_root: as it is now.
        paths: of all settings files, as they were and as they are, relative to the roots.
        words: about the plugin's settings as they work, from `plugin_words`.
        review: where it is told.
    """
    found = []
    for path in dict.fromkeys(paths):
        if (new_root / path).is_symlink():
            review.not_compared.append(f"{path} is a link, which is not followed")
            continue
        text = text_of(new_root / path)
        if isinstance(text, str) and text == text_of(old_root / path):
            continue
        before, after = _read(old_root, path, "as it was", review), _read(new_root, path, "as it is", review)
        if before is None or after is None:
            continue
        changes = changes_between(before.data, after.data)
        for change, edit in zip(changes, edits_of(before, after, changes), strict=True):
            found.append(SettingEdit(edit, decides(change, words)))
    review.settings += sorted(found, key=lambda each: not each.grave)
    review.grave = [*words, *dict.fromkeys(each.grave for each in review.settings if each.grave not in ("", *words))]


def plugin_words(old: Settings, new: Settings) -> list[str]:
    """What became graver in the plugin's settings as they work, whichever file gives them."""
    words = []
    if old.prose is not None and new.prose is None:
        words.append("nothing is checked or published by the site any more: notchbook was taken out of the plugins")
    if old.deviations != "label" and new.deviations == "label":
        words.append("departures from the method are published (deviations: label)")
    if old.notice.strip() != new.notice.strip() and old.notice.strip():
        words.append(f"the notice above every page was {'changed' if new.notice.strip() else 'taken away'}")
    return words


def decides(change: ValueChange, words: Iterable[str]) -> str:
    """What a changed setting decides, in words; empty for one that decides little.

    Arguments:
        change: of a settings file.
        words: about the plugin's settings as they work.
    """
    keys = [_SECOND.sub("", each) for each in change.label]
    while keys and (keys[0] == "<<" or keys[0].isdigit()):  # what a file takes over within itself
        del keys[0]
    if not keys:
        return ""
    if any("!!python" in (text or "") for text in (*keys, change.old, change.new)):
        return "code named by a tag, which is imported when the site is built"
    if "notchbook" in keys:
        key = keys[-1]
        named = next((each for each in words if key in each), "")
        return named or _OF_PLUGIN.get(key, "")
    return next((text for start, text in _DECIDES.items() if tuple(keys[: len(start)]) == start[: len(keys)]), "")


def _read(root: Path, path: str, which: str, review: Review) -> Document | None:
    """A settings file, one without values where there is none; None where it cannot be compared."""
    data: dict[str, Any] = {}
    text = ""
    if (root / path).exists():
        try:
            text, data = values_as_written(root / path)
        except NotReadError as error:
            review.not_compared.append(f"{path}, {which}, {error}")
            return None
    return Document(path, "settings", path, text, data)
