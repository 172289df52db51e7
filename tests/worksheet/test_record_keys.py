"""Every key of a test record reaches its page, the import of a table, the blank that is written, and the worksheet, or
says here why it does not."""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import node
import pytest
from click.testing import CliRunner

import small_handbook as small
from notchbook.cli import main
from notchbook.handbook import open_handbook
from notchbook.pages.site import build_site
from notchbook.reading.schemas import schema
from notchbook.reading.strict_yaml import parse
from notchbook.writing.fields import DEVIATION, FIELDS
from notchbook.writing.table_columns import COLUMNS, REPORTED

DOORS = ("page", "import", "new", "worksheet")
_LATER = "added by hand by whoever answers for the record, after the check has told what it is about"
_ACKNOWLEDGED = {f"acknowledged.{key}": _LATER for key in ("rule", "reason", "by")}
_BESIDE = "measured before or beside the session, mostly by staff, and added to the file"
_OF_A_BAR = "only where a bar differs from the record, whose key of the same name has the words and the example"
_OWN = ("notch_radius_mm", "clamp_torque_Nm", "transfer_s")
_OWN_RESULT = "what a group worked out itself is found after the session, and compared by the check"
WHY_NOT: dict[str, dict[str, str]] = {
    "page": {
        "kind": "the page is of one kind",
        **{
            f"free_swings.{key}": "shown as the loss of a half swing that follows from it"
            for key in ("half_swings", "later_rise_deg", "later_indicated_energy_J")
        },
        **{f"reported.specimens.{key}": "told by the check where it is not what is computed" for key in REPORTED},
    },
    "import": {
        **_ACKNOWLEDGED,
        **dict.fromkeys(("specimen.type", "specimen.notch", "specimen.direction"), "taken from the exercise"),
        "kind": "a table is one of a test record",
    },
    "new": {
        **{f"reported.specimens.{key}": "its example has what is reported of all bars" for key in REPORTED},
        **{
            f"free_swings.{key}": "its example has the two swings that it takes; the key's description names the others"
            for key in ("half_swings", "later_rise_deg", "later_indicated_energy_J")
        },
    },
    "worksheet": {
        **{f"specimens.{key}": _BESIDE for key in _OWN},
        **dict.fromkeys((*_OWN, "zero_reading_deg", "zero_reading_J", "conditioning.state"), _BESIDE),
        **_ACKNOWLEDGED,
        **{f"deviations.{key}": _LATER for key in DEVIATION},
        **{f"reported.{key}": _OWN_RESULT for key in ("mean_kJ_m2", "standard_deviation_kJ_m2")},
        **{f"reported.specimens.{key}": _OWN_RESULT for key in REPORTED},
    },
}


def leaves(about: dict[str, Any], keys: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Every key that holds a value; entries of lists, and of mappings with keys of one's own, by what they hold."""
    inner = about.get("properties")
    for part in (about.get("items"), about.get("additionalProperties")):
        if inner is None and isinstance(part, dict):
            yield from leaves(part, keys)
    for key, each in (inner or {}).items():
        yield from leaves(each, (*keys, key))
    if inner is None and not isinstance(about.get("items"), dict) and not isinstance(
        about.get("additionalProperties"), dict
    ):  # fmt: skip
        yield keys
    elif inner is not None and isinstance(about.get("additionalProperties"), dict):
        yield from leaves(about["additionalProperties"], keys)


KEYS = [".".join(each) for each in leaves(schema("test"))]


def _record(reads: str) -> dict[str, Any]:
    """A record with every key of one scale, no value of which stands anywhere else on its page."""
    ending = "rise_deg" if reads == "angle" else "indicated_energy_J"
    first, second, later = (94.6, 95.0, 89.2) if reads == "angle" else (0.0173, 0.0111, 0.1022)
    data: dict[str, Any] = small.files()[small.TEST]
    for place, bar in enumerate(data["specimens"]):
        rise = bar.pop("rise_angle_deg")
        if reads == "angle":
            bar["rise_angle_deg"] = rise
        else:
            bar["indicated_energy_J"] = 0.151 + 0.002 * place
    data["specimens"][1] |= {
        "id": "mark-2", "width_mm": 10.13, "thickness_mm": 4.17, "remaining_width_mm": 8.19, "notch_radius_mm": 0.277,
        "clamp_torque_Nm": 0.911, "transfer_s": 9.17, "excluded": "a low value",
    }  # fmt: skip
    return data | {
        "batch": "PP-77-9",
        "conditioning": {"temperature_C": 22.37, "humidity_pct": 51.3, "hours": 61.7, "state": "dry"},
        "notch_radius_mm": 0.263, "clamp_torque_Nm": 0.837, "transfer_s": 7.31, "zero_reading_deg": 0.137,
        "zero_reading_J": 0.00139,
        "test_atmosphere": {"temperature_C": 25.91, "humidity_pct": 46.1},
        "free_swings": {
            f"first_{ending}": first, f"second_{ending}": second, "half_swings": 113, f"later_{ending}": later,
        },
        "reported": {
            "mean_kJ_m2": 4.321, "standard_deviation_kJ_m2": 0.1234,
            "specimens": {"mark-2": {"energy_J": 0.14321, "strength_kJ_m2": 4.8765}},
        },
        "deviations": [{"rule": "test-atmosphere", "reason": "the window was open", "accepted_by": "LT-7"}],
        "acknowledged": [{"rule": "exclusion-cause", "reason": "seen by all of the group", "by": "LT-8"}],
        "notes": "a draught from the door",
    }  # fmt: skip


def _shown(root: Path, reads: str) -> set[str]:
    """The keys whose value stands on the page of a record."""
    files = small.files()
    rig = files[small.RIG]
    if reads == "energy":
        rig["indicator"] = {"reads": "energy", "division_J": 0.001}
    files[small.TEST] = _record(reads)
    handbook = open_handbook(small.write(root, files), day=small.DAY)
    assert small.TEST_ID in handbook.library.records, handbook.findings
    page = build_site(handbook).pages[f"records/{small.TEST_ID}.md"].body
    assert isinstance(page, str)
    text = re.sub(r"<[^>]*>", " ", re.sub(r"&#(\d+);", lambda found: chr(int(found.group(1))), page))
    library = handbook.library
    words = {
        "date": ["6 October 2026"], "exercise": [library.exercises["notched-charpy"].title],
        "rig": [library.rigs["bench-1"].title], "hammer": [handbook.evaluation.hammers["bench-1", "charpy-1"].title],
        "material": [library.materials["pp-h"].title], "specimen.type": ["Type 1"], "specimen.notch": ["notch A"],
        "kind": ["kind"],
    }  # fmt: skip
    known = _values(files[small.TEST]) | words
    return {key for key, values in known.items() if any(each in text for each in values)}


def _values(data: Any, keys: tuple[str, ...] = ()) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    if isinstance(data, list):
        parts = [_values(each, keys) for each in data]
    elif isinstance(data, dict):
        own = keys == ("reported", "specimens")
        parts = [_values(each, keys if own else (*keys, key)) for key, each in data.items()]
    else:
        return {".".join(keys): [str(data)]}
    for part in parts:
        for key, values in part.items():
            found.setdefault(key, []).extend(values)
    return found


@pytest.fixture(scope="module")
def reached(tmp_path_factory: pytest.TempPathFactory, job: dict[str, Any]) -> dict[str, set[str]]:
    """By door, the keys that come through it."""
    angle, blank = small.files(), ""
    energy = small.files()
    energy[small.RIG]["indicator"] = {"reads": "energy", "division_J": 0.001}
    arguments = ["--exercise", "notched-charpy", "--rig", "bench-1", "--hammer", "charpy-1", "--output", "-"]
    for files in (angle, energy):
        root = small.write(tmp_path_factory.mktemp("handbook"), files)
        done = CliRunner().invoke(main, ["record", "new", *arguments, "--root", str(root)])
        assert done.exit_code == 0, done.stderr
        blank += done.stdout
    shown = {reads: _shown(tmp_path_factory.mktemp(reads), reads) for reads in ("angle", "energy")}
    listed = job["cases"][:200]
    typed = node.run({**job, "cases": listed, "filed": list(range(len(listed)))})["files"]
    written = [parse(each["yaml"])[0] for each in typed if each["yaml"]]
    return {
        "page": shown["angle"] | shown["energy"],
        "import": {
            *(".".join(field.keys) for field in FIELDS),
            *(f"specimens.{column.key}" for column in COLUMNS),
            *(f"reported.specimens.{key}" for key in REPORTED),
            *(f"deviations.{key}" for key in DEVIATION),
        },
        "new": {key for key in KEYS if re.search(rf"\b{key.rpartition('.')[2]}:", blank)},
        "worksheet": {key for data in written for key in _values(data)},
    }


@pytest.mark.parametrize("door", DOORS)
@pytest.mark.repeats
def test_every_key_comes_through_or_says_why_not(door: str, reached: dict[str, set[str]]) -> None:
    assert sorted({*KEYS} - reached[door]) == sorted(WHY_NOT[door])
