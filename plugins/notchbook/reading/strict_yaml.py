"""One strict YAML 1.2 document to plain data, with the place of everything that is refused.

libyaml composes the nodes and `plain_data` makes data of them. Their values come from `scalars`, because PyYAML's own
resolver is one of YAML 1.1: it reads `no` as false, `12:30` as 750 and `1e3` as text.
"""

import re
from typing import Any

import yaml
from yaml.nodes import MappingNode

from notchbook.reading import rules
from notchbook.reading.nodes import (
    COMPOSED_DEPTH,
    MOST_NODES,
    Flaw,
    TooMuchError,
    compose,
    may_have_features,
    place_at,
    too_deep,
    too_many,
    without_old_breaks,
)
from notchbook.reading.plain_data import flaw_at, mapping, tag_flaw

_MOST_TAG_DIRECTIVES = 20

# What libyaml's reader refuses anyway, found first because libyaml gives no line for it (YAML 1.2.2, 5.1).
_NOT_PRINTABLE = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def parse(text: str) -> tuple[Any, list[Flaw]]:
    """Plain data of one document, and what is refused in it.

    The data is None where the document could not be read at all; a refused value stands in it as None.
    """
    odd = _NOT_PRINTABLE.search(text)
    if odd:
        message, hint = f"holds the control character U+{ord(odd.group()):04X}", "delete the character"
        if odd.group() == "\0" and text.count("\0") > len(text) // 4:
            message, hint = "is saved in the encoding UTF-16, not in UTF-8", "save it again as UTF-8"
        return None, [Flaw(rules.FILE_TEXT, message, hint, *place_at(text, odd.start()))]
    directives = text.count("%TAG")
    if directives > _MOST_TAG_DIRECTIVES:
        # libyaml compares each of them with all before it
        message = f"has %TAG {directives} times; tags are not used"
        return None, [Flaw(rules.YAML_FEATURE, message, "delete them", *place_at(text, text.index("%TAG")))]
    if may_have_features(text):
        flaws = _features(text)
        if flaws:
            return None, flaws
    try:
        node = compose(text)
    except TooMuchError as error:
        return None, [error.flaw]
    except yaml.YAMLError as error:
        return None, _diagnosed(text, error)
    if node is None:
        return None, [Flaw(rules.YAML_SYNTAX, "is empty", "begin with `kind:`", 1, 1)]
    if not isinstance(node, MappingNode):
        return None, [flaw_at(rules.YAML_SYNTAX, node, "holds no mapping of keys to values", "begin with `kind:`")]
    flaws = []
    data = mapping(node, flaws)
    return data, flaws


def _features(text: str) -> list[Flaw]:
    """Flaws for the anchors, aliases and bare tags of a text, found in its events, where no alias is expanded yet."""
    flaws: list[Flaw] = []
    depth = 0
    try:
        for number, event in enumerate(yaml.parse(without_old_breaks(text)[0], Loader=yaml.CSafeLoader)):
            name = getattr(event, "anchor", None)
            if name:
                what = "alias" if isinstance(event, yaml.AliasEvent) else "anchor"
                message = f"{what} '{name}' is not allowed in a data file"
                hint = "write the value out, or quote the text if it is meant to begin with & or *"
                flaws.append(flaw_at(rules.YAML_FEATURE, event, message, hint))
            if isinstance(event, (yaml.ScalarEvent, yaml.CollectionStartEvent)) and event.tag == "!":
                flaws.append(tag_flaw(event))
            depth += isinstance(event, yaml.CollectionStartEvent) - isinstance(event, yaml.CollectionEndEvent)
            if number > 2 * MOST_NODES or depth > COMPOSED_DEPTH:
                flaws.append((too_many if number > 2 * MOST_NODES else too_deep)(event.start_mark).flaw)
                break
    except yaml.YAMLError as error:
        flaws = flaws or _diagnosed(text, error)
    return flaws


def _diagnosed(text: str, error: yaml.YAMLError) -> list[Flaw]:
    # looking for slips takes long to load, and nearly every file is YAML
    from notchbook.reading.slips import diagnosis

    return diagnosis.flaws_of(text, error)
