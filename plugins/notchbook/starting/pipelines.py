"""The pipelines of two forges: those of the guide."""

import re
from pathlib import Path

_GUIDE = Path(__file__).resolve().parent.parent / "guide/pipeline.md"
_BLOCK = re.compile(
    r"^```yaml\n# (?P<path>\.(?:github/workflows/[\w-]+|gitlab-ci)\.yml)\n(?P<text>.*?)^```$", re.MULTILINE | re.DOTALL
)


def pipelines() -> dict[str, str]:
    """The text of each by its path."""
    guide = _GUIDE.read_text(encoding="utf-8")
    return {found["path"]: found["text"] for found in _BLOCK.finditer(guide)}
