"""What can hurt is asked about before anything else, each entry as what it is: lost, new, moved or edited."""

import copy

import pytest

import small_handbook as small
from notchbook.review.comparison import compare
from notchbook.review.forms import FORMS
from notchbook.review.sections import sections
from notchbook.review.words import questions

HAZARDS = "procedures/hazards.yaml"
SCREEN = "A screen encloses the whole swing, and its door is interlocked with the latch."
PIN = "A lock pin holds the latch until the screen is closed."
REACH = "Nobody reaches in while the pendulum is up without its lock."
BLOCKED = "The pendulum is blocked or locked before a hand goes between it and the frame."
RAISED = "The pendulum is raised and unlocked before a hand goes between it and the frame."
STEPS = [
    {"do": "Raise the pendulum by its handle until it latches.", "hazard": "swinging-pendulum"},
    {"do": "Put in the lock pin.", "look_for": "The pin is home.", "hazard": "swinging-pendulum"},
    {"do": "Place the bar with tongs.", "hazard": "pinch-and-strike"},
    {"do": "Close the screen, take out the pin, look round, and release.", "hazard": "flying-fragments"},
]


def laboratory():
    contents = small.files()
    first = contents[HAZARDS]["hazards"][0]
    first["controls"] = {"guard": [SCREEN, PIN], "arrange": [REACH, BLOCKED], "wear": ["Closed shoes."]}
    exercise = contents[small.EXERCISE]
    exercise["steps"] = copy.deepcopy(STEPS)
    exercise["needs"] = ["Ten notched bars", "Safety spectacles for everybody", "Tongs"]
    return contents


@pytest.fixture(scope="module")
def old(tmp_path_factory):
    return small.opened(tmp_path_factory.mktemp("old"), laboratory())


@pytest.fixture
def reviewed(old, tmp_path):
    def review(change):
        contents = laboratory()
        change(contents)
        return compare(old, small.opened(tmp_path, contents), "0123abc")

    return review


def controls(contents):
    return contents[HAZARDS]["hazards"][0]["controls"]


def steps(contents):
    return contents[small.EXERCISE]["steps"]


def told(review):
    return [(each.what, each.state, each.old, each.new) for each in review.safety]


def asked_first(review):
    assert questions(review)[0].endswith(("matter of safety changed", "matters of safety changed"))
    assert sections(review)[0].title == "What can hurt, changed"
    for form in ("text", "markdown"):
        shown = FORMS[form](review)
        assert shown.index("What can hurt, changed") < min(
            (shown.index(each.title) for each in sections(review)[1:]), default=len(shown)
        )
    return True


def _lost(step):
    return "; ".join(f"{key}: {value}" for key, value in step.items()), None


GUARD, ARRANGE = (f"hazards › swinging-pendulum › controls › {each}" for each in ("guard", "arrange"))


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        (lambda c: controls(c)["guard"].remove(SCREEN), [(f"{GUARD} › 1", "removed", SCREEN, None)]),
        (lambda c: controls(c)["guard"].remove(PIN), [(f"{GUARD} › 2", "removed", PIN, None)]),
        (lambda c: controls(c)["arrange"].remove(REACH), [(f"{ARRANGE} › 1", "removed", REACH, None)]),
        (
            lambda c: controls(c)["arrange"].__setitem__(1, RAISED),
            [
                (
                    f"{ARRANGE} › 2",
                    "changed",
                    BLOCKED,
                    RAISED,
                )
            ],
        ),
        (lambda c: controls(c)["guard"].insert(0, "A curtain."), [(f"{GUARD} › 1", "added", None, "A curtain.")]),
        (
            lambda c: c[HAZARDS]["hazards"][1].update(harm="nothing"),
            [("hazards › pinch-and-strike › harm", "changed", "a blow", "nothing")],
        ),
        (lambda c: steps(c).pop(1), [("steps › 2", "removed", *_lost(STEPS[1]))]),
        (
            lambda c: steps(c).insert(3, steps(c).pop(1)),
            [("steps › 4", "moved", f"2. {_lost(STEPS[1])[0]}", f"4. {_lost(STEPS[1])[0]}")],
        ),
        (lambda c: steps(c)[0].pop("hazard"), [("steps › 1 › hazard", "removed", "swinging-pendulum", None)]),
        (lambda c: steps(c)[1].pop("look_for"), [("steps › 2 › look_for", "removed", "The pin is home.", None)]),
        (
            lambda c: c[small.EXERCISE]["finish"].append({"do": "Block the pendulum."}),
            [("finish › 2", "added", None, "do: Block the pendulum.")],
        ),
        (
            lambda c: c[small.EXERCISE]["prepare"][0].update(do="Measure no bars."),
            [("prepare › 1 › do", "changed", "Measure the bars.", "Measure no bars.")],
        ),
        (
            lambda c: c[small.EXERCISE]["needs"].pop(1),
            [("needs › 2", "removed", "Safety spectacles for everybody", None)],
        ),
        (
            lambda c: c[small.EXERCISE].update(hazards=["swinging-pendulum", "pinch-and-strike"]),
            [("hazards › 3", "removed", "flying-fragments", None)],
        ),
        (
            lambda c: c[small.RIG]["hammers"]["charpy-2"].update(nominal_energy_J=4.0),
            [("hammers › charpy-2 › nominal_energy_J", "changed", "2.0", "4.0")],
        ),
    ],
)
def test_a_change_that_can_hurt_is_asked_about_first(reviewed, change, expected):
    review = reviewed(change)
    assert told(review) == expected
    assert asked_first(review)


def test_it_comes_before_a_changed_reading(reviewed):
    def change(contents):
        controls(contents)["guard"].remove(SCREEN)
        contents[small.TEST]["specimens"][2]["rise_angle_deg"] = 84.8

    review = reviewed(change)
    assert asked_first(review)
    assert "raw reading" in questions(review)[1]


def test_a_lost_hazard_is_one_thing_with_its_place(old, reviewed):
    review = reviewed(lambda contents: contents[HAZARDS]["hazards"].pop(0))
    (lost,) = review.safety
    assert (lost.what, lost.state, lost.new) == ("hazards › swinging-pendulum", "removed", None)
    assert SCREEN in lost.old
    text = (old.root / HAZARDS).read_text("utf-8").splitlines()
    assert "swinging-pendulum" in text[lost.line - 1]


@pytest.mark.parametrize("path", [small.EXERCISE, small.RIG, HAZARDS])
def test_a_whole_file_that_is_gone(reviewed, path):
    review = reviewed(lambda contents: contents.pop(path))
    assert [(each.path, each.state) for each in review.safety] == [(path, "removed")]
    assert asked_first(review)


@pytest.mark.parametrize("path", [small.EXERCISE, small.RIG])
def test_a_whole_file_that_is_new(reviewed, path):
    other = path.replace(".yaml", "-new.yaml")
    review = reviewed(lambda contents: contents.update({other: contents[path]}))
    assert [(each.path, each.state, each.old) for each in review.safety] == [(other, "added", None)]
    assert asked_first(review)


def test_a_list_of_hazards_that_cannot_be_read_now(reviewed):
    review = reviewed(lambda contents: contents.update({HAZARDS: "kind: hazards\nhazards: none\n"}))
    assert [(each.path, each.state) for each in review.safety] == [(HAZARDS, "unreadable")]
    assert [(each.kind, each.state) for each in review.setup] == [("hazards", "unreadable")]


def test_what_could_not_be_read_before_is_not_compared(tmp_path):
    contents = laboratory()
    contents[HAZARDS] = "kind: hazards\nhazards: none\n"
    contents[small.TEST]["specimens"] = "none"
    before = small.opened(tmp_path / "before", contents)
    review = compare(before, small.opened(tmp_path / "after", laboratory()), "0123abc")
    assert review.added == []
    assert len(review.not_compared) == 2
    assert "2 things could not be compared" in questions(review)


def test_the_order_of_controls_and_hazards_says_nothing(reviewed):
    def change(contents):
        controls(contents)["guard"].reverse()
        contents[HAZARDS]["hazards"].reverse()
        contents[small.EXERCISE]["hazards"].reverse()

    assert reviewed(change).safety == []


def test_a_rig_that_nothing_rests_on_is_asked_about_too(tmp_path):
    contents = laboratory()
    contents["procedures/rigs/bench-2.yaml"] = copy.deepcopy(contents[small.RIG])
    before = small.opened(tmp_path / "before", contents)
    contents["procedures/rigs/bench-2.yaml"]["striking_length_mm"] = 391.0
    review = compare(before, small.opened(tmp_path / "after", contents), "0123abc")
    assert review.setup[0].dependents == ()
    assert questions(review) == ["1 part of the setup changed"]
    contents["procedures/rigs/bench-2.yaml"]["location"] = "cellar"
    contents["procedures/rigs/bench-2.yaml"]["striking_length_mm"] = 390.0
    assert questions(compare(before, small.opened(tmp_path / "words", contents), "0123abc")) == []
