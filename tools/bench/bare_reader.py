"""The bare cost of a check: compose every file with libyaml, make plain data of it, validate it with its schema.

Run as a script with the folder of the schemas and a list of `kind path` lines on standard input. It imports nothing of
the engine, finds no positions, compares nothing with anything and prints how many things the schemas refuse.
"""

import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import yaml
from jsonschema import Draft202012Validator

_TAG = "tag:yaml.org,2002:"
_CONVERTERS: dict[str, Callable[[str], Any]] = {
    _TAG + "int": int,
    _TAG + "float": float,
    _TAG + "bool": "true".__eq__,
}


def plain(node: yaml.Node | None) -> Any:
    """Mappings, lists, numbers and text of a node; dates stay text."""
    if isinstance(node, yaml.MappingNode):
        return {plain(key): plain(value) for key, value in node.value}
    if isinstance(node, yaml.SequenceNode):
        return [plain(item) for item in node.value]
    return None if node is None else _CONVERTERS.get(node.tag, str)(node.value)


def main() -> None:
    """Read, validate, count."""
    schemas = Path(sys.argv[1])
    validators: dict[str, Draft202012Validator] = {}
    refused = 0
    for line in sys.stdin:
        kind, path = line.rstrip("\n").split(" ", 1)
        if kind not in validators:
            schema = json.loads((schemas / f"{kind}.schema.json").read_text(encoding="utf-8"))
            validators[kind] = Draft202012Validator(schema)
        node = yaml.compose(Path(path).read_text(encoding="utf-8"), Loader=yaml.CSafeLoader)
        refused += len(list(validators[kind].iter_errors(plain(node))))
    print(refused)


if __name__ == "__main__":
    main()
