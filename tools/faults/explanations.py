"""Why a change is not seen, as the guide tells it; the page's tables are read, so that it cannot say anything else."""

import re
from dataclasses import dataclass
from pathlib import Path

from faults.changes import KINDS

PAGE = Path(__file__).resolve().parents[2] / "plugins/notchbook/guide/limits.md"
_HEAD = ("Number", "Change", "Why it is not seen", "Who sees it instead")
_NAME = re.compile(r"`([^`]+)`")
_PATTERN = re.compile(r"[a-z]+ (?:\w+|\*{1,2})(?:\.(?:\w+|\*{1,2})|\[[a-z]*\])*\Z")
_SHARE = re.compile(r"at most ([1-9][0-9]?) %\Z")
_ALL_pct = 100
ANY_KEYS = "**"
"""Stands in a pattern for any keys at all."""


class PageError(ValueError):
    """A row of the page that cannot be read."""


@dataclass(frozen=True, slots=True)
class Explanation:
    """Why a change of some numbers is not seen."""

    numbers: tuple[str, ...]
    """Patterns of the numbers, such as `test specimens[].width_mm` or `method **.below`."""
    changes: tuple[str, ...]
    """The kinds of change."""
    most_pct: int
    """How many of the changes may be missed, in percent of those that are made to a number of that name."""
    why: str
    who: str
    """Who sees it instead."""

    @property
    def cases(self) -> list[tuple[str, str]]:
        """Each pattern with each kind of change."""
        return [(number, change) for number in self.numbers for change in self.changes]


def matches(pattern: str, name: str) -> bool:
    """Whether a number's name is one that the pattern of an explanation means."""
    return re.fullmatch(re.escape(pattern).replace(re.escape(ANY_KEYS), ".+"), name) is not None


def read_explanations(text: str) -> list[Explanation]:
    """The explanations in the tables of the page; raises PageError for a row of theirs that cannot be read."""
    found: list[Explanation] = []
    within = False
    for number, line in enumerate(text.splitlines(), 1):
        cells = tuple(cell.strip() for cell in line.strip().strip("|").split("|"))
        if cells == _HEAD:
            within = True
        elif not line.startswith("|"):
            within = False
        elif within and not set(line) <= set("|-"):
            try:
                found.append(_explanation(cells))
            except ValueError as error:
                raise PageError(f"{PAGE.name}:{number}: {error}") from error
    return found


def _explanation(cells: tuple[str, ...]) -> Explanation:
    if len(cells) != len(_HEAD) or not all(cells):
        raise ValueError(f"a row has the cells {', '.join(_HEAD)}, none of them empty")
    numbers = tuple(_NAME.findall(cells[0]))
    listed, _, limit = cells[1].partition(";")
    changes = tuple(each.strip() for each in listed.split(","))
    strangers = [each for each in changes if each not in KINDS] + [each for each in numbers if not _PATTERN.match(each)]
    if strangers or _NAME.sub("", cells[0]).strip() or not numbers:
        raise ValueError(f"'{', '.join(strangers) or cells[0]}' names no numbers, or no kind of change")
    share = _SHARE.match(limit.strip())
    if limit and share is None:
        raise ValueError(f"'{limit.strip()}' is not written as 'at most 2 %', of 1 to 99 %")
    return Explanation(numbers, changes, int(share.group(1)) if share else _ALL_pct, cells[2], cells[3])
