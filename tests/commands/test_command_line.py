"""The commands as a person and as a script meet them: output, exit status, help, and odd surroundings."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

import prepared_command
from notchbook import __version__
from notchbook.cli import main
from notchbook.findings import RENDERINGS
from notchbook.results_data import FORMS
from small_handbook import FILES, MATERIAL, RIG, TEST, as_yaml, files, write

HOSTILE = "a\n::error::b\r\x1b[31mred\u202eturned\u2028x,:%"


def run(*arguments):
    return CliRunner().invoke(main, [str(each) for each in arguments])


def run_process(*arguments, folder, **environment):
    """The command as a process of its own has it, in that folder."""
    return prepared_command.run("notchbook", *map(str, arguments), folder=folder, environment=environment, strict=True)


@pytest.fixture
def sound(tmp_path):
    return write(tmp_path / "sound", files())


@pytest.fixture
def broken(tmp_path):
    contents = files()
    contents[TEST]["specimens"][0]["width_mm"] = HOSTILE
    contents[RIG]["striking_length_mm"] = "390 mm"
    return write(tmp_path / "broken", contents)


@pytest.mark.parametrize("form", RENDERINGS)
def test_check_ends_with_0_where_nothing_is_an_error(sound, form):
    result = run("check", "--root", sound, "--format", form)
    assert result.exit_code == 0
    assert result.stderr == f"0 errors, 0 warnings, 1 note in {len(FILES)} files\n"


@pytest.mark.parametrize("form", RENDERINGS)
def test_check_ends_with_1_where_something_is_an_error(broken, form):
    result = run("check", "--root", broken, "--format", form)
    assert result.exit_code == 1
    assert result.stderr.startswith("2 errors, ")


@pytest.mark.parametrize("form", FORMS)
def test_results_end_with_the_same_status_and_print_what_they_can(sound, broken, form):
    result = run("results", "--root", sound, "--format", form)
    assert (result.exit_code, result.stderr) == (0, "")
    assert "2026-10-06-g2-pp-h" in result.stdout
    result = run("results", "--root", broken, "--format", form)
    assert (result.exit_code, result.stderr) == (1, "2 errors: run `notchbook check`\n")
    assert result.stdout


@pytest.mark.parametrize("command", ["check", "results"])
def test_a_folder_that_is_no_handbook_ends_with_2_and_one_line(tmp_path, command):
    result = run(command, "--root", tmp_path)
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr == (
        f"Error: '{tmp_path}' holds neither procedures/ nor results/; name the folder of the handbook with --root\n"
    )


@pytest.mark.parametrize("command", ["check", "results"])
@pytest.mark.parametrize("root", ["nowhere", "a-file"])
def test_a_root_that_is_no_folder_ends_with_2(tmp_path, command, root):
    (tmp_path / "a-file").write_text("x")
    result = run(command, "--root", tmp_path / root)
    assert (result.exit_code, result.stdout) == (2, "")
    assert root in result.stderr
    assert "Traceback" not in result.stderr


@pytest.mark.parametrize(
    "arguments", [("check", "--format", "xml"), ("results", "--format", "text"), ("judge",), ("check", "x")]
)
def test_what_is_not_known_ends_with_2(arguments):
    assert run(*arguments).exit_code == 2


@pytest.mark.parametrize("folder", ["procedures", "results"])
def test_a_handbook_of_one_of_the_two_folders_is_refused_by_its_name(tmp_path, folder):
    (tmp_path / folder).mkdir()
    other = {"procedures": "results", "results": "procedures"}[folder]
    done = run("check", "--root", tmp_path)
    assert done.exit_code == 1
    assert done.stdout.startswith(f"{other}:1:1: error: the folder {other}/ is not there")
    assert "make the folder" in done.stdout
    (tmp_path / other).mkdir()
    assert run("check", "--root", tmp_path).exit_code == 0


def test_text_is_one_line_a_finding_whatever_the_files_hold(broken):
    lines = run("check", "--root", broken).stdout.split("\n")
    assert lines.pop() == ""
    assert [line.split(":")[0] for line in lines] == [RIG, TEST]
    assert all(line.isprintable() for line in lines)
    assert "\\x1b[31mred\\u202eturned" in lines[1]


def test_annotations_hold_no_command_of_the_files(broken):
    lines = run("check", "--root", broken, "--format", "github").stdout.splitlines()
    assert len(lines) == 2
    assert all(line.startswith("::error file=") and line.count("\n::") == 0 for line in lines)


def test_json_and_sarif_parse_and_tell_the_same_findings(broken):
    found = json.loads(run("check", "--root", broken, "--format", "json").stdout)
    log = json.loads(run("check", "--root", broken, "--format", "sarif").stdout)
    assert found["summary"] == {"errors": 2, "warnings": 0, "notes": 0}
    told = [(each["rule"], each["path"], each["line"], each["column"]) for each in found["findings"]]
    places = [each["locations"][0]["physicalLocation"] for each in log["runs"][0]["results"]]
    assert told == [
        (each["ruleId"], place["artifactLocation"]["uri"], place["region"]["startLine"], place["region"]["startColumn"])
        for each, place in zip(log["runs"][0]["results"], places, strict=True)
    ]
    assert HOSTILE[:10].replace("\n", "\\n") in json.dumps(found["findings"][1]["message"], ensure_ascii=False)


def test_the_folder_it_is_run_in_is_the_root(sound):
    here = run_process("check", folder=sound)
    assert (here.status, b"results/tests/" in here.stdout) == (0, True)


def test_paths_begin_at_the_root_wherever_it_is_run(broken, tmp_path):
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    here = run_process("check", folder=broken)
    for root in (broken, Path("..") / "broken"):
        there = run_process("check", "--root", root, folder=elsewhere)
        assert (there.status, there.stdout, there.stderr) == (1, here.stdout, here.stderr)
    paths = {line.split(b":")[0].decode() for line in here.stdout.splitlines()}
    assert paths == {RIG, TEST}


@pytest.mark.parametrize("encoding", ["ascii", "cp1252", "utf-8"])
def test_what_goes_into_a_file_is_utf_8_on_every_machine(tmp_path, encoding):
    contents = files()
    contents[MATERIAL]["symbol"] = 5
    contents[TEST]["specimens"][0] |= {"id": "π漢😀", "rise_angle_deg": "10 µ"}
    contents[TEST]["specimens"][1] |= {"excluded": "π漢😀"}
    root = write(tmp_path, contents)
    for arguments in (
        ["check"],
        ["check", "--format", "json"],
        ["check", "--format", "sarif"],
        ["results", "--format", "csv"],
    ):
        done = run_process(*arguments, folder=root, PYTHONIOENCODING=encoding, PYTHONUTF8="0")
        assert done.status == 1
        done.stdout.decode("utf-8")
        assert b"Traceback" not in done.stderr
    (root / MATERIAL).write_text(as_yaml(FILES[MATERIAL]))
    contents[TEST]["specimens"][0] |= {"rise_angle_deg": 86.4}
    write(root, {TEST: contents[TEST]})
    done = run_process("results", folder=root, PYTHONIOENCODING=encoding, PYTHONUTF8="0")
    assert json.loads(done.stdout)["tests"]["2026-10-06-g2-pp-h"]["specimens"][1]["excluded"] == "π漢😀"


def test_the_settings_of_the_handbook_hold_for_the_command(tmp_path):
    contents = {f"data/{path}": data for path, data in files().items()}
    contents["mkdocs.yml"] = "plugins: [{notchbook: {procedures: data/procedures, results: data/results}}]\n"
    result = run("check", "--root", write(tmp_path, contents))
    assert (result.exit_code, result.stdout.split(":")[0]) == (0, f"data/{TEST}")


def test_a_broken_configuration_is_a_finding_not_a_crash(tmp_path):
    result = run("check", "--root", write(tmp_path, {**files(), "mkdocs.yml": "plugins: [\n"}))
    assert result.exit_code == 1
    assert result.stdout.startswith("mkdocs.yml:2:1: error: cannot be read")


@pytest.mark.parametrize("flag", ["-h", "--help"])
@pytest.mark.parametrize("arguments", [(), ("check",), ("results",)])
def test_help_says_what_it_does_and_how_it_ends(arguments, flag):
    result = run(*arguments, flag)
    assert (result.exit_code, result.stderr) == (0, "")
    text = " ".join(result.stdout.split())
    if arguments:
        # a line a status
        lines = [each.strip() for each in result.stdout.splitlines()]
        first = next(number for number, each in enumerate(lines) if each.startswith("Exit status: 0  "))
        assert [each[:3] for each in lines[first + 1 : first + 3]] == ["1  ", "2  "]
        assert "--root" in text
        assert "--format" in text
        forms = RENDERINGS if arguments == ("check",) else FORMS
        assert f"[{'|'.join(forms)}]" in text
        assert "[default: this folder]" in text
    else:
        assert "check" in text
        assert "results" in text
        assert "procedures/" in text


def test_the_version_is_that_of_the_package():
    assert run("--version").stdout == f"notchbook, version {__version__}\n"
