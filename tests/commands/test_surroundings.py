"""The commands where the system refuses something: full and closed outputs, folders that may not be read, odd names.

Each ends with a line on the standard error, or a finding in the folder that it is about, and never with a traceback.
"""

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from record_running import COMMON, SETUP, handbook

import prepared_command
import small_handbook as small
from notchbook.cli import main
from notchbook.findings import RENDERINGS
from notchbook.results_data import FORMS

Process = Callable[..., tuple]

DAY = "1798761600"
"""2027-01-01, after the dates of the records, in seconds of Unix time."""
PRINTING = {
    **{f"check-{form}": ["check", "--format", form] for form in RENDERINGS},
    **{f"results-{form}": ["results", "--format", form] for form in FORMS},
    "compare": ["compare", ".", "published.json"],
    "difference": ["difference", small.TEST_ID, small.TEST_ID],
    "hammer": ["hammer", "bench-1", "pp-h"],
    "uncertainty": ["uncertainty", "2026-10-06-g2-pp-h", "--draws", "1000"],
    **{f"answers-{form}": ["answers", "answers.csv", "--format", form] for form in ("text", "json")},
    "record-new": ["record", "new", *SETUP, "--output", "-"],
    "record-import": ["record", "import", "readings.csv", *COMMON, "--output", "-"],
}
EVERY = {
    **PRINTING,
    "record-new-file": ["record", "new", *COMMON, "--force"],
    "export": ["export", "exported"],
    "practice": ["practice", "notched-charpy", "--groups", "1", "--seed", "1", "--out", "practice"],
    "serve": ["serve"],
    "site": ["site"],
    "help": ["--help"],
}
TABLE = "Bar;Width;Thickness;Remaining width;Rise;Break\r\n01;10,01;4,01;8,02;86,1;C\r\n"
ANSWERS = f"record,specimen,quantity,value\n{small.TEST_ID},01,energy_J,1\n"


STREAMS = {
    "": ("", ""),
    "> /dev/full": ("/dev/full", ""),
    "> >(exec <&-); exit $?": ("gone", ""),
    ">&-": (None, ""),
    "2>&-": ("", None),
    "2> /dev/full": ("", "/dev/full"),
}
"""Where the shell's words lead the standard output and the errors."""


def _in_a_copy(
    *arguments: str,
    folder: Path,
    before: tuple[str, ...] = (),
    after: str = "",
    removed: bool = False,
    **environment: str,
) -> tuple:
    """The same in a copy of a process that has loaded the engine."""
    stdout, stderr = STREAMS[after]
    done = prepared_command.run(
        "notchbook", *arguments, folder=folder, environment={"SOURCE_DATE_EPOCH": DAY, **environment}, before=before,
        stdout=stdout, stderr=stderr, removed=removed, strict=True,
    )  # fmt: skip
    return done.status, done.stdout, done.stderr


def _alone(
    *arguments: str,
    folder: Path,
    before: tuple[str, ...] = (),
    after: str = "",
    removed: bool = False,
    **environment: str,
) -> tuple:
    """A command that a shell starts with its streams led elsewhere."""
    line = f'"$@" {after}'
    remove = ("bash", "-c", 'rmdir "$PWD" && exec "$@"', "bash") if removed else ()
    started = (*remove, *before, sys.executable, "-W", "error", "-m", "notchbook", *arguments)
    done = subprocess.run(
        ["bash", "-c", line, "bash", *started],
        cwd=folder,
        env={**os.environ, "SOURCE_DATE_EPOCH": DAY, **environment},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        timeout=60,
        check=False,
    )
    return done.returncode, done.stdout, done.stderr


@pytest.fixture(params=["copy", pytest.param("alone", marks=pytest.mark.repeats)])
def process(request: pytest.FixtureRequest) -> Process:
    """Gives exit status, standard output and standard error of a command.

    Arguments: those of the command; `folder` where it is started; `before`, a command that starts it; `after`, what the
    shell does with its streams; `removed`, whether its folder is deleted below it; variables that are set.
    """

    def run(*arguments: str, **options: Any) -> tuple:
        status, *printed = (_in_a_copy if request.param == "copy" else _alone)(*arguments, **options)
        said, error = (each.decode("utf-8") for each in printed)
        assert "Traceback" not in said + error, error
        assert "Exception" not in error, error
        return status, said, error

    return run


def sound(folder: Path) -> Path:
    more = {"readings.csv": TABLE, "answers.csv": ANSWERS, "published.json": '{"tests": {}}'}
    return small.write(folder, {**small.files(), **more})


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return sound(tmp_path_factory.mktemp("sound"))


@pytest.mark.skipif(sys.platform != "linux", reason="the device that is always full is one of Linux")
@pytest.mark.parametrize("name", [*PRINTING, "help"])
def test_output_that_is_full_is_told_in_a_line(process: Process, root: Path, name: str) -> None:
    status, _, error = process(*EVERY[name], folder=root, after="> /dev/full")
    assert status == 2
    assert error.splitlines()[-1].endswith("No space left on device")
    # the import has something to say before, of the number of bars
    assert len(error.splitlines()) == (2 if name == "record-import" else 1)


@pytest.mark.parametrize("name", ["check-text", "results-csv", "hammer", "record-import"])
def test_reader_that_has_gone_ends_it_quietly(process: Process, root: Path, name: str) -> None:
    # the pipe is closed before the command can have written anything
    status, said, error = process(*EVERY[name], folder=root, after="> >(exec <&-); exit $?")
    assert (status, said) == (2, "")
    assert error == ("readings.csv: 1 bar; the exercise asks for 10\n" if name == "record-import" else "")


@pytest.mark.parametrize("name", ["check-text", "results-json", "record-new"])
def test_output_that_is_closed_is_told_in_a_line(process: Process, root: Path, name: str) -> None:
    status, _, error = process(*EVERY[name], folder=root, after=">&-")
    assert (status, error) == (2, "Error: the standard output is closed, nothing can be printed\n")


@pytest.mark.parametrize("after", [">&-", "2>&-", "2> /dev/full"])
def test_a_site_is_built_where_nothing_can_be_told(process: Process, tmp_path: Path, after: str) -> None:
    settings = "site_name: Bench\ntheme: {name: mkdocs}\nplugins: [notchbook]\n"
    root = small.write(tmp_path, {**small.files(), "mkdocs.yml": settings})
    assert process("site", folder=root, after=after)[0] == 0
    assert (root / "site/index.html").is_file()


@pytest.mark.parametrize("after", ["2>&-", "2> /dev/full"])
@pytest.mark.parametrize(
    ("name", "expected"), [("check-json", 0), ("record-new-file", 0), ("export", 0), ("unknown", 2)]
)
def test_errors_that_cannot_be_told_change_no_status(
    process: Process, tmp_path: Path, name: str, after: str, expected: int
) -> None:
    if "full" in after and sys.platform != "linux":
        pytest.skip("the device that is always full is one of Linux")
    arguments = EVERY.get(name, ["hammer", "bench-9", "pp-h"])
    assert process(*arguments, folder=sound(tmp_path), after=after)[0] == expected


@pytest.mark.parametrize("name", ["check-text", "results-csv", "hammer", "record-new"])
def test_plain_locale_and_no_home(process: Process, root: Path, name: str) -> None:
    surroundings = {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0", "HOME": "/nowhere"}
    usual = process(*EVERY[name], folder=root)
    assert process(*EVERY[name], folder=root, **surroundings) == usual
    assert usual[0] == 0


@pytest.mark.skipif(os.name == "nt", reason="the system keeps a folder that a process is in")
@pytest.mark.parametrize(
    "name", ["check-text", "results-json", "hammer", "record-new", "record-new-file", "export", "site", "serve"]
)
def test_folder_that_was_deleted_below_it(process: Process, tmp_path: Path, name: str) -> None:
    gone = tmp_path / "gone"
    gone.mkdir()
    status, said, error = process(*EVERY[name], folder=gone, removed=True)
    assert (status, said) == (2, "")
    assert error == "Error: the folder '.' is not there any more; go to that of the handbook\n"


def _without_rights() -> tuple[str, ...]:
    """What starts a command so that a folder can be unreadable to it: the superuser may read everything."""
    if os.geteuid() != 0:
        return ()
    if shutil.which("setpriv") is None:
        pytest.skip("needs a user who is not the superuser, or setpriv")
    return ("setpriv", "--bounding-set=-dac_override,-dac_read_search")


@pytest.mark.parametrize(
    ("name", "folder", "mode"),
    [
        ("check-json", "results", 0o000),
        ("check-json", "results", 0o444),
        ("check-json", "results/tests", 0o000),
        ("check-json", "results/tests", 0o444),
        ("check-json", "procedures", 0o444),
        ("check-json", "results/more/below", 0o000),
        ("results-json", "results", 0o444),
        ("hammer", "results", 0o000),
        ("record-new", "results/tests", 0o444),
        ("record-import", "results", 0o000),
        ("record-new-file", "results", 0o444),
    ],
)
def test_folder_that_may_not_be_read_or_entered(
    process: Process, tmp_path: Path, name: str, folder: str, mode: int
) -> None:
    before = _without_rights()
    root = sound(tmp_path / "handbook")
    small.write(root, {"results/more/below/a.txt": "x"})
    (root / folder).chmod(mode)
    status, said, error = process(*EVERY[name], folder=root, before=before)
    (root / folder).chmod(0o700)
    if name == "check-json":
        told = [each for each in json.loads(said)["findings"] if each["path"] == folder]
        assert [each["rule"] for each in told] == ["file-text"]
        assert told[0]["message"] == "cannot be read: Permission denied"
    assert status == {"record-new": 0, "record-import": 0, "record-new-file": 2}.get(name, 1)
    if name == "record-new-file":
        assert "cannot be written: Permission denied" in error


@pytest.mark.parametrize(("name", "mode"), [("check-text", 0o000), ("check-text", 0o444), ("record-new-file", 0o444)])
def test_root_that_may_not_be_read_or_entered(process: Process, tmp_path: Path, name: str, mode: int) -> None:
    before = _without_rights()
    root = handbook(tmp_path / "handbook")
    root.chmod(mode)
    status, said, error = process(*EVERY[name], "--root", str(root), folder=tmp_path, before=before)
    root.chmod(0o700)
    assert (status, said) == (2, "")
    assert "cannot be read: Permission denied" in error or "is not readable" in error


# a comparison names its handbooks otherwise, and its own tests spoil them
@pytest.mark.parametrize("name", [*(each for each in PRINTING if each != "compare"), "record-new-file"])
@pytest.mark.parametrize(
    "root", ["a-file", "loop", "a" * 5_000, "::error::x", "a\n::error::b", "##[group]x", "a\x1b[31m\u202e", "\udcff"]
)
def test_root_that_is_none_is_told_in_lines_that_command_nobody(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, root: str
) -> None:
    monkeypatch.chdir(tmp_path)
    small.write(tmp_path, {"a-file": "x", "readings.csv": TABLE, "answers.csv": ANSWERS})
    (tmp_path / "loop").symlink_to("loop")
    result = CliRunner().invoke(main, [*EVERY[name], "--root", root])
    assert isinstance(result.exception, SystemExit), result.exception
    assert (result.exit_code, result.stdout) == (2, "")
    lines = result.stderr.split("\n")
    assert all(line.isprintable() and not line.startswith(("::", "##")) and "##[" not in line for line in lines)
    assert lines[-2].startswith("Error: Invalid value for '--root': ")


@pytest.mark.parametrize("folder", ["::error::x", "##[group]x", "a\n::error::b", "\udcff", "\x1b[31m\u202e"])
@pytest.mark.parametrize("form", RENDERINGS)
def test_path_of_a_finding_commands_nobody(tmp_path: Path, folder: str, form: str) -> None:
    if sys.platform != "linux":
        pytest.skip("other systems do not allow such names")
    small.write(tmp_path, {"mkdocs.yml": "plugins: [notchbook]\n", **small.files()})
    hostile = tmp_path / "docs" / os.fsencode(folder).decode("utf-8", "surrogateescape")
    hostile.mkdir(parents=True)
    (hostile / "page.md").write_text("[[material pp-q: title]]")
    result = CliRunner().invoke(main, ["check", "--root", str(tmp_path), "--format", form])
    assert isinstance(result.exception, SystemExit), result.exception
    assert result.exit_code == 1
    lines = result.stdout_bytes.decode("utf-8").split("\n")
    assert "page.md" in result.stdout
    for line in lines:
        assert line.isprintable()
        assert "##[" not in line
        assert form == "github" or not line.lstrip().startswith("::")
    if form == "github":
        assert all(line.startswith(("::error file=", "::notice file=")) for line in lines[:-1])
        assert all(line.count("::") == 2 for line in lines[:-1])


@pytest.mark.parametrize("folder", ["::error::x", "##[group]x"])
def test_name_of_a_handbook_commands_nobody(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, folder: str) -> None:
    root = handbook(tmp_path / folder)
    monkeypatch.chdir(tmp_path)
    table = root / "readings.csv"
    table.write_text(TABLE.replace("86,1", "no number"))
    result = CliRunner().invoke(main, ["record", "import", f"{folder}/readings.csv", *COMMON, "--root", folder])
    assert result.exit_code == 2
    assert "'no number' is not a number in degrees" in result.stderr
    assert not any(line.startswith("::") or "##[" in line for line in result.stderr.splitlines())


@pytest.mark.parametrize("stopped_at", ["click", "notchbook.commands.results", "notchbook.handbook"])
def test_stopped_while_it_is_loaded(stopped_at: str) -> None:
    code = f"""
import sys
class Stop:
    def find_spec(self, name, *rest):
        if name == "{stopped_at}":
            raise KeyboardInterrupt
sys.meta_path.insert(0, Stop())
import notchbook.cli
notchbook.cli.main(["results"])
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, encoding="utf-8", check=False)
    # once click runs, it leaves the line on which a terminal has shown the keys
    assert (done.returncode, done.stdout, done.stderr.lstrip("\n")) == (2, "", "Error: stopped before it was done\n")


@pytest.mark.parametrize("command", ["check", "results"])
@pytest.mark.parametrize(
    ("error", "said"),
    [
        (KeyboardInterrupt(), "stopped before it was done"),
        (MemoryError(), "there is not enough memory"),
        (OSError(5, "Input/output error", "a\nb"), "'a\\nb': Input/output error"),
    ],
)
def test_what_stops_it_is_told_in_a_line(
    root: Path, monkeypatch: pytest.MonkeyPatch, command: str, error: BaseException, said: str
) -> None:
    def stop(_: object) -> None:
        raise error

    monkeypatch.setattr(import_module(f"notchbook.commands.{command}"), "open_for_command", stop)
    result = CliRunner().invoke(main, [command, "--root", str(root)])
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.strip("\n") == f"Error: {said}"
