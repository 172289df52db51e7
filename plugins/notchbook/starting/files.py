"""Every file of a handbook that begins, by its path."""

from collections.abc import Mapping
from functools import cache
from importlib.metadata import version
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from notchbook.model.method import Method
from notchbook.reading.schemas import KINDS, schema_folder
from notchbook.starting import procedures
from notchbook.starting.pendulums import beginning_hammers
from notchbook.starting.pipelines import pipelines
from notchbook.starting.wishes import Wishes, material_id
from notchbook.version import __version__
from notchbook.wording.yaml_text import on_one_line, scalar

RIG = "bench-1"
TEXTS = Path(__file__).resolve().parent / "texts"
_PINNED = ("jinja2", "markdown", "mkdocs", "mkdocs-material", "numpy", "pyyaml", "scipy")
_USUAL_LENGTH_mm = 390.0
_USUAL_DIVISION = {"angle": 0.2, "energy": 0.01}
"""Of bench pendulums, in degrees and in J: common practice, no source."""


def files(wishes: Wishes, methods: Mapping[str, Method], departures: Mapping[str, tuple[str, ...]]) -> dict[str, str]:
    """The texts of all files.

    Arguments:
        wishes: without troubles.
        methods: those that are known, by id.
        departures: the rules from which the rig departs, by the exercises that accept it.
    """
    rig = _rig_values(wishes, methods)
    exercises = procedures.exercises(wishes.methods)
    written = {
        "mkdocs.yml": _filled("mkdocs.yml", name=wishes.name, notice=wishes.notice, labelled=any(departures.values())),
        "README.md": _filled("README.md", name=wishes.name),
        "requirements.txt": _filled("requirements.txt", version=__version__, pinned=_pinned()),
        "docs/index.md": _plain("index.md"),
        "docs/responsible.md": _filled("responsible.md"),
        "procedures/hazards.yaml": procedures.hazards(exercises.values()),
        f"procedures/rigs/{RIG}.yaml": _filled("rig.yaml", **rig),
        ".gitignore": _plain("gitignore"),
        ".pre-commit-config.yaml": _plain("pre-commit-config.yaml"),
        ".vscode/settings.json": _plain("vscode-settings.json"),
        **pipelines(),
    }
    for name, text in exercises.items():
        written[f"procedures/exercises/{name}.yaml"] = text + _accepted(departures.get(name, ()))
    for symbol in wishes.materials:
        written[f"procedures/materials/{material_id(symbol)}.yaml"] = _filled("material.yaml", symbol=symbol)
    for hammer in rig["hammers"]:
        if not hammer.base:
            path = f"results/verifications/blank-{RIG}-{hammer.id}.yaml"
            written[path] = _filled("verification.yaml", rig=RIG, hammer=hammer, scale=wishes.scale)
    for kind in sorted(KINDS):
        written[f"schema/{kind}.schema.json"] = (schema_folder() / f"{kind}.schema.json").read_text(encoding="utf-8")
    return written


def _rig_values(wishes: Wishes, methods: Mapping[str, Method]) -> dict[str, Any]:
    chosen = [methods[each] for each in wishes.methods]
    length_mm = wishes.length_mm or _USUAL_LENGTH_mm
    spans = [each.span_mm for method in chosen for each in method.specimen_types if each.span_mm is not None]
    heights = [each.strike_height_mm.value for each in chosen if each.strike_height_mm is not None]
    return {
        "scale": wishes.scale,
        "division_key": "division_J" if wishes.scale == "energy" else "division_deg",
        "division": min(wishes.divisions, default=_USUAL_DIVISION[wishes.scale]),
        "division_is_usual": not wishes.divisions,
        "length_mm": length_mm,
        "length_is_usual": wishes.length_mm is None,
        "has_supports": bool(spans),
        "gap_mm": wishes.gap_mm or (spans[0].value if spans else None),
        "gap_is_usual": wishes.gap_mm is None,
        "strike_height_mm": heights[0] if heights else None,
        "hammers": beginning_hammers(wishes, methods, length_mm),
        "edges": {each.id: _edge(each) for each in chosen},
    }


def _edge(method: Method) -> str:
    edge = method.striking_edge
    angle = {} if edge.angle_deg is None else {"angle_deg": edge.angle_deg.value}
    return on_one_line({"radius_mm": edge.radius_mm.value, **angle})


def _pinned() -> dict[str, str]:
    return {each: version(each) for each in _PINNED}


def _accepted(rules: tuple[str, ...]) -> str:
    """The departures that an exercise accepts, as its last key."""
    if not rules:
        return ""
    lines = [
        f'  - {{rule: {rule}, reason: "to fill in: why the rig departs here, and what it does to the results",'
        " accepted_by: LT-1}\n"
        for rule in rules
    ]
    return "accepted_deviations:\n" + "".join(lines)


def _filled(template: str, /, **values: Any) -> str:
    return _environment().get_template(f"{template}.j2").render(values)


def _plain(name: str) -> str:
    return (TEXTS / name).read_text(encoding="utf-8")


@cache
def _environment() -> Environment:
    made = Environment(
        loader=FileSystemLoader(TEXTS),
        autoescape=False,  # noqa: S701  # YAML and Markdown; every value goes through a filter
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    made.filters.update(scalar=scalar, figures=lambda value: f"{value:.5g}")
    return made
