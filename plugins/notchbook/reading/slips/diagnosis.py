"""From the break of a file that is no YAML to the slips that explain it.

Each kind of slip proposes places and the lines as they would be without it. A proposal counts only where the reader
gets further with it, best to the end of the file, so that what is told is never a mere guess. Where no proposal helps,
the break is told in plain words, where libyaml met it. All of this is done only for a file that could not be read.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import islice

import yaml
from yaml.nodes import MappingNode, Node

from notchbook.reading import acceptance, rules, schemas
from notchbook.reading.nodes import Flaw, TooMuchError, compose, may_have_features
from notchbook.reading.plain_data import mapping
from notchbook.reading.slips import flow, indents, line_forms, marks, plain_words, text_starts
from notchbook.reading.slips.slip import Break, Slip, break_of, lines_of, reached_in

# In the order in which they are tried; of proposals that explain as much, the first is told.
_SLIPS: tuple[Callable[[Break], Iterator[Slip]], ...] = (
    marks.pasted_fence,
    marks.merge_marks,
    marks.tab_in_indent,
    marks.odd_space,
    marks.other_punctuation,
    line_forms.remark_of_another_language,
    flow.brackets_and_quotes,
    line_forms.space_behind_colon,
    line_forms.space_behind_dash,
    line_forms.other_sign_for_colon,
    text_starts.sign_at_the_start,
    text_starts.text_behind_block_sign,
    text_starts.backslash,
    line_forms.colon_in_text,
    line_forms.no_colon,
    line_forms.no_dash,
    indents.uneven_indent,
)
MOST_SLIPS = 20
"""Of one file that are told at once."""
_MOST_PROPOSALS = 150
# What is read again for the slips of one file, in characters: half a second of work.
_MOST_READ_AGAIN = 900_000
_LONGEST_TEXT, _LONGEST_LINE = 150_000, 5_000
"""Characters of a file, and of a line, in which slips are looked for; a record of a thousand bars has half of them."""
_NEVER = (1 << 30, 0)
"""The break of a file that has none."""


def flaws_of(text: str, error: yaml.YAMLError) -> list[Flaw]:
    """The slips that explain why the text is no YAML, or the break alone where none does."""
    if isinstance(error, TooMuchError):
        return [error.flaw]
    if not isinstance(error, yaml.MarkedYAMLError):
        return [
            Flaw(rules.YAML_SYNTAX, "cannot be read as text", "save it again as plain text in UTF-8", line=1, column=1)
        ]
    first = plain_words.flaw_of(error)
    told: list[Flaw] = []
    lines, allowance = lines_of(text[: _LONGEST_TEXT + 1]), _MOST_READ_AGAIN
    too_long = len(text) > _LONGEST_TEXT or max(map(len, lines)) > _LONGEST_LINE
    if too_long or error.problem == plain_words.ANOTHER_DOCUMENT:
        return [first]
    flaws_left = 0
    while len(told) < MOST_SLIPS:
        allowance, slip, outcome = _explained(break_of(lines, error), reached_in(error), allowance)
        if slip is None:
            # a mend that leads to nothing may have been the wrong one
            return told[:1] or [first]
        told.append(Flaw(rules.YAML_SYNTAX, slip.message, slip.hint, slip.line, slip.column))
        lines, flaws_left = _mended(lines, slip), outcome.flaws
        if outcome.error is None:
            break
        error = outcome.error
    # where the last of several mends leaves a file that is not in order, they may have followed from the first
    return told[:1] if flaws_left else told


@dataclass(frozen=True, slots=True)
class _Outcome:
    """What the reader makes of mended lines."""

    reached: tuple[int, int]
    """Line and column to which it gets."""
    flaws: int
    """What is refused in a document that can be read to its end."""
    error: yaml.MarkedYAMLError | None
    """Where it breaks off."""


_NOWHERE = _Outcome((0, 0), 0, None)


def _explained(at: Break, reached: tuple[int, int], allowance: int) -> tuple[int, Slip | None, _Outcome]:
    """What is left of the allowance, the slip without which the reader gets furthest, and how far."""
    best, chosen = _Outcome(reached, 0, None), None
    unravelled: tuple[Slip, _Outcome] | None = None
    length = sum(map(len, at.lines)) + len(at.lines)
    for slip in islice((slip for find in _SLIPS for slip in find(at)), _MOST_PROPOSALS):
        allowance -= length
        if allowance < 0:
            break
        outcome = _tried(_mended(at.lines, slip))
        if (outcome.reached, -outcome.flaws) > (best.reached, -best.flaws):
            best, chosen = outcome, slip
            if outcome.reached == _NEVER and not outcome.flaws:
                break
        elif slip.swallows and outcome.reached[0] > slip.line:
            # the next slip stands in what was taken for its text
            unravelled = unravelled or (slip, outcome)
    if chosen is None and unravelled is not None:
        chosen, best = unravelled
    return allowance, chosen, best


def _mended(lines: list[str], slip: Slip) -> list[str]:
    lines = list(lines)
    for number, line in slip.mended.items():
        lines[number - 1] = line
    return lines


def _tried(lines: list[str]) -> _Outcome:
    """How far these lines can be read."""
    text = "\n".join(lines)
    try:
        node = compose(text)
    except TooMuchError:
        return _NOWHERE
    except yaml.MarkedYAMLError as error:
        if error.problem == plain_words.ANOTHER_DOCUMENT:
            return _Outcome(_NEVER, 0, None)
        return _Outcome(reached_in(error), 0, error)
    except yaml.YAMLError:
        return _NOWHERE
    return _Outcome(_NEVER, 0 if may_have_features(text) else _refused(node), None)


def _refused(node: Node | None) -> int:
    """How much is refused in a document that can be read."""
    if not isinstance(node, MappingNode):
        return 1
    flaws: list[Flaw] = []
    data = mapping(node, flaws)
    kind = data.get("kind")
    return len(flaws) + (len(acceptance.flaws(kind, data)) if isinstance(kind, str) and kind in schemas.KINDS else 1)
