"""A file of a site's settings and those that it inherits from, and what they say together."""

import os
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from notchbook.findings import Finding, Rule
from notchbook.reading import rules
from notchbook.reading.document import finding_of
from notchbook.reading.files import Refused, is_within, text_of
from notchbook.reading.nodes import COMPOSED_DEPTH, Keys, composed, position
from notchbook.reading.refusal import shown
from notchbook.site_reading import site_rules
from notchbook.site_reading.site_yaml import load_site_yaml

Reader = Callable[[Path], str | Refused]

MOST_FILES = 10
"""Of one chain; two are usual."""
_LONGEST_NAME = 255
_MOST_MERGED = 100_000


@dataclass(frozen=True, slots=True)
class Source:
    """One file that was read; its text is kept to find the places of values."""

    path: Path
    text: str
    values: dict[Any, Any]

    def place(self, keys: Keys, *, at_key: bool = False) -> tuple[int, int]:
        """Line and column, from 1, of the value under the keys, or as far along them as the file goes."""
        try:
            node = composed(self.text)
        except yaml.YAMLError:  # what was a line break in YAML 1.1 is none where places are counted
            node = None
        return position(node, keys, at_key=at_key) if node is not None else (1, 1)


@dataclass(slots=True)
class Chain:
    """What was read, the file that was asked for first."""

    root: Path
    """The folder from which findings name their files."""
    files: list[Path] = field(default_factory=list)
    """Every file that was read or should have been."""
    sources: list[Source] = field(default_factory=list)
    values: dict[Any, Any] = field(default_factory=dict)
    """As merged, without `INHERIT`."""
    findings: list[Finding] = field(default_factory=list)

    def finding(self, keys: Keys, message: str, hint: str, rule: Rule, *, at_key: bool) -> Finding:
        """A finding at a value in the file that gives it: of those that go as far along the keys, the first."""
        path, place = self.files[0], (1, 1)
        if self.sources:
            source = max(self.sources, key=lambda each: _reach(each.values, keys))
            path, place = source.path, source.place(keys, at_key=at_key)
        return finding_of(rule, named(self.root, path), place, message, hint)


def named(root: Path, path: Path) -> str:
    """The path as findings name it: from the root with forward slashes, also where it lies outside."""
    return relative(path, root).encode("utf-8", "backslashreplace").decode("utf-8")


def relative(path: Path, root: Path) -> str:
    """The path from the root with forward slashes; the whole path where it lies on another drive."""
    try:
        leads = os.path.relpath(path, root)
    except ValueError:  # of Windows
        leads = str(path)
    return leads.replace(os.sep, "/")


def absolute(path: Path) -> Path:
    """The path from the top without `..`; unlike a resolved one it goes through the same links."""
    return Path(os.path.abspath(path))  # noqa: PTH100


def read_chain(path: Path, boundary: Path, read: Reader | None) -> Chain:
    """The file, by an absolute path, and all that it inherits from, each from the one before.

    None may lie outside of the boundary. Texts come from the reader where there is one, else from the disk.
    """
    chain = Chain(path.parent)
    following: Path | None = path
    while following is not None:
        chain.files.append(following)
        following = _read_one(chain, following, boundary, read)
    merged: dict[Any, Any] | None = {}
    for source in reversed(chain.sources):
        merged = _merged(merged, source.values, [_MOST_MERGED], COMPOSED_DEPTH)
        if merged is None:
            message = "holds mappings within mappings without end"
            place = named(chain.root, path)
            chain.findings.append(finding_of(site_rules.SETTINGS, place, (1, 1), message, "flatten them"))
            break
    chain.values = {key: value for key, value in (merged or {}).items() if key != "INHERIT"}
    return chain


def _read_one(chain: Chain, path: Path, boundary: Path, read: Reader | None) -> Path | None:
    """Add one file to the chain; the file that it inherits from, if any."""
    if read is None and not is_within(path, boundary):
        text: str | Refused = Refused(rules.FILE_PLACE, "is a link that leads out of the handbook", "")
    else:
        text = (read or text_of)(path)
    values = text if isinstance(text, Refused) else load_site_yaml(text)
    if isinstance(values, Refused):
        chain.findings.append(_unreadable(chain.root, path, values))
        return None
    source = Source(path, str(text), values)
    chain.sources.append(source)
    name = source.values.get("INHERIT")
    if name is None:
        return None
    found = _inherited(chain, source, name, boundary, read)
    if isinstance(found, Path):
        return found
    place = source.place(("INHERIT",))
    message, hint, rule = found
    chain.findings.append(finding_of(rule, named(chain.root, path), place, message, hint))
    return None


def _inherited(
    chain: Chain, source: Source, name: object, boundary: Path, read: Reader | None
) -> Path | tuple[str, str, Rule]:
    """The file that `INHERIT` names; or what is wrong with it, what to do, and the rule."""
    if not is_name(name):
        return f"'INHERIT' is {shown(name)}, which is no name of a file", "write the name as text", site_rules.SETTINGS
    path = absolute(source.path.parent / str(name))
    if not is_within(path, boundary):
        message = f"'INHERIT' is {shown(name)}, which leads out of the repository: no review sees its changes"
        return message, "copy the file in, and name it there", rules.FILE_PLACE
    if path in chain.files:
        message = f"'INHERIT' is {shown(name)}, which inherits from this file"
        return message, "take one of the two out", site_rules.SETTINGS
    if read is None and not path.is_file():
        return f"'INHERIT' is {shown(name)}, which is no file that is there", "correct the name", site_rules.SETTINGS
    if len(chain.files) == MOST_FILES:
        return f"'INHERIT' leads to more than {MOST_FILES} files", "put them together", site_rules.SETTINGS
    return path


def is_name(name: object) -> bool:
    """Whether a value can be the name of a file or folder, by what the systems can hold."""
    return isinstance(name, str) and name.isprintable() and len(name.encode("utf-8", "replace")) <= _LONGEST_NAME


def _unreadable(root: Path, path: Path, refused: Refused) -> Finding:
    message, rule = refused.message, site_rules.SETTINGS
    if refused.rule is rules.FILE_PLACE:
        rule = rules.FILE_PLACE
    elif not message.startswith("cannot be read"):
        message = f"cannot be read: {message}"
    return finding_of(rule, named(root, path), refused.place, message, "mend the file")


def _merged(under: Any, over: Any, room: list[int], depth: int) -> Any:
    """One mapping over another, as MkDocs merges them: mappings key by key, anything else replaced.

    None where they are mappings within mappings without end, or of too many keys.
    """
    room[0] -= len(over)
    if room[0] < 0 or not depth:
        return None
    merged = dict(under)
    for key, value in over.items():
        if isinstance(value, dict) and isinstance(merged.get(key), dict):
            merged[key] = _merged(merged[key], value, room, depth - 1)
            if merged[key] is None:
                return None
        else:
            merged[key] = value
    return merged


def _reach(values: Any, keys: Keys) -> int:
    """How many of the keys lead to something."""
    for number, key in enumerate(keys):
        inside = isinstance(values, list) and isinstance(key, int) and key < len(values)
        if not inside and not (isinstance(values, dict) and key in values):
            return number
        values = values[key]
    return len(keys)
