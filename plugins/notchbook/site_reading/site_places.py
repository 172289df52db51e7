"""Where a site may be written and what may go into it: nothing that lies there already may be lost or given away.

A site that a build may replace is known by its marks, sites of earlier versions and of MkDocs alone too.
"""

import os
from collections.abc import Iterator
from pathlib import Path

from notchbook.findings import Finding
from notchbook.model.settings import Settings
from notchbook.reading import rules
from notchbook.reading.document import finding_of
from notchbook.reading.files import first_bytes, is_folder, is_within, link_trouble, walk
from notchbook.reading.folder import HAZARDS_FILES, PROCEDURE_FOLDERS, RESULT_FOLDERS
from notchbook.reading.nodes import Keys
from notchbook.site_reading import site_rules
from notchbook.site_reading.inherited import absolute, named
from notchbook.site_reading.site_config import SiteConfig, repository_of

UNFINISHED = ".unfinished-site"
"""Stands in a site while it is neither the old one nor the new one."""
_FIRST_PAGES = ("index.html", "404.html")
_OWN = ("assets/notchbook.css",)
"""Files that every site of this package has had."""
_OF_SEARCH = ("search/search_index.json", "sitemap.xml")
"""Files that MkDocs writes together where nobody turned its search off."""
_SAID_BY_THEMES = (b'content="mkdocs-', b"MkDocs Version")
"""How the themes of MkDocs say in a first page what made it: in the generator, or in a remark at its end."""
_MOST_BYTES = 1 << 20
_LONGEST_GIT_FILE = 4_096


def is_site(folder: Path) -> bool:
    """Whether nothing is lost where a build empties the folder.

    It is missing, holds hidden files alone, which every build keeps, or shows the marks of an earlier build.
    """
    if not is_folder(folder):
        return not folder.exists()
    try:
        held = {each.name for each in folder.iterdir()}
    except OSError:
        return False
    if UNFINISHED in held or all(each.startswith(".") for each in held):
        return True
    pages = [folder / each for each in _FIRST_PAGES if (folder / each).is_file()]
    if not pages:
        return False
    whole = any(all((folder / each).is_file() for each in files) for files in (_OWN, _OF_SEARCH))
    return whole or any(said in first_bytes(page, _MOST_BYTES) for page in pages for said in _SAID_BY_THEMES)


def is_own_site(folder: Path) -> bool:
    """Whether the folder is a finished site of a handbook, whoever built it."""
    return all((folder / each).is_file() for each in (_FIRST_PAGES[0], *_OWN)) and not (folder / UNFINISHED).exists()


def source_findings(config: SiteConfig, settings: Settings) -> list[Finding]:
    """What is wrong with the folders whose files a build copies, and with code that it runs."""
    if settings.prose is None:
        return []
    found = []
    for keys, folder, what in _copied(config):
        trouble = _copied_trouble(config, settings, folder)
        if trouble:
            hint = f"give {what} a folder of their own in the handbook, and name it there"
            found.append(config.finding(keys, f"'{_dotted(keys)}' {trouble}", hint, rule=rules.FILE_PLACE))
    repository = repository_of(config.root) or config.root
    code = [(keys, folder) for keys, folder, _ in _copied(config) if keys[0] == "theme"]
    for keys, path in [*code, *((("hooks", number), each) for number, each in enumerate(config.hooks))]:
        if not is_within(path, repository):
            message = f"'{_dotted(keys)}' leads out of the repository: no review sees what changes there"
            found.append(config.finding(keys, message, "copy it in, and name it there", rule=rules.FILE_PLACE))
    if config.custom_dir is not None and not found:
        found += _links_out(config.root, repository, config.custom_dir)
    return found


def _links_out(root: Path, repository: Path, folder: Path) -> Iterator[Finding]:
    for path in walk(folder):
        leads_to = link_trouble(repository, path)
        if leads_to:
            message, hint = f"is a link that leads {leads_to}", "copy in what is meant"
            yield finding_of(rules.FILE_PLACE, named(root, path), (1, 1), message, hint)


def site_findings(
    config: SiteConfig, settings: Settings, site: Path | None = None, *, is_own: bool = False
) -> list[Finding]:
    """What would be lost where the site was written to its folder, or to another one chosen on the command line.

    In a folder that was made for this build alone, and is its own, nothing can be lost.
    """
    chosen = site is not None and site != config.site_dir
    folder = site or config.site_dir
    if folder is None or settings.prose is None:
        return []
    trouble = place_trouble(config, settings, folder)
    if not trouble and not is_own and not is_site(folder):
        trouble = "is a folder that holds files and no site: all of them would be deleted"
    if not trouble:
        return []
    name = "--site-dir of the command line" if chosen else "'site_dir'"
    hint = "name a folder for the site alone, or empty this one yourself"
    return [config.finding(() if chosen else ("site_dir",), f"{name} {trouble}", hint, rule=site_rules.SITE_PLACE)]


def place_trouble(config: SiteConfig, settings: Settings, folder: Path) -> str:
    """What of the handbook would be lost, or given away, in place of an absolute folder; nothing where it may be."""
    for path, what in _kept(config, settings):
        if is_within(path, folder):
            return f"is or holds {what}, which would be deleted"
        if is_within(folder, path):
            return f"lies in {what}"
    return ""


def _dotted(keys: Keys) -> str:
    return ".".join(each for each in keys if isinstance(each, str))


def _copied(config: SiteConfig) -> Iterator[tuple[Keys, Path, str]]:
    if config.docs_dir is not None:
        yield ("docs_dir",), config.docs_dir, "the hand-written pages"
    if config.custom_dir is not None:
        yield ("theme", "custom_dir"), config.custom_dir, "the files of the theme"


def _copied_trouble(config: SiteConfig, settings: Settings, folder: Path) -> str:
    """Why the files of a folder must not all be published; nothing where they may be."""
    if is_within(config.root, folder):
        return "is or holds the handbook itself: a build would publish its settings and its history"
    if folder == config.docs_dir and not is_within(folder, config.root):
        return "leads out of the handbook: a build would publish what is not in it"
    for name in (settings.procedures, settings.results):
        if is_within(config.root / name, folder):
            return f"is or holds '{name[:100]}': a build would publish the data files as they are, with their remarks"
    for git in _histories(config.root):
        if is_within(folder, git) or is_within(git, folder):
            return "is, holds or lies in the history of the repository, which a build would publish"
    return ""


def _kept(config: SiteConfig, settings: Settings) -> Iterator[tuple[Path, str]]:
    """What no site may take the place of and what it is in words, the most precious first."""
    root = config.root
    for name, below in (
        (settings.results, [*RESULT_FOLDERS.values()]),
        (settings.procedures, [*PROCEDURE_FOLDERS.values(), *HAZARDS_FILES]),
    ):
        folder = root / name
        # data that lies at the top of the handbook leaves room for a site beside it
        parts = [folder / each for each in below] if is_within(root, folder) else [folder]
        yield from ((each, f"'{named(root, each)[:100]}', a place of the data") for each in parts)
    yield from ((each, "the history of the repository") for each in _histories(root))
    yield config.path, "the settings of the site"
    for _, folder, what in _copied(config):
        # one that holds the handbook is refused for that
        if not is_within(root, folder):
            yield folder, what
    for hook in config.hooks:
        yield hook if is_within(root, hook.parent) else hook.parent, "a hook of the build"


def _histories(root: Path) -> Iterator[Path]:
    """Where the history of the handbook lies; of a linked working tree `.git` is a file that says where."""
    repository = repository_of(root)
    if repository is None:
        return
    git = repository / ".git"
    yield git
    said = _line_of(git)
    if said.startswith("gitdir:"):
        git = absolute(repository / said.removeprefix("gitdir:").strip())
        yield git
        common = _line_of(git / "commondir")
        if common:
            yield absolute(git / common)


def _line_of(path: Path) -> str:
    """What stands in a small file of git's; nothing where there is none."""
    if not path.is_file():
        return ""
    text = os.fsdecode(first_bytes(path, _LONGEST_GIT_FILE)).strip()
    return "" if "\0" in text else text
