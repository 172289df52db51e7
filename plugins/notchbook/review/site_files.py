"""What a site is made of besides data, against a revision: its settings and its files.

Settings are compared value by value in every file of their chain, and in words what the grave ones decide; hand-written
pages, code, templates, scripts and styles file by file.
"""

import re
from collections import Counter
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from notchbook.commits import same_as_file
from notchbook.handbook import Handbook
from notchbook.model.settings import Settings
from notchbook.reading.document import Document
from notchbook.reading.files import stem_of_data, text_of
from notchbook.review.changes import FileChange, Review, SettingEdit
from notchbook.review.differences import ValueChange, edits_between
from notchbook.review.revision import Revision
from notchbook.review.site_folders import KINDS, AtHand, SiteFolders, is_in
from notchbook.site_reading.as_written import NotReadError, values_as_written

_DECIDES = {
    "code that runs when the site is built": ("hooks", "plugins"),
    "templates of every page": ("theme.custom_dir", "theme.name"),
    "scripts that run in a reader's browser": ("extra_javascript", "extra_templates"),
    "what the theme adds to every page, such as scripts": ("extra",),
    "styles of every page, which can hide what it says": ("extra_css",),
    "what HTML and which files pages may bring in": ("markdown_extensions",),
    "settings taken over from another file": ("INHERIT",),
    "which pages are published": ("docs_dir", "exclude_docs"),
}
"""What settings decide, and the first keys of these."""
_OF_PLUGIN = {
    "procedures": "which data is published: notchbook › procedures",
    "results": "which data is published: notchbook › results",
    "enabled": "whether the handbook is checked at all: notchbook › enabled",
}
# What a key has behind it where it stands twice.
_SECOND = re.compile(r" \(\d+\)\Z")


def compare_settings(old_root: Path, new_root: Path, paths: Iterable[str], words: list[str], review: Review) -> None:
    """Tell every value that differs in the settings files at the paths, as they were or are, the grave ones first.

    The paths are relative to the roots; the words are those of `plugin_words`, about the settings as they work.
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
        found += [SettingEdit(edit, decides(change, words)) for change, edit in edits_between(before, after)]
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
    """What a changed setting decides, in words, those of `plugin_words` among them; empty where that is little."""
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
    settings = ((f"{what}: {each}", each.split(".")) for what, every in _DECIDES.items() for each in every)
    return next((text for text, start in settings if keys[: len(start)] == start[: len(keys)]), "")


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


def compare_files(
    root: Path, revision: Revision, before: SiteFolders, after: SiteFolders, found: AtHand, review: Review
) -> None:
    """Tell every file beside the data that came, went or is another one, in the folders as they were and at hand."""
    old = {path: kind for path in revision.files if (kind := before.kind_of(path)) is not None}
    new = {path: kind for path in found.files if (kind := after.kind_of(path)) is not None}
    for path in sorted(old.keys() | new.keys()):
        state = "removed" if path not in new else "changed" if path in old else "added"
        kind = new[path] if path in new else old[path]
        if state == "removed" and is_in(path, found.others):
            continue
        if state == "changed" and same_as_file(revision.files[path], root / path):
            continue
        came, went = (None, None) if kind == "file" else _lines(revision.root / path, root / path, state)
        review.files.append(FileChange(kind, path, state, came, went))
    review.files.sort(key=lambda each: KINDS.index(each.kind))


def tell_not_compared(
    revision: Revision, before: SiteFolders, after: SiteFolders, found: AtHand, review: Review
) -> None:
    """Tell what of the revision could not be read, and what at hand could not be looked into."""
    review.not_compared += revision.not_compared
    for path, what in sorted(found.others.items()):
        was_so = path in revision.others
        if was_so and before.is_read(path):
            continue  # told with the revision
        where = "data" if after.leads_to_data(path) else "site"
        new = "" if was_so else "new: "
        review.not_compared.append(f"{new}{path} {what}; what it gives to the {where} could not be compared")


def tell_unread_data(
    root: Path, revision: Revision, old: Handbook, new: Handbook, found: AtHand, after: SiteFolders, review: Review
) -> None:
    """Tell the data files that could be read neither before nor now and are other ones."""
    read = {each.path for handbook in (old, new) for each in handbook.documents.values()}
    for path in sorted(found.files & revision.files.keys()):
        is_data = after.holds_data(path) and stem_of_data(path.rpartition("/")[2]) is not None
        if is_data and path not in read and not same_as_file(revision.files[path], root / path):
            review.not_compared.append(f"{path} cannot be read, before or now, and is another file than it was")


def _lines(old: Path, new: Path, state: str) -> tuple[int | None, int | None]:
    """How many lines are new and how many are gone; a moved one is neither."""
    before = text_of(old) if state != "added" else ""
    after = text_of(new) if state != "removed" else ""
    if not isinstance(before, str) or not isinstance(after, str):
        return None, None
    was, now = (Counter(line for line in text.splitlines() if line.strip()) for text in (before, after))
    return (now - was).total(), (was - now).total()
