"""One file of a site's settings as plain data: MkDocs' own YAML, within bounds, and nothing in it obeyed.

MkDocs reads YAML 1.1, builds Python objects that tags name and fills in variables of the environment. Here a tag is
passed over; `!ENV` alone is resolved, so that the settings are the ones that the build has.
"""

import os
from typing import Any

import yaml

from notchbook.reading.files import Refused
from notchbook.reading.nodes import BoundedLoader, TooMuchError, place_at, start_of, too_many
from notchbook.site_reading import site_rules

_MOST_MERGED = 10_000
_HINT = "mend the file"


class _SiteLoader(BoundedLoader):
    def flatten_mapping(self, node: yaml.MappingNode) -> None:
        """Merge what `<<` names; of merges within merges the number could double at each."""
        super().flatten_mapping(node)
        if len(node.value) > _MOST_MERGED:
            raise too_many(node.start_mark)


def _without_tag(loader: _SiteLoader, _suffix: str, node: yaml.Node) -> Any:
    if isinstance(node, yaml.MappingNode):
        return loader.construct_mapping(node)
    if isinstance(node, yaml.SequenceNode):
        return loader.construct_sequence(node)
    return loader.construct_scalar(node)  # type: ignore[arg-type]  # the last of three node types


def _environment(loader: _SiteLoader, node: yaml.Node) -> Any:
    """The first variable that is set, as YAML would read its text; else the last of several, or nothing.

    The meaning is that of the package pyyaml_env_tag, by which MkDocs fills them in.
    """
    default, names = None, [node]
    if isinstance(node, yaml.SequenceNode):
        names = list(node.value)
        if len(names) > 1:
            default = loader.construct_object(names.pop())
    elif isinstance(node, yaml.MappingNode):
        message = "'!ENV' stands before a mapping, where a name or a list of names is expected"
        raise yaml.constructor.ConstructorError(None, None, message, node.start_mark)
    for each in names:
        name = loader.construct_scalar(each)  # type: ignore[arg-type]  # which tells what is none
        if name in os.environ:
            value = os.environ[str(name)]
            tag = loader.resolve(yaml.ScalarNode, value, (True, False))  # type: ignore[no-untyped-call]
            return loader.construct_object(yaml.ScalarNode(tag, value))
    return default


_SiteLoader.add_multi_constructor("!", _without_tag)
_SiteLoader.add_multi_constructor("tag:", _without_tag)
_SiteLoader.add_constructor("!ENV", _environment)


def load_site_yaml(text: str) -> dict[Any, Any] | Refused:
    """The mapping in the text, empty where it holds none; or why it cannot be read, and where."""
    try:
        found = yaml.load(text, Loader=_SiteLoader)  # noqa: S506  # a safe loader
    except TooMuchError as error:
        flaw = error.flaw
        return Refused(site_rules.SETTINGS, f"cannot be read: {flaw.message}", _HINT, (flaw.line, flaw.column))
    # PyYAML lets the errors of Python through where a value is not what its tag or form says: a 30th of February.
    except (yaml.YAMLError, ValueError, LookupError, AttributeError, TypeError, RecursionError) as error:
        words = str(getattr(error, "problem", None) or error)
        # where libyaml stumbled, in the lines that an editor counts
        place = start_of(getattr(error, "problem_mark", None))
        place = place if place[0] <= place_at(text, len(text))[0] else (1, 1)
        return Refused(site_rules.SETTINGS, f"cannot be read: {words}", _HINT, place)
    return found if isinstance(found, dict) else {}
