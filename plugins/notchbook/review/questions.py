"""What there is to ask about in a review, what weighs most first, and the whole of it in a sentence."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.wording.lists import counted

if TYPE_CHECKING:
    from collections.abc import Sized

    from notchbook.review.changes import Review

_MOST_NAMED = 4
"""Grave changes of settings that are named in the sentence; the others are counted."""


def questions(review: Review) -> list[str]:
    """What there is to ask about, in words; empty where there is nothing."""
    plain = [each for each in review.settings if not each.grave]
    run = [each for each in review.files if each.acts]
    pages = [each for each in review.files if each.kind == "page"]
    others = [each for each in review.files if each.kind == "file"]
    resting = [each for each in review.asked_setup if each.under_results]
    other_setup = [each for each in review.asked_setup if not each.under_results]
    return [
        *_counted(
            (review.safety, "matter of safety changed", "matters of safety changed"),
            (review.not_compared, "thing could not be compared", "things could not be compared"),
        ),
        *review.grave[:_MOST_NAMED],
        *_counted(
            (review.grave[_MOST_NAMED:], "further grave setting changed", "further grave settings changed"),
            (run, "file of code, templates or styles changed", "files of code, templates or styles changed"),
            (plain, "setting changed", "settings changed"),
            (pages, "hand-written page changed", "hand-written pages changed"),
            (others, "other file of the site changed", "other files of the site changed"),
            (review.readings, "raw reading changed after publication", "raw readings changed after publication"),
            (
                review.identities,
                "statement of what was tested changed after publication",
                "statements of what was tested changed after publication",
            ),
            (
                resting,
                "part of the setup changed under published results",
                "parts of the setup changed under published results",
            ),
            (other_setup, "part of the setup changed", "parts of the setup changed"),
            (review.moves, "published result moved", "published results moved"),
            (review.removed, "published file removed", "published files removed"),
            (review.unreadable, "published file cannot be read now", "published files cannot be read now"),
            (
                review.declarations,
                "declared deviation or acknowledged warning changed",
                "declared deviations or acknowledged warnings changed",
            ),
            (review.serious_findings, "finding new", "findings new"),
        ),
    ]


def headline(review: Review) -> str:
    """The whole review in a sentence."""
    asked, also, told = questions(review), also_words(review), f"Against {review.base}: "
    if asked:
        return told + f"ask about {'; '.join(asked)}" + (f". Also {also}." if also else ".")
    if also:
        return told + f"nothing to ask about; {also}."
    words_only = review.statements or review.setup or review.new_findings
    return told + ("nothing to ask about; words changed only." if words_only else "nothing changed.")


def also_words(review: Review) -> str:
    """What changed and is no question, in words; empty where there is nothing."""
    return ", ".join(
        _counted(
            (review.added, "published file added", "published files added"),
            (review.renamed, "published file renamed", "published files renamed"),
            (review.gone_findings, "finding gone", "findings gone"),
        )
    )


def _counted(*rows: tuple[Sized, str, str]) -> list[str]:
    return [counted(len(listed), one, many) for listed, one, many in rows if len(listed)]
