"""Whether a finished site still holds what was computed for it, after all that others did to it."""

from collections.abc import Mapping
from pathlib import Path

_AS_COMPUTED = "data/"
"""What lies below it is read by programs, and has to be byte for byte what was computed."""


def lost_files(folder: Path, files: Mapping[str, str], contents: Mapping[str, str | bytes]) -> list[str]:
    """What is missing in a site or is not what was computed, in words; raises OSError where a file cannot be read.

    The files are places in the site, the contents what was computed, both by the own path of each page or file.
    """
    lost = []
    for uri, place in files.items():
        path = folder / place
        if not path.is_file():
            lost.append(f"'{place}' was computed and is missing in the site")
        elif uri.startswith(_AS_COMPUTED):
            content = contents[uri]
            if path.read_bytes() != (content if isinstance(content, bytes) else content.encode("utf-8")):
                lost.append(f"'{place}' in the site is not what was computed")
    return lost
