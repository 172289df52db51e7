"""The engine for a notebook or a script: what `import notchbook` offers, loaded when it is asked for."""

import datetime as dt
from pathlib import Path
from typing import Any

from notchbook import handbook as engine
from notchbook.handbook import Handbook
from notchbook.results_data import results_data


def open_handbook(root: str | Path, *, day: dt.date | None = None) -> Handbook:
    """A handbook, read, evaluated and checked as `notchbook check` does it.

    What is wrong with its files is in its `findings`; a file that cannot be read is missing from its `library`.

    Arguments:
        root: the folder that holds `procedures/` and `results/`.
        day: the day after which a date is in the future; that of the commit of the files, or today, where left out.

    Raises:
        NotADirectoryError: there is no such folder.
    """
    folder = Path(root)
    if not folder.is_dir():
        raise NotADirectoryError(f"'{folder}' is no folder; name the one that holds procedures/ and results/")
    handbook = engine.open_handbook(folder, day=day or engine.day_of(folder))
    if handbook.settings.prose is None:
        return handbook
    from notchbook.pages.written.prose import checked

    return checked(handbook)


def results(handbook: Handbook) -> dict[str, Any]:
    """Every computed result, with the keys and the digits of `notchbook results`; what cannot be had is None."""
    return results_data(handbook)
