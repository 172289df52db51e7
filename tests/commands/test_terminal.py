"""Findings at a terminal: each with its line of the file and a mark under the place."""

import os
import re
import sys

import pytest

import small_handbook as small
from notchbook.commands.terminal import for_terminal
from notchbook.findings import Finding, Severity
from repeating import repeated

WIDTH = 80
COLOURS = re.compile(r"\x1b\[[0-9;]*m")


@pytest.fixture(autouse=True)
def terminal(monkeypatch):
    monkeypatch.setenv("COLUMNS", str(WIDTH))
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.delenv("NO_COLOR", raising=False)


def shown(tmp_path, line, column, *, before="first\n", severity=Severity.ERROR):
    """Three lines for a finding in the second line of a file: what is wrong, the line, the mark."""
    (tmp_path / "a.yaml").write_text(f"{before}{line}\nlast\n", encoding="utf-8")
    number = before.count("\n") + 1
    found = Finding("support-span", severity, "a.yaml", number, column, "is too wide", "measure again")
    return "".join(for_terminal([found], tmp_path)).splitlines()


def plain(line):
    return COLOURS.sub("", line)


def test_the_mark_stands_under_the_place(tmp_path):
    head, source, mark = map(plain, shown(tmp_path, "span_mm: 70", 10))
    assert head == "a.yaml:2:10: error: is too wide; measure again [support-span]"
    assert source == "    2 | span_mm: 70"
    assert source[mark.index("^")] == "7"


@pytest.mark.parametrize("line", ["\tspan_mm: 70", "ширина: 70", "e\u0301tat: 70"])
def test_letters_of_one_cell_and_accents(tmp_path, line):
    _, source, mark = map(plain, shown(tmp_path, line, line.index("7") + 1))
    accents = source.count("\u0301")
    assert source[mark.index("^") + accents] == "7"


def test_letters_of_two_cells(tmp_path):
    _, source, mark = map(plain, shown(tmp_path, "幅: 70", 4))
    assert mark.index("^") == source.index("7") + 1


@pytest.mark.parametrize("column", [1, 150, 299, 300, 999])
def test_a_long_line_is_shown_around_the_place(tmp_path, column):
    line = "".join(chr(ord("a") + number % 26) for number in range(300))
    _, source, mark = map(plain, shown(tmp_path, line, column))
    assert len(source) < WIDTH
    if column <= len(line):
        assert source[mark.index("^")] == line[column - 1]


def test_no_character_moves_the_cursor(tmp_path):
    lines = shown(tmp_path, "notes: \x1b[2J\u202ehidden\x07", 8)
    assert not re.search(r"[\x00-\x1f\x7f\u202e]", "".join(map(plain, lines)))


def test_a_line_that_is_not_there_and_a_file_that_is_not_there(tmp_path):
    finding = Finding("support-span", Severity.NOTE, "gone.yaml", 9, 1, "is not there")
    assert [plain(each) for each in for_terminal([finding], tmp_path)] == [
        "gone.yaml:9:1: note: is not there [support-span]\n"
    ]


def test_colours_differ_by_severity_and_are_not_the_only_sign(tmp_path):
    heads = {severity: shown(tmp_path, "span_mm: 70", 10, severity=severity)[0] for severity in Severity}
    assert len({tuple(COLOURS.findall(head)) for head in heads.values()}) == 3
    assert all("\x1b[22m" not in head for head in heads.values())
    assert all(f" {severity}: " in plain(head) for severity, head in heads.items())


@pytest.mark.parametrize(("name", "value"), [("NO_COLOR", "1"), ("TERM", "dumb")])
def test_no_colour_where_none_is_wanted(tmp_path, monkeypatch, name, value):
    monkeypatch.setenv(name, value)
    assert "\x1b" not in "".join(shown(tmp_path, "span_mm: 70", 10))


def test_file_that_a_link_out_of_the_handbook_leads_to_is_not_shown(tmp_path):
    (tmp_path / "secret").write_text("secret\n")
    root = tmp_path / "handbook"
    root.mkdir()
    (root / "a.yaml").symlink_to("../secret")
    found = Finding("file-place", Severity.ERROR, "a.yaml", 1, 1, "is a link that leads out of the handbook")
    assert [plain(each) for each in for_terminal([found], root)] == [f"{found}\n"]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="the system has no such files")
def test_what_is_no_file_is_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "a.yaml")
    found = Finding("file-text", Severity.ERROR, "a.yaml", 1, 1, "is no file that can be read")
    assert [plain(each) for each in for_terminal([found], tmp_path)] == [f"{found}\n"]


def on_a_terminal(*arguments, **environment):
    """Exit status of the command and what a terminal gets of it."""
    import pty
    import subprocess

    leader, follower = pty.openpty()
    command = [sys.executable, "-m", "notchbook", *map(str, arguments)]
    surroundings = {**os.environ, **environment}
    with subprocess.Popen(command, stdout=follower, stderr=follower, env=surroundings) as process:
        os.close(follower)
        parts = []
        # Linux ends a terminal whose other side has gone with an error
        while True:
            try:
                part = os.read(leader, 65536)
            except OSError:
                break
            if not part:
                break
            parts.append(part)
        status = process.wait()
    os.close(leader)
    return status, b"".join(parts).decode("utf-8")


@pytest.mark.skipif(sys.platform == "win32", reason="there are no pseudo-terminals")
def test_a_terminal_gets_it_and_a_pipe_does_not(tmp_path):
    import subprocess

    contents = small.files()
    contents[small.TEST]["specimens"][0]["width_mm"] = 12.0
    small.write(tmp_path, contents)
    command = [sys.executable, "-m", "notchbook", "check", "--root", str(tmp_path)]
    piped = subprocess.run(command, capture_output=True, text=True, check=False).stdout
    assert "^" not in piped
    assert "\x1b" not in piped
    status, text = on_a_terminal("check", "--root", tmp_path)
    assert status == 1
    assert "\x1b[" in text
    assert re.search(r"^ +\| +\^", COLOURS.sub("", text), re.MULTILINE)


@pytest.mark.skipif(sys.platform == "win32", reason="there are no pseudo-terminals")
@pytest.mark.parametrize(
    "arguments", repeated([["check"], ["results"], ["hammer", "bench-1", "pp-h"]], but=[["check"]])
)
def test_a_terminal_of_few_letters_gets_the_others_as_codes(tmp_path, arguments):
    contents = small.files()
    contents[small.MATERIAL]["symbol"] = "PP-漢"
    contents[small.TEST]["specimens"][0] |= {"excluded": "漢"}
    if arguments == ["check"]:
        contents[small.TEST]["specimens"][0]["width_mm"] = "漢"
    small.write(tmp_path, contents)
    status, text = on_a_terminal(*arguments, "--root", tmp_path, PYTHONIOENCODING="ascii", PYTHONUTF8="0")
    assert status in (0, 1)
    assert "Traceback" not in text
    assert "\\u6f22" in text
