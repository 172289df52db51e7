"""A handbook that is read again: what is unchanged is not composed again, and everything is as if it were read anew."""

import pytest

from notchbook.handbook import open_handbook
from notchbook.reading import folder
from notchbook.unchanged import Unchanged
from small_handbook import DAY, EXERCISE, FILES, MATERIAL, RIG, TEST, VERIFICATION, as_yaml, files, own_method, write

METHOD = "procedures/methods/iso-179-1.yaml"


@pytest.fixture
def composed(monkeypatch):
    """The texts that are composed while a test runs."""
    found = []
    parse = folder.parse

    def counted(text):
        found.append(text)
        return parse(text)

    monkeypatch.setattr(folder, "parse", counted)
    return found


def again(root, unchanged):
    """The handbook read with what is held of earlier readings, which is that read anew."""
    handbook, anew = open_handbook(root, day=DAY, unchanged=unchanged), open_handbook(root, day=DAY)
    assert (handbook.findings, handbook.files) == (anew.findings, anew.files)
    assert (handbook.library, handbook.documents) == (anew.library, anew.documents)
    assert (handbook.evaluation.hammers, handbook.evaluation.records) == (
        anew.evaluation.hammers,
        anew.evaluation.records,
    )
    assert handbook.verdicts == anew.verdicts
    return handbook


def changed(path, old, new):
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def test_nothing_is_composed_twice(tmp_path, composed):
    root, unchanged = write(tmp_path, files()), Unchanged()
    open_handbook(root, day=DAY, unchanged=unchanged)
    composed.clear()
    open_handbook(root, day=DAY, unchanged=unchanged)
    assert composed == []


@pytest.mark.parametrize("path", [EXERCISE, MATERIAL, RIG, TEST, VERIFICATION])
def test_only_a_changed_file_is_composed_again(tmp_path, composed, path):
    root, unchanged = write(tmp_path, files()), Unchanged()
    open_handbook(root, day=DAY, unchanged=unchanged)
    composed.clear()
    text = as_yaml(FILES[path]) + "# looked at again\n"
    (root / path).write_text(text, encoding="utf-8")
    handbook = open_handbook(root, day=DAY, unchanged=unchanged)
    assert composed == [text]
    assert handbook.documents[FILES[path]["kind"], (root / path).stem].text == text


def test_a_changed_rig_changes_the_results_that_rest_on_it(tmp_path):
    root, unchanged = write(tmp_path, files()), Unchanged()
    before = again(root, unchanged)
    hammer = next(iter(FILES[RIG]["hammers"].values()))
    moment = str(hammer["moment_Nm"])
    changed(root / RIG, moment, str(1.01 * hammer["moment_Nm"]))
    after = again(root, unchanged)
    assert before.evaluation.records != after.evaluation.records


def test_a_method_of_the_department_takes_the_place_of_the_packages_and_gives_it_back(tmp_path):
    root, unchanged = write(tmp_path, files()), Unchanged()
    before = again(root, unchanged)
    write(root, {METHOD: own_method("significant_figures: 2", "significant_figures: 4")})
    changed_results = again(root, unchanged).evaluation.records
    assert changed_results != before.evaluation.records
    (root / METHOD).unlink()
    assert again(root, unchanged).evaluation.records == before.evaluation.records


def test_files_that_break_go_and_come_back(tmp_path):
    root, unchanged = write(tmp_path, files()), Unchanged()
    before = again(root, unchanged)
    text = (root / VERIFICATION).read_text("utf-8")
    for broken in ("kind: [", text.replace('"rig"', '"rigg"'), text.replace("2026-", "2026-02-30 ")):
        (root / VERIFICATION).write_text(broken, encoding="utf-8")
        for _ in range(2):  # what was found wrong with an unchanged file is found again
            assert again(root, unchanged).findings != before.findings
    (root / VERIFICATION).unlink()
    assert again(root, unchanged).findings != before.findings
    (root / VERIFICATION).write_text(text, encoding="utf-8")
    assert again(root, unchanged).findings == before.findings


def test_the_same_text_in_another_place_is_another_file(tmp_path):
    root, unchanged = write(tmp_path, files()), Unchanged()
    again(root, unchanged)
    (root / MATERIAL).rename(root / "procedures/exercises" / (root / MATERIAL).name)
    assert "file-place" in {each.rule for each in again(root, unchanged).findings}


def test_what_is_not_asked_for_is_let_go(tmp_path, composed):
    root, unchanged = write(tmp_path, files()), Unchanged()
    text = (root / TEST).read_text("utf-8")
    open_handbook(root, day=DAY, unchanged=unchanged)
    (root / TEST).unlink()
    open_handbook(root, day=DAY, unchanged=unchanged)
    open_handbook(root, day=DAY, unchanged=unchanged)
    composed.clear()
    (root / TEST).write_text(text, encoding="utf-8")
    open_handbook(root, day=DAY, unchanged=unchanged)
    assert composed == [text]
