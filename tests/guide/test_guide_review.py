"""The page about reviewing a change names what the command prints, in its order."""

import re

from guide_blocks import GUIDE

from full_review import everything
from notchbook.review.sections import sections

PAGE = (GUIDE / "review.md").read_text(encoding="utf-8")


def test_every_list_of_the_command_is_on_the_page_in_its_order() -> None:
    named = re.findall(r"^- \*([^*]+)\*", PAGE, re.MULTILINE)
    assert named == [each.title for each in sections(everything("bar"))]


def test_what_became_of_an_entry_is_said_in_the_command_s_words() -> None:
    rows = sections(everything("bar"))[0].rows
    for state in {row.cells[0] for row in rows}:
        assert f"*{state}*" in PAGE
