"""Over many simulated answers: what is right is never called wrong, a slip is named, and chance is seldom one.

How often is in the guide (`plugins/notchbook/guide/answers.md`), over ten times as many answers.
"""

import math
import random

from notchbook.answers.bars import Bars
from notchbook.answers.candidates import Asked, candidates, right_values
from notchbook.answers.digits import given
from notchbook.answers.judging import Answer, judge

_SOME = 1500
_FIGURES = 3


def _written(value: float, figures: int) -> str:
    """A value as somebody writes it, with so many significant figures."""
    if value == 0.0:
        return "0"
    decimals = figures - 1 - math.floor(math.log10(abs(float(f"{value:.{figures - 1}e}"))))
    return f"{value:.{decimals}f}" if decimals >= 0 else f"{round(value, decimals):.0f}"


def _answer(asked: Asked, text: str) -> Answer:
    found = given(text)
    assert found is not None
    return Answer(asked, found)


def test_right_answers_are_never_called_wrong(questions: list[tuple[Bars, Asked]]) -> None:
    seen = 0
    for bars, asked in questions:
        for right in right_values(bars, asked):
            for figures in (2, 3, 4, 6):
                text = _written(right, figures)
                if "." not in text and text.endswith("0"):
                    continue  # which of its digits were meant cannot be seen
                assert judge(bars, [_answer(asked, text)])[0].kind == "agrees", (asked, text)
                seen += 1
    assert seen > 3000


def test_a_slip_is_named_and_mostly_alone(questions: list[tuple[Bars, Asked]]) -> None:
    chosen = random.Random(5)  # noqa: S311
    tried = named = alone = 0
    while tried < _SOME:
        bars, asked = chosen.choice(questions)
        known = candidates(bars, asked)
        slip = chosen.choice(sorted({each for each, _ in known}))
        value = chosen.choice([value for each, value in known if each == slip])
        (verdict,) = judge(bars, [_answer(asked, _written(value, _FIGURES))])
        if verdict.kind == "agrees":
            continue  # it makes no difference in three figures
        tried += 1
        named += slip in verdict.slips
        alone += verdict.slips == (slip,)
    assert named / tried >= 0.99
    assert alone / tried >= 0.88


def test_random_wrong_answers_are_seldom_taken_for_a_slip(questions: list[tuple[Bars, Asked]]) -> None:
    chosen = random.Random(7)  # noqa: S311
    verdicts = []
    while len(verdicts) < _SOME:
        bars, asked = chosen.choice(questions)
        right = next(iter(right_values(bars, asked)), None)
        if right is None:
            continue
        (verdict,) = judge(bars, [_answer(asked, _written(right * chosen.uniform(0.5, 2.0), _FIGURES))])
        if verdict.kind != "agrees":
            verdicts.append(verdict)
    share = sum(each.kind == "slip" for each in verdicts) / len(verdicts)
    assert share <= 0.05
    told = sum(each.chance_pct or 0.0 for each in verdicts) / len(verdicts) / 100.0
    assert abs(told - share) < 0.01
