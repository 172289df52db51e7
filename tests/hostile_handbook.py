"""The small handbook with a text of somebody's choice in every field that takes free text."""

import itertools
import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import yaml

import small_handbook as small

ROOT = Path(__file__).resolve().parent.parent
# Texts that other fields or files name, or that a rule gives a form.
NAMED = frozenset(
    {"id", "type", "notch", "direction", "break", "group", "checked_by", "accepted_by", "by", "averaged_together"}
)
NOT_EMPTY = r"\S"
"""The pattern of a text that may be anything but blank."""
HOSTILE = (
    "<script>hit()</script>",
    "</p></div></td></table><h2>x</h2>",
    '"><img src=x onerror=hit()>',
    "' onmouseover='hit()",
    "{{ 7*7 }} {% raw %} {# x #}",
    "{: #i .c onclick=hit() } { .x }",
    "**b** _i_ `c` ~~s~~ ==m== $x$ ^^u^^",
    "[a](javascript:hit()) ![i](x.png)",
    "```\n# heading\n\n- item\n```\n~~~",
    "| a | b |\n|---|---|\n| c | d |",
    "---\ntitle: other\n---\n...",
    "&lt;b&gt; &amp; &#60;i&#62; &copy;",
    '--8<-- "x.md"\n!!! note\n    boxed',
    "\u202egnirts\u202c \u2066x \x1b[31m",
    "# x #\n## y\n***\n1. one",
    "<!-- x --> <![CDATA[ ]]> <?php ?>",
    "{++a++} {--b--} ++ctrl+a++ :smile:",
    "\U0001f600 e\u0301 \u0e01\u0e33 [^1] *[X]: y",
    "<svg onload=hit()><iframe src=//x>",
)  # fmt: skip
LONGEST = max(map(len, HOSTILE))
FEWEST = 40
"""Fields of free text that the files have at least."""


def _files() -> dict[str, Any]:
    """The small handbook with a method of its own and everything that can be left out."""
    files = small.files()
    method = yaml.safe_load((ROOT / "plugins/notchbook/methods/iso-179-1.yaml").read_text(encoding="utf-8"))
    files["procedures/methods/own.yaml"] = method
    rig, test = files[small.RIG], files[small.TEST]
    rig["location"] = "hall"
    for hammer in rig["hammers"].values():
        hammer["title"] = "hammer"
        if "method" in hammer:
            hammer["method"] = "own"
    source = {"method": "own", "notch": "A", "strength_kJ_m2": [2.5, 6.0], "source": "book"}
    files[small.MATERIAL] |= {"form": "bars", "notes": "note", "typical": [source]}
    exercise = files[small.EXERCISE]
    exercise["method"] = "own"
    for part in ("prepare", "steps", "finish"):
        exercise[part][0] |= {"look_for": "sign", "hazard": "flying-fragments"}
    for hazard in files["procedures/hazards.yaml"]["hazards"]:
        hazard["controls"] = {name: ["control"] for name in ("remove", "guard", "arrange", "wear")}
    test["specimens"].append(test["specimens"][0] | {"id": "11", "excluded": "cracked", "width_mm": 10.06})
    test["conditioning"]["hours"] = 2
    test["deviations"] = [{"rule": "conditioning", "reason": "haste", "accepted_by": "LT-1"}]
    # of a rule that warns of the second record below
    test |= {"batch": "B1", "notes": "note", "acknowledged": [{"rule": "copied-series", "reason": "yes", "by": "LT-1"}]}
    files[small.VERIFICATION]["notes"] = "note"
    without_bars = {key: each for key, each in exercise.items() if key not in ("specimen", "number_of_specimens")}
    files["procedures/exercises/losses.yaml"] = json.loads(json.dumps(without_bars))
    files[small.SWINGS] = small.swings() | {"exercise": "losses", "notes": "note"}
    conforming = {**test, "date": "2026-10-07", "conditioning": test["conditioning"] | {"hours": 48}}
    conforming["specimens"] = [each | {"width_mm": each["width_mm"] + 0.01} for each in test["specimens"]]
    del conforming["deviations"]
    files["results/tests/2026-10-07-g2-pp-h.yaml"] = json.loads(json.dumps(conforming))
    return files


def _schema_of(data: dict[str, Any]) -> dict[str, Any]:
    schema: dict[str, Any] = json.loads((ROOT / f"schema/{data['kind']}.schema.json").read_text(encoding="utf-8"))
    return schema


def _free_texts(schema: dict[str, Any], data: Any, defs: dict[str, Any]) -> Iterator[tuple[Any, Any, int]]:
    """Container, key and greatest length of every text that the schema gives no form."""
    if "$ref" in schema:
        schema = defs[schema["$ref"].rpartition("/")[2]]
    if isinstance(data, list):
        items = [(place, each, schema.get("items", {})) for place, each in enumerate(data)]
    elif isinstance(data, dict):
        known = schema.get("properties", {})
        items = [(key, each, known.get(key, schema.get("additionalProperties", {}))) for key, each in data.items()]
    else:
        return
    for key, each, inner in items:
        if key in NAMED or not isinstance(inner, dict):
            continue
        own = defs[inner["$ref"].rpartition("/")[2]] if "$ref" in inner else inner
        is_free = own.get("type") == "string" and "maxLength" in own and own.get("pattern", NOT_EMPTY) == NOT_EMPTY
        if isinstance(each, str) and is_free:
            yield data, key, own["maxLength"]
        else:
            yield from _free_texts(own, each, defs)


def _rename(files: dict[str, Any], name_of: Callable[[str], str]) -> None:
    """Give directions and specimens other names, the same in all files; other names have a form of their own."""
    kinds = files["procedures/methods/own.yaml"]["specimen_types"].values()
    choices = [each for kind in kinds for each in kind["arrangements"]]
    choices += [data["specimen"] for data in files.values() if "specimen" in data]
    for choice in choices:
        choice["direction"] = name_of(choice["direction"])
    for data in files.values():
        for specimen in data.get("specimens", ()):
            specimen["id"] = name_of(specimen["id"])


def handbook_of(text_of: Callable[[int], str], name_of: Callable[[str], str]) -> tuple[dict[str, Any], dict[str, str]]:
    """The files with a text in every field of free text, and where each text stands.

    Args:
        text_of: gives the text by the field's number; a number follows it, so that it is the only one of its kind.
        name_of: gives another name to directions and specimens.
    """
    files = _files()
    _rename(files, name_of)
    placed: dict[str, str] = {}
    numbers = itertools.count()
    for path, data in files.items():
        schema = _schema_of(data)
        for container, key, longest in list(_free_texts(schema, data, schema.get("$defs", {}))):
            number = next(numbers)
            tail = f" {number:03}"
            text = text_of(number)[: longest - len(tail)] + tail
            container[key] = text
            placed[text] = f"{path} {key}"
    assert len(placed) >= FEWEST
    return files, placed
