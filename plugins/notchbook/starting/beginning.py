"""A handbook made and looked at before anybody gets it."""

import contextlib
from collections.abc import Mapping
from pathlib import Path
from tempfile import TemporaryDirectory

from notchbook.findings import Finding, Severity
from notchbook.handbook import RULES, Handbook, open_handbook
from notchbook.model.method import Method
from notchbook.reading.building import built
from notchbook.reading.folder import read_package_methods
from notchbook.starting.files import files
from notchbook.starting.procedures import EXERCISES
from notchbook.starting.wishes import Wishes

_MOST_ROUNDS = 5
"""One departure can hide another."""


class BeginningError(Exception):
    """No handbook can begin so; each trouble is a sentence without its full stop."""

    def __init__(self, troubles: list[str]) -> None:
        super().__init__("; ".join(troubles))
        self.troubles = troubles


def known_methods() -> dict[str, Method]:
    """The methods of the package that come with an exercise to begin with, by id."""
    documents = {each.id: each for each in read_package_methods()}
    return {name: built(Method, documents[name].data, name) for name in EXERCISES}


def beginning(wishes: Wishes) -> dict[str, str]:
    """The text of every file by its path; the check says nothing of them that stops a strict build.

    Where the rig departs from a method, its exercises accept it with a reason that is still to fill in.

    Raises:
        BeginningError: what is wished for contradicts itself.
    """
    methods = known_methods()
    troubles = list(wishes.troubles(methods))
    if troubles:
        raise BeginningError(troubles)
    departures: dict[str, tuple[str, ...]] = {}
    for _ in range(_MOST_ROUNDS):
        made = files(wishes, methods, departures)
        handbook = _looked_at(made)
        wrong = [each for each in handbook.findings if each.severity is not Severity.NOTE]
        if not wrong:
            return made
        more = _departing(handbook, wrong, departures)
        if more == departures:
            raise BeginningError([f"{each.message}; {each.hint}" for each in wrong])
        departures = more
    raise BeginningError(["the rig departs from its methods in too many ways"])


def _looked_at(made: Mapping[str, str]) -> Handbook:
    with TemporaryDirectory() as folder:
        write(Path(folder), made)
        return open_handbook(Path(folder))


def write(folder: Path, made: Mapping[str, str]) -> None:
    """Write the files below a folder, all or none; raises OSError where one cannot be written."""
    new: list[Path] = []
    try:
        for name, text in made.items():
            path = folder / name
            new += [each for each in reversed(path.parents) if not each.exists()]
            path.parent.mkdir(parents=True, exist_ok=True)
            new.append(path)
            path.write_text(text, encoding="utf-8", newline="\n")
    except OSError:
        for each in reversed(new):
            with contextlib.suppress(OSError):
                each.rmdir() if each.is_dir() else each.unlink()
        raise


def _departing(
    handbook: Handbook, wrong: list[Finding], departures: Mapping[str, tuple[str, ...]]
) -> dict[str, tuple[str, ...]]:
    """The departures with those that were found now, for every exercise."""
    rules = sorted({each.rule for each in wrong if each.rule in RULES and RULES[each.rule].declarable})
    return {
        exercise: tuple(dict.fromkeys((*departures.get(exercise, ()), *rules)))
        for exercise in handbook.library.exercises
    }
