"""Files among the hand-written pages: drawings that do more than draw, and files that are not what their name says."""

# ruff: noqa: E501  # a drawing stands on a line

from pathlib import Path

import pytest

from notchbook.site_reading.docs_files import docs_file_findings, named_scripts
from notchbook.site_reading.svg import drawing_troubles

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 9 9">'
BAD_DRAWINGS = {
    "script": "<script>hit()</script>",
    "script-by-a-prefix": '<s:script xmlns:s="http://www.w3.org/2000/svg">hit()</s:script>',
    "script-of-html": '<h:script xmlns:h="http://www.w3.org/1999/xhtml">hit()</h:script>',
    "script-in-what-a-program-noted": '<n:note xmlns:n="urn:note"><script>hit()</script></n:note>',
    "handler": '<path onclick="hit()"/>',
    "handler-of-an-animation": '<animate attributeName="x" onbegin="hit()"/>',
    "foreign-object": "<foreignObject><p>x</p></foreignObject>",
    "html": '<body xmlns="http://www.w3.org/1999/xhtml" onload="hit()"/>',
    "mathml": '<math xmlns="http://www.w3.org/1998/Math/MathML"/>',
    "link-to-a-script": '<a href="javascript:hit()"><text>x</text></a>',
    "link-to-a-script-by-xlink": '<a xlink:href="java&#10;script:hit()"><text>x</text></a>',
    "link-that-an-animation-sets": '<a><animate attributeName="href" to="javascript:hit()"/></a>',
    "link-that-is-set": '<a><set attributeName="xlink:href" to="javascript:hit()"/></a>',
    "use-of-another-file": '<use href="https://host.example/x.svg#a"/>',
    "use-of-data": '<use href="data:image/svg+xml,x#a"/>',
    "picture-of-another-host": '<image xlink:href="https://host.example/x.png"/>',
    "picture-that-is-a-drawing": '<image href="data:image/svg+xml;base64,AAAA"/>',
    "style-that-imports": "<style>@import 'https://host.example/x.css';</style>",
    "style-that-loads": "<style><![CDATA[path { fill: url(https://host.example/x#a) }]]></style>",
    "style-with-an-escape": '<path style="fill: u\\72l(//host.example/x)"/>',
    "fill-of-another-file": '<path fill="url(https://host.example/x.svg#a)"/>',
    "frame": "<iframe/>",
    "moved-base": '<g xml:base="https://host.example/"/>',
    "instruction": '<?xml-stylesheet href="x.xsl"?>',
    "not-ended": "<g>",
}
GOOD_DRAWINGS = {
    "shapes": '<g id="a" class="b" fill="none" stroke="#000"><path d="M0 0L9 9"/><circle r="2"/></g><use xlink:href="#a"/>',
    "gradient": '<defs><linearGradient id="g"><stop offset="0" stop-color="red"/></linearGradient></defs>'
    '<rect fill="url(#g)" style="mask: url(\'#m\'); stroke: red"/>',
    "style": "<style>*{stroke-linejoin: round} path { fill: url(#g) }</style>",
    "text": '<title>Bar</title><desc>x</desc><text x="1" font-size="3" text-anchor="middle">5 &lt; 6 <tspan dx="1">J</tspan></text>',
    "link": '<a href="https://host.example/"><text>x</text></a><a xlink:href="rig.html" target="_blank"><text>y</text></a>',
    "picture": '<image href="data:image/png;base64,iVBORw0KGgo=" width="9" height="9"/>',
    "swing": '<g><animateTransform attributeName="transform" type="rotate" from="0" to="90" dur="2s" repeatCount="indefinite"/></g>',
    "notes-of-a-program": '<n:view xmlns:n="urn:note" n:zoom="1"/><g n:label="x" xmlns:n="urn:note"/><metadata><n:a xmlns:n="urn:n"/></metadata>',
}  # fmt: skip


@pytest.mark.parametrize("name", BAD_DRAWINGS)
def test_drawing_that_does_more_than_draw_is_refused(name: str) -> None:
    found = list(drawing_troubles(f"{HEAD}\n{BAD_DRAWINGS[name]}\n</svg>".encode()))
    assert found
    assert found[0].place[0] == (3 if name == "not-ended" else 2)
    assert all(each.hint for each in found)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16", "latin-1"])
@pytest.mark.parametrize("name", GOOD_DRAWINGS)
def test_drawing_that_draws_passes(name: str, encoding: str) -> None:
    text = f'<?xml version="1.0" encoding="{encoding}"?>\n<!-- x -->\n{HEAD}{GOOD_DRAWINGS[name]}</svg>'
    found = list(drawing_troubles(text.encode(encoding)))
    assert not found


def test_what_a_library_of_charts_draws_passes(tmp_path: Path) -> None:
    # matplotlib's own SVG, with its document type, its style and what it notes of itself
    from matplotlib.figure import Figure

    figure = Figure()
    axes = figure.subplots()
    axes.plot([1, 2], [3, 4], label="x", marker="o")
    axes.fill_between([1, 2], [1, 2], hatch="//")
    axes.legend()
    figure.savefig(tmp_path / "a.svg")
    found = list(drawing_troubles((tmp_path / "a.svg").read_bytes()))
    assert not found


@pytest.mark.parametrize(
    "raw", [b"", b"<svg", b"\xff\xfe<", b"<svg\0/>", b'<?xml version="1.0" encoding="nosuch"?><svg/>']
)
def test_drawing_that_cannot_be_read_is_refused(raw: bytes) -> None:
    assert list(drawing_troubles(raw))


def _found(tmp_path: Path, name: str, content: bytes, scripts: frozenset[str] = frozenset()) -> list[str]:
    path = tmp_path / "docs" / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)
    return [each.message for each in docs_file_findings(tmp_path, tmp_path / "docs", path, scripts)]


@pytest.mark.parametrize(
    ("name", "content"),
    [("a.html", b"x"), ("A.HTM", b"x"), ("a.xhtml", b""), ("a.xml", b"<a/>"), ("a.mhtml", b""), ("a.xsl", b""),
     ("a.html.en", b"x"), ("a.php.png", b"x"), ("a.png", b"<html>"), ("a.jpg", b"\n  <!doctype HTML>"),
     ("a", b"<script>hit()</script>"), ("a.bin", b"\xef\xbb\xbf<iframe src=x>"), ("a.pdf", b"<?xml version='1.0'?>"),
     ("a.gif", "<body onload=x>".encode("utf-16")), ("a.webp", b"<!-- x --><script>"), ("a.js", b"x"), ("a.mjs", b"x"),
     ("a.wasm", b"\0asm"), ("a.svgz", b"\x1f\x8b"), ("_headers", b"x"), ("_redirects", b"x"), ("web.config", b"<x/>"),
     ("a.png", b"<svg onload=hit()>")],
)  # fmt: skip
def test_file_that_acts_on_its_reader_is_refused(name: str, content: bytes, tmp_path: Path) -> None:
    assert len(_found(tmp_path, name, content)) == 1


@pytest.mark.parametrize(
    ("name", "content"),
    [("a.png", b"\x89PNG\r\n\x1a\n<html>"), ("a.pdf", b"%PDF-1.7"), ("a.csv", b"<html>"), ("a.txt", b"<script>"),
     ("CNAME", b"handbook.saltmere.example\n"), ("robots.txt", b"x"), ("a.zip", b"PK\3\4"), ("a.css", b"p {}"),
     ("a.xlsx", b"PK\3\4"), ("a.json", b"{}"), ("a.woff2", b"wOF2"), ("LICENCE", b"Text < more"), ("a.mp4", b"\0\0"),
     ("below/a.js", b"x"), ("a.stl", b"solid x"), ("v1.2.html-notes.png", b"\x89PNG")],
)  # fmt: skip
def test_ordinary_file_passes(name: str, content: bytes, tmp_path: Path) -> None:
    assert not _found(tmp_path, name, content, frozenset({"below/a.js"}))


def test_scripts_are_named_in_both_forms() -> None:
    values = {"extra_javascript": ["./a.js", {"path": "b/c.mjs", "type": "module"}, 3, {"path": 1}]}
    assert named_scripts(values) == {"a.js", "b/c.mjs"}
    assert named_scripts({"extra_javascript": "a.js"}) == named_scripts({}) == frozenset()
