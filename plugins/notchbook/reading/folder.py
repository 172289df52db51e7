"""The folders of a handbook to documents, and what is wrong with a file before it is one."""

from __future__ import annotations

import re
import stat
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from notchbook.reading import rules, schemas
from notchbook.reading.document import Document, finding_of
from notchbook.reading.strict_yaml import Flaw, parse

if TYPE_CHECKING:
    from notchbook.findings import Finding, Rule
    from notchbook.reading.settings import Settings

LARGEST_BYTES = 1 << 20
SUFFIXES = (".yaml", ".yml")
ID = re.compile(r"[a-z0-9][a-z0-9.-]*\Z")
# It ends in letters: `5 J@2.9 m/s` is none.
EMAIL = re.compile(r"[\w.+-]{1,64}@(?:[\w-]{1,63}\.){1,10}[^\W\d_]{2,63}")
PACKAGE_METHODS = Path(__file__).resolve().parent.parent / "methods"
# The kinds in the order of the map: what a later one names, an earlier one holds.
PROCEDURE_FOLDERS = {"method": "methods", "rig": "rigs", "material": "materials", "exercise": "exercises"}
RESULT_FOLDERS = {"verification": "verifications", "test": "tests"}
HAZARDS_FILES = ("hazards.yaml", "hazards.yml")
"""The list of hazards, and the name it is mistaken for."""
_PLACES = {kind: f"{name}/" for kind, name in (PROCEDURE_FOLDERS | RESULT_FOLDERS).items()}
_PLACES["hazards"] = HAZARDS_FILES[0]


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
    tops = [folder for folder in dict.fromkeys((procedures, results)) if _inside(root, folder, read)]
    for kind, name in PROCEDURE_FOLDERS.items():
        _read_kind(root, procedures / name, kind, read)
    for name in HAZARDS_FILES:
        hazards = procedures / name
        if hazards.exists() or hazards.is_symlink():
            _read_file(root, hazards, "hazards", read)
    for kind, name in RESULT_FOLDERS.items():
        _read_kind(root, results / name, kind, read)
    places = [procedures / name for name in PROCEDURE_FOLDERS.values()]
    places += [results / name for name in RESULT_FOLDERS.values()]
    for folder in tops:
        if folder.resolve() != root.resolve():
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


def _inside(root: Path, folder: Path, read: Read) -> bool:
    """Whether the folder really lies in the handbook; a link that leads out of it is told."""
    if not folder.is_dir() or folder.resolve().is_relative_to(root.resolve()):
        return True
    path = _relative(root, folder)
    read.findings.append(finding_of(rules.FILE_PLACE, path, (1, 1), "leads out of the handbook", "copy the files in"))
    return False


def _relative(root: Path, path: Path) -> str:
    if path.is_relative_to(root):
        path = path.relative_to(root)
    # A file name is bytes; those that are not UTF-8 are shown, so that no rendering stumbles over them.
    return path.as_posix().encode("utf-8", "backslashreplace").decode("utf-8")


def _read_kind(root: Path, folder: Path, kind: str, read: Read) -> None:
    if not folder.is_dir() or not _inside(root, folder, read):
        return
    for path in sorted(folder.iterdir(), key=lambda path: path.name):
        if not path.name.startswith(".") and path.suffix.lower() in SUFFIXES and not path.is_dir():
            _read_file(root, path, kind, read)


def _strays(root: Path, folder: Path, places: list[Path], read: Read) -> None:
    """Tell the data files under the folder that lie in none of the places where they are looked for."""
    for path in sorted(folder.rglob("*")):
        if any(part.startswith(".") for part in path.relative_to(folder).parts) or path in places:
            continue
        linked = path.is_symlink() and path.is_dir()
        if linked or (path.suffix.lower() in SUFFIXES and path.parent not in places and not path.is_dir()):
            message = "is a link to a folder and is not followed" if linked else "lies where no data file is looked for"
            hint = f"the folders are {', '.join(_relative(root, place) for place in places[: -len(HAZARDS_FILES)])}"
            read.findings.append(finding_of(rules.FILE_PLACE, _relative(root, path), (1, 1), message, hint))


def _link_trouble(root: Path, path: Path) -> str:
    """Where a link leads that must not be followed; its folder was found to lie inside the root."""
    if not path.is_symlink():
        return ""
    try:
        inside = path.resolve().is_relative_to(root.resolve())
    except (OSError, RuntimeError):
        return "to itself"
    return "" if inside else "out of the handbook"


def _read_file(root: Path, path: Path, kind: str, read: Read) -> None:
    read.files += 1
    relative = _relative(root, path)

    def refuse(rule: Rule, message: str, hint: str = "", place: tuple[int, int] = (1, 1)) -> None:
        read.refuse(kind, path.stem, finding_of(rule, relative, place, message, hint))

    leads_to = _link_trouble(root, path)
    if leads_to:
        return refuse(rules.FILE_PLACE, f"is a link that leads {leads_to}", "copy the file in")
    if path.suffix != ".yaml" or not ID.match(path.stem):
        hint = "rename it with small letters, digits, dots and hyphens, ending in .yaml"
        return refuse(rules.FILE_NAME, f"the file name '{relative.rpartition('/')[2]}' is no id", hint)
    try:
        about = path.stat()
        if not stat.S_ISREG(about.st_mode):
            return refuse(rules.FILE_TEXT, "is no file that can be read", "put the data file in its place")
        size = about.st_size
        raw = path.read_bytes() if size <= LARGEST_BYTES else b""
    except OSError as error:
        return refuse(rules.FILE_TEXT, f"cannot be read: {error.strerror}", "check that it is a file you may read")
    if size > LARGEST_BYTES:
        return refuse(rules.FILE_SIZE, f"has {size:,} bytes; at most {LARGEST_BYTES:,} are read", "split it")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        # counted in what was decoded: a byte order mark is not part of it
        before = error.object[: error.start].decode("utf-8")
        place = (before.count("\n") + 1, len(before) - before.rfind("\n"))
        message = f"is not UTF-8 text here: the byte is 0x{error.object[error.start]:02x}"
        return refuse(rules.FILE_TEXT, message, "save it as UTF-8", place)
    _read_text(relative, path.stem, kind, text, read)
    return None


def _other_kind(kind: str, data: dict[str, Any]) -> list[Flaw]:
    """A flaw where the file says that it is of another kind: its keys are right, its place is wrong."""
    said = data.get("kind")
    place = _PLACES.get(said) if isinstance(said, str) and said != kind else None
    if place is None:
        return []
    message = f"is a file of the kind '{said}' in the place of the kind '{kind}'"
    return [Flaw(rules.FILE_PLACE, message, f"move it to {place}, or correct its kind", keys=("kind",))]


def _read_text(relative: str, stem: str, kind: str, text: str, read: Read) -> None:
    data, found = parse(text)
    document = Document(relative, kind, stem, text, data if data is not None else {})
    if data is not None:
        found += _other_kind(kind, data) or schemas.flaws(kind, data, refused_values=bool(found))
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
