"""What was made of files at an earlier reading: a preview reads a handbook after each change, which is of one file."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable

_Made = TypeVar("_Made")


class Unchanged:
    """What was made of files, by all that it was made from; for one process, in the hands of whoever reads again.

    A key holds the whole text, so that nothing is taken for unchanged by a date or a hash. Of what compares files with
    each other nothing is kept. What a reading does not ask for is let go by the next.
    """

    def __init__(self) -> None:
        self._earlier: dict[Hashable, Any] = {}
        self._now: dict[Hashable, Any] = {}

    def begin(self) -> None:
        """Begin a reading."""
        self._earlier, self._now = self._now, {}

    def of(self, key: Hashable, make: Callable[[], _Made]) -> _Made:
        """What was made of that key, or is made now; whoever gets it must not change it.

        Arguments:
            key: everything that the result depends on.
            make: called where nothing was made of the key in this or the last reading.
        """
        if key not in self._now:
            self._now[key] = self._earlier[key] if key in self._earlier else make()
        made: _Made = self._now[key]
        return made
