"""The pages of keys and values against the schemas, the reader of data files and the values themselves."""

import json
import shutil
from pathlib import Path
from typing import Any

import pytest
import yaml
from guide_blocks import ROOT, base_handbook
from hypothesis import given
from hypothesis import strategies as st
from markupsafe import Markup

import small_handbook as small
from html_tree import parse
from notchbook.facts.facts import Facts
from notchbook.handbook import Handbook, open_handbook
from notchbook.pages.page import finished
from notchbook.pages.reference import guide
from notchbook.pages.reference.key_rows import ANY_KEY, EACH, STEP, KeyRow, key_rows
from notchbook.pages.written import quantities
from notchbook.pages.written.prose import rendered
from notchbook.reading.strict_yaml import parse as parse_yaml
from notchbook.wording.yaml_text import on_one_line

SCHEMAS = {
    path.name.removesuffix(".schema.json"): json.loads(path.read_text(encoding="utf-8"))
    for path in sorted((ROOT / "schema").glob("*.schema.json"))
    if path.name != "marks.schema.json"  # of a file that is no part of a handbook
}


@pytest.fixture(scope="module")
def handbook(tmp_path_factory: pytest.TempPathFactory) -> Handbook:
    root = base_handbook(tmp_path_factory.mktemp("demo"))
    for kind in ("tests", "swings"):
        shutil.copytree(ROOT / "results" / kind, root / "results" / kind, dirs_exist_ok=True)
    return open_handbook(root)


def _rows(kind: str) -> dict[str, KeyRow]:
    return {row.path: row for row in key_rows(kind)[0]}


def _keys_in(data: Any, before: tuple[str, ...] = ()) -> set[tuple[str, ...]]:
    """Every path of keys in some data, entries of a list under one name."""
    if isinstance(data, list):
        return set().union(*(_keys_in(each, (*before, EACH)) for each in data))
    if not isinstance(data, dict):
        return set()
    below = (_keys_in(each, (*before, key)) for key, each in data.items())
    return {(*before, key) for key in data}.union(*below)


def _is_listed(path: tuple[str, ...], rows: dict[str, KeyRow]) -> bool:
    """Whether a path of a data file is in the table, as it stands, under keys of one's own, or under a shared form."""
    known = [tuple(row.split(STEP)) for row in rows]
    forms = [each for each in known if rows[STEP.join(each)].form]

    def fits(pattern: tuple[str, ...], keys: tuple[str, ...]) -> bool:
        return all(p in (k, ANY_KEY) for p, k in zip(pattern, keys, strict=True))

    if any(len(each) == len(path) and fits(each, path) for each in known):
        return True
    if any(len(each) + 1 == len(path) and fits(each, path[:-1]) for each in forms):
        return True
    # the chosen key itself, whose keys follow in the table
    longer = [each[: len(path)] for each in known if len(each) > len(path)]
    return any(each[-1] == ANY_KEY and fits(each, path) for each in longer)


@pytest.mark.parametrize("path", sorted([*(ROOT / "procedures").rglob("*.yaml"), *(ROOT / "results").rglob("*.yaml")]))
def test_every_key_of_the_demo_is_listed(path: Path) -> None:
    data = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)  # noqa: S506  # all scalars are text
    rows = _rows(data["kind"])
    free = {("sources", each) for each in data.get("sources", {})}
    assert {each for each in _keys_in(data) - free if not _is_listed(each, rows)} == set()


@pytest.mark.parametrize("kind", SCHEMAS)
def test_required_is_what_the_schema_requires(kind: str) -> None:
    rows = _rows(kind)
    top = {path for path, row in rows.items() if STEP not in path and row.required == "required"}
    assert top == set(SCHEMAS[kind]["required"])
    assert {row.required.partition(" ")[0] for row in rows.values()} <= {"required", "optional"}


def test_conditions_are_told() -> None:
    rig = _rows("rig")
    assert rig["indicator › division_deg"].required == "required where reads is angle"
    assert rig["indicator › division_J"].required == "required where reads is energy"
    assert rig["hammers › (id) › moment_Nm"].required == "required without base"
    assert rig["hammers › (id) › base"].required == "required with added_masses"
    (form,) = key_rows("method")[1]
    asked = {row.path: row.required for row in form.rows}
    assert asked["value"] == "required without at_least and at_most"
    assert asked["below"] == asked["above"] == "required with value"


def _leaves(schema: dict[str, Any]) -> list[Any]:
    """All examples in a schema."""
    if isinstance(schema, list):
        return [found for each in schema for found in _leaves(each)]
    if not isinstance(schema, dict):
        return []
    found = list(schema.get("examples", [])) if isinstance(schema.get("examples"), list) else []
    return found + [each for key, value in schema.items() if key != "examples" for each in _leaves(value)]


@pytest.mark.parametrize("kind", SCHEMAS)
def test_examples_are_read_as_they_are_meant(kind: str) -> None:
    for example in _leaves(SCHEMAS[kind]):
        data, flaws = parse_yaml(f"key: {on_one_line(example)}\n")
        assert flaws == []
        assert data == {"key": example}


_TEXTS = st.text(st.characters(blacklist_categories=["Cs", "Cc", "Zl", "Zp"]), min_size=1, max_size=12)
_VALUES = st.recursive(
    st.integers(-(10**6), 10**6) | st.booleans() | _TEXTS,
    lambda inner: st.lists(inner, min_size=1, max_size=3) | st.dictionaries(_TEXTS, inner, min_size=1, max_size=3),
    max_leaves=6,
)


@given(_VALUES)
def test_written_values_are_read_back(value: Any) -> None:
    """PyYAML's safe loader stands for YAML here; `on` and `off` are words of its YAML 1.1 and are quoted too."""
    assert yaml.safe_load(f"key: {on_one_line(value)}\n") == {"key": value}


def test_page_of_keys_has_a_row_for_every_key(handbook: Handbook) -> None:
    page = parse(finished(guide.keys_page(Facts(handbook)), handbook, listed=True, directory_urls=False).body)
    wanted = []
    for kind in SCHEMAS:
        rows, forms = key_rows(kind)
        wanted += [*rows, *(row for form in forms for row in form.rows)]
    heads = [each for each in page.all("th") if each.attributes.get("scope") == "row"]
    shown = [(each.one("code").text, each.one("span").text) for each in heads]
    assert sorted(shown) == sorted((row.path, row.required) for row in wanted)
    assert len(page.all("table")) == len(SCHEMAS) + sum(len(key_rows(kind)[1]) for kind in SCHEMAS)
    assert "results/tests/(id).yaml" in page.text


def test_page_of_values_shows_what_its_notation_gives(handbook: Handbook) -> None:
    page = guide.values_page(Facts(handbook))
    told = [row for _, rows in page.values["kinds"] for row in rows]
    assert [name for name, _, _ in told] == [name for names in quantities.names().values() for name in names]
    for _, notation, shown in told:
        # the demo has one of every kind of thing
        assert shown != "–", notation
        if shown != "a picture":
            assert Markup(rendered(Facts(handbook), notation)).striptags() == shown  # noqa: S704  # our own


def test_pages_of_an_empty_handbook(tmp_path: Path) -> None:
    (tmp_path / "procedures").mkdir()
    empty = open_handbook(tmp_path)
    page = parse(finished(guide.values_page(Facts(empty)), empty, listed=True, directory_urls=False).body)
    rows = [each.all("td") for each in page.all("tr") if each.all("td")]
    assert {shown.text for _, shown in rows} == {"–"}
    assert "[[hammer (id): velocity]]" in [written.text for written, _ in rows]
    keys = finished(guide.keys_page(Facts(empty)), empty, listed=True, directory_urls=False)
    assert "procedures/rigs/(id).yaml" in keys.body


def test_values_of_a_small_handbook(tmp_path: Path) -> None:
    small.write(tmp_path, small.files())
    page = guide.values_page(Facts(open_handbook(tmp_path)))
    told = {(kind, name): shown for kind, rows in page.values["kinds"] for name, _, shown in rows}
    assert told["verification", "date"] != "–"
