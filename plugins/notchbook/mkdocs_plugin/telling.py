"""What the build says, and what makes it stop."""

import logging

from mkdocs.exceptions import PluginError
from mkdocs.utils import CountHandler

from notchbook.findings import Severity, summary
from notchbook.handbook import Handbook
from notchbook.wording.lines import printable

LOG = logging.getLogger("mkdocs.plugins.notchbook")
_LEVELS = {Severity.ERROR: logging.ERROR, Severity.WARNING: logging.WARNING, Severity.NOTE: logging.INFO}


def stop(troubles: list[str], reason: str) -> None:
    """Log everything that is in the way of a build, and raise if there is something."""
    for each in troubles:
        LOG.error("%s", printable(each))
    if troubles:
        raise PluginError(f"Nothing was built, an earlier site is as it was: {reason}")


def warned() -> bool:
    """Whether something was warned of, by the counter that MkDocs has for strict builds."""
    handlers = logging.getLogger("mkdocs").handlers
    return any(sum(number for _, number in each.get_counts()) for each in handlers if isinstance(each, CountHandler))


def report(handbook: Handbook, *, strict: bool) -> None:
    """Log every finding, the errors last to be read first; raise where the build must not go on."""
    for severity in (Severity.NOTE, Severity.WARNING, Severity.ERROR):
        for finding in handbook.findings:
            if finding.severity is severity:
                LOG.log(_LEVELS[severity], "%s", finding)
    errors, warnings = handbook.count(Severity.ERROR), handbook.count(Severity.WARNING)
    if errors or (strict and warnings):
        words = summary(handbook.findings, handbook.files)
        raise PluginError(f"Nothing was built, an earlier site is as it was: {words}")
