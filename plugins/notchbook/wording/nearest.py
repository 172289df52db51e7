"""What somebody may have meant by a name that does not exist."""

from collections.abc import Iterable

from notchbook.wording.lists import first_of

_MOST_NAMES = 50
_USUAL_LIKENESS = 0.6


def nearest_of(word: str, known: Iterable[str], likeness: float = _USUAL_LIKENESS) -> str | None:
    """The known word nearest to one that is written otherwise; None where none is near.

    Arguments:
        word: as it was written.
        known: the words that there are, the earlier one taken of two that are as near.
        likeness: from 0, anything will do, to 1, the same letters.
    """
    # it takes long to load, and names are nearly always right
    import difflib

    return next(iter(difflib.get_close_matches(word, list(known), 1, likeness)), None)


def nearest(word: str, known: Iterable[str]) -> str:
    """A hint that names the nearest known word, or those that there are where none is near."""
    names = sorted(known)
    close = nearest_of(word, names)
    if close is not None:
        return f"did you mean '{close}'?"
    return f"known are {first_of(names, _MOST_NAMES)}" if names else "there is none yet"
