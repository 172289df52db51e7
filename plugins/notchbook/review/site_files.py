"""Hand-written pages, code, templates, scripts and styles of the site, file by file against those of a revision."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from notchbook.reading.files import stem_of_data, text_of
from notchbook.review.changes import FileChange
from notchbook.review.revision import same_as_file
from notchbook.review.site_folders import KINDS

if TYPE_CHECKING:
    from pathlib import Path

    from notchbook.handbook import Handbook
    from notchbook.review.changes import Review
    from notchbook.review.revision import Revision
    from notchbook.review.site_folders import SiteFolders
    from notchbook.review.walking import AtHand


def compare_files(
    root: Path, revision: Revision, before: SiteFolders, after: SiteFolders, found: AtHand, review: Review
) -> None:
    """Tell every file beside the data that came, went or is another one.

    Arguments:
        root: the handbook's root at hand.
        revision: the handbook as it was.
        before: its folders.
        after: the folders at hand.
        found: the files in these.
        review: where it is told.
    """
    old = {path: kind for path in revision.files if (kind := before.kind_of(path)) is not None}
    new = {path: kind for path in found.files if (kind := after.kind_of(path)) is not None}
    for path in sorted(old.keys() | new.keys()):
        if path not in new:
            if not found.covered(path):
                review.files.append(_change(root, revision, old[path], path, "removed"))
        elif path not in old:
            review.files.append(_change(root, revision, new[path], path, "added"))
        elif not same_as_file(revision.files[path], root / path):
            review.files.append(_change(root, revision, new[path], path, "changed"))
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


def _change(root: Path, revision: Revision, kind: str, path: str, state: str) -> FileChange:
    came, went = (None, None) if kind == "file" else _lines(revision.root / path, root / path, state)
    return FileChange(kind, path, state, came, went)


def _lines(old: Path, new: Path, state: str) -> tuple[int | None, int | None]:
    """How many lines are new and how many are gone; a moved one is neither."""
    before = text_of(old) if state != "added" else ""
    after = text_of(new) if state != "removed" else ""
    if not isinstance(before, str) or not isinstance(after, str):
        return None, None
    was, now = (Counter(line for line in text.splitlines() if line.strip()) for text in (before, after))
    return (now - was).total(), (was - now).total()
