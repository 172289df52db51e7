"""A process that has loaded the engine and the builder, and gives every command that it is asked for a copy of itself.

    python prepared_process.py check [build]

reads one request a line as JSON and answers each with the exit status and the most memory in MB. Loading takes longer
than most commands do; a copy of a loaded process is as good as a process of its own, with its own folder, variables,
streams, limits and memory. What a command has to do is counted where that is asked for, in calls of functions: unlike
its time these are the same on every machine.
"""

import atexit
import cProfile
import datetime as dt
import gc
import importlib
import io
import json
import os
import pkgutil
import resource
import runpy
import signal
import sys
import warnings
from pathlib import Path
from typing import Any

# Against what never ends.
MOST_SECONDS = 120
# What a build loads when it needs it.
OF_BUILDS = (
    "notchbook.mkdocs_plugin",
    "markdown.extensions.toc", "markdown.extensions.tables", "markdown.extensions.fenced_code",
    "markdown.extensions.attr_list", "material.plugins.search.plugin", "mkdocs.commands.build",
    "mkdocs.contrib.search", "mkdocs.theme", "pygments.lexers",
)  # fmt: skip
IN_ORDER = Path(__file__).resolve().parent / "checks/handbook"
"""A handbook without findings."""


def load(*, builds: bool) -> None:
    """Every module, and what a handbook brings in that is checked, and made into pages."""
    import notchbook

    for module in pkgutil.walk_packages(notchbook.__path__, "notchbook."):
        if not module.name.endswith((".__main__", ".mkdocs_plugin")):
            importlib.import_module(module.name)

    from notchbook.handbook import open_handbook
    from notchbook.pages.site import build_site

    handbook = open_handbook(IN_ORDER, day=dt.date(2027, 3, 15))
    if builds:
        for name in OF_BUILDS:
            importlib.import_module(name)
        build_site(handbook)


def _streams(request: dict[str, Any]) -> None:
    """Lead the streams where the request says, as the process would find them at its start; None is a closed one."""
    encoding = request["environment"].get("PYTHONIOENCODING", sys.stdout.encoding)
    errors = {1: "strict", 2: "backslashreplace"}
    nothing = os.open(os.devnull, os.O_RDONLY)
    os.dup2(nothing, 0)
    sys.stdin = open(0, encoding=encoding, closefd=False)  # noqa: SIM115  # a stream, not a file
    for number, name in ((1, "stdout"), (2, "stderr")):
        target = 1 if number == 2 and request["together"] else _opened(request[name])
        if target is None:
            os.close(number)
            stream = None
        else:
            os.dup2(target, number)
            raw = io.BufferedWriter(io.FileIO(number, "w", closefd=False))
            stream = io.TextIOWrapper(raw, encoding, errors[number], write_through=number == 2)
        setattr(sys, name, stream)
        setattr(sys, f"__{name}__", stream)


def _opened(place: str | None) -> int | None:
    if place == "gone":
        reading, writing = os.pipe()
        os.close(reading)
        return writing
    return None if place is None else os.open(place, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)


def _run(request: dict[str, Any]) -> int:
    """Run the module to its exit status, as `python -m` does."""
    os.chdir(request["folder"])
    if request["removed"]:
        Path(request["folder"]).rmdir()
    os.environ.clear()
    os.environ.update(request["environment"])
    resource.setrlimit(resource.RLIMIT_CPU, (MOST_SECONDS, MOST_SECONDS))
    if request["largest_file"] is not None:
        # writing past the limit fails as on a full disk, where the signal for it is ignored
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (request["largest_file"],) * 2)
    if request["warnings"] == "error":
        warnings.simplefilter("error")
    _streams(request)
    sys.path[0] = request["folder"]
    sys.argv = [request["module"], *request["arguments"]]
    counter = cProfile.Profile() if request["calls"] else None
    try:
        if counter is not None:
            counter.enable()
        runpy.run_module(request["module"], run_name="__main__", alter_sys=True)
    except SystemExit as ended:
        return ended.code if isinstance(ended.code, int) else int(ended.code is not None)
    except BaseException:  # the interpreter tells whatever is left
        sys.excepthook(*sys.exc_info())
        return 1
    finally:
        if counter is not None:
            counter.disable()
            Path(request["calls"]).write_text(str(sum(each.callcount for each in counter.getstats())))
    return 0


def _copy(request: dict[str, Any]) -> None:
    """What a copy does; it never returns."""
    status = 70
    try:
        status = _run(request)
        atexit._run_exitfuncs()  # as the interpreter does at its end
        for stream in (sys.stdout, sys.stderr):
            try:
                if stream is not None:
                    stream.flush()
            except (OSError, ValueError):
                # that of an interpreter which could not write all
                status = 120
    finally:
        os._exit(status)


def serve() -> None:
    """Answer requests until there are no more."""
    load(builds="build" in sys.argv)
    gc.collect()
    gc.freeze()
    requests, answers = os.fdopen(os.dup(0), encoding="utf-8"), os.fdopen(os.dup(1), "w", encoding="utf-8")
    for line in requests:
        request = json.loads(line)
        child = os.fork()
        if child == 0:
            os.close(requests.fileno())
            os.close(answers.fileno())
            _copy(request)
        _, ended, used = os.wait4(child, 0)
        status = os.waitstatus_to_exitcode(ended)
        print(json.dumps([status, used.ru_maxrss / 1024]), file=answers, flush=True)


if __name__ == "__main__":
    serve()
