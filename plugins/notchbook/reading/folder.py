"""The folders of a handbook to documents, and what is wrong with a file before it is one."""

from __future__ import annotations

import os
import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from notchbook.findings import Finding, Rule
from notchbook.model.settings import Settings
from notchbook.reading import acceptance, blanks, rules, unquoted_text
from notchbook.reading.document import Document, finding_of
from notchbook.reading.files import (
    Refused,
    alike,
    folder_trouble,
    is_folder,
    is_link,
    link_trouble,
    listed,
    meant_folder,
    missing_folder_hint,
    name_trouble,
    relative_path,
    stem_of_data,
    text_of,
    walk,
)
from notchbook.reading.nodes import Flaw, place_at
from notchbook.reading.strict_yaml import parse
from notchbook.unchanged import Unchanged

# It ends in letters: `5 J@2.9 m/s` is none.
EMAIL = re.compile(r"[\w.+-]{1,64}@(?:[\w-]{1,63}\.){1,10}[^\W\d_]{2,63}")
PACKAGE_METHODS = Path(__file__).resolve().parent.parent / "methods"
# The kinds in the order of the map: what a later one names, an earlier one holds.
PROCEDURE_FOLDERS = {"method": "methods", "rig": "rigs", "material": "materials", "exercise": "exercises"}
RESULT_FOLDERS = {"verification": "verifications", "swings": "swings", "test": "tests"}
HAZARDS_FILES = ("hazards.yaml", "hazards.yml")
"""The list of hazards, and the name it is mistaken for."""
_PLACES = {kind: f"{name}/" for kind, name in (PROCEDURE_FOLDERS | RESULT_FOLDERS).items()}
_PLACES["hazards"] = HAZARDS_FILES[0]
_COPY = "copy the files in"
_USUAL = Settings()


@dataclass(slots=True)
class Read:
    """The documents that could be read, the findings about all files, and the ids of those that could not."""

    documents: list[Document] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    unreadable: dict[str, set[str]] = field(default_factory=dict)
    files: int = 0
    unchanged: Unchanged | None = None
    """What was read before, where somebody holds it."""

    def add(self, other: Read) -> None:
        """Take over what was read elsewhere."""
        self.documents += other.documents
        self.findings += other.findings
        for kind, stems in other.unreadable.items():
            self.unreadable.setdefault(kind, set()).update(stems)

    def refuse(self, kind: str, stem: str, finding: Finding) -> None:
        """Keep the finding, and the id so that whoever refers to it is not told that it does not exist."""
        self.findings.append(finding)
        self.unreadable.setdefault(kind, set()).add(stem)


def read_documents(root: Path, settings: Settings, unchanged: Unchanged | None = None) -> Read:
    """Every data file of the handbook under the root, checked against its schema.

    Files that are unchanged since an earlier reading of the same handbook are not checked again.
    """
    read = Read(unchanged=unchanged)
    procedures, results = root / settings.procedures, root / settings.results
    tops = [folder for folder in dict.fromkeys((procedures, results)) if _is_usable(root, folder, read)]
    # of a name that somebody chose it is told where it was written
    _hold_there(root, procedures if settings.procedures == _USUAL.procedures else None, read)
    _hold_there(root, results if settings.results == _USUAL.results else None, read)
    for kind, name in PROCEDURE_FOLDERS.items():
        _read_kind(root, procedures / name, kind, read)
    for name in HAZARDS_FILES:
        hazards = procedures / name
        if os.path.lexists(hazards):
            _read_file(root, hazards, "hazards", read)
    for kind, name in RESULT_FOLDERS.items():
        _read_kind(root, results / name, kind, read)
    places = [procedures / name for name in PROCEDURE_FOLDERS.values()]
    places += [results / name for name in RESULT_FOLDERS.values()]
    for folder in tops:
        if is_folder(folder) and folder.resolve() != root.resolve():
            _strays(root, folder, [*places, *(procedures / name for name in HAZARDS_FILES)], read)
    return read


def read_package_methods() -> list[Document]:
    """The methods that come with the package; they are tested with it and carry no findings."""
    documents = []
    for path in sorted(PACKAGE_METHODS.glob("*.yaml")):
        text = path.read_text(encoding="utf-8")
        data, _ = parse(text)
        documents.append(Document(f"notchbook/methods/{path.name}", "method", path.stem, text, data))
    return documents


def _hold_there(root: Path, folder: Path | None, read: Read) -> None:
    """Tell that one of the handbook's two folders is not there, or that another is beside it which is taken for it."""
    if folder is None:
        return
    path = relative_path(root, folder)
    if not is_folder(folder) and not folder_trouble(folder):
        message = f"the folder {path}/ is not there: a handbook without it would be published empty"
        read.findings.append(finding_of(rules.FILE_PLACE, path, (1, 1), message, missing_folder_hint(folder)))
        meant = meant_folder(folder)
        if meant is not None:
            _pass_over(meant, read)
        return
    is_one = all(each.name != folder.name for each in listed(folder.parent))
    for name in alike(folder):
        message = f"is not looked into: the folder is {path}/, and some systems take the two for one"
        hint = f"move what it holds into {path}/"
        if is_one:
            message = f"is not found by systems that tell capitals apart: they look for {path}/"
            hint = f"rename it to {path}"
        read.findings.append(finding_of(rules.FILE_PLACE, name, (1, 1), message, hint))


def _pass_over(folder: Path, read: Read) -> None:
    """Keep the ids of a folder that has a wrong name, so that what refers to them is not told beside its name."""
    for kind, name in (PROCEDURE_FOLDERS | RESULT_FOLDERS).items():
        stems = (stem_of_data(each.name) for each in listed(folder / name))
        read.unreadable.setdefault(kind, set()).update(each for each in stems if each is not None)
    if any((folder / name).exists() for name in HAZARDS_FILES):
        read.unreadable.setdefault("hazards", set()).add(HAZARDS_FILES[0])


def _is_usable(root: Path, folder: Path, read: Read) -> bool:
    """Whether a folder lies in the handbook and nothing keeps it from being read; else it is told what is left out."""
    if is_folder(folder) and not folder.resolve().is_relative_to(root.resolve()):
        found = finding_of(rules.FILE_PLACE, relative_path(root, folder), (1, 1), "leads out of the handbook", _COPY)
        read.findings.append(found)
        return False
    return _is_readable(root, folder, read)


def _is_readable(root: Path, folder: Path, read: Read) -> bool:
    trouble = folder_trouble(folder)
    if trouble:
        message, hint = f"cannot be read: {trouble}", "check that it is a folder you may read"
        read.findings.append(finding_of(rules.FILE_TEXT, relative_path(root, folder), (1, 1), message, hint))
    return not trouble


def _read_kind(root: Path, folder: Path, kind: str, read: Read) -> None:
    # what keeps the folder above it from being read is told there
    if folder_trouble(folder.parent) or not _is_usable(root, folder, read):
        return
    for path in listed(folder):
        if stem_of_data(path.name) is not None and not is_folder(path):
            _read_file(root, path, kind, read)


def _strays(root: Path, folder: Path, places: list[Path], read: Read) -> None:
    """Tell the data files under the folder that lie in none of the places where they are looked for."""
    expected = frozenset(places)
    for path in walk(folder):
        if any(part.startswith(".") for part in path.relative_to(folder).parts) or path in expected:
            continue
        a_folder = is_folder(path)
        linked = a_folder and is_link(path)
        if a_folder and not linked:
            _is_readable(root, path, read)
        stray = not a_folder and stem_of_data(path.name) is not None and path.parent not in expected
        if linked or stray:
            message = "is a link to a folder and is not followed" if linked else "lies where no data file is looked for"
            hint = f"the folders are {', '.join(relative_path(root, place) for place in places[: -len(HAZARDS_FILES)])}"
            read.findings.append(finding_of(rules.FILE_PLACE, relative_path(root, path), (1, 1), message, hint))


def _read_file(root: Path, path: Path, kind: str, read: Read) -> None:
    read.files += 1
    relative, stem = relative_path(root, path), stem_of_data(path.name) or path.stem

    def refuse(rule: Rule, message: str, hint: str, place: tuple[int, int] = (1, 1)) -> None:
        read.refuse(kind, stem, finding_of(rule, relative, place, message, hint))

    leads_to = link_trouble(root, path)
    if leads_to:
        return refuse(rules.FILE_PLACE, f"is a link that leads {leads_to}", "copy the file in")
    trouble = name_trouble(relative.rpartition("/")[2])
    if trouble:
        return refuse(rules.FILE_NAME, *trouble)
    text = text_of(path)
    if isinstance(text, Refused):
        return refuse(text.rule, text.message, text.hint, text.place)
    if read.unchanged is None:
        read_text(relative, stem, kind, text, read)
    else:
        read.add(read.unchanged.of(relative, (kind, text), lambda: _read_alone(relative, stem, kind, text)))
    return None


def _read_alone(relative: str, stem: str, kind: str, text: str) -> Read:
    read = Read()
    read_text(relative, stem, kind, text, read)
    return read


def _other_kind(kind: str, data: dict[str, Any]) -> list[Flaw]:
    """A flaw where the file says that it is of another kind: its keys are right, its place is wrong."""
    said = data.get("kind")
    place = _PLACES.get(said) if isinstance(said, str) and said != kind else None
    if place is None:
        return []
    message = f"is a file of the kind '{said}' in the place of the kind '{kind}'"
    return [Flaw(rules.FILE_PLACE, message, f"move it to {place}, or correct its kind", keys=("kind",))]


def read_text(relative: str, stem: str, kind: str, text: str, read: Read) -> None:
    """Add the text of one file, checked against its schema: a document, or findings and an id that cannot be read."""
    blank = blanks.blank_finding(relative, text)
    if blank is not None:
        return read.refuse(kind, stem, blank)
    data, found = parse(text)
    document = Document(relative, kind, stem, text, data if data is not None else {})
    if data is not None:
        found += _other_kind(kind, data) or acceptance.flaws(kind, data, refused_values=bool(found))
    told = document.findings(found)
    for finding in told:
        read.refuse(kind, stem, finding)
    address = EMAIL.search(text) if "@" in text else None
    if address:
        message, hint = "holds an e-mail address", "write the code of a role or group, such as LT-2"
        read.findings.append(finding_of(rules.EMAIL_ADDRESS, relative, place_at(text, address.start()), message, hint))
    if data is not None:
        lines = {each.line for each in told}
        read.findings.extend(each for each in unquoted_text.findings(relative, text) if each.line not in lines)
    read.findings.extend(blanks.to_fill_in(relative, text))
    if data is not None and not found:
        read.documents.append(document)
    return None
