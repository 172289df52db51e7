"""The sanitiser of HTML, set up for what a hand-written page may say: it decides what is published and what is not.

nh3 parses HTML as a browser does and leaves what is listed. The lists stand in `markup_lists`.
"""

from __future__ import annotations

import html
from functools import cache, lru_cache

import nh3

from notchbook.site_reading.markup_lists import (
    ATTRIBUTES,
    OWN_IDS,
    PLACES,
    PREFIXES,
    STYLES,
    TAGS,
    URL_SCHEMES,
    VALUES,
)

_BASE = "https://within.invalid/pages/"
# HTML gives some attributes of drawings their capitals back.
_CAPITALS = {"viewbox": "viewBox", "preserveaspectratio": "preserveAspectRatio"}


def cleaned(page: str) -> str:
    """The HTML as the sanitiser leaves it: what is listed, every element ended, and no comments."""
    return _cleaner().clean(page)


@lru_cache(maxsize=20_000)
def kept_attributes(name: str, tag: str) -> frozenset[str]:
    """The names of the attributes that the sanitiser leaves on a start tag, in small letters.

    Arguments:
        name: of the element, in small letters.
        tag: as it is written.
    """
    _kept.clear()
    _cleaner().clean(PLACES.get(name, "") + tag)
    return frozenset(attribute.lower() for element, attribute in _kept if element == name)


# What was left on each tag of the text that was cleaned last.
_kept: set[tuple[str, str]] = set()


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


@cache
def _cleaner() -> nh3.Cleaner:
    attributes = {tag: {_CAPITALS.get(each, each) for each in names} for tag, names in ATTRIBUTES.items()}
    return nh3.Cleaner(
        tags=set(TAGS),
        clean_content_tags=set(),
        attributes=attributes,
        attribute_filter=_left,
        generic_attribute_prefixes=set(PREFIXES),
        tag_attribute_values={tag: {key: set(each) for key, each in values.items()} for tag, values in VALUES.items()},
        url_schemes=set(URL_SCHEMES),
        filter_style_properties=set(STYLES),
        link_rel=None,
    )


@lru_cache(maxsize=1_000)
def _lies_within(address: str) -> bool:
    """Whether a browser that shows a page would find the address on the page's own host."""
    cleaner = _resolver()
    return cleaner.clean(f'<img src="{html.escape(address)}">').startswith('<img src="https://within.invalid/')


@cache
def _resolver() -> nh3.Cleaner:
    return nh3.Cleaner(
        tags={"img"},
        attributes={"img": {"src"}},
        url_schemes=set(),
        url_relative=("rewrite_with_base", _BASE),
        link_rel=None,
    )


@lru_cache(maxsize=1_000)
def _only_listed(style: str) -> bool:
    """Whether the sanitiser leaves a style as it is."""
    left = _styler().clean(f'<p style="{html.escape(style)}">')
    written = html.unescape(left.removeprefix('<p style="').partition('"')[0])
    return _properties(written) == _properties(style)


@cache
def _styler() -> nh3.Cleaner:
    return nh3.Cleaner(tags={"p"}, attributes={"p": {"style"}}, filter_style_properties=set(STYLES), link_rel=None)


def _properties(style: str) -> list[str]:
    return [each.partition(":")[0].strip().lower() for each in style.split(";") if each.strip()]
