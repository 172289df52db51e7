"""The compiled schemas against the validators that explain: they accept exactly what those find nothing in.

The latter are jsonschema's, a reference implementation of JSON Schema 2020-12.
"""

import copy
import datetime as dt
import itertools
import os
import subprocess
import sys
from pathlib import Path

import pytest
from planted_slips import KINDS, places

from notchbook.reading import acceptance, refusals
from notchbook.reading.folder import PROCEDURE_FOLDERS, RESULT_FOLDERS
from notchbook.reading.strict_yaml import parse

ROOT = Path(__file__).resolve().parents[2]
DEMO = sorted([*(ROOT / "procedures").rglob("*.yaml"), *(ROOT / "results").rglob("*.yaml")])
METHODS = sorted((ROOT / "plugins/notchbook/methods").glob("*.yaml"))
EXAMPLES = sorted(
    path
    for folder in ("checks/examples", "checks/handbook", "hostile/cases")
    for path in (ROOT / "tests" / folder).rglob("*.yaml")
)
KIND_OF_FOLDER = {folder: kind for kind, folder in (PROCEDURE_FOLDERS | RESULT_FOLDERS).items()}
# one of each kind, with most of the keys that the kind has
RICHEST = {kind: max((path for path in DEMO if path.parent.name == folder), key=lambda each: each.stat().st_size)
           for folder, kind in KIND_OF_FOLDER.items()}  # fmt: skip
RICHEST["hazards"] = ROOT / "procedures/hazards.yaml"
PLANTED = [
    None, True, False, 0, -1, 1, 1.5, -0.0, 2.0, 1e9, -1e-9, 10**15 - 1, 1e300, "", " ", "\u0085", "\x1c \x1f",
    "\u3000", "a", "A-1", "a\n", "a.", "-a", "none", "C", "2026-02-30", "2026-02-03\n", "x" * 10_001, [], [1, 1],
    ["a", "a"], [1.0, 2.0], {}, {"a": 1}, {"min": 1.0, "max": 0.5},
]  # fmt: skip


def data_of(path):
    """What can be read of a file; None where it is no mapping."""
    try:
        return parse(path.read_text("utf-8"))[0]
    except UnicodeDecodeError:
        return None


def agreed(kind, data):
    """Whether both accept, which they have to agree on."""
    accepted = acceptance.accepts(kind, data)
    assert accepted == (refusals.flaws(kind, data) == []), (kind, data)
    return accepted


def spots(value, keys=()):
    """The keys that lead to every value in a document, those of mappings and lists before what they hold."""
    inside = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, each in inside:
        yield (*keys, key)
        yield from spots(each, (*keys, key))


def planted(data, keys, plant):
    """A copy of a document in which something is done to the mapping or list that holds a value."""
    spoiled = copy.deepcopy(data)
    place = spoiled
    for key in keys[:-1]:
        place = place[key]
    plant(place, keys[-1])
    return spoiled


@pytest.mark.parametrize("path", [*DEMO, *METHODS], ids=lambda path: path.stem)
def test_files_in_order_are_accepted_by_both(path):
    data = data_of(path)
    assert agreed(data["kind"], data)


def test_files_of_the_examples_and_of_hostile_handbooks():
    texts = {path.read_bytes(): path for path in EXAMPLES}
    kinds = {path: KIND_OF_FOLDER.get(path.parent.name, "hazards") for path in texts.values()}
    assert {agreed(kind, data) for path, kind in kinds.items() if (data := data_of(path))} == {True, False}


@pytest.mark.parametrize("kind", KINDS)
def test_slips_of_beginners(kind):
    for schema_kind, path in RICHEST.items():
        for spoiled, _ in places(KINDS[kind], path.read_text("utf-8"), most=2):
            data, _ = parse(spoiled)
            if data is not None:
                agreed(schema_kind, data)


@pytest.mark.repeats
@pytest.mark.parametrize("kind", RICHEST)
def test_faults_planted_at_every_value(kind):
    data = data_of(RICHEST[kind])
    plants = itertools.cycle(PLANTED)
    found = set()
    for keys in itertools.islice(spots(data), 120):
        for value in itertools.islice(plants, 3):
            found.add(agreed(kind, planted(data, keys, lambda place, key, value=value: place.__setitem__(key, value))))
        found.add(agreed(kind, planted(data, keys, lambda place, key: place.__delitem__(key))))
        if isinstance(keys[-1], str):
            found.add(agreed(kind, planted(data, keys, lambda place, _: place.__setitem__("strange", 1))))
    assert found == {True, False}


def test_what_the_compiled_schema_alone_refuses_is_no_flaw():
    """U+FEFF is white space to ECMA-262 and a character to Python: the validators that explain have the last word."""
    data = data_of(RICHEST["material"])
    data["notes"] = "\ufeff"
    assert not acceptance.accepts("material", data)
    assert acceptance.flaws("material", data) == []


def test_a_check_of_sound_files_loads_nothing_that_explains_or_draws():
    watched = "jsonschema", "scipy", "matplotlib", "markdown", "mkdocs", "difflib", "segno", "notchbook.review"
    script = (
        "import sys\nfrom notchbook.cli import main\n"
        "try:\n"
        f"    main(['check', '--root', {str(ROOT / 'tests/checks/handbook')!r}])\n"
        "except SystemExit as ended:\n    assert not ended.code\n"
        f"print(*(name for name in {watched!r} if name in sys.modules))\n"
    )
    environment = {**os.environ, "SOURCE_DATE_EPOCH": str(int(dt.datetime(2027, 3, 15, tzinfo=dt.UTC).timestamp()))}
    done = subprocess.run([sys.executable, "-c", script], env=environment, capture_output=True, text=True, check=True)
    assert done.stdout.split() == []
