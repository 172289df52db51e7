"""The model: frozen values that know no file, with the unit in the name of every number."""

import dataclasses
import datetime as dt
import importlib
import pkgutil
import re

import pytest

import notchbook.model
from notchbook.model.verification import FreeSwings, Measured, Verification
from small_handbook import package_method

MODULES = [
    importlib.import_module(f"notchbook.model.{each.name}") for each in pkgutil.iter_modules(notchbook.model.__path__)
]
CLASSES = [
    each
    for module in MODULES
    for each in vars(module).values()
    if isinstance(each, type) and dataclasses.is_dataclass(each) and each.__module__ == module.__name__
]
UNITS = r"_(mm|m|deg|J|Nm|N|kg|s|h|C|pct|m_s|m_s2|kJ_m2|kg_m3|min)\Z"
# Numbers without a unit, and those whose unit stands where they are used.
UNITLESS = {
    "half_swings", "swings", "number", "fewer", "number_of_specimens", "significant_figures", "value", "below", "above",
    "hours",
}  # fmt: skip


@pytest.mark.parametrize(
    "kind", [each for each in CLASSES if each.__name__ != "Library"], ids=lambda kind: kind.__name__
)
def test_a_value_cannot_be_changed(kind):
    assert kind.__dataclass_params__.frozen
    assert "__slots__" in vars(kind)


@pytest.mark.parametrize("kind", CLASSES, ids=lambda kind: kind.__name__)
def test_a_number_has_its_unit_in_its_name(kind):
    for field in dataclasses.fields(kind):
        if re.match(r"(float|int)\b", str(field.type)):
            assert re.search(UNITS, field.name) or field.name in UNITLESS, field.name


@pytest.fixture(scope="module")
def method():
    return package_method()


def test_parts_of_a_method_are_found_by_name(method):
    bar = method.specimen_type("1")
    assert bar.arrangement("edgewise", "A").designation == "ISO 179-1/1eA"
    assert method.notch("A").id == "A"
    assert method.breaks.of_letter("H").title == "hinge"
    assert method.pendulums.of_energy(1.0).nominal_energy_J == 1.0
    assert method.pendulums.of_energy(1.0 + 1e-12) is not None


def test_what_a_method_has_not_is_none(method):
    assert method.specimen_type("9") is None
    assert method.notch("none") is None
    assert method.specimen_type("1").arrangement("flatwise", "A") is None
    assert method.breaks.of_letter("X") is None
    assert method.pendulums.of_energy(3.0) is None


@pytest.mark.parametrize(("letter", "group"), [("C", ("C", "H")), ("H", ("C", "H")), ("P", ("P",)), ("N", ("N",))])
def test_letters_that_share_a_mean(method, letter, group):
    assert method.breaks.group_of(letter) == group


@pytest.mark.parametrize(
    ("day", "covered"),
    [("2026-09-14", True), ("2027-09-14", True), ("2026-09-13", False), ("2027-09-15", False)],
)
def test_a_verification_holds_from_its_first_day_to_its_last(day, covered):
    first, last = dt.date(2026, 9, 14), dt.date(2027, 9, 14)
    verification = Verification("v", first, "r", "h", "LT-2", last, None, None, Measured(), FreeSwings(), (), None)
    assert verification.holds_on(dt.date.fromisoformat(day)) is covered
