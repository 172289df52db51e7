"""A small invented handbook as plain data, to be changed, written as files and opened."""

import copy
import datetime as dt
import json
from pathlib import Path
from typing import Any

from notchbook.handbook import Handbook, open_handbook
from notchbook.model.method import Method
from notchbook.reading.building import built
from notchbook.reading.folder import PACKAGE_METHODS, read_package_methods

Data = dict[str, Any]
DAY = dt.date(2026, 11, 2)

FILES: dict[str, Data] = {
    "procedures/rigs/bench-1.yaml": {
        "kind": "rig",
        "title": "Bench pendulum 1",
        "gravity_m_s2": 9.8137,
        "striking_length_mm": 390.0,
        "indicator": {"reads": "angle", "division_deg": 0.2},
        "supports": {"span_mm": 62.0, "edge_radius_mm": 1.0},
        "frame_mass_kg": 32.0,
        "hammers": {
            "charpy-1": {
                "method": "iso-179-1",
                "nominal_energy_J": 1.0,
                "release_angle_deg": 95.7,
                "moment_Nm": 0.9097,
                "striking_edge": {"radius_mm": 2.0, "angle_deg": 30},
                "pendulum_mass_kg": 0.31,
            },
            "charpy-2": {
                "base": "charpy-1",
                "nominal_energy_J": 2.0,
                "added_masses": [{"mass_kg": 0.2377, "radius_mm": 390.0}],
            },
        },
    },
    "procedures/materials/pp-h.yaml": {"kind": "material", "title": "Polypropylene homopolymer", "symbol": "PP-H"},
    "procedures/hazards.yaml": {
        "kind": "hazards",
        "hazards": [
            {"id": name, "title": name, "harm": "a blow", "whom": "those at the bench", "controls": {"guard": ["cage"]}}
            for name in ("swinging-pendulum", "pinch-and-strike", "flying-fragments")
        ],
    },
    "procedures/exercises/notched-charpy.yaml": {
        "kind": "exercise",
        "title": "Notched bars",
        "method": "iso-179-1",
        "specimen": {"type": "1", "notch": "A", "direction": "edgewise"},
        "aim": "Measure a strength.",
        "outcomes": ["A strength with its spread"],
        "hazards": ["swinging-pendulum", "pinch-and-strike", "flying-fragments"],
        "needs": ["ten bars"],
        "prepare": [{"do": "Measure the bars."}],
        "steps": [{"do": "Release the pendulum."}],
        "finish": [{"do": "Sweep up."}],
        "questions": ["Which bars broke?"],
        "duration_min": 90,
        "number_of_specimens": 10,
    },
    "results/verifications/2026-09-14-bench-1-charpy-1.yaml": {
        "kind": "verification",
        "date": "2026-09-14",
        "rig": "bench-1",
        "hammer": "charpy-1",
        "checked_by": "LT-2",
        "valid_until": "2027-09-14",
        "weighing": {"force_N": 2.3326, "arm_mm": 390.0},
        "period": {"swings": 50, "times_s": [62.65, 62.61, 62.67], "amplitude_deg": 4.0},
        "measured": {"striking_length_mm": 390.1, "release_angle_deg": 95.7, "span_mm": 62.2},
        "free_swings": {
            "first_rise_deg": 94.6, "second_rise_deg": 95.0, "half_swings": 10, "later_rise_deg": 89.2,
        },
    },
    "results/tests/2026-10-06-g2-pp-h.yaml": {
        "kind": "test",
        "date": "2026-10-06",
        "group": "G2",
        "exercise": "notched-charpy",
        "rig": "bench-1",
        "hammer": "charpy-1",
        "material": "pp-h",
        "specimen": {"type": "1", "notch": "A", "direction": "edgewise"},
        "conditioning": {"temperature_C": 23.0, "humidity_pct": 50, "hours": 48},
        "test_atmosphere": {"temperature_C": 23.4, "humidity_pct": 47},
        "specimens": [
            {
                "id": f"{number:02}", "width_mm": round(9.95 + number / 100, 2), "thickness_mm": 4.01,
                "remaining_width_mm": 8.02, "rise_angle_deg": rise, "break": letter,
            }
            for number, (rise, letter) in enumerate(
                [(86.4, "C"), (86.2, "C"), (85.8, "H"), (86.0, "C"), (86.6, "C"), (86.2, "C"), (85.6, "C"),
                 (86.4, "C"), (80.2, "P"), (86.0, "C")], start=1
            )
        ],
    },
}  # fmt: skip
RIG = "procedures/rigs/bench-1.yaml"
MATERIAL = "procedures/materials/pp-h.yaml"
EXERCISE = "procedures/exercises/notched-charpy.yaml"
VERIFICATION = "results/verifications/2026-09-14-bench-1-charpy-1.yaml"
TEST = "results/tests/2026-10-06-g2-pp-h.yaml"
SWINGS = "results/swings/2026-10-07-g2-bench-1-charpy-1.yaml"
SWINGS_ID = "2026-10-07-g2-bench-1-charpy-1"
TEST_ID = "2026-10-06-g2-pp-h"


def files() -> dict[str, Data]:
    """The files' data, free to be changed."""
    return copy.deepcopy(FILES)


def as_yaml(data: Data) -> str:
    """The data as YAML: one top-level key a line, its value in flow style (JSON is YAML)."""
    return "".join(f"{json.dumps(key)}: {json.dumps(value, ensure_ascii=False)}\n" for key, value in data.items())


def write(root: Path, contents: dict[str, Data | str | bytes]) -> Path:
    """Write the files under the root: data as YAML, text and bytes as they are."""
    for name, content in contents.items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        text = as_yaml(content) if isinstance(content, dict) else content
        path.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    return root


def opened(root: Path, contents: dict[str, Data | str | bytes] | None = None) -> Handbook:
    """The handbook of these files, or of the small one; a fixed day is today."""
    for folder in ("procedures", "results"):
        if not (root / folder).is_symlink():
            (root / folder).mkdir(parents=True, exist_ok=True)
    write(root, files() if contents is None else contents)
    return open_handbook(root, day=DAY)


def package_method(method_id: str = "iso-179-1") -> Method:
    """A method that comes with the package."""
    document = next(each for each in read_package_methods() if each.id == method_id)
    return built(Method, document.data, method_id)


def own_method(old: str, new: str, method_id: str = "iso-179-1") -> str:
    """The file of a method that comes with the package, with one piece of its text replaced."""
    text = (PACKAGE_METHODS / f"{method_id}.yaml").read_text("utf-8")
    assert text.count(old) == 1, old
    return text.replace(old, new)


def told(handbook: Handbook, path: str) -> list[tuple[str, int, int]]:
    """Rule, line and column of each finding in one file."""
    return [(each.rule, each.line, each.column) for each in handbook.findings if each.path == path]


def swings():
    """Free swings of a group; the exercise of this handbook breaks bars, and the check says so."""
    return {
        "kind": "swings",
        "date": "2026-10-07",
        "group": "G2",
        "exercise": "notched-charpy",
        "rig": "bench-1",
        "hammer": "charpy-1",
        "free_swings": {"first_rise_deg": 94.6, "second_rise_deg": 95.0, "half_swings": 10, "later_rise_deg": 89.0},
        "series": {"half_swings_between": 2, "rises_deg": [95.0, 93.8, 92.6]},
    }
