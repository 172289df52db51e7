"""What can be wider than a page: tables and code of hand-written pages stand in labelled regions."""

import pytest

from html_tree import parse
from notchbook.pages.regions import with_regions

TABLE = "<table>\n<thead><tr><th>A</th></tr></thead><tbody><tr><td>1</td></tr></tbody>\n</table>"


def _labels(page: str) -> list[str]:
    return [each.attributes["aria-label"] for each in parse(page).all("div", css="nb-scroll")]


@pytest.mark.parametrize(
    ("inner", "kind", "tag"),
    [
        (TABLE, "Table", "table"),
        ('<pre><code class="language-yaml">kind: rig\n</code></pre>', "Code", "pre"),
        ("<pre><span></span><code>x</code></pre>", "Code", "pre"),
    ],
)
def test_table_and_code_stand_in_a_region_with_the_heading_as_its_label(inner: str, kind: str, tag: str) -> None:
    found = parse(with_regions(f'<h1 id="a">Rigs</h1>\n<h2 id="b">A &amp; <code>"b"</code></h2>\n{inner}\n<p>x</p>'))
    region = found.one("div", css="nb-scroll")
    assert region.attributes["role"] == "region"
    assert region.attributes["tabindex"] == "0"
    assert region.attributes["aria-label"] == f'{kind}: A & "b"'
    assert region.one(tag).parent is region
    assert found.one("p").text == "x"


def test_labels_differ_on_a_page() -> None:
    formula = '<div class="nb-scroll" tabindex="0" role="region" aria-label="Formula">x</div>'
    assert _labels(with_regions(f"{TABLE}{formula}<h2>B</h2>{TABLE}{formula}{TABLE}")) == [
        "Table", "Formula 1", "Table: B 1", "Formula 2", "Table: B 2",
    ]  # fmt: skip


@pytest.mark.parametrize(
    "page",
    [
        "<p>no table</p>",
        '<div class="nb-scroll" tabindex="0" role="region" aria-label="Results"><table class="nb-table"></table></div>',
        "<p>written as &lt;table&gt;x&lt;/table&gt;</p>",
        "<p><code>one</code> word of code</p>",
        "<table><tr><td>never closed",
    ],
)
def test_everything_else_stays_as_it_is(page: str) -> None:
    assert with_regions(page) == page
