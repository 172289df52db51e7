"""What somebody says an answer is about: a quantity of a bar or a set, found among the bars of a record."""

from typing import get_args

from notchbook.answers.bars import Bars
from notchbook.answers.candidates import OF_A_BAR, Asked, Quantity
from notchbook.evaluation.records import SetResult
from notchbook.wording.lists import listed
from notchbook.wording.nearest import nearest

QUANTITIES: tuple[Quantity, ...] = get_args(Quantity)
"""Everything that can be answered."""


class NotAskedError(ValueError):
    """A bar, a set or a quantity that is not there: what is wrong, and what to do."""

    def __init__(self, message: str, hint: str) -> None:
        super().__init__(message)
        self.hint = hint


def asked(bars: Bars, specimen: str, breaks: str, quantity: str) -> Asked:
    """What an answer is about.

    Arguments:
        bars: of the record.
        specimen: the mark of a bar; empty for a set.
        breaks: the letters of a set, such as `C` or `CH`; empty for a bar, or where there is one set.
        quantity: one of `QUANTITIES`.

    Raises:
        NotAskedError: where the record has no such thing.
    """
    known = next((each for each in QUANTITIES if each == quantity), None)
    if known is None:
        raise NotAskedError(f"'{quantity}' is no quantity that is asked for", nearest(quantity, QUANTITIES))
    if known not in OF_A_BAR:
        if specimen:
            raise NotAskedError(f"a bar has no {quantity}", "leave the specimen empty, or ask for strength_kJ_m2")
        return Asked(known, _set_place(bars, breaks))
    if not specimen:
        raise NotAskedError(f"{quantity} is one of a bar, and no specimen is named", "name the mark of the bar")
    if specimen not in bars.ids:
        raise NotAskedError(f"the record has no specimen '{specimen}'", nearest(specimen, bars.ids))
    place = bars.ids.index(specimen)
    if known == "strength_kJ_m2" and bars.method.breaks.leave_unbroken(bars.breaks[place]):
        raise NotAskedError(f"specimen {specimen} did not break and has no strength", "ask for its energy_J")
    return Asked(known, place)


def _set_place(bars: Bars, breaks: str) -> int:
    if not bars.sets:
        raise NotAskedError("no bar of the record has a strength, so that there is no set", "leave the row out")
    names = [each.name for each in bars.sets]
    if not breaks:
        if len(names) == 1:
            return 0
        hint = f"write one of them under breaks: {listed(names)}"
        raise NotAskedError("the bars broke in more than one way, and no set is named", hint)
    found = [place for place, each in enumerate(bars.sets) if _is_named(each, breaks)]
    if not found:
        raise NotAskedError(f"the record has no set of bars that broke '{breaks}'", nearest(breaks, names))
    return found[0]


def _is_named(result: SetResult, breaks: str) -> bool:
    """Whether a set is meant by its letters in any order and with any marks between, or by one of them."""
    given = "".join(sorted(each for each in breaks if each.isalnum()))
    return given == "".join(sorted("".join(result.breaks))) or breaks in result.breaks
