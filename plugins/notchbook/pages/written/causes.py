"""Whether something cannot be had because of an error in a data file, which is told there and not again."""

from collections.abc import Iterator

from notchbook.facts.facts import Facts
from notchbook.findings import Severity
from notchbook.model.record import Record

_RESULTS = frozenset({"test", "verification"})
"""Kinds of file that lie in the folder of results."""


class Causes:
    """The errors of a handbook's data files, by what they stand in."""

    def __init__(self, facts: Facts) -> None:
        self._facts = facts
        handbook = facts.handbook
        wrong = {each.path for each in handbook.findings if each.severity is Severity.ERROR}
        self._with_errors = {key for key, document in handbook.documents.items() if document.path in wrong}

    def explain(self, kind: str, object_id: str) -> bool:
        """Whether an error of the data leaves a value of this thing missing.

        Arguments:
            kind: test, hammer, verification, rig, material or exercise; tests for several together.
            object_id: its id; a hammer's begins with that of its rig and a slash, those of tests have commas between.
        """
        return any(self._is_wrong(*each) for each in self._rests_on(kind, object_id))

    def _is_wrong(self, kind: str, object_id: str) -> bool:
        settings, root = self._facts.handbook.settings, self._facts.handbook.root
        folder = settings.results if kind in _RESULTS else settings.procedures
        is_unreadable = object_id in self._facts.unreadable(kind)
        return is_unreadable or (kind, object_id) in self._with_errors or not (root / folder).is_dir()

    def _rests_on(self, kind: str, object_id: str) -> Iterator[tuple[str, str]]:
        """The files that a value of a thing comes from."""
        library = self._facts.handbook.library
        if kind == "hammer":
            kind, object_id = "rig", object_id.partition("/")[0]
        if kind == "tests":
            for test in object_id.split(","):
                yield from self._rests_on("test", test.partition("/")[0])
            return
        yield kind, object_id
        if kind == "rig" and object_id in library.rigs:
            yield from (("method", each.method) for each in library.rigs[object_id].hammers.values() if each.method)
        elif kind == "verification" and object_id in library.verifications:
            yield from self._rests_on("rig", library.verifications[object_id].rig)
        elif kind == "exercise" and object_id in library.exercises:
            yield "method", library.exercises[object_id].method
        elif kind == "test" and object_id in library.records:
            yield from self._of_record(library.records[object_id])
        for each in library.records.values():
            if object_id == {"exercise": each.exercise, "material": each.material}.get(kind):
                yield from self._of_record(each)

    def _of_record(self, record: Record) -> Iterator[tuple[str, str]]:
        yield from (("test", record.id), ("exercise", record.exercise), ("material", record.material))
        yield from self._rests_on("rig", record.rig)
        # one that cannot be read does not say which hammer it is of
        yield from (("verification", each) for each in self._facts.unreadable("verification"))
        for each in self._facts.handbook.evaluation.by_hammer.get((record.rig, record.hammer), ()):
            yield "verification", each.id
