"""A handbook that is checked again and again with one file changed, without reading the other files again.

Reading is what a check spends its time on; everything after it, the library, its evaluation and the checks, is made
anew for each change. So nothing has to be known of which file is compared with which.
"""

from dataclasses import dataclass

from notchbook.checks.run import run_checks
from notchbook.evaluation.library import evaluate_library
from notchbook.findings import Severity
from notchbook.handbook import Handbook
from notchbook.reading.document import Document
from notchbook.reading.folder import Read, read_package_methods, read_text
from notchbook.reading.library import build_library


@dataclass(frozen=True, slots=True, order=True)
class Said:
    """An error or a warning without its place in the file, which a change of the text moves."""

    severity: Severity
    rule: str
    path: str
    message: str


class NotCleanError(Exception):
    """The unchanged handbook has errors or warnings, beside which those of a change could not be told."""


class Workbench:
    """A handbook in memory."""

    def __init__(self, handbook: Handbook) -> None:
        trouble = [str(each) for each in handbook.findings if each.severity is not Severity.NOTE]
        if trouble:
            raise NotCleanError("\n".join(trouble))
        self._day = handbook.day
        self._treatment = handbook.settings.deviations
        self._package = read_package_methods()
        packaged = {document.path for document in self._package}
        self.documents = [each for each in handbook.documents.values() if each.path not in packaged]
        """The handbook's own files, in the order in which they are read."""

    def gravest(self, document: Document, text: str) -> Severity | None:
        """The gravest that a check says with that text in the place of the document's own; None where only notes.

        A file that cannot be read is an error already, and what else it brings need not be found.
        """
        changed = _read(document, text)
        if any(each.severity is Severity.ERROR for each in changed.findings):
            return Severity.ERROR
        severities = {each.severity for each in self._said(document, changed)}
        return next((each for each in (Severity.ERROR, Severity.WARNING) if each in severities), None)

    def check(self, document: Document, text: str) -> set[Said]:
        """All errors and warnings of the whole handbook with that text in the place of the document's own."""
        return self._said(document, _read(document, text))

    def _said(self, document: Document, changed: Read) -> set[Said]:
        documents: list[Document] = []
        for each in self.documents:
            documents += changed.documents if each is document else [each]
        # building a library may add to the findings
        read = build_library(self._package, Read(documents, list(changed.findings), changed.unreadable))
        verdicts = run_checks(read.library, evaluate_library(read.library), self._day, self._treatment)
        said = {Said(each.severity, each.rule, each.path, each.message) for each in read.findings}
        for placed in verdicts.placed:
            path = read.documents[placed.kind, placed.id].path
            said.add(Said(placed.severity, placed.rule.id, path, placed.complaint.message))
        return {each for each in said if each.severity is not Severity.NOTE}


def _read(document: Document, text: str) -> Read:
    read = Read()
    read_text(document.path, document.id, document.kind, text, read)
    return read
