"""The sanitiser of HTML and the lists of what a hand-written page may say: it decides what is published, what is not.

nh3 parses HTML as a browser does and leaves what is listed: what says, marks or shows something where it stands; no
script, no frame, nothing that loads from another host, nothing that lies over the rest of the site. What Markdown and
its usual extensions make is all among it.
"""

import html
from functools import lru_cache

import nh3

_TEXT = """
a abbr address area article aside b bdi bdo big blockquote br caption center cite code col colgroup data dd del details
dfn div dl dt em figcaption figure font footer h1 h2 h3 h4 h5 h6 header hgroup hr i img ins kbd label li map mark meter
nav ol p pre progress q rp rt ruby s samp section small span strike strong sub summary sup table tbody td tfoot th
thead time tr tt u ul var wbr
"""
SHAPES = frozenset(["circle", "ellipse", "line", "path", "polygon", "polyline", "rect"])
"""Elements of a drawing that hold no others; XML lets them end in their own tag."""
TAGS = frozenset(_TEXT.split()) | SHAPES | {"audio", "g", "input", "source", "svg", "track", "video"}
VOID = frozenset(
    ["area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "param", "source", "track", "wbr"]
)
"""HTML Living Standard, 13.1.2: elements without an end tag."""

_DRAWN = frozenset(
    ["clip-rule", "fill", "fill-opacity", "fill-rule", "opacity", "stroke", "stroke-dasharray", "stroke-linecap",
     "stroke-linejoin", "stroke-opacity", "stroke-width", "transform"]
)  # fmt: skip
_PLAYED = frozenset({"controls", "height", "loop", "muted", "playsinline", "preload", "src", "width"})
ATTRIBUTES: dict[str, frozenset[str]] = {
    "*": frozenset({"class", "data-linenos", "data-search-exclude", "data-tabs", "data-toc-label", "dir", "hidden",
                    "id", "lang", "markdown", "role", "style", "title", "translate"}),
    "a": frozenset({"download", "href", "hreflang", "name", "rel", "type"}),
    "area": frozenset({"alt", "coords", "href", "shape"}),
    "audio": _PLAYED,
    **dict.fromkeys(("blockquote", "q"), frozenset({"cite"})),
    **dict.fromkeys(("col", "colgroup"), frozenset({"align", "span", "width"})),
    "data": frozenset({"value"}),
    **dict.fromkeys(("del", "ins"), frozenset({"cite", "datetime"})),
    "details": frozenset({"name", "open"}),
    "font": frozenset({"color", "size"}),
    **dict.fromkeys(("div", "h1", "h2", "h3", "h4", "h5", "h6", "p", "tr", "tbody", "thead"), frozenset({"align"})),
    "hr": frozenset({"align", "size", "width"}),
    "img": frozenset({"align", "alt", "border", "decoding", "height", "hspace", "ismap", "loading", "src", "usemap",
                      "vspace", "width"}),
    "input": frozenset({"checked", "disabled", "name"}),
    "label": frozenset({"for"}),
    "li": frozenset({"type", "value"}),
    "map": frozenset({"name"}),
    "meter": frozenset({"high", "low", "max", "min", "optimum", "value"}),
    "ol": frozenset({"reversed", "start", "type"}),
    "progress": frozenset({"max", "value"}),
    "source": frozenset({"src", "type"}),
    "svg": _DRAWN | {"height", "preserveaspectratio", "version", "viewbox", "width", "xmlns"},
    "g": _DRAWN,
    **{each: _DRAWN | {"cx", "cy", "d", "height", "points", "r", "rx", "ry", "width", "x", "x1", "x2", "y", "y1", "y2"}
       for each in SHAPES},
    "table": frozenset({"align", "border", "cellpadding", "cellspacing", "summary", "width"}),
    **dict.fromkeys(("td", "th"), frozenset({"align", "colspan", "headers", "rowspan", "scope", "valign", "width",
                                             "height", "abbr"})),
    "time": frozenset({"datetime"}),
    "track": frozenset({"default", "kind", "label", "src", "srclang"}),
    "ul": frozenset({"type"}),
    "video": _PLAYED | {"poster"},
}  # fmt: skip
"""By tag, in small letters; those under `*` on every tag."""
VALUES: dict[str, dict[str, frozenset[str]]] = {
    "a": {"target": frozenset({"_blank", "_self"})},
    "input": {"type": frozenset({"checkbox", "radio"})},
}
"""Attributes that may have these values alone."""
STYLES = frozenset(
    ["background-color", "clear", "color", "float", "font-style", "font-weight", "height", "list-style-type",
     "max-width", "min-width", "text-align", "text-decoration", "vertical-align", "white-space", "width"]
)  # fmt: skip
"""Properties of a style attribute: none of them takes an element out of its place or loads anything."""
OWN_IDS = ("__codelineno-", "__span-", "__tabbed_")
"""What extensions of Markdown call their own; other ids of the form are those of the theme's controls."""
PLACES: dict[str, str] = {
    **dict.fromkeys(("td", "th"), "<table><tbody><tr>"),
    "tr": "<table><tbody>",
    **dict.fromkeys(("caption", "colgroup", "tbody", "tfoot", "thead"), "<table>"),
    "col": "<table><colgroup>",
    **dict.fromkeys((*SHAPES, "g"), "<svg>"),
}
"""Where a tag has to stand so that HTML knows it."""

_FRAMES = "write a link to it in its place"
_ADVICE = {
    **dict.fromkeys(("script", "noscript", "template", "slot"), "take it out; scripts are named in mkdocs.yml"),
    **dict.fromkeys(("iframe", "frame", "frameset", "object", "embed", "applet", "portal"), _FRAMES),
    **dict.fromkeys(("form", "button", "select", "textarea", "fieldset", "option"), "link to where it is filled in"),
    "input": "link to where it is filled in; for a box to tick on paper write `[ ]`",
    **dict.fromkeys(("style", "link"), "put the style into a file that mkdocs.yml names under extra_css"),
    **dict.fromkeys(("base", "meta", "html", "head", "body", "title"), "take it out; the theme writes it"),
    "math": "write the formula between dollar signs",
    "picture": "show one picture by ![what it shows](file.png)",
}
_NOT_HTML = "put it in backticks if it is meant as it stands, or take it out"
_WITHIN = "copy the file into the folder of the pages and name it from there: other hosts would learn who reads"
_FOR_ATTRIBUTES = {
    "href": "a link can lead to http, https, mailto, tel or a page of the handbook",
    "src": _WITHIN,
    "poster": _WITHIN,
    "srcset": "name one picture by src",
    "style": f"a style can set {', '.join(sorted(STYLES))}; put more into a file that mkdocs.yml names under extra_css",
    "target": "leave it out, or write _blank",
    "type": "a field can be a checkbox or a radio button",
    **dict.fromkeys(("id", "for", "name"), "choose a name that does not begin with two underscores"),
}
# HTML gives some attributes of drawings their capitals back.
_CAPITALS = {"viewbox": "viewBox", "preserveaspectratio": "preserveAspectRatio"}
# What was left on each tag of the text that was cleaned last.
_kept: set[tuple[str, str]] = set()


def advice(tag: str, attribute: str = "") -> str:
    """What to do about a tag, or about an attribute of an allowed one."""
    if attribute:
        return _FOR_ATTRIBUTES.get(attribute, "leave the attribute out")
    return _ADVICE.get(tag, _NOT_HTML)


def cleaned(page: str) -> str:
    """The HTML as the sanitiser leaves it: what is listed, every element ended, and no comments."""
    return _CLEANER.clean(page)


@lru_cache(maxsize=20_000)
def kept_attributes(name: str, tag: str) -> frozenset[str]:
    """The attributes that the sanitiser leaves on a start tag as it is written; all names in small letters."""
    _kept.clear()
    _CLEANER.clean(PLACES.get(name, "") + tag)
    return frozenset(attribute.lower() for element, attribute in _kept if element == name)


def _left(tag: str, attribute: str, value: str) -> str | None:
    """The value of a listed attribute, or None: it is called for what passed the lists and the schemes."""
    if attribute in ("src", "poster") and not _lies_within(value):
        return None
    if attribute in ("id", "for", "name") and value.startswith("__") and not value.startswith(OWN_IDS):
        return None
    if attribute == "style" and not _only_listed(value):
        return None
    _kept.add((tag, attribute))
    return value


_CLEANER = nh3.Cleaner(
    tags=set(TAGS),
    clean_content_tags=set(),
    attributes={tag: {_CAPITALS.get(each, each) for each in names} for tag, names in ATTRIBUTES.items()},
    attribute_filter=_left,
    generic_attribute_prefixes={"aria-"},
    tag_attribute_values={tag: {key: set(each) for key, each in values.items()} for tag, values in VALUES.items()},
    url_schemes={"http", "https", "mailto", "tel"},
    filter_style_properties=set(STYLES),
    link_rel=None,
)
_RESOLVER = nh3.Cleaner(
    tags={"img"},
    attributes={"img": {"src"}},
    url_schemes=set(),
    url_relative=("rewrite_with_base", "https://within.invalid/pages/"),
    link_rel=None,
)


@lru_cache(maxsize=1_000)
def _lies_within(address: str) -> bool:
    """Whether a browser that shows a page would find the address on the page's own host."""
    return _RESOLVER.clean(f'<img src="{html.escape(address)}">').startswith('<img src="https://within.invalid/')


_STYLER = nh3.Cleaner(tags={"p"}, attributes={"p": {"style"}}, filter_style_properties=set(STYLES), link_rel=None)


@lru_cache(maxsize=1_000)
def _only_listed(style: str) -> bool:
    """Whether the sanitiser leaves a style as it is."""
    left = _STYLER.clean(f'<p style="{html.escape(style)}">')
    written = html.unescape(left.removeprefix('<p style="').partition('"')[0])
    return _properties(written) == _properties(style)


def _properties(style: str) -> list[str]:
    return [each.partition(":")[0].strip().lower() for each in style.split(";") if each.strip()]
