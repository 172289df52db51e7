"""The pages that a writer of data files and pages looks things up in: keys by kind of file, values by name."""

from __future__ import annotations

from itertools import islice
from typing import TYPE_CHECKING

from notchbook.pages.page import Page
from notchbook.pages.reference.key_rows import key_rows
from notchbook.pages.written import quantities
from notchbook.pages.written.pictures import PICTURES
from notchbook.pages.written.quantity import UnknownValueError
from notchbook.reading.folder import HAZARDS_FILES, PROCEDURE_FOLDERS, RESULT_FOLDERS

if TYPE_CHECKING:
    from collections.abc import Iterable

    from notchbook.handbook import Handbook

KEYS, VALUES = "reference/keys.md", "reference/values.md"
_TITLES = {
    "test": "Test record",
    "verification": "Verification",
    "rig": "Rig",
    "material": "Material",
    "exercise": "Exercise",
    "hazards": "List of hazards",
    "method": "Method",
}
# How many things are asked for a value before it is called one that this handbook does not have.
_MOST_ASKED = 20


def keys_page(handbook: Handbook) -> Page:
    """Every key of every kind of file, in the order in which a department meets them."""
    kinds = []
    for kind, title in _TITLES.items():
        rows, forms = key_rows(kind)
        kinds.append({"title": title, "place": _place(handbook, kind), "rows": rows, "forms": forms})
    return Page(KEYS, "guide_keys.md.j2", "Keys of the data files", {"kinds": kinds, "values": VALUES})


def _place(handbook: Handbook, kind: str) -> str:
    """Where a file of that kind lies."""
    settings = handbook.settings
    if kind in RESULT_FOLDERS:
        return f"{settings.results}/{RESULT_FOLDERS[kind]}/(id).yaml"
    if kind in PROCEDURE_FOLDERS:
        return f"{settings.procedures}/{PROCEDURE_FOLDERS[kind]}/(id).yaml"
    return f"{settings.procedures}/{HAZARDS_FILES[0]}"


def values_page(handbook: Handbook) -> Page:
    """Every value that a hand-written page may name, with one of this handbook where there is one."""
    kinds = [
        (kind, [(name, *_example(handbook, kind, name)) for name in names])
        for kind, names in quantities.names().items()
    ]
    return Page(VALUES, "guide_values.md.j2", "Values for your own pages", {"kinds": kinds, "form": _FORM})


_FORM = "[[kind id: value]]"


def _ids(handbook: Handbook, kind: str) -> Iterable[str]:
    """The ids of that kind; of tests the newest first."""
    library = handbook.library
    if kind == "hammer":
        return sorted(f"{rig}/{hammer}" for rig, hammer in handbook.evaluation.hammers)
    if kind in ("test", "tests"):
        newest = sorted(library.records, key=lambda each: (library.records[each].date, each), reverse=True)
        return newest if kind == "test" else [",".join(newest[:2])] if newest[1:] else []
    known: dict[str, Iterable[str]] = {
        "verification": library.verifications,
        "rig": library.rigs,
        "material": library.materials,
        "exercise": library.exercises,
    }
    return sorted(known.get(kind, ()))


def _asked(handbook: Handbook, record_id: str, name: str) -> str:
    """A value's name with a bar and the break types of a set of the record in the places that are left for them."""
    result = handbook.evaluation.records.get(record_id)
    letters = result.sets[0].name if result is not None and result.sets else ""
    words = {"ID": handbook.library.records[record_id].specimens[0].id, "LETTERS": letters}
    return " ".join(words.get(word) or word for word in name.split(" "))


def _example(handbook: Handbook, kind: str, name: str) -> tuple[str, str]:
    """How the value is named and what is then shown; a picture is said to be one and not drawn."""
    for object_id in islice(_ids(handbook, kind), _MOST_ASKED):
        asked = _asked(handbook, object_id, name) if kind == "test" else name
        notation = f"[[{kind} {object_id}: {asked}]]"
        if (kind, name) in PICTURES:
            return notation, "a picture"
        try:
            return notation, quantities.find(handbook, kind, object_id, asked, "example").html.striptags()
        except UnknownValueError:
            continue
    return f"[[{kind} (id): {name}]]", "–"
