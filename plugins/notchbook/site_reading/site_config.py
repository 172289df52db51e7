"""The settings of a site as MkDocs will have them, and the folders and files that they name.

Every door reads them here, so that the check, the review and the build look at the same folders.
"""

import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from notchbook.findings import Finding, Rule
from notchbook.reading.nodes import Keys
from notchbook.reading.refusal import shown
from notchbook.site_reading import site_rules
from notchbook.site_reading.inherited import Chain, Reader, absolute, is_name, read_chain

_OF_MKDOCS = ("mkdocs.yml", "mkdocs.yaml")
"""The names that MkDocs looks for, in this order."""
CONFIG_NAMES = ("properdocs.yml", "properdocs.yaml", *_OF_MKDOCS)
"""Those that its fork looks for, which takes plugins of MkDocs: who has such a file builds with the fork."""
USUAL_PAGES = "docs"
"""The folder of the hand-written pages where the settings name none."""
_MOST_HOOKS = 100


@dataclass(frozen=True, slots=True)
class SiteConfig:
    """The settings of one site; all paths are absolute, and links in them are not followed."""

    chain: Chain
    """The files that were read."""
    docs_dir: Path | None
    """Folder of the hand-written pages; None where the setting is no name."""
    site_dir: Path | None
    """Folder that the site is written to; None where the setting is no name."""
    custom_dir: Path | None = None
    """Folder of the theme's own templates; None where there is none, or the setting is no name."""
    hooks: tuple[Path, ...] = ()
    """Python files that take part in a build."""
    findings: tuple[Finding, ...] = ()
    """What is wrong with the files as such, and with names of files and folders."""

    @property
    def path(self) -> Path:
        """The file that MkDocs is given."""
        return self.chain.files[0]

    @property
    def root(self) -> Path:
        """The handbook's root: relative names in the settings count from it, those in inherited files too."""
        return self.path.parent

    @property
    def files(self) -> tuple[Path, ...]:
        """Every file that was read or should have been: the given one, then the chain of `INHERIT`."""
        return tuple(self.chain.files)

    @property
    def values(self) -> dict[Any, Any]:
        """As merged. What `!ENV` names is filled in: a value may be a secret of whoever runs this."""
        return self.chain.values

    def finding(
        self, keys: Keys, message: str, hint: str, *, rule: Rule = site_rules.SETTINGS, at_key: bool = False
    ) -> Finding:
        """A finding at a value, or at its key, in the file of the chain that gives it.

        Of keys that are not there the place is what should hold them.
        """
        return self.chain.finding(keys, message, hint, rule, at_key=at_key)


def config_path(root: Path) -> Path:
    """The settings that a builder finds in a folder; where there are none, where they would be."""
    paths = [root / name for name in CONFIG_NAMES]
    return next((each for each in paths if os.path.lexists(each)), root / _OF_MKDOCS[0])


def _second_settings(chain: Chain, boundary: Path, read: Reader | None) -> Iterator[Finding]:
    """Tell where MkDocs and its fork would read two files of one folder that do not belong together."""
    there = [path for path in (chain.root / name for name in CONFIG_NAMES) if os.path.lexists(path)]
    of_mkdocs = next((path for path in there if path.name in _OF_MKDOCS), None)
    if of_mkdocs is None or of_mkdocs == there[0] or chain.files[0] not in there:
        return
    of_fork = chain if chain.files[0] == there[0] else read_chain(there[0], boundary, read)
    if of_mkdocs not in of_fork.files:
        first, second = there[0].name, of_mkdocs.name
        message = f"{first} and {second} are settings of two sites: MkDocs reads the second, its fork the first"
        hint = f"delete one of the two, or write 'INHERIT: {second}' in {first} and below it only what differs"
        yield chain.finding((), message, hint, site_rules.SETTINGS, at_key=False)


def repository_of(folder: Path) -> Path | None:
    """The working tree that holds the folder, by its `.git`: a folder, or a file where the tree is a linked one."""
    top = folder.resolve()
    return next((each for each in (top, *top.parents) if os.path.lexists(each / ".git")), None)


def read_site_config(path: Path, *, boundary: Path | None = None, read: Reader | None = None) -> SiteConfig:
    """The settings in a file and in those that it inherits from; those of MkDocs where there is no file.

    No file may lie outside of the boundary: the repository where it is left out, and where there is none the folder of
    the file. What is not on the disk is read by its absolute path.
    """
    path = absolute(path)
    chain = Chain(path.parent, [path])
    boundary = boundary or repository_of(path.parent) or path.parent
    if read is not None or os.path.lexists(path):
        chain = read_chain(path, boundary, read)
    found = [*chain.findings, *_second_settings(chain, boundary, read)]

    def named(keys: Keys, value: object) -> Path | None:
        if is_name(value):
            return absolute(path.parent / str(value))
        key = ".".join(str(each) for each in keys if isinstance(each, str))
        message = f"'{key}' is {shown(value)}, which is no name of a {'file' if key == 'hooks' else 'folder'}"
        found.append(chain.finding(keys, message, "write the name as text", site_rules.SETTINGS, at_key=False))
        return None

    values = chain.values
    # what MkDocs calls them where nothing is said
    docs_dir = named(("docs_dir",), values.get("docs_dir", USUAL_PAGES))
    site_dir = named(("site_dir",), values.get("site_dir", "site"))
    theme, hooks = values.get("theme"), values.get("hooks")
    custom = theme.get("custom_dir") if isinstance(theme, dict) else None
    custom_dir = named(("theme", "custom_dir"), custom) if custom is not None else None
    listed = hooks[:_MOST_HOOKS] if isinstance(hooks, list) else []
    hook_files = [named(("hooks", number), each) for number, each in enumerate(listed)]
    kept = tuple(each for each in hook_files if each is not None)
    return SiteConfig(chain, docs_dir, site_dir, custom_dir, kept, tuple(found))
