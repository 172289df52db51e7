"""One data file that was read: its data, and where in the file each value stands."""

from dataclasses import dataclass
from typing import Any

from notchbook.findings import Finding, Rule, Severity
from notchbook.reading import nodes
from notchbook.reading.nodes import Flaw, Keys
from notchbook.wording.lists import counted

_LONGEST_MESSAGE = 1_000
MOST_FINDINGS = 100
"""A file with more flaws than this is another kind of file; nobody mends them one by one."""


@dataclass(slots=True)
class Document:
    """The text of one file and the data in it.

    The nodes that carry the positions are composed when a place is asked for: keeping those of a thousand files would
    cost a hundred megabytes, and only a file with a finding is ever asked.
    """

    path: str
    """Relative to the handbook's root, with forward slashes."""
    kind: str
    id: str
    text: str
    data: dict[str, Any]

    def lines(self, places: list[Keys]) -> list[int]:
        """The line, from 1, of the value under each of the keys; the file is composed once for all of them."""
        node = nodes.composed(self.text) if places else None
        return [nodes.position(node, keys)[0] if node is not None else 1 for keys in places]

    def findings(self, flaws: list[Flaw]) -> list[Finding]:
        """The flaws as findings at their places in this file; past a hundred of them only their number."""
        node = nodes.composed(self.text) if any(not flaw.line for flaw in flaws) else None
        found = []
        for flaw in flaws[:MOST_FINDINGS]:
            place = (flaw.line, flaw.column)
            if node is not None and not flaw.line:
                place = nodes.position(node, flaw.keys, at_key=flaw.at_key)
            found.append(finding_of(flaw.rule, self.path, place, flaw.message, flaw.hint))
        if len(flaws) > MOST_FINDINGS:
            more = len(flaws) - MOST_FINDINGS
            message = f"has {counted(more, 'more flaw')} of this kind and others"
            found.append(finding_of(flaws[-1].rule, self.path, (1, 1), message, "mend the ones named first"))
        return found


def finding_of(
    rule: Rule, path: str, place: tuple[int, int], message: str, hint: str = "", severity: Severity | None = None
) -> Finding:
    """A finding of that rule, at the rule's own severity unless another is given; of a text without end the start."""
    if len(message) > _LONGEST_MESSAGE:
        message = f"{message[:_LONGEST_MESSAGE]}…"
    return Finding(rule.id, severity or rule.severity, path, place[0], place[1], message, hint)
