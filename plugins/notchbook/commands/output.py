"""What the commands print, and how they end where something stands in the way: a line, a status, never a traceback."""

import contextlib
import os
import sys
from collections.abc import Callable
from typing import Any

import click

from notchbook.wording.lines import printable

NOTHING_DONE = 2
"""Exit status of a command that could not do what it was asked for."""


class RefusalError(click.ClickException):
    """What was asked for cannot be done: one line, and exit status 2."""

    exit_code = NOTHING_DONE


class Commands(click.Group):
    """Commands that end with a line on the standard error where the system or the person stops them."""

    def main(self, *arguments: Any, **options: Any) -> Any:
        """Run the command that is named; ends the process as click does."""
        if not options.get("standalone_mode", True):
            return super().main(*arguments, **options)
        options["standalone_mode"] = False
        run = super().main
        sys.exit(_ended(lambda: run(*arguments, **options)))


def write(text: str) -> None:
    """Print the text; into a file or a pipe it goes as UTF-8, whatever encoding the machine prefers.

    Raises RefusalError where it cannot be written. Where a pipe was closed there is nobody left to tell.
    """
    stdout = getattr(sys, "stdout", None)
    if stdout is None:
        raise RefusalError("the standard output is closed, nothing can be printed")
    shown: str | bytes = text.encode("utf-8", "backslashreplace")
    if stdout.isatty():
        shown = text.encode(stdout.encoding, "backslashreplace").decode(stdout.encoding)
    try:
        click.echo(shown, nl=False)
    except BrokenPipeError:
        _give_up(stdout)
        sys.exit(NOTHING_DONE)
    except OSError as error:
        _give_up(stdout)
        raise RefusalError(f"the output cannot be written: {_said(error)}") from error


def say(line: str) -> None:
    """Print a line on the standard error, where results of a command do not mix with it; may be lost."""
    _tell(lambda: click.echo(printable(line), err=True))


def _tell(show: Callable[[], None]) -> None:
    try:
        show()
    except OSError:
        # the status of the process is all that is left
        _give_up(sys.stderr)


def _ended(run: Callable[[], Any]) -> int:
    """Run a command to its exit status; what stops it is told in a line."""
    status: Any = NOTHING_DONE
    try:
        status = run()
    except SystemExit as ended:
        status = ended.code
    except click.ClickException as error:
        _show(error)
        status = error.exit_code
    except (click.Abort, KeyboardInterrupt):
        say("Error: stopped before it was done")
    except OSError as error:
        say(f"Error: {_said(error)}")
    except MemoryError:
        say("Error: there is not enough memory")
    return _flushed(status if isinstance(status, int) else 0)


def _show(error: click.ClickException) -> None:
    # a group that is given no command answers with its help
    if isinstance(error, getattr(click.exceptions, "NoArgsIsHelpError", ())):
        _tell(error.show)
        return
    context = error.ctx if isinstance(error, click.UsageError) else None
    if context is not None:
        for line in context.get_usage().splitlines():
            say(line)
        say(f"Try '{context.command_path} {context.help_option_names[0]}' for help.")
        say("")
    say(f"Error: {error.format_message()}")


def _flushed(status: int) -> int:
    """The status, unless something that was printed did not arrive."""
    stdout = getattr(sys, "stdout", None)
    try:
        if stdout is not None:
            stdout.flush()
    except OSError:
        _give_up(stdout)
        return NOTHING_DONE
    return status


def _said(error: OSError) -> str:
    """What the system said, with the file that it is about."""
    words = error.strerror or str(error)
    return f"'{os.fsdecode(error.filename)}': {words}" if isinstance(error.filename, str | bytes) else words


def _give_up(stream: Any) -> None:
    """Lead a stream that cannot be written to nowhere, so that the interpreter does not try again at its end."""
    with contextlib.suppress(OSError, ValueError, AttributeError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)
