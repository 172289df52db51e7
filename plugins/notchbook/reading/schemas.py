"""The schemas of the data files."""

import functools
import json
from pathlib import Path
from typing import Any

KINDS = frozenset({"exercise", "hazards", "material", "method", "rig", "swings", "test", "verification"})
"""Of files that have a schema."""
DIFFERING = "method based on another"
"""The schema of a method that says only what differs from another: that of a method, with no key required."""
_OF_A_WHOLE = ("required", "dependentRequired", "minProperties")
_PACKAGE = Path(__file__).resolve().parent.parent


def schema_folder() -> Path:
    """The folder of the schemas: inside the package where it was installed, beside it in a checkout."""
    installed = _PACKAGE / "schema"
    return installed if installed.is_dir() else _PACKAGE.parent.parent / "schema"


@functools.cache
def schema(kind: str) -> dict[str, Any]:
    """The schema of a kind of file, or of a method that says what differs."""
    if kind == DIFFERING:
        return {**_of_parts(schema("method")), "required": ["kind"]}
    loaded: dict[str, Any] = json.loads((schema_folder() / f"{kind}.schema.json").read_text(encoding="utf-8"))
    return loaded


def _of_parts(about: dict[str, Any]) -> dict[str, Any]:
    """A schema of mappings that need not be whole; an entry of a list is whole, and a condition stays what it is."""
    return {
        key: _of_parts(each) if isinstance(each, dict) and key not in ("if", "items") else each
        for key, each in about.items()
        if key not in _OF_A_WHOLE
    }
