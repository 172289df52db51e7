"""HTML of hand-written pages: what is not published is found at its place, what is ordinary passes, in bounded time."""

import re
import time
from functools import partial
from pathlib import Path

import markdown
import pytest
from markup_cases import ADDRESSES, ATTRIBUTES, EXTENSIONS, GOOD, TAGS
from mkdocs.utils import meta

import small_handbook as small
from html_tree import parse
from notchbook.facts.facts import Facts
from notchbook.handbook import Handbook
from notchbook.pages.written.guarded_page import GuardedPage, plain_settings
from notchbook.pages.written.markdown_html import Converter
from notchbook.pages.written.page_markup import MarkupLook
from notchbook.pages.written.prose import filled
from notchbook.site_reading.front_matter import front_matter
from notchbook.site_reading.pages import WrittenPage

BAD = {
    **{f"tag-{name}": (text, "page-markup") for name, text in TAGS.items()},
    **{f"attribute-{name}": (text, "page-markup") for name, text in ATTRIBUTES.items()},
    **{f"address-{name}": (text, "page-link") for name, text in ADDRESSES.items()},
}
SETTINGS = {"markdown_extensions": EXTENSIONS}
# A browser would run, load or send something.
ALIVE = re.compile(
    r"<(?:script|iframe|object|embed|form|style|link|meta|base|math|foreignobject|animate|use|image)\b"
    r"|<[^>]*\s(?:on\w+|srcset|ping|autofocus)\s*=|(?:href|src|poster)=\"\s*(?:\W*(?:java|vb)script|data:|//)"
    r"|src=\"https?:|position",
    re.IGNORECASE,
)


@pytest.fixture(scope="module")
def look() -> MarkupLook:
    return MarkupLook(SETTINGS, Path("/nowhere"))


@pytest.fixture(scope="module")
def handbook(tmp_path_factory: pytest.TempPathFactory) -> Handbook:
    return small.opened(tmp_path_factory.mktemp("small"), small.files())


def _marked(text: str) -> tuple[str, int, int]:
    """The page without its mark, and line and column of the mark; the start where there is none."""
    start = max(text.find("§"), 0)
    return text.replace("§", ""), text.count("\n", 0, start) + 1, start - text.rfind("\n", 0, start)


def _published(handbook: Handbook, text: str) -> tuple[str, list[str]]:
    """As the site has it, by Markdown with all extensions, colours of code among them."""
    page = GuardedPage(text[front_matter(text).end :], partial(filled, Facts(handbook)))
    names = [each if isinstance(each, str) else next(iter(each)) for each in EXTENSIONS]
    settings = {key: each for one in EXTENSIONS if isinstance(one, dict) for key, each in one.items()}
    settings["pymdownx.emoji"] = {"emoji_generator": "pymdownx.emoji.to_alt"}
    return page.published(
        markdown.markdown(page.markdown, extensions=["fenced_code", *names], extension_configs=settings)
    )


@pytest.mark.parametrize("name", BAD)
def test_what_is_not_published_is_found_at_its_place(name: str, look: MarkupLook) -> None:
    marked, rule = BAD[name]
    text, line, column = _marked(marked)
    found = list(look.findings(WrittenPage("docs/page.md", text)))
    assert found, "nothing was found"
    assert all(each.hint and each.severity == "error" for each in found)
    assert (found[0].rule, found[0].line, found[0].column) == (rule, line, column), "\n".join(map(str, found))


@pytest.mark.parametrize("name", BAD)
def test_what_is_not_published_stops_the_build_and_would_not_come_through(name: str, handbook: Handbook) -> None:
    marked, _ = BAD[name]
    made, troubles = _published(handbook, _marked(marked)[0])
    assert troubles
    made = re.sub("<math.*</math>", "", made)  # the handbook's own
    assert not ALIVE.search(made), made


@pytest.mark.parametrize("name", GOOD)
def test_ordinary_page_passes(name: str, look: MarkupLook, handbook: Handbook) -> None:
    found = list(look.findings(WrittenPage("docs/page.md", GOOD[name])))
    assert not found, "\n".join(map(str, found))
    made, troubles = _published(handbook, GOOD[name].replace("\r\n", "\n"))
    assert not troubles
    assert "nbkept" not in made
    parse(made)  # every element is ended in its parent


def test_there_are_many_of_both() -> None:
    assert len(BAD) > 120
    assert len(GOOD) > 40


def test_what_the_handbook_fills_in_is_published_as_it_is(handbook: Handbook) -> None:
    text = (
        "# About [[rig bench-1: title]]\n\nIt is [[rig bench-1: title]] with $x < \\alpha$.\n\n"
        "[[hammer bench-1/charpy-1: pendulum drawing]]\n\n    [[rig bench-1: title]] $x$\n\n$$\na < b\n$$\n"
    )
    made, troubles = _published(handbook, text)
    assert not troubles
    page = parse(made)
    assert [each.text for each in page.all("span", css="nb-quantity")] == ["Bench pendulum 1"] * 2
    assert page.one("h1").attributes["id"] == "about-bench-pendulum-1"
    assert len(page.all("math")) == 2
    assert page.all("figure")
    assert page.one("td", css="code").text == "[[rig bench-1: title]] $x$"
    assert "nbkept" not in made


def test_places_are_those_of_the_page_whatever_stands_before(look: MarkupLook) -> None:
    lines = ["---", "title: x", "---", "", "`<script>` and", "", "```", "<script>", "```"]
    text = "\r\n".join([*lines, "", "\u0130 a <script>x</script>"])
    found = list(look.findings(WrittenPage("docs/page.md", text)))
    assert [(each.line, each.column) for each in found] == [(11, 5)]


def test_all_is_told_at_once_and_a_page_of_nothing_else_by_its_first_hundred(look: MarkupLook) -> None:
    text = "<b onclick=x>\n\n[a](javascript:x)\n\n<iframe></iframe>\n"
    found = list(look.findings(WrittenPage("docs/page.md", text)))
    assert [(each.line, each.rule) for each in found] == [(1, "page-markup"), (3, "page-link"), (5, "page-markup")]
    assert len(list(look.findings(WrittenPage("docs/page.md", "<iframe></iframe>\n\n" * 1_000)))) == 101


@pytest.mark.parametrize(
    ("head", "number"),
    [("template: redirect.html\nlocation: javascript:hit()", 1), ("template: [x]", 0), ("title: template", 0)],
)
def test_template_of_the_theme_is_not_chosen_by_a_page(head: str, number: int, look: MarkupLook) -> None:
    found = list(look.findings(WrittenPage("docs/page.md", f"---\n{head}\n---\n\ntext\n")))
    assert [(each.rule, each.line) for each in found] == [("page-markup", 2)] * number


def test_template_of_the_handbook_is(tmp_path: Path) -> None:
    (tmp_path / "overrides").mkdir()
    (tmp_path / "overrides/cover.html").write_text("x")
    look = MarkupLook({"theme": {"name": "material", "custom_dir": "overrides"}}, tmp_path)
    found = list(look.findings(WrittenPage("docs/page.md", "---\ntemplate: cover.html\n---\n")))
    assert not found


def test_head_of_a_page_is_taken_off_as_mkdocs_takes_it_off() -> None:
    for text in (
        *("---\ntitle: x\n---\n\n\ntext\n", "title: x\nauthor: y\n    z\n\ntext", "--- \na: [1\n---\ntext"),
        *("---\n- a\n---\ntext", "a: b", "", "\n\na: b\n", "---\ntitle: x\n...\ntext", "a: b\ntext", "text\n\nmore"),
        "Note: <b>x</b>\n\ntext",
    ):
        body, values = meta.get_data(text)
        found = front_matter(text)
        assert (text[found.end :], dict(found.values)) == (body, values), text


def test_head_is_shown_as_text_however_often_it_names_itself() -> None:
    doubled: list[object] = ["<b>"]
    for _ in range(100):
        doubled = [doubled, doubled]
    doubled.append(doubled)
    plain = plain_settings({"title": '<script>"&', "on": True, "many": doubled})
    assert plain["title"] == "&lt;script&gt;&quot;&amp;"
    assert plain["on"] is True
    assert plain["many"][2] is None


@pytest.mark.parametrize(
    "listed",
    [None, "toc", {"toc": None, "attr_list": {}}, [3, {"toc": {"nosuch": 1}}, "pymdownx.nosuch", "os", {"toc": ""}],
     [{"toc": {"slugify": ""}}, {"pymdownx.superfences": {"custom_fences": [{"name": "x", "format": ""}]}}]],
)  # fmt: skip
def test_whatever_extensions_are_listed_the_page_is_looked_at(listed: object) -> None:
    made = Converter(listed, Path("/nowhere")).html("# Title\n\n```x\na\n```\n\n<script>")
    assert "<script>" in made
    assert '<h1 id="title">' in made


@pytest.mark.parametrize(
    "unit",
    ["[", "![", "[a](", "<a ", "<![CDATA[", "<!-- ", "</a ", "-\n", "a\n=\n", "~~~ a\n", "\\[", "1. - ", "> ", "<b>",
     "<div>\n\n", "&", "`", "` ", "[]][", "](\"", "*a ", "| a ", "<a x='>' ", "(", "#", "{: a=b }"],
)  # fmt: skip
def test_page_of_one_thing_alone_takes_no_time(unit: str, look: MarkupLook) -> None:
    text = unit * (1_000_000 // len(unit))
    for page in (text, text[:199_000]):
        start = time.process_time()
        found = list(look.findings(WrittenPage("docs/page.md", page)))
        assert time.process_time() - start < 10  # on a busy machine; what is quadratic takes minutes
        assert len(found) <= 101
