"""Two states of the small handbook: what is told of each kind of change, against the engine's own numbers."""

import copy

import pytest

import small_handbook as small
from notchbook.review.comparison import compare

OTHER = "results/tests/2026-10-07-g3-pp-h.yaml"


@pytest.fixture(scope="module")
def old(tmp_path_factory):
    return small.opened(tmp_path_factory.mktemp("old"))


@pytest.fixture
def reviewed(old, tmp_path):
    def review(change):
        contents = small.files()
        change(contents)
        new = small.opened(tmp_path, contents)
        return compare(old, new, "0123abc"), new

    return review


def told(edits):
    return [(each.path, each.what, each.old, each.new) for each in edits]


def mean(handbook, record_id=small.TEST_ID):
    return handbook.evaluation.records[record_id].sets[0].summary.mean


def test_the_same_files_change_nothing(reviewed):
    review, _ = reviewed(lambda _: None)
    assert not review.anything
    assert review.questions == []


def test_a_reading_changed_after_publication(old, reviewed):
    def change(contents):
        contents[small.TEST]["specimens"][2]["rise_angle_deg"] = 84.8

    review, new = reviewed(change)
    assert told(review.readings) == [(small.TEST, "specimens › 03 › rise_angle_deg", "85.8", "84.8")]
    # the specimens stand on the last line of the file
    lines = (new.root / small.TEST).read_text(encoding="utf-8").splitlines()
    assert "84.8" in lines[review.readings[0].line - 1]
    (move,) = review.moves
    assert (move.record, move.breaks) == (small.TEST_ID, ("C", "H"))
    assert move.old_kJ_m2 == mean(old)
    assert move.new_kJ_m2 == mean(new)
    of_set = old.evaluation.uncertainty(small.TEST_ID).of_set(old.evaluation.records[small.TEST_ID].sets[0])
    assert move.expanded_kJ_m2 == of_set.expanded
    assert move.in_uncertainties == pytest.approx(abs(mean(new) - mean(old)) / of_set.expanded, rel=1e-12)
    assert move.causes == ("its readings",)
    assert review.questions[0] == "1 raw reading changed after publication"


def test_a_bar_that_is_left_out_is_a_changed_reading(reviewed):
    def change(contents):
        contents[small.TEST]["specimens"][0]["excluded"] = "slipped"

    review, _ = reviewed(change)
    assert told(review.readings) == [(small.TEST, "specimens › 01 › excluded", None, "slipped")]


def test_a_verification_s_reading_moves_what_rests_on_it(reviewed):
    def change(contents):
        contents[small.VERIFICATION]["free_swings"]["first_rise_deg"] = 94.4

    review, _ = reviewed(change)
    assert told(review.readings) == [(small.VERIFICATION, "free_swings › first_rise_deg", "94.6", "94.4")]
    assert {each.causes for each in review.moves} == {("verification 2026-09-14-bench-1-charpy-1",)}


def test_another_verification_in_force_moves_results(reviewed):
    def change(contents):
        newer = copy.deepcopy(contents[small.VERIFICATION]) | {"date": "2026-10-01", "valid_until": "2027-10-01"}
        newer["free_swings"]["first_rise_deg"] = 94.4
        contents["results/verifications/2026-10-01-bench-1-charpy-1.yaml"] = newer

    review, _ = reviewed(change)
    assert review.added == [("verification", "2026-10-01-bench-1-charpy-1")]
    assert review.readings == []
    assert {each.causes for each in review.moves} == {
        ("another verification in force, 2026-10-01-bench-1-charpy-1",)
    }


def test_a_new_record_leaves_nothing_to_ask_about(reviewed):
    def change(contents):
        other = copy.deepcopy(contents[small.TEST]) | {"date": "2026-10-07", "group": "G3"}
        for specimen in other["specimens"]:
            specimen["width_mm"] += 0.01
            specimen["rise_angle_deg"] -= 0.2
        contents[OTHER] = other

    review, _ = reviewed(change)
    assert review.added == [("test", "2026-10-07-g3-pp-h")]
    assert review.questions == []
    assert review.moves == []


def test_a_record_that_is_gone(reviewed):
    review, _ = reviewed(lambda contents: contents.pop(small.TEST))
    assert review.removed == [("test", small.TEST_ID)]
    assert review.questions == ["1 published file removed"]


def test_a_record_under_another_name(reviewed):
    def change(contents):
        contents[OTHER] = contents.pop(small.TEST)

    review, _ = reviewed(change)
    assert [(each.old, each.new) for each in review.renamed] == [(small.TEST_ID, "2026-10-07-g3-pp-h")]
    assert review.removed == review.added == review.moves == []


def test_a_record_that_cannot_be_read_any_more(reviewed):
    def change(contents):
        contents[small.TEST]["specimens"] = "none"

    review, _ = reviewed(change)
    assert review.unreadable == [("test", small.TEST_ID)]
    assert review.removed == []
    assert review.new_findings
    assert review.questions


def test_what_was_tested_is_told_apart_from_readings(reviewed):
    def change(contents):
        contents[small.TEST]["group"] = "G4"

    review, _ = reviewed(change)
    assert told(review.identities) == [(small.TEST, "group", "G2", "G4")]
    assert review.readings == []


def test_notes_are_no_question(reviewed):
    def change(contents):
        contents[small.TEST]["notes"] = "Bars from the second bag."

    review, _ = reviewed(change)
    assert told(review.statements) == [(small.TEST, "notes", None, "Bars from the second bag.")]
    assert review.questions == []
    assert review.anything


def test_a_declared_deviation_is_a_question(reviewed):
    def change(contents):
        contents[small.TEST]["deviations"] = [{"rule": "conditioning", "reason": "in a hurry", "accepted_by": "LT-1"}]

    review, _ = reviewed(change)
    assert any("declared deviation" in each for each in review.questions)


def test_a_hammer_s_moment_moves_every_result_that_rests_on_it(old, reviewed):
    def change(contents):
        contents[small.RIG]["hammers"]["charpy-1"]["moment_Nm"] = 0.9107

    review, new = reviewed(change)
    (setup,) = review.setup
    assert (setup.kind, setup.id, setup.state) == ("rig", "bench-1", "changed")
    assert told(setup.edits) == [(small.RIG, "hammers › charpy-1 › moment_Nm", "0.9097", "0.9107")]
    assert setup.dependents == (small.TEST_ID,)
    assert [each.causes for each in review.moves] == [("rig bench-1",)] * len(review.moves)
    assert review.moves[0].moved_kJ_m2 == mean(new) - mean(old)


@pytest.mark.parametrize(
    ("hammer", "key", "dependents"),
    [("charpy-2", "nominal_energy_J", ()), ("charpy-1", "pendulum_mass_kg", (small.TEST_ID,))],
)
def test_results_of_another_hammer_do_not_rest_on_it(reviewed, hammer, key, dependents):
    def change(contents):
        contents[small.RIG]["hammers"][hammer][key] *= 1.001

    review, _ = reviewed(change)
    assert review.setup[0].dependents == dependents


def test_what_is_built_on_a_changed_hammer_rests_on_it(tmp_path):
    contents = small.files()
    contents[small.TEST]["hammer"] = "charpy-2"
    before = small.opened(tmp_path / "before", contents)
    contents[small.RIG]["hammers"]["charpy-1"]["moment_Nm"] = 0.9107
    after = small.opened(tmp_path / "after", contents)
    assert compare(before, after, "0123abc").setup[0].dependents == (small.TEST_ID,)


def test_a_title_is_no_question(reviewed):
    def change(contents):
        contents[small.RIG]["title"] = "Pendulum by the window"
        contents[small.EXERCISE]["aim"] = "Find a strength."
        contents[small.MATERIAL]["title"] = "PP homopolymer"

    review, _ = reviewed(change)
    assert [each.id for each in review.setup] == ["bench-1", "notched-charpy", "pp-h"]
    assert not any(each.dependents for each in review.setup)
    assert review.questions == []


def test_a_tolerance_of_a_method_and_every_result_by_it(old, tmp_path):
    contents = small.files()
    metals = small.own_method("loss_correction: plastics", "loss_correction: metals")
    contents["procedures/methods/iso-179-1.yaml"] = metals
    review = compare(old, small.opened(tmp_path, contents), "0123abc")
    (setup,) = review.setup
    assert (setup.kind, setup.id) == ("method", "iso-179-1")
    assert ("loss_correction", "plastics", "metals") in [(each.what, each.old, each.new) for each in setup.edits]
    assert setup.dependents == (small.TEST_ID,)
    assert review.moves[0].causes == ("method iso-179-1",)


def test_a_finding_on_another_line_is_not_new(tmp_path):
    contents = small.files()
    contents[small.TEST]["specimens"][0]["width_mm"] = 12.0
    before = small.opened(tmp_path / "before", contents)
    assert before.findings
    text = small.as_yaml(contents[small.TEST])
    contents[small.TEST] = f"# one line more\n{text}"
    review = compare(before, small.opened(tmp_path / "after", contents), "0123abc")
    assert not review.anything


def test_findings_that_came_and_went(tmp_path):
    contents = small.files()
    contents[small.TEST]["specimens"][0]["width_mm"] = 12.0
    wide = small.opened(tmp_path / "wide", contents)
    sound = small.opened(tmp_path / "sound")
    came, went = compare(sound, wide, "0123abc"), compare(wide, sound, "0123abc")
    assert {each.rule for each in came.new_findings} == {each.rule for each in went.gone_findings} != set()
    assert came.gone_findings == went.new_findings == []
