"""MkDocs as the commands start it: by the Python that runs them, so that it need not be on the path."""

import os
import signal
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

from notchbook.commands.opening import settings_for_command
from notchbook.commands.output import RefusalError, say
from notchbook.reading.files import missing_folder_hint
from notchbook.site_reading.inherited import absolute
from notchbook.site_reading.pages import folder_findings, missing_folder
from notchbook.site_reading.site_config import USUAL_PAGES, config_path, read_site_config

_QUIET = {"NO_MKDOCS_2_WARNING": "1"}
"""The theme's banner is news for those who maintain builders, not for a laboratory."""
_PATIENCE_S = 5.0
"""For what was interrupted to end by itself."""


def run_builder(root: Path, command: str, options: Sequence[str]) -> int:
    """Build or preview the handbook of a root; the exit status of MkDocs.

    A folder of pages that is not there and need not be is made first, as MkDocs builds nothing without it.
    Raises RefusalError where the folder holds no handbook, or none that a site is made of.
    """
    settings, path = settings_for_command(root), config_path(root)
    if not os.path.lexists(path):
        raise RefusalError(f"'{root}' has no {path.name}, which says what site to build; write one")
    config = read_site_config(path)
    if settings.prose is None and not config.findings:
        raise RefusalError(f"{path.name} does not name the plugin; write 'notchbook' below 'plugins'")
    missing = missing_folder(config, settings)
    if missing is not None:
        # one that was named was meant to hold something
        if missing != config.root / USUAL_PAGES or list(folder_findings(config, settings)):
            name, hint = settings.prose, missing_folder_hint(missing)
            say(f"Nothing was built: there is no folder '{name}' of pages by hand; {hint}")
            return 1
        missing.mkdir()
        say(f"The folder '{settings.prose}' of pages by hand was not there and is made")
    # with -P no module that lies in the folder at hand takes the place of one that is installed
    words = [sys.executable, "-P", "-m", "mkdocs", command, "--config-file", str(absolute(path)), *options]
    # MkDocs stumbles over streams that are closed
    stdout, stderr = (subprocess.DEVNULL if each is None else None for each in (sys.stdout, sys.stderr))
    environment = {**os.environ, **_QUIET}
    with subprocess.Popen(words, env=environment, stdout=stdout, stderr=stderr) as process:  # noqa: S603  # no shell
        signal.signal(signal.SIGTERM, lambda *_: process.terminate())
        try:
            return process.wait()
        except KeyboardInterrupt:
            return _interrupted(process)


def _interrupted(process: subprocess.Popen[bytes]) -> int:
    """The status of MkDocs, which a terminal interrupts too; whoever interrupts this process alone means both."""
    try:
        return process.wait(_PATIENCE_S)
    except subprocess.TimeoutExpired:
        process.terminate()
        return process.wait()
