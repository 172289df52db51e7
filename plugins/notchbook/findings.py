"""What the handbook says about a data file: one finding, its order, and its four renderings."""

import enum
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from notchbook.version import __version__
from notchbook.wording.json_text import json_text
from notchbook.wording.lines import printable
from notchbook.wording.lists import counted


class Severity(enum.StrEnum):
    """How much a finding weighs."""

    ERROR = "error"
    """Fails every build."""
    WARNING = "warning"
    """Printed and shown; fails a strict build."""
    NOTE = "note"
    """Shown, never fails anything."""


_WEIGHT = {Severity.ERROR: 0, Severity.WARNING: 1, Severity.NOTE: 2}


@dataclass(frozen=True, slots=True)
class Rule:
    """What a rule looks at and why, for the page of checks and for every rendering that names it."""

    id: str
    """Plain words in kebab case, named for what the rule looks at."""
    title: str
    """One line that a reader of a list understands."""
    why: str
    """What goes wrong in the laboratory when the rule is broken."""
    basis: str
    """The clause, contract or common practice the rule rests on."""
    remedy: str
    """What to do where the rule is broken, as one sentence that asks for it."""
    severity: Severity = Severity.ERROR
    declarable: bool = False
    """Whether a record may declare it as a deviation; never so for what contradicts itself or physics."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing wrong or worth knowing, at one place in one file."""

    rule: str
    severity: Severity
    path: str
    """Relative to the handbook's root, with forward slashes."""
    line: int
    """From 1."""
    column: int
    """From 1, in characters."""
    message: str
    """What is wrong, and what was expected and why."""
    hint: str = ""
    """What to do about it."""

    @property
    def order(self) -> tuple[str, int, int, int, str, str]:
        """Sort key: by place, then by weight, then by name."""
        return (self.path, self.line, self.column, _WEIGHT[self.severity], self.rule, self.message)

    @property
    def text(self) -> str:
        """Message and hint as one line, with every control and direction character made visible."""
        whole = f"{self.message}; {self.hint}" if self.hint else self.message
        return printable(whole)

    def __str__(self) -> str:
        return printable(f"{self.path}:{self.line}:{self.column}: {self.severity}: {self.text} [{self.rule}]")


def count(findings: Iterable[Finding]) -> dict[str, int]:
    """How many findings there are of each severity, in words used by every rendering."""
    numbers = Counter(finding.severity for finding in findings)
    return {
        "errors": numbers[Severity.ERROR],
        "warnings": numbers[Severity.WARNING],
        "notes": numbers[Severity.NOTE],
    }


def summary(findings: Sequence[Finding], files: int) -> str:
    """One line for the end of a run, such as `2 errors, 1 warning, 0 notes in 41 files`."""
    words = [counted(number, name.removesuffix("s")) for name, number in count(findings).items()]
    return f"{', '.join(words)} in {counted(files, 'file')}"


def as_text(findings: Sequence[Finding], _rules: Sequence[Rule]) -> str:
    """One finding a line: `path:line:column: severity: message [rule]`."""
    return "".join(f"{finding}\n" for finding in findings)


def as_json(findings: Sequence[Finding], _rules: Sequence[Rule]) -> str:
    """An object with the findings and their numbers."""
    rows = [
        {
            "rule": f.rule,
            "severity": str(f.severity),
            "path": f.path,
            "line": f.line,
            "column": f.column,
            "message": f.message,
            "hint": f.hint,
        }
        for f in findings
    ]
    return json_text({"findings": rows, "summary": count(findings)})


def as_github(findings: Sequence[Finding], _rules: Sequence[Rule]) -> str:
    """Workflow annotations, one a line."""
    level = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.NOTE: "notice"}
    lines = []
    for f in findings:
        place = f"file={printable(_property(f.path))},line={f.line},col={f.column},title={_property(f.rule)}"
        lines.append(f"::{level[f.severity]} {place}::{_data(f.text)}\n")
    return "".join(lines)


def _data(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")


def as_sarif(findings: Sequence[Finding], rules: Sequence[Rule]) -> str:
    """Static analysis results interchange format, version 2.1.0 (OASIS standard)."""
    numbers = {rule.id: index for index, rule in enumerate(rules)}
    level = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.NOTE: "note"}
    results: list[dict[str, Any]] = [
        {
            "ruleId": f.rule,
            "ruleIndex": numbers[f.rule],
            "level": level[f.severity],
            "message": {"text": f.text},
            "locations": [
                {
                    "physicalLocation": {
                        "artifactLocation": {"uri": _uri(f.path)},
                        "region": {"startLine": f.line, "startColumn": f.column},
                    }
                }
            ],
        }
        for f in findings
    ]
    driver = {
        "name": "notchbook",
        "version": __version__,
        "rules": [
            {
                "id": rule.id,
                "shortDescription": {"text": rule.title},
                "fullDescription": {"text": f"{rule.why} Basis: {rule.basis}."},
                "help": {"text": rule.remedy},
                "defaultConfiguration": {"level": level[rule.severity]},
            }
            for rule in rules
        ],
    }
    log = {
        "$schema": "https://json.schemastore.org/sarif-2.1.0.json",
        "version": "2.1.0",
        "runs": [{"tool": {"driver": driver}, "columnKind": "unicodeCodePoints", "results": results}],
    }
    return json_text(log)


def _uri(path: str) -> str:
    from urllib.parse import quote

    return quote(path, errors="backslashreplace")


RENDERINGS: dict[str, Callable[[Sequence[Finding], Sequence[Rule]], str]] = {
    "text": as_text,
    "json": as_json,
    "github": as_github,
    "sarif": as_sarif,
}
