"""A method that says what differs from another one is a whole one, and says of each number whose it is."""

from pathlib import Path

import pytest

import small_handbook as small
from notchbook.findings import Finding
from notchbook.handbook import Handbook
from notchbook.model.method import Method

OWN = "procedures/methods/house-charpy.yaml"
_ENTRY = "{{what: {}, reason: The class has one hammer., set_by: LT-1}}"


def _opened(tmp_path: Path, text: str, *what: str) -> Handbook:
    entries = ", ".join(_ENTRY.format(each) for each in what)
    own = f"kind: method\nbased_on: iso-179-1\nstandard: House rule 3\n{text}\ndifferences: [{entries}]\n"
    return small.opened(tmp_path, {**small.files(), OWN: own})


def _told(handbook: Handbook) -> list[Finding]:
    return [each for each in handbook.findings if each.path == OWN]


def _method(tmp_path: Path, text: str, *what: str) -> Method:
    handbook = _opened(tmp_path, text, *what)
    assert _told(handbook) == []
    return handbook.library.methods["house-charpy"]


def test_what_is_not_said_is_the_bases(tmp_path: Path) -> None:
    method, base = _method(tmp_path, "energy_window: {high_pct: 85}", "energy_window.high_pct"), small.package_method()
    assert (method.energy_window.low_pct, method.energy_window.high_pct) == (10.0, 85.0)
    assert method.based_on == "iso-179-1"
    assert [each.value for each in _lengths(method)] == [each.value for each in _lengths(base)]
    assert [each.letter for each in method.breaks.types] == [each.letter for each in base.breaks.types]
    assert method.pendulums.classes[0].loss_pct == base.pendulums.classes[0].loss_pct
    (told,) = method.differences
    assert (told.what, told.there, told.here, told.set_by) == ("energy_window.high_pct", "80", "85", "LT-1")


def _lengths(method: Method) -> list[object]:
    return [each.length_mm for each in method.specimen_types]


def test_number_says_whose_it_is(tmp_path: Path) -> None:
    method = _method(tmp_path, "energy_window: {high_pct: 85}", "energy_window")
    assert method.energy_window.origin.confidence == "department"
    assert method.energy_window.origin.clause == "in place of ISO 179-1, 7.3"
    # taken over: the clause says of which standard it is, and stays as sure as it was
    assert method.specimen_number.origin.clause == "ISO 179-1, 6.4"
    assert method.specimen_number.origin.confidence == "memory"
    stated = _method(
        tmp_path,
        "energy_window: {high_pct: 85, clause: House rule 3.1, source: house, confidence: department}\n"
        "sources: {house: Our own rules.}",
        "energy_window.high_pct",
    )
    assert stated.energy_window.origin.clause == "House rule 3.1"
    assert stated.energy_window.origin.certainty is None
    assert {"house", "memory"} <= stated.sources.keys()


def test_results_carry_the_name_of_the_method_itself(tmp_path: Path) -> None:
    method = _method(tmp_path, "")
    designations = {each.designation for kind in method.specimen_types for each in kind.arrangements}
    assert {"House rule 3/1eA", "House rule 3/1eU"} <= designations
    assert not any("ISO" in each for each in designations)


@pytest.mark.parametrize("name", ["", "standard: ISO 179-1\n"])
def test_name_of_the_base_is_not_that_of_the_method(tmp_path: Path, name: str) -> None:
    entry = _ENTRY.format("largest_hammer")
    own = f"kind: method\nbased_on: iso-179-1\n{name}largest_hammer: false\ndifferences: [{entry}]\n"
    method = small.opened(tmp_path, {**small.files(), OWN: own}).library.methods["house-charpy"]
    assert method.standard == "ISO 179-1 with differences (house-charpy)"
    assert not method.takes_largest


def test_requirement_of_another_form_takes_the_place_of_the_bases(tmp_path: Path) -> None:
    method = _method(tmp_path, "conditioning: {hours: {value: 20, below: 1, above: 2}}", "conditioning.hours")
    assert method.conditioning.hours is not None
    assert method.conditioning.hours.text("h") == "20 (+2/−1) h"
    assert method.differences[0].there == "at_least 16"


def test_part_that_is_new_must_be_whole_and_is_told_at_its_line(tmp_path: Path) -> None:
    handbook = _opened(tmp_path, "notches:\n  D:\n    angle_deg: {value: 60, below: 1, above: 1}", "notches.D")
    told = [(each.rule, each.line) for each in _told(handbook)]
    assert ("key-missing", 5) in told
    assert all(line in (5, 6) for _, line in told)


def test_key_that_no_method_has_is_told_at_its_line(tmp_path: Path) -> None:
    (found,) = _told(_opened(tmp_path, "energy_window: {highest_pct: 85}", "energy_window"))
    assert (found.rule, found.path, found.line) == ("key-unknown", OWN, 4)


def test_names_of_people_do_not_stand_in_differences(tmp_path: Path) -> None:
    own = "kind: method\nbased_on: iso-179-1\nlargest_hammer: false\n" + (
        "differences: [{what: largest_hammer, reason: There is one., set_by: someone}]\n"
    )
    handbook = small.opened(tmp_path, {**small.files(), OWN: own})
    assert [each.rule for each in _told(handbook)] == ["people-codes"]
