"""The table of contents of a finished page is the one that Markdown would make of the same headings."""

import markdown
import pytest
from hypothesis import given
from hypothesis import strategies as st

from notchbook.pages.finished import FinishedPage, Heading
from notchbook.pages.toc import toc_tokens

KEYS = ("level", "id", "name", "children")
LEVELS = st.lists(st.integers(2, 6), max_size=8)


def _page(levels: list[int]) -> FinishedPage:
    headings = tuple(Heading(level, f"h{place}", f"A & <{place}>") for place, level in enumerate(levels))
    return FinishedPage("x.md", "X", "", headings, (), 1.0, None, True, heading=Heading(1, "x", "X"))


def _plain(tokens: list) -> list:
    return [{key: _plain(each[key]) if key == "children" else each[key] for key in KEYS} for each in tokens]


@pytest.mark.parametrize("depth", [6, 2, "3", "2-3", 1])
@given(LEVELS)
def test_tokens_are_those_of_markdown(depth: int | str, levels: list[int]) -> None:
    page = _page(levels)
    made = markdown.Markdown(extensions=["toc", "attr_list"], extension_configs={"toc": {"toc_depth": depth}})
    lines = [f"{'#' * each.level} {each.title.replace('<', '&lt;')} {{#{each.anchor}}}" for each in page.headings]
    made.convert("\n\n".join(["# X {#x}", *lines]))
    assert _plain(list(toc_tokens(page, depth))) == _plain(made.toc_tokens)
