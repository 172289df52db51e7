"""Documents to the library of the handbook."""

from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

from notchbook.findings import Finding
from notchbook.model.library import Library
from notchbook.model.method import Method
from notchbook.model.procedure import Exercise, Material
from notchbook.model.settings import Settings
from notchbook.model.swings import SwingsRecord
from notchbook.reading import building
from notchbook.reading.based_methods import whole_methods
from notchbook.reading.document import Document
from notchbook.reading.folder import Read, read_documents, read_package_methods
from notchbook.unchanged import Unchanged, made


@dataclass(frozen=True, slots=True)
class ReadHandbook:
    """What stands in the files of a handbook."""

    library: Library
    documents: dict[tuple[str, str], Document]
    """By kind and id; the list of hazards is the one document of its kind."""
    findings: list[Finding]
    files: int


def read_library(root: Path, settings: Settings, unchanged: Unchanged | None = None) -> ReadHandbook:
    """Read every file under the root; of what is unchanged since an earlier reading only the text."""
    if unchanged is None:
        return build_library(read_package_methods(), read_documents(root, settings))
    unchanged.begin()
    package = unchanged.of("methods of the package", None, read_package_methods)
    return build_library(package, read_documents(root, settings, unchanged), unchanged)


def build_library(package_methods: list[Document], read: Read, unchanged: Unchanged | None = None) -> ReadHandbook:
    """Build what was read; a department's method takes the place of the package's one of the same id."""
    documents: dict[tuple[str, str], Document] = {}
    library = Library(unreadable=read.unreadable)
    places: dict[str, dict[str, Any]] = {
        "method": library.methods,
        "rig": library.rigs,
        "material": library.materials,
        "exercise": library.exercises,
        "verification": library.verifications,
        "swings": library.swings,
        "test": library.records,
    }
    wholes = whole_methods(package_methods, read)
    for document in (*package_methods, *read.documents):
        whole = wholes.get(document.path, document)
        if whole is None:
            continue
        try:
            built = made(unchanged, ("built", document.path), whole, partial(_built, whole))
        except building.DateError as error:
            read.findings.extend(document.findings([error.flaw]))
            read.unreadable.setdefault(document.kind, set()).add(document.id)
            continue
        documents[document.kind, document.id] = document
        if document.kind != "hazards":
            places[document.kind][document.id] = built
            continue
        library.hazard_ids = tuple(hazard.id for hazard in built)
        for hazard in built:
            library.hazards.setdefault(hazard.id, hazard)
    return ReadHandbook(library, documents, read.findings, read.files)


def _built(document: Document) -> Any:
    """The document's object, or all of the list of hazards; raises DateError."""
    name, data = document.id, document.data
    match document.kind:
        case "method":
            return building.built(Method, data, name)
        case "rig":
            return building.rig(name, data)
        case "material":
            return building.built(Material, data, name)
        case "exercise":
            return building.built(Exercise, data, name)
        case "hazards":
            return building.hazards(data)
        case "verification":
            return building.verification(name, data)
        case "swings":
            return building.built(SwingsRecord, data, name)
    return building.record(name, data)
