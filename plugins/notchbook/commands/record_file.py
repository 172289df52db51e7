"""Where a record is written, and how the commands about records end."""

from __future__ import annotations

import os
import re
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from notchbook.findings import printable
from notchbook.writing.trouble import lines

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from typing import NoReturn

    from notchbook.handbook import Handbook
    from notchbook.writing.fields import Keys
    from notchbook.writing.given import Given
    from notchbook.writing.trouble import Trouble

STDOUT = Path("-")
_SCHEMA = Path("schema/test.schema.json")
_NAMED_BY: tuple[Keys, ...] = (("date",), ("group",), ("material",))


class NotWrittenError(click.ClickException):
    """The record cannot be written: one line, and exit status 2."""

    exit_code = 2


def refuse(troubles: Sequence[Trouble], table: Path | None = None) -> NoReturn:
    """Print everything that stands in the way, a line each, and end with 2.

    Arguments:
        troubles: what stands in the way.
        table: the table that was read; named before what is about it and not about an option.
    """
    told = lines(troubles)
    for line in told:
        named = table is not None and not line.startswith("--")
        click.echo(f"{printable(str(table))}: {line}" if named else line, err=True)
    things = "1 thing" if len(told) == 1 else f"{len(told)} things"
    click.echo(f"not written: {things} to put right", err=True)
    sys.exit(2)


def record_path(handbook: Handbook, output: Path | None, common: Mapping[Keys, Given]) -> Path:
    """The file to write: the one that was named, or one named by day, group and material.

    Raises NotWrittenError where they are not known.
    """
    if output is not None:
        return output
    parts = [str(common[keys].value) for keys in _NAMED_BY if keys in common]
    if len(parts) < len(_NAMED_BY):
        message = "the file is named by day, group and material; give --date, --group and --material, or --output"
        raise NotWrittenError(message)
    stem = re.sub(r"[^a-z0-9]+", "-", "-".join(parts).lower()).strip("-")
    return handbook.root / handbook.settings.results / "tests" / f"{stem}.yaml"


def in_handbook(handbook: Handbook, path: Path) -> str | None:
    """The path as findings name it; None where the file is none of the handbook's records."""
    folder = (handbook.root / handbook.settings.results / "tests").resolve()
    if path.resolve().parent != folder or not folder.is_relative_to(handbook.root.resolve()):
        return None
    return (Path(handbook.settings.results) / "tests" / path.name).as_posix()


def schema_comment(handbook: Handbook, path: Path) -> str:
    """The line by which an editor finds the schema; empty where the handbook does not hold it."""
    schema, folder = (handbook.root / _SCHEMA).resolve(), path.resolve().parent
    if path == STDOUT or not schema.is_file() or not folder.is_relative_to(handbook.root.resolve()):
        return ""
    leads = os.path.relpath(schema, folder)
    return f"# yaml-language-server: $schema={Path(leads).as_posix()}\n"


def write_record(path: Path, text: str, *, force: bool) -> None:
    """Write the file; raises NotWrittenError where it is there already or cannot be written."""
    name = printable(str(path))
    if path.exists() and not force:
        hint = "name another file with --output, or write over it with --force"
        raise NotWrittenError(f"'{name}' is there already; {hint}")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        # never over a file that came in the meantime
        with path.open("w" if force else "x", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except OSError as error:
        raise NotWrittenError(f"'{name}' cannot be written: {error.strerror}") from error
