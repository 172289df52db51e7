"""The schemas of the data files.

The keys are those of the format contract; the documents below are invented after it.
"""

import copy
import dataclasses
import json
from pathlib import Path

import jsonschema
import pytest
import yaml

from notchbook.model import breaks
from notchbook.model import method as method_model

ROOT = Path(__file__).resolve().parents[2]
SCHEMAS = ROOT / "schema"
KINDS = ("exercise", "hazards", "material", "method", "rig", "swings", "test", "verification")
BESIDE = ("marks",)
"""Of files that are no part of a handbook."""
OUTPUTS = ("answers", "findings", "pages", "review")
"""What the commands print as JSON."""
ANNOTATIONS = {"title", "description", "examples"}
# The keywords that a finding can be written for.
KEYWORDS = ANNOTATIONS | {
    "$defs", "$id", "$ref", "$schema", "additionalProperties", "const", "dependentRequired", "else", "enum",
    "exclusiveMaximum", "exclusiveMinimum", "format", "if", "items", "maxItems", "maxLength", "maxProperties",
    "maximum", "minItems", "minLength", "minProperties", "minimum", "pattern", "prefixItems", "properties",
    "propertyNames", "required", "then", "type", "uniqueItems",
}  # fmt: skip

DOCUMENTS = yaml.safe_load("""
rig:
  kind: rig
  title: Pendulum by the window
  location: Room 7
  gravity_at: {latitude_deg: 51.5, height_m: 30}
  striking_length_mm: 225.5
  indicator: {reads: energy, division_J: 0.02}
  supports: {span_mm: 62.2, edge_radius_mm: 1.02}
  clamp: {strike_height_mm: 22.1, jaw_edge_radius_mm: 0.22}
  frame_mass_kg: 41.0
  hammers:
    h-1:
      {title: small, method: iso-179-1, nominal_energy_J: 1.0, release_angle_deg: 150, moment_Nm: 0.536,
       striking_edge: {radius_mm: 2.1, angle_deg: 30}, pendulum_mass_kg: 0.6}
    h-2: {base: h-1, nominal_energy_J: 2.0, added_masses: [{mass_kg: 0.26, radius_mm: 210.0}]}
material:
  kind: material
  title: Acrylonitrile-butadiene-styrene
  symbol: ABS
  form: Cut from sheet
  typical: [{method: iso-179-1, notch: A, strength_kJ_m2: [8, 25], source: invented}]
  notes: "<b>shown as text</b>"
exercise:
  kind: exercise
  title: What a notch does
  method: iso-179-1
  specimen: {type: "1", notch: B, direction: edgewise}
  aim: Compare.
  outcomes: [Say why a notch matters.]
  hazards: [swinging-pendulum]
  needs: [Calliper]
  prepare: []
  steps: [{do: Release., look_for: One clean blow., hazard: swinging-pendulum}, {do: Read the scale.}]
  finish: []
  questions: ["Which break types came up?"]
  duration_min: 90
  number_of_specimens: 10
  accepted_deviations: [{rule: conditioning-hours, reason: one term only, accepted_by: LT-9}]
hazards:
  kind: hazards
  hazards:
    - {id: flying-fragments, title: Flying fragments, harm: Cut, whom: Bystanders,
       controls: {remove: [Smaller bars], guard: [Screen], arrange: [Stand back], wear: [Spectacles]}}
swings:
  kind: swings
  date: "2026-11-03"
  group: G4
  exercise: losses
  rig: window
  hammer: h-1
  free_swings: {first_indicated_energy_J: 0.02, second_indicated_energy_J: 0.01}
  series: {half_swings_between: 2, indicated_energies_J: [0.01, 0.03, 0.05]}
  notes: Two of us read.
verification:
  kind: verification
  date: "2026-02-03"
  rig: window
  hammer: h-1
  checked_by: LT-9
  valid_until: "2027-02-03"
  weighing: {force_N: 1.4, arm_mm: 380.0}
  period: {swings: 20, times_s: [19.1, 19.06], amplitude_deg: 3}
  measured: {striking_length_mm: 225.4, release_angle_deg: 149.9, span_mm: 62.1, edge_radius_mm: 2.0,
             edge_angle_deg: 30.2, strike_height_mm: 22.0}
  free_swings: {first_rise_deg: 148.9, second_rise_deg: 149.3, half_swings: 8, later_rise_deg: 144.0}
  notes: None.
test:
  kind: test
  date: "2026-03-04"
  group: G9
  exercise: notch
  rig: window
  hammer: h-1
  material: abs
  batch: K4
  specimen: {type: "1", notch: A, direction: edgewise}
  conditioning: {temperature_C: 22.5, humidity_pct: 48, hours: 20}
  test_atmosphere: {temperature_C: 22.9, humidity_pct: 51}
  free_swings: {first_indicated_energy_J: 0.02, second_indicated_energy_J: 0.01, later_indicated_energy_J: 0.1}
  specimens:
    - {id: "1", width_mm: 10.1, thickness_mm: 3.9, remaining_width_mm: 7.9, rise_angle_deg: 101, break: C}
    - {id: "2", width_mm: 10.1, thickness_mm: 3.9, remaining_width_mm: 7.9, indicated_energy_J: 0.4, break: H,
       excluded: slipped}
  reported: {mean_kJ_m2: 12, standard_deviation_kJ_m2: 1.1, specimens: {"1": {energy_J: 0.39, strength_kJ_m2: 12.6}}}
  deviations: [{rule: test-temperature, reason: heating failed, accepted_by: LT-9}]
  notes: None.
""")


def schema(kind):
    return json.loads((SCHEMAS / f"{kind}.schema.json").read_text(encoding="utf-8"))


def errors(kind, data):
    return list(jsonschema.Draft202012Validator(schema(kind)).iter_errors(data))


def described(node, where=""):
    """Every schema that describes a value, with its place; conditions only restrict and describe nothing."""
    yield where or "/", node
    for key in ("properties", "$defs"):
        for name, inner in node.get(key, {}).items():
            yield from described(inner, f"{where}/{key}/{name}")
    for key in ("items", "additionalProperties"):
        if isinstance(node.get(key), dict):
            yield from described(node[key], f"{where}/{key}")
    for number, inner in enumerate(node.get("prefixItems", ())):
        yield from described(inner, f"{where}/prefixItems/{number}")


def keywords(node):
    """Every keyword in a schema, conditions included."""
    for key, value in node.items():
        yield key
        if key in ("properties", "$defs"):
            for inner in value.values():
                yield from keywords(inner)
        elif key == "prefixItems":
            for inner in value:
                yield from keywords(inner)
        elif key not in ("examples", "dependentRequired") and isinstance(value, dict):
            yield from keywords(value)


def test_there_is_one_schema_a_kind_and_one_an_output():
    for folder, names in ((SCHEMAS, sorted(KINDS + BESIDE)), (SCHEMAS / "outputs", OUTPUTS)):
        found = sorted(path.name for path in folder.iterdir() if path.is_file())
        assert found == [f"{name}.schema.json" for name in names]


@pytest.mark.parametrize("name", OUTPUTS)
def test_schema_of_an_output_is_valid_and_closed(name):
    root = json.loads((SCHEMAS / f"outputs/{name}.schema.json").read_text("utf-8"))
    jsonschema.Draft202012Validator.check_schema(root)
    assert root["description"]
    for node in (*([root] if root["type"] == "object" else []), *root["$defs"].values()):
        assert node["additionalProperties"] is False
        assert node["description"]
        assert set(node["required"]) == set(node["properties"])


@pytest.mark.parametrize("kind", KINDS + BESIDE)
def test_schema_is_valid_closed_and_translatable(kind):
    root = schema(kind)
    jsonschema.Draft202012Validator.check_schema(root)
    assert set(keywords(root)) <= KEYWORDS
    assert root["properties"]["kind"]["const"] == kind
    assert next(iter(root["properties"])) == "kind"
    for where, node in described(root):
        if node.get("type") == "object":
            assert "additionalProperties" in node, where
            assert set(node.get("required", ())) <= set(node.get("properties", ())), where


@pytest.mark.parametrize("kind", KINDS)
def test_every_value_is_described_and_its_examples_hold(kind):
    root = schema(kind)
    for where, node in described(root):
        told = node
        if set(node) == {"$ref"}:
            told = root["$defs"][node["$ref"].removeprefix("#/$defs/")]
        assert set(told) >= ANNOTATIONS, where
        assert told["title"].strip(), where
        assert told["description"].endswith("."), where
        assert told["examples"], where
        alone = {**{key: value for key, value in told.items() if key != "$id"}, "$defs": root.get("$defs", {})}
        for example in told["examples"]:
            found = [error.message for error in jsonschema.Draft202012Validator(alone).iter_errors(example)]
            assert not found, (where, found)


def test_specimens_are_described_without_references():
    assert "$ref" not in set(keywords(schema("test")))


@pytest.mark.parametrize("kind", DOCUMENTS)
def test_documents_after_the_contract_are_taken(kind):
    assert [error.message for error in errors(kind, DOCUMENTS[kind])] == []


def changed(data, keys, value):
    """A copy with one value set, or its key taken out where the value is `...`."""
    data = copy.deepcopy(data)
    place = data
    for key in keys[:-1]:
        place = place[key]
    if value is ...:
        del place[keys[-1]]
    else:
        place[keys[-1]] = value
    return data


@pytest.mark.parametrize(
    ("kind", "keys", "value", "keyword"),
    [
        ("test", ["specimens"], [], "minItems"),
        ("test", ["specimens", 0, "break"], ..., "required"),
        ("test", ["specimens", 0, "id"], 1, "type"),
        ("test", ["specimens", 0, "width_mm"], 0, "exclusiveMinimum"),
        ("test", ["specimens", 0, "width_mm"], 10001, "maximum"),
        ("test", ["specimens", 0, "rise_angle_deg"], 181, "maximum"),
        ("test", ["specimens", 0, "width"], 10, "additionalProperties"),
        ("test", ["date"], "6 October 2026", "pattern"),
        ("test", ["rig"], "Bench 1", "pattern"),
        ("test", ["conditioning", "humidity_pct"], 101, "maximum"),
        ("test", ["test_atmosphere", "temperature_C"], -300, "minimum"),
        ("test", ["free_swings"], {}, "minProperties"),
        ("test", ["deviations", 0, "accepted_by"], ..., "required"),
        ("test", ["reported", "specimens", "1", "energy"], 1, "additionalProperties"),
        ("rig", ["indicator", "division_J"], ..., "required"),
        ("rig", ["indicator", "reads"], "angle", "required"),
        ("rig", ["indicator", "reads"], "work", "enum"),
        ("rig", ["hammers", "h-1", "moment_Nm"], ..., "required"),
        ("rig", ["hammers", "h-2", "base"], ..., "dependentRequired"),
        ("rig", ["hammers", "H 1"], {"base": "h-1"}, "pattern"),
        ("rig", ["hammers"], {}, "minProperties"),
        ("rig", ["hammers", "h-1", "release_angle_deg"], 0, "exclusiveMinimum"),
        ("rig", ["gravity_m_s2"], 981, "maximum"),
        ("verification", ["valid_until"], ..., "required"),
        ("verification", ["period", "times_s"], [], "minItems"),
        ("verification", ["period", "swings"], 20.5, "type"),
        ("material", ["typical", 0, "strength_kJ_m2"], [8], "minItems"),
        ("exercise", ["steps", 0, "do"], "", "minLength"),
        ("exercise", ["title"], "t" * 201, "maxLength"),
        ("exercise", ["hazards"], ["a", "a"], "uniqueItems"),
        ("hazards", ["hazards", 0, "controls"], {}, "minProperties"),
        ("hazards", ["kind"], "hazard", "const"),
    ],
)
def test_what_is_meaningless_is_refused(kind, keys, value, keyword):
    assert keyword in {error.validator for error in errors(kind, changed(DOCUMENTS[kind], keys, value))}


def test_method_keys_are_those_of_the_model():
    properties = schema("method")["properties"]

    def fields(name):
        room = breaks if name == "Breaks" else method_model
        return {field.name for field in dataclasses.fields(getattr(room, name))}

    assert set(properties) - {"kind"} == fields("Method") - {"id"}
    origin = {"clause", "source", "confidence", "certainty"}
    assert set(properties["pendulums"]["properties"]) == fields("Pendulums")
    for key, name in [("energy_window", "EnergyWindow"), ("breaks", "Breaks"), ("reporting", "Reporting")]:
        assert set(properties[key]["properties"]) == (fields(name) - {"origin"}) | origin


@pytest.mark.parametrize(
    ("requirement", "keyword"),
    [
        ({"value": 4, "below": 0.2, "above": 0.2}, None),
        ({"at_least": 16}, None),
        ({"at_most": 5}, None),
        ({}, "required"),
        ({"value": 4}, "dependentRequired"),
        ({"above": 0.2, "below": 0.2}, "dependentRequired"),
        ({"value": 4, "below": 0.2, "above": 0.2, "at_least": 3}, "additionalProperties"),
        ({"value": 4, "below": 0.2, "above": 0.2, "at_most": 5}, "additionalProperties"),
        ({"at_least": 3, "at_most": 5}, "additionalProperties"),
    ],
)
def test_a_requirement_is_a_value_or_one_bound(requirement, keyword):
    root = schema("method")
    origin = {"clause": "1", "source": "house", "confidence": "department"}
    validator = jsonschema.Draft202012Validator({"$ref": "#/$defs/requirement", "$defs": root["$defs"]})
    found = {error.validator for error in validator.iter_errors({**requirement, **origin})}
    assert found == set() or keyword is not None
    assert keyword is None or keyword in found
