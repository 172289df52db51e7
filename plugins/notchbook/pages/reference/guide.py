"""The pages that a writer of data files and pages looks things up in: keys by kind of file, values by name."""

from collections.abc import Iterable
from itertools import islice

from markupsafe import Markup

from notchbook.facts.facts import Facts
from notchbook.pages.page import Page
from notchbook.pages.reference.key_rows import key_rows
from notchbook.pages.written import quantities
from notchbook.pages.written.filled import UnknownValueError
from notchbook.pages.written.notation import FORM
from notchbook.pages.written.pictures import PICTURES
from notchbook.reading.folder import HAZARDS_FILES, PROCEDURE_FOLDERS, RESULT_FOLDERS

KEYS, VALUES = "reference/keys.md", "reference/values.md"
_TITLES = {
    "test": "Test record",
    "swings": "Free swings of a group",
    "verification": "Verification",
    "rig": "Rig",
    "material": "Material",
    "exercise": "Exercise",
    "hazards": "List of hazards",
    "method": "Method",
}
# How many things are asked for a value before it is called one that this handbook does not have.
_MOST_ASKED = 20


def keys_page(facts: Facts) -> Page:
    """Every key of every kind of file, in the order in which a department meets them."""
    kinds = []
    for kind, title in _TITLES.items():
        rows, forms = key_rows(kind)
        kinds.append({"title": title, "place": _place(facts, kind), "rows": rows, "forms": forms})
    return Page(KEYS, "guide_keys.html.j2", "Keys of the data files", {"kinds": kinds, "values": VALUES})


def _place(facts: Facts, kind: str) -> str:
    """Where a file of that kind lies."""
    settings = facts.handbook.settings
    if kind in RESULT_FOLDERS:
        return f"{settings.results}/{RESULT_FOLDERS[kind]}/(id).yaml"
    if kind in PROCEDURE_FOLDERS:
        return f"{settings.procedures}/{PROCEDURE_FOLDERS[kind]}/(id).yaml"
    return f"{settings.procedures}/{HAZARDS_FILES[0]}"


def values_page(facts: Facts) -> Page:
    """Every value that a hand-written page may name, with one of this handbook where there is one."""
    kinds = [
        (kind, [(name, *_example(facts, kind, name)) for name in names]) for kind, names in quantities.names().items()
    ]
    return Page(VALUES, "guide_values.html.j2", "Values for your own pages", {"kinds": kinds, "form": FORM})


def _ids(facts: Facts, kind: str) -> Iterable[str]:
    """The ids of that kind; of tests the newest first."""
    if kind in ("test", "tests"):
        newest = [each.record.id for each in facts.newest_records]
        return newest if kind == "test" else [",".join(newest[:2])] if newest[1:] else []
    return sorted(quantities.things(facts, kind))


def _asked(facts: Facts, record_id: str, name: str) -> str:
    """A value's name with a bar and the break types of a set of the record in the places that are left for them."""
    line = facts.record(record_id)
    letters = line.sets[0].letters if line.sets else ""
    words = {"ID": line.record.specimens[0].id, "LETTERS": letters}
    return " ".join(words.get(word) or word for word in name.split(" "))


def _example(facts: Facts, kind: str, name: str) -> tuple[str, str]:
    """How the value is named and what is then shown; a picture is said to be one and not drawn."""
    for object_id in islice(_ids(facts, kind), _MOST_ASKED):
        asked = _asked(facts, object_id, name) if kind == "test" else name
        notation = f"[[{kind} {object_id}: {asked}]]"
        if (kind, name) in PICTURES:
            return notation, "a picture"
        try:
            html = quantities.find(facts, kind, object_id, asked, "example").html
            return notation, Markup(html).striptags()  # noqa: S704  # it leaves without its tags
        except UnknownValueError:
            continue
    return f"[[{kind} (id): {name}]]", "–"
