"""Two states of the small handbook: what is told of each kind of change, against the engine's own numbers."""

import copy

import pytest

import small_handbook as small
from notchbook.review.changes import Review
from notchbook.review.comparison import compare
from notchbook.review.published import lists_for
from notchbook.review.words import headline, questions

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


def test_free_swings_of_a_group_are_compared_as_other_published_files_are(reviewed, tmp_path):
    contents = small.files() | {small.SWINGS: small.swings()}
    old = small.opened(tmp_path / "before", contents)
    series = {"half_swings_between": 2, "rises_deg": [95, 93]}
    contents[small.SWINGS] = small.swings() | {"group": "G3", "series": series}
    review = compare(old, small.opened(tmp_path / "after", contents), "0123abc")
    assert [each[:2] for each in told(review.readings)] == [
        (small.SWINGS, "series › rises_deg › 2"), (small.SWINGS, "series › rises_deg › 3"),
    ]  # fmt: skip
    assert told(review.identities) == [(small.SWINGS, "group", "G2", "G3")]
    review, _ = reviewed(lambda contents: contents.update({small.SWINGS: small.swings()}))
    assert review.added == [("swings", small.SWINGS_ID)]


def test_the_same_files_change_nothing(reviewed):
    review, _ = reviewed(lambda _: None)
    assert headline(review).endswith(": nothing changed.")
    assert questions(review) == []


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
    assert questions(review)[0] == "1 raw reading changed after publication"


def test_a_bar_that_is_left_out_is_a_changed_reading(reviewed):
    def change(contents):
        contents[small.TEST]["specimens"][0]["excluded"] = "slipped"

    review, _ = reviewed(change)
    assert told(review.readings) == [(small.TEST, "specimens › 01 › excluded", None, "slipped")]
    assert review.moves
    assert questions(review)[0] == "1 raw reading changed after publication"


def test_a_bar_that_is_gone_and_one_that_is_new(reviewed):
    def change(contents):
        bars = contents[small.TEST]["specimens"]
        bars.append({**bars.pop(3), "id": "11"})

    review, _ = reviewed(change)
    assert [(each.what, each.state) for each in review.readings] == [
        ("specimens › 11", "added"),
        ("specimens › 04", "removed"),
    ]
    assert "rise_angle_deg: 86.0" in review.readings[1].old


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
    assert {each.causes for each in review.moves} == {("another verification in force, 2026-10-01-bench-1-charpy-1",)}


def test_a_new_record_leaves_nothing_to_ask_about(reviewed):
    def change(contents):
        other = copy.deepcopy(contents[small.TEST]) | {"date": "2026-10-07", "group": "G3"}
        widths = [10.02, 9.97, 10.0, 9.98, 10.03, 10.01, 9.96, 10.0, 9.99, 10.01]
        rises = [86.0, 85.4, 86.8, 86.2, 85.6, 87.0, 86.4, 85.8, 80.6, 86.2]
        for specimen, width, rise in zip(other["specimens"], widths, rises, strict=True):
            specimen |= {"width_mm": width, "rise_angle_deg": rise}
        contents[OTHER] = other

    review, _ = reviewed(change)
    assert review.added == [("test", "2026-10-07-g3-pp-h")]
    assert questions(review) == []
    assert review.moves == []


def test_a_record_that_is_gone(reviewed):
    review, _ = reviewed(lambda contents: contents.pop(small.TEST))
    assert review.removed == [("test", small.TEST_ID)]
    assert questions(review) == ["1 published file removed"]


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
    assert questions(review)


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
    assert questions(review) == []
    assert "words changed only" in headline(review)


def test_a_declared_deviation_is_a_question(reviewed):
    def change(contents):
        contents[small.TEST]["deviations"] = [{"rule": "conditioning", "reason": "in a hurry", "accepted_by": "LT-1"}]

    review, _ = reviewed(change)
    assert questions(review)[0] == "1 declared deviation or acknowledged warning changed"
    assert (
        told(review.declarations)
        == told(review.statements)
        == [(small.TEST, "deviations › 1", None, "rule: conditioning; reason: in a hurry; accepted_by: LT-1")]
    )


def test_a_reason_that_was_changed_is_a_question(tmp_path):
    contents = small.files()
    contents[small.TEST]["deviations"] = [
        {"rule": "support-span", "reason": "The older supports were fitted.", "accepted_by": "LT-1"},
        {"rule": "conditioning", "reason": "in a hurry", "accepted_by": "LT-1"},
    ]
    before = small.opened(tmp_path / "before", contents)
    del contents[small.TEST]["deviations"][0]
    contents[small.TEST]["deviations"][0]["reason"] = "The freezer had failed."
    review = compare(before, small.opened(tmp_path / "after", contents), "0123abc")
    assert [(each.what, each.state) for each in review.declarations] == [
        ("deviations › 1 › reason", "changed"),
        ("deviations › 1", "removed"),
    ]


def test_an_acknowledged_warning_is_asked_about_like_a_deviation():
    review = Review("0123abc")
    assert lists_for(review, "test", "acknowledged") == lists_for(review, "test", "deviations")
    assert any(each is review.declarations for each in lists_for(review, "test", "acknowledged"))
    assert all(each is not review.declarations for each in lists_for(review, "test", "notes"))


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


@pytest.mark.parametrize(
    ("path", "key", "value", "kind"),
    [
        (small.MATERIAL, "title", "Polyamide 6", "material pp-h"),
        (small.MATERIAL, "symbol", "PA 6", "material pp-h"),
        (small.MATERIAL, "form", "Bars cut from sheet", "material pp-h"),
        (
            small.MATERIAL,
            "typical",
            [{"method": "iso-179-1", "notch": "A", "strength_kJ_m2": [2, 6], "source": "notes"}],
            "material pp-h",
        ),
        (small.RIG, "title", "Pendulum by the window", "rig bench-1"),
        (small.EXERCISE, "title", "Bars without a notch", "exercise notched-charpy"),
    ],
)
def test_words_over_a_published_result_are_asked_about(reviewed, path, key, value, kind):
    def change(contents):
        contents[path][key] = value

    review, _ = reviewed(change)
    (setup,) = review.setup
    assert f"{setup.kind} {setup.id}" == kind
    assert setup.shown_over == (small.TEST_ID,)
    assert setup.dependents == ()
    assert questions(review) == ["1 part of the setup changed under published results"]


def test_the_title_of_a_hammer_and_of_a_method_stand_over_results(tmp_path):
    contents = small.files()
    contents["procedures/methods/iso-179-1.yaml"] = small.own_method("kind: method", "kind: method")
    before = small.opened(tmp_path / "before", contents)
    title = next(line for line in small.own_method("kind: method", "kind: method").splitlines() if "title:" in line)
    contents["procedures/methods/iso-179-1.yaml"] = small.own_method("kind: method", "kind: method").replace(
        title, "title: Another name", 1
    )
    contents[small.RIG]["hammers"]["charpy-1"]["title"] = "The large one"
    review = compare(before, small.opened(tmp_path / "after", contents), "0123abc")
    assert [(each.kind, each.shown_over, each.dependents) for each in review.setup] == [
        ("rig", (small.TEST_ID,), ()),
        ("method", (small.TEST_ID,), ()),
    ]


def test_the_strength_that_is_typical_of_a_material(tmp_path):
    contents = small.files()
    typical = {"method": "iso-179-1", "notch": "A", "strength_kJ_m2": [2.5, 6.0], "source": "notes"}
    contents[small.MATERIAL]["typical"] = [typical]
    before = small.opened(tmp_path / "before", contents)
    typical["strength_kJ_m2"] = [2.5, 60.0]
    review = compare(before, small.opened(tmp_path / "after", contents), "0123abc")
    assert told(review.setup[0].edits) == [(small.MATERIAL, "typical › 1 › strength_kJ_m2 › 2", "6.0", "60.0")]
    assert questions(review)


def test_words_that_stand_over_no_result_are_no_question(reviewed):
    def change(contents):
        contents[small.RIG]["location"] = "By the window"
        contents[small.EXERCISE]["aim"] = "Find a strength."
        contents["procedures/materials/pa-6.yaml"] = {"kind": "material", "title": "Polyamide 6", "symbol": "PA 6"}

    review, _ = reviewed(change)
    assert [each.id for each in review.setup] == ["notched-charpy", "bench-1", "pa-6"]
    assert questions(review) == []


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
    assert headline(review).endswith(": nothing changed.")


def test_findings_that_came_and_went(tmp_path):
    contents = small.files()
    contents[small.TEST]["specimens"][0]["width_mm"] = 12.0
    wide = small.opened(tmp_path / "wide", contents)
    sound = small.opened(tmp_path / "sound")
    came, went = compare(sound, wide, "0123abc"), compare(wide, sound, "0123abc")
    assert {each.rule for each in came.new_findings} == {each.rule for each in went.gone_findings} != set()
    assert came.gone_findings == went.new_findings == []
