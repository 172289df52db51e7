"""What a person calls a thing of the handbook: its id, or its symbol or title."""

from collections.abc import Mapping, Sequence

from notchbook.writing.heads import words_of


def meant_by(name: str, others: Mapping[str, Sequence[str]]) -> list[str]:
    """The ids that a name may stand for, of ids with the other names of each.

    An id counts before one that is spelled otherwise, and that before a symbol or a title.
    """
    if name in others:
        return [name]
    words = words_of(name)
    spelled = [each for each in others if words_of(each) == words]
    return spelled or [each for each, names in others.items() if words in map(words_of, names)]
