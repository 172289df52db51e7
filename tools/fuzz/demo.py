"""The part of the demo that inputs are made from: one record and all that it names, as text and as data."""

import datetime as dt
import functools
from pathlib import Path
from typing import Any

from notchbook.handbook import Handbook, handbook_of
from notchbook.model.settings import Settings
from notchbook.reading.folder import PROCEDURE_FOLDERS, RESULT_FOLDERS, Read, read_package_methods, read_text
from notchbook.reading.library import build_library
from notchbook.reading.strict_yaml import parse

ROOT = Path(__file__).resolve().parents[2]
RECORDS = ("2026-10-05-g1-pp-h-notched", "2026-10-20-g5-pp-h-izod")
DAY = dt.date(2026, 12, 1)
"""After every date of the demo."""


@functools.cache
def texts() -> dict[tuple[str, str], str]:
    """The files by kind and id: two records, what they name, free swings, and the method of the department."""
    found: dict[tuple[str, str], str] = {}
    for record_id in RECORDS:
        record = _read("test", record_id, found)
        exercise = _read("exercise", record["exercise"], found)
        _read("material", record["material"], found)
        _read("rig", record["rig"], found)
        assert exercise["method"]
        for path in sorted((ROOT / "results/verifications").glob(f"2026-*{record['rig']}-{record['hammer']}.yaml")):
            _read("verification", path.stem, found)
    for path in sorted((ROOT / "results/swings").glob("*.yaml")):
        _read("exercise", _read("swings", path.stem, found)["exercise"], found)
    found["hazards", "hazards"] = (ROOT / "procedures/hazards.yaml").read_text(encoding="utf-8")
    for path in sorted((ROOT / "procedures/methods").glob("*.yaml")):
        _read("method", path.stem, found)
    return found


def _read(kind: str, object_id: str, found: dict[tuple[str, str], str]) -> dict[str, Any]:
    text = (ROOT / path_of(kind, object_id)).read_text(encoding="utf-8")
    found[kind, object_id] = text
    data, flaws = parse(text)
    assert not flaws
    return dict(data)


def path_of(kind: str, object_id: str) -> str:
    """Where a file lies, from the root."""
    if kind == "hazards":
        return "procedures/hazards.yaml"
    folder = PROCEDURE_FOLDERS.get(kind)
    return f"procedures/{folder}/{object_id}.yaml" if folder else f"results/{RESULT_FOLDERS[kind]}/{object_id}.yaml"


@functools.cache
def data(kind: str, object_id: str) -> dict[str, Any]:
    """What stands in a file; not to be changed."""
    return dict(parse(texts()[kind, object_id])[0])


@functools.cache
def _read_alone(kind: str, object_id: str) -> Read:
    read = Read()
    read_text(path_of(kind, object_id), object_id, kind, texts()[kind, object_id], read)
    return read


@functools.cache
def _methods() -> list[Any]:
    return read_package_methods()


def handbook(changed: dict[tuple[str, str], str] | None = None, *, label: bool = False) -> Handbook:
    """The handbook of these files with some of them in another text, read, evaluated and checked."""
    changed = changed or {}
    read = Read()
    for kind, object_id in texts():
        read.files += 1
        if (kind, object_id) in changed:
            read_text(path_of(kind, object_id), object_id, kind, changed[kind, object_id], read)
            continue
        alone = _read_alone(kind, object_id)
        read.documents += alone.documents
        read.findings += alone.findings
    settings = Settings(deviations="label" if label else "refuse")
    return handbook_of(ROOT, settings, build_library(_methods(), read), day=DAY)
