"""Data inside a page, as JSON."""

import json

from markupsafe import Markup

# The only characters by which a script element could end or begin to be read as something else.
_ACTIVE = str.maketrans({each: f"\\u{ord(each):04x}" for each in "<>&"})


def embedded(data: object) -> Markup:
    """Data as JSON on one line that HTML takes for nothing else."""
    text = json.dumps(data, ensure_ascii=True, allow_nan=False, separators=(",", ":"))
    return Markup(text.translate(_ACTIVE))  # noqa: S704  # escaped here
