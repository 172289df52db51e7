"""Methods that say what differs from another one, to whole ones."""

import dataclasses
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from notchbook.reading import acceptance, rules
from notchbook.reading.document import Document
from notchbook.reading.folder import Read
from notchbook.reading.nodes import Flaw, Keys
from notchbook.wording.nearest import nearest

Data = dict[str, Any]
_OWN = frozenset(
    {"kind", "based_on", "differences", "title", "standard", "editions", "text_seen", "principle", "sources"}
)
"""Keys that name a method or speak of it, which need no reason to differ."""
_ORIGIN = ("clause", "source", "confidence", "certainty")
_FORMS = (("value", "below", "above"), ("at_least",), ("at_most",))
"""The forms of a requirement, one of which takes the place of another."""
_DEPARTMENT = "department"
_DEEPEST = 20
"""Methods that may stand between one and the one that stands by itself; nobody follows more."""
_LONGEST_VALUE = 200
_OF_DIFFERING = ("based_on", "differences")


@dataclass(frozen=True, slots=True)
class _Differing:
    """A key whose value is another than the base's."""

    keys: Keys
    there: Any
    here: Any

    @property
    def path(self) -> str:
        return ".".join(map(str, self.keys))

    def is_told_by(self, what: str) -> bool:
        """Whether an entry speaks of it: of itself, of a mapping that it stands in, or of a part of it."""
        if what.startswith(f"{self.path}."):
            part = what.removeprefix(f"{self.path}.").split(".")
            return bool(_part(self.here, part) != _part(self.there, part))
        return f"{self.path}.".startswith(f"{what}.")


def _part(value: Any, keys: list[str]) -> Any:
    """What stands under keys in a value; None where nothing does."""
    for key in keys:
        value = value.get(key) if isinstance(value, dict) else None
    return value


def whole_methods(package: list[Document], read: Read) -> dict[str, Document | None]:
    """Of the methods that are based on others whole ones, by the paths of their files; None where one cannot be had.

    What is wrong with them is added to the findings, at the lines of their own files.
    """
    own = {each.id: each for each in read.documents if each.kind == "method"}
    search = _Search({each.id: each for each in package}, own, read)
    return {each.path: search.whole(each, ()) for each in own.values() if "based_on" in each.data}


@dataclass(slots=True)
class _Search:
    package: dict[str, Document]
    own: dict[str, Document]
    read: Read
    found: dict[str, Document | None] = dataclasses.field(default_factory=dict)

    def whole(self, document: Document, above: tuple[str, ...]) -> Document | None:
        """The document with all that it takes over."""
        if "based_on" not in document.data:
            return document
        if document.path not in self.found:
            self.found[document.path] = self._made(document, (*above, document.path))
        return self.found[document.path]

    def _made(self, document: Document, above: tuple[str, ...]) -> Document | None:
        base_id = document.data["based_on"]
        other = self.package.get(base_id) if base_id == document.id else None
        base = other or self.own.get(base_id) or self.package.get(base_id)
        known = {*self.own, *self.package} - {document.id}
        if base is None:
            if base_id in self.read.unreadable.get("method", ()):
                return self._refused(document, [])
            told = Flaw(
                rules.METHOD_BASE, f"there is no method '{base_id}'", nearest(base_id, known), keys=("based_on",)
            )
            return self._refused(document, [told])
        if base.path in above:
            words = "itself" if base is document else f"'{base_id}', which is in turn based on it"
            message, hint = f"'{document.id}' is based on {words}", "name one that stands by itself"
            return self._refused(document, [Flaw(rules.METHOD_BASE, message, hint, keys=("based_on",))])
        if len(above) > _DEEPEST:
            message = f"more than {_DEEPEST} methods are based on each other here"
            told = Flaw(rules.METHOD_BASE, message, "name one that stands by itself", keys=("based_on",))
            return self._refused(document, [told])
        found = self.whole(base, above)
        return self._refused(document, []) if found is None else self._merged(document, found)

    def _merged(self, document: Document, base: Document) -> Document | None:
        differing = list(_differing(base.data, document.data))
        flaws = list(_unexplained(document.data.get("differences", []), differing, base.id))
        data = _named(document, base)
        flaws += acceptance.flaws("method", {key: each for key, each in data.items() if key not in _OF_DIFFERING})
        if flaws:
            return self._refused(document, flaws)
        data["differences"] = [_with_values(each, differing) for each in document.data.get("differences", [])]
        return dataclasses.replace(document, data=data)

    def _refused(self, document: Document, flaws: list[Flaw]) -> Document | None:
        self.read.findings.extend(document.findings(flaws))
        self.read.unreadable.setdefault("method", set()).add(document.id)
        return None


def _differing(base: Data, own: Data, before: Keys = ()) -> Iterator[_Differing]:
    """The keys of a mapping that are other than the base's, those of the mappings in it one by one."""
    for key, here in own.items():
        if key in _ORIGIN or (not before and key in _OWN) or key == "loss_origin":
            continue
        there = base.get(key)
        if isinstance(here, dict) and isinstance(there, dict):
            if not any(part in here for form in _FORMS for part in form):
                yield from _differing(there, here, (*before, key))
            elif any(here[part] != there.get(part) for form in _FORMS for part in form if part in here):
                yield _Differing((*before, key), there, here)
        elif here != there or key not in base:
            yield _Differing((*before, key), there, here)


def _unexplained(entries: list[Data], differing: list[_Differing], base: str) -> Iterator[Flaw]:
    """Keys that differ without an entry, and entries of what does not differ."""
    for each in differing:
        if not any(each.is_told_by(entry["what"]) for entry in entries):
            yield Flaw(
                rules.METHOD_DIFFERENCES,
                f"'{each.path}' is {_shown(each.here)} here, '{base}' has {_shown(each.there) or 'no such key'}, and "
                "'differences' does not say why",
                f"add {{what: {each.path}, reason: ..., set_by: ...}} to 'differences'",
                keys=each.keys,
                at_key=True,
            )
    for index, entry in enumerate(entries):
        if not any(each.is_told_by(entry["what"]) for each in differing):
            paths = [each.path for each in differing]
            hint = nearest(entry["what"], paths) if paths else "the file differs in nothing"
            message = f"'{entry['what']}' does not differ from what '{base}' has"
            keys = ("differences", index, "what")
            yield Flaw(rules.METHOD_DIFFERENCES, message, f"take the entry out; {hint}", keys=keys)


def _with_values(entry: Data, differing: list[_Differing]) -> Data:
    told = [each for each in differing if each.is_told_by(entry["what"])]

    def words(side: str) -> str:
        values = [(each.keys[-1], _shown(getattr(each, side))) for each in told]
        said = values[0][1] if len(values) == 1 else ", ".join(f"{key} {value}" for key, value in values if value)
        return said if len(said) <= _LONGEST_VALUE else f"{said[:_LONGEST_VALUE]}…"

    return {**entry, "there": words("there"), "here": words("here")}


def _shown(value: Any) -> str:
    """A value in short."""
    if isinstance(value, dict):
        return ", ".join(f"{key} {_shown(each)}" for key, each in value.items() if key not in _ORIGIN)
    if isinstance(value, list):
        plain = all(not isinstance(each, dict | list) for each in value)
        return ", ".join(map(str, value)) if plain else f"{len(value)} entries"
    return "" if value is None else str(value).lower() if isinstance(value, bool) else str(value)


def _named(document: Document, base: Document) -> Data:
    """The whole of a method, whose numbers say whose they are, and whose name is not that of its base."""
    name = document.data.get("standard")
    if name in (None, base.data["standard"]):
        name = f"{base.data['standard']} with differences ({document.id})"
    taken_over = _of_base(base.data, base.data["standard"], name)
    taken_over["editions"] = f"Based on {base.data['standard']}. Of that: {base.data['editions']}"
    data = _merge(taken_over, document.data, base.data["standard"])
    data["sources"].setdefault(_DEPARTMENT, "Set by the department; the reason stands with the difference.")
    data["standard"] = name
    return data


def _of_base(value: Any, standard: str, name: str) -> Any:
    """What is taken over: clauses say of which standard they are, designations are those of the method itself."""
    if isinstance(value, list):
        return [_of_base(each, standard, name) for each in value]
    if not isinstance(value, dict):
        return value
    found = {key: _of_base(each, standard, name) for key, each in value.items()}
    clause, designation = found.get("clause"), found.get("designation")
    if isinstance(clause, str) and clause.split()[0] not in (standard.split(maxsplit=1)[0], "in"):
        found["clause"] = f"{standard}, {clause}"
    if isinstance(designation, str):
        found["designation"] = f"{name}{designation.removeprefix(standard)}"
    return found


def _merge(base: Data, own: Data, standard: str) -> Data:
    """A mapping of the base with the keys of the own one in it."""
    merged = dict(base)
    for form in _FORMS:
        if any(key in own for key in form):
            for key in (key for other in _FORMS if other is not form for key in other):
                merged.pop(key, None)
    changed = False
    for key, value in own.items():
        there = base.get(key)
        if isinstance(value, dict) and isinstance(there, dict):
            merged[key] = _merge(there, value, standard)
        else:
            changed = changed or (key not in _ORIGIN and value != there)
            merged[key] = value
    if "confidence" in own and "certainty" not in own:
        merged.pop("certainty", None)
    if changed and "clause" in base and not any(key in own for key in _ORIGIN):
        merged.pop("certainty", None)
        origin = {"clause": f"in place of {base['clause']}", "source": _DEPARTMENT, "confidence": _DEPARTMENT}
        merged.update(origin)
    return merged
