"""What was made at an earlier reading or building: a preview does both after each change, which is of one file."""

from collections.abc import Callable, Hashable
from typing import Any, TypeVar

_Made = TypeVar("_Made")


class Unchanged:
    """What was made, beside all that it was made of; for one process, in the hands of whoever does it again.

    What it was made of is compared as a whole, so that nothing is taken for unchanged by a date or a hash. What one
    reading or building does not ask for is let go by the next.
    """

    def __init__(self) -> None:
        self._earlier: dict[Hashable, tuple[object, Any]] = {}
        self._now: dict[Hashable, tuple[object, Any]] = {}

    def begin(self) -> None:
        """Begin a reading or a building."""
        self._earlier, self._now = self._now, {}

    def of(self, name: Hashable, inputs: object, make: Callable[[], _Made]) -> _Made:
        """What goes by that name, of this or the last time, or made now; whoever gets it must not change it.

        Arguments:
            name: what nothing else is called.
            inputs: everything that it is made of, in a form that is compared by its values.
            make: called where it was not made of equal inputs.
        """
        kept = self._earlier.get(name)
        if kept is None or kept[0] != inputs:
            kept = (inputs, make())
        self._now[name] = kept
        made: _Made = kept[1]
        return made


def made(unchanged: Unchanged | None, name: Hashable, inputs: object, make: Callable[[], _Made]) -> _Made:
    """The same, made now where nobody holds what was made earlier."""
    return make() if unchanged is None else unchanged.of(name, inputs, make)
