"""The text of the package's page: the README without the picture, whose relative address leads nowhere there."""

import re
from pathlib import Path
from typing import Any

from hatchling.metadata.plugin.interface import MetadataHookInterface

_RELATIVE_PICTURE = re.compile(r"^!\[[^\]]*\]\((?![a-z]+:)[^)]*\)\n\n", re.MULTILINE)


class PackagePage(MetadataHookInterface):
    """Gives the text when a package is built."""

    def update(self, metadata: dict[str, Any]) -> None:
        """Add the text to the metadata of the project."""
        text = (Path(self.root) / "README.md").read_text(encoding="utf-8")
        metadata["readme"] = {"content-type": "text/markdown", "text": _RELATIVE_PICTURE.sub("", text)}
