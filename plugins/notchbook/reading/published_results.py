"""Results that a handbook published, in the form of its `data/results.json`.

They are read back strictly, since anybody may have written them.
"""

import json
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, NoReturn

from notchbook.model.procedure import SpecimenChoice
from notchbook.wording.lines import one_line

LARGEST_BYTES = 16 << 20
"""Of such a file; a thousand records of ten bars take half of it."""
MOST_TESTS, MOST_BARS = 20_000, 1_000
_LARGEST_STRENGTH_KJ_M2 = 1e6
"""Nothing that is broken on a bench comes near."""
_LONGEST_TEXT = 200
_MOST_TROUBLES = 5
_AGAIN = "build the site, or print the results, with a newer version"
_TEXTS = ("exercise", "material", "method", "standard", "type", "notch", "direction")


class ResultsError(ValueError):
    """A file that holds no published results; a line for each trouble, the first few of them."""

    def __init__(self, troubles: list[str]) -> None:
        super().__init__("; ".join(troubles))
        self.troubles = troubles


@dataclass(frozen=True, slots=True)
class PublishedSet:
    """The bars of a test that broke in ways that share a mean."""

    breaks: tuple[str, ...]
    """Those that occur."""
    together: tuple[str, ...]
    """All that share the mean."""
    strengths: tuple[float, ...]
    """Of its bars, in kJ/m2."""


@dataclass(frozen=True, slots=True)
class PublishedTest:
    """One test record."""

    id: str
    conforms: bool
    exercise: str
    material: str
    batch: str | None
    method: str
    standard: str
    specimen: SpecimenChoice
    speed_m_s: float
    """Nominal velocity of the hammer."""
    sets: tuple[PublishedSet, ...]


def results_of_text(text: str) -> Any:
    """The data of a JSON text.

    Raises ResultsError where it is none, holds a number that is not finite, or is nested too deep.
    """

    def refused(word: str) -> NoReturn:
        raise ResultsError([f"'{word}' is no number of JSON; a value that cannot be had is null"])

    try:
        return json.loads(text, parse_constant=refused)
    except ResultsError:
        raise
    except RecursionError:
        raise ResultsError(["is nested too deep for results"]) from None
    except json.JSONDecodeError as error:
        told = f"is no JSON: {error.msg} at line {error.lineno}, column {error.colno}; name a file 'data/results.json'"
        raise ResultsError([told]) from None
    except ValueError:
        raise ResultsError(["holds a whole number of thousands of digits"]) from None


def published_tests(data: Any) -> list[PublishedTest]:
    """The tests in results, those without a strength left out.

    Raises ResultsError with what was expected where something is missing or of another kind.
    """
    tests = data.get("tests") if isinstance(data, dict) else None
    if not isinstance(tests, dict):
        raise ResultsError(["holds no published results: expected an object with 'tests', as in 'data/results.json'"])
    if len(tests) > MOST_TESTS:
        raise ResultsError([f"holds {len(tests):,} tests; at most {MOST_TESTS:,} are read"])
    found, troubles = [], []
    for test_id, test in tests.items():
        where = f"test '{_short(test_id)}'"
        try:
            made = _test(test_id, test)
        except ValueError as error:
            troubles.append(f"{where}: {error}")
            if len(troubles) == _MOST_TROUBLES:
                break
        else:
            if made is not None:
                found.append(made)
    if troubles:
        raise ResultsError(troubles)
    return found


def _test(test_id: str, test: Any) -> PublishedTest | None:
    if not isinstance(test, dict):
        raise ValueError(f"expected an object, got {_kind(test)}")
    missing = [each for each in (*_TEXTS, "batch", "velocity_m_s", "conforms", "sets", "specimens") if each not in test]
    if missing:
        raise ValueError(f"has no {', '.join(missing)}; {_AGAIN}")
    if not isinstance(test["conforms"], bool):
        raise ValueError(f"'conforms': expected true or false, got {_kind(test['conforms'])}")
    sets = tuple(_sets(test))
    if not sets or test["velocity_m_s"] is None:
        return None
    texts = {each: _text(test[each], each) for each in _TEXTS}
    batch = None if test["batch"] is None else _text(test["batch"], "batch")
    speed = _number(test["velocity_m_s"], "velocity_m_s", 1e3)
    return PublishedTest(
        test_id, test["conforms"], texts["exercise"], texts["material"], batch, texts["method"], texts["standard"],
        SpecimenChoice(texts["type"], texts["notch"], texts["direction"]), speed, sets,
    )  # fmt: skip


def _sets(test: Mapping[str, Any]) -> Iterator[PublishedSet]:
    bars = _objects(test["specimens"], "specimens")
    for each in _objects(test["sets"], "sets"):
        if "averaged_together" not in each:
            raise ValueError(f"a set has no averaged_together; {_AGAIN}")
        breaks = _letters(each.get("breaks"), "breaks")
        together = _letters(each["averaged_together"], "averaged_together")
        strengths = tuple(
            _number(bar.get("strength_kJ_m2"), "strength_kJ_m2", _LARGEST_STRENGTH_KJ_M2)
            for bar in bars
            if bar.get("excluded") is None and bar.get("break") in breaks and bar.get("strength_kJ_m2") is not None
        )
        if strengths:
            yield PublishedSet(breaks, together, strengths)


def _objects(value: Any, key: str) -> list[dict[str, Any]]:
    if not isinstance(value, list) or not all(isinstance(each, dict) for each in value):
        raise ValueError(f"'{key}': expected a list of objects, got {_kind(value)}")
    if len(value) > MOST_BARS:
        raise ValueError(f"'{key}': has {len(value):,} entries; at most {MOST_BARS:,} are read")
    return value


def _letters(value: Any, key: str) -> tuple[str, ...]:
    if not isinstance(value, list) or not 0 < len(value) <= MOST_BARS:
        raise ValueError(f"'{key}': expected a list of break types, got {_kind(value)}")
    return tuple(_text(each, key) for each in value)


def _text(value: Any, key: str) -> str:
    if not isinstance(value, str) or len(value) > _LONGEST_TEXT:
        raise ValueError(f"'{key}': expected a text of at most {_LONGEST_TEXT} characters, got {_kind(value)}")
    return value


def _number(value: Any, key: str, largest: float) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise ValueError(f"'{key}': expected a number, got {_kind(value)}")
    if not abs(value) <= largest or not math.isfinite(value):
        raise ValueError(f"'{key}': expected a number of magnitude {largest:g} at most")
    return float(value)


def _kind(value: Any) -> str:
    """What a value is in words, with its start where it is a short one."""
    if value is None:
        return "null"
    if isinstance(value, str):
        return f"the text '{_short(value)}'"
    if isinstance(value, bool | int | float):
        return _short(json.dumps(value)) if not isinstance(value, int) or abs(value) < 1 << 64 else "a long number"
    return "a list" if isinstance(value, list) else "an object"


def _short(text: str) -> str:
    shown = one_line(text)
    return shown if len(shown) <= 40 else f"{shown[:40]}…"
