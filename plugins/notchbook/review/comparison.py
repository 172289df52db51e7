"""Two states of a handbook against each other."""

from collections import Counter
from collections.abc import Collection

from notchbook.facts.facts import Facts
from notchbook.findings import Finding
from notchbook.handbook import Handbook
from notchbook.review.changes import Review
from notchbook.review.published import compare_published, result_moves
from notchbook.review.revision import Revision
from notchbook.review.setup import compare_setup
from notchbook.review.site_files import (
    compare_files,
    compare_settings,
    plugin_words,
    tell_not_compared,
    tell_unread_data,
)
from notchbook.review.site_folders import at_hand, site_folders
from notchbook.site_reading.site_rules import DOCS_FILE


def review_of(old: Handbook, new: Handbook, revision: Revision) -> Review:
    """What changed of a handbook: its data, its settings, its pages, and all that runs when the site is built.

    The older one is opened under the revision's root; the newer one is checked on the same day.
    """
    before = site_folders(revision.root, old.settings)
    after = site_folders(new.root, new.settings)
    found = at_hand(new.root, after)
    missing = [each for each in revision.files if before.holds_data(each) and not (revision.root / each).exists()]
    review = compare(old, new, revision.name, behind=frozenset([*found.others, *revision.others, *missing]))
    tell_not_compared(revision, before, after, found, review)
    tell_unread_data(new.root, revision, old, new, found, after, review)
    words = plugin_words(old.settings, new.settings)
    compare_settings(revision.root, new.root, (*before.settings, *after.settings), words, review)
    compare_files(new.root, revision, before, after, found, review)
    # files that are published as they are were not written out at the revision, so that nothing was found in them there
    other = {each.path for each in review.files}
    review.new_findings = [each for each in review.new_findings if each.rule != DOCS_FILE.id or each.path in other]
    return review


def compare(old: Handbook, new: Handbook, base: str, *, behind: Collection[str] = ()) -> Review:
    """What changed of the data for a reader, between two states that were checked on the same day.

    Nothing is said of data files behind links on one side.
    """
    review = Review(base)
    compare_published(old, new, review, behind)
    compare_setup(old, new, review)
    renamed = {each.new: each.old for each in review.renamed if each.kind == "test"}
    review.moves = result_moves(Facts(old), Facts(new), renamed, review)
    _findings(old, new, review)
    return review


def _findings(old: Handbook, new: Handbook, review: Review) -> None:
    """Findings that came and went; one that only stands on another line did neither."""

    def known_by(finding: Finding) -> tuple[str, str, str, str]:
        return finding.path, finding.rule, str(finding.severity), finding.message

    before, after = Counter(map(known_by, old.findings)), Counter(map(known_by, new.findings))
    for findings, other, into in (
        (new.findings, before, review.new_findings),
        (old.findings, after, review.gone_findings),
    ):
        left = Counter(other)
        for each in findings:
            if left[known_by(each)]:
                left[known_by(each)] -= 1
            else:
                into.append(each)
