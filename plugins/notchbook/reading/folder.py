"""The folders of a handbook to documents, and what is wrong with a file before it is one."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from notchbook.reading import rules, schemas
from notchbook.reading.document import Document, finding_of
from notchbook.reading.strict_yaml import parse

if TYPE_CHECKING:
    from collections.abc import Iterator

    from notchbook.findings import Finding, Rule
    from notchbook.reading.settings import Settings

LARGEST_BYTES = 1 << 20
ID = re.compile(r"[a-z0-9][a-z0-9.-]*\Z")
EMAIL = re.compile(r"[\w.+-]{1,64}@[\w-]{1,63}(?:\.[\w-]{1,63})+")
PACKAGE_METHODS = Path(__file__).resolve().parent.parent / "methods"
# The kinds in the order of the map: what a later one names, an earlier one holds.
PROCEDURE_FOLDERS = {"method": "methods", "rig": "rigs", "material": "materials", "exercise": "exercises"}
RESULT_FOLDERS = {"verification": "verifications", "test": "tests"}
HAZARDS_FILE = "hazards.yaml"


@dataclass(slots=True)
class Read:
    """The documents that could be read, the findings about all files, and the ids of those that could not."""

    documents: list[Document] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    unreadable: dict[str, set[str]] = field(default_factory=dict)
    files: int = 0

    def refuse(self, kind: str, stem: str, finding: Finding) -> None:
        """Keep the finding, and the id so that whoever refers to it is not told that it does not exist."""
        self.findings.append(finding)
        self.unreadable.setdefault(kind, set()).add(stem)


def read_documents(root: Path, settings: Settings) -> Read:
    """Every data file of the handbook under the root, checked against its schema."""
    read = Read()
    procedures, results = root / settings.procedures, root / settings.results
    for folder in (procedures, results):
        _inside(root, folder, read)
    for kind, name in PROCEDURE_FOLDERS.items():
        _read_kind(root, procedures / name, kind, read)
    hazards = procedures / HAZARDS_FILE
    if hazards.exists() or hazards.is_symlink():
        _read_file(root, hazards, "hazards", read)
    for kind, name in RESULT_FOLDERS.items():
        _read_kind(root, results / name, kind, read)
    return read


def read_package_methods() -> list[Document]:
    """The methods that come with the package; they are tested with it and carry no findings."""
    documents = []
    for path in sorted(PACKAGE_METHODS.glob("*.yaml")):
        text = path.read_text(encoding="utf-8")
        data, _ = parse(text)
        documents.append(Document(f"notchbook/methods/{path.name}", "method", path.stem, text, data))
    return documents


def _inside(root: Path, folder: Path, read: Read) -> bool:
    """Whether the folder really lies in the handbook; a link that leads out of it is told."""
    if not folder.is_dir() or folder.resolve().is_relative_to(root.resolve()):
        return True
    path = _relative(root, folder)
    read.findings.append(finding_of(rules.FILE_PLACE, path, (1, 1), "leads out of the handbook", "copy the files in"))
    return False


def _relative(root: Path, path: Path) -> str:
    try:
        return path.relative_to(root).as_posix()
    except ValueError:
        return path.as_posix()


def _read_kind(root: Path, folder: Path, kind: str, read: Read) -> None:
    if not folder.is_dir() or not _inside(root, folder, read):
        return
    for path in _entries(folder):
        if path.name.startswith("."):
            continue
        if path.is_dir() and not path.is_symlink():
            _strays(root, path, folder, read)
        elif path.suffix in (".yaml", ".yml"):
            _read_file(root, path, kind, read)


def _entries(folder: Path) -> Iterator[Path]:
    yield from sorted(folder.iterdir(), key=lambda path: path.name)


def _strays(root: Path, path: Path, folder: Path, read: Read) -> None:
    for stray in sorted(path.rglob("*.y*ml")):
        where = _relative(root, stray)
        message, hint = "lies in a folder of its own and is not read", f"move it to {_relative(root, folder)}/"
        read.findings.append(finding_of(rules.FILE_PLACE, where, (1, 1), message, hint))


def _read_file(root: Path, path: Path, kind: str, read: Read) -> None:
    read.files += 1
    relative = _relative(root, path)

    def refuse(rule: Rule, message: str, hint: str = "") -> None:
        read.refuse(kind, path.stem, finding_of(rule, relative, (1, 1), message, hint))

    if not path.resolve().is_relative_to(root.resolve()):
        return refuse(rules.FILE_PLACE, "is a link that leads out of the handbook", "copy the file in")
    if path.suffix != ".yaml" or not ID.match(path.stem):
        hint = "rename it with small letters, digits, dots and hyphens, ending in .yaml"
        return refuse(rules.FILE_NAME, f"the file name '{path.name}' is no id", hint)
    try:
        size = path.stat().st_size
        raw = path.read_bytes() if size <= LARGEST_BYTES else b""
    except OSError as error:
        return refuse(rules.FILE_TEXT, f"cannot be read: {error.strerror}", "check that it is a file you may read")
    if size > LARGEST_BYTES:
        return refuse(rules.FILE_SIZE, f"has {size:,} bytes; at most {LARGEST_BYTES:,} are read", "split it")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        message = f"is not UTF-8 text: byte 0x{raw[error.start]:02x} in line {line}"
        return refuse(rules.FILE_TEXT, message, "save it as UTF-8")
    _read_text(relative, path.stem, kind, text, read)
    return None


def _read_text(relative: str, stem: str, kind: str, text: str, read: Read) -> None:
    data, found = parse(text)
    document = Document(relative, kind, stem, text, data if data is not None else {})
    if data is not None:
        found += schemas.flaws(kind, data, refused_values=bool(found))
    if found:
        read.findings.extend(document.findings(found))
        read.unreadable.setdefault(kind, set()).add(stem)
    address = EMAIL.search(text) if "@" in text else None
    if address:
        line = text.count("\n", 0, address.start()) + 1
        column = address.start() - (text.rfind("\n", 0, address.start()) + 1) + 1
        message, hint = "holds an e-mail address", "write the code of a role or group, such as LT-2"
        read.findings.append(finding_of(rules.EMAIL_ADDRESS, relative, (line, column), message, hint))
    if data is not None and not found:
        read.documents.append(document)
