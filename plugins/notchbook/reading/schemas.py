"""The schemas of the data files."""

import functools
import json
from pathlib import Path
from typing import Any

KINDS = frozenset({"exercise", "hazards", "material", "method", "rig", "swings", "test", "verification"})
"""Of files that have a schema."""
_PACKAGE = Path(__file__).resolve().parent.parent


def schema_folder() -> Path:
    """The folder of the schemas: inside the package where it was installed, beside it in a checkout."""
    installed = _PACKAGE / "schema"
    return installed if installed.is_dir() else _PACKAGE.parent.parent / "schema"


@functools.cache
def schema(kind: str) -> dict[str, Any]:
    """The schema of a kind of file."""
    loaded: dict[str, Any] = json.loads((schema_folder() / f"{kind}.schema.json").read_text(encoding="utf-8"))
    return loaded
