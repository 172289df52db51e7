"""`notchbook site` and `notchbook serve`: what MkDocs does, where there is no `mkdocs` to be typed."""

import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

import pytest
from site_building import build, contents, environment, run

import small_handbook as small

SETTINGS = "site_name: Bench\ntheme: {name: mkdocs}\nplugins: [search, notchbook]\n"


def handbook(root: Path, settings: str = SETTINGS, **more: str) -> Path:
    return small.write(root, {**small.files(), "mkdocs.yml": settings, **more})


def test_the_site_is_that_of_mkdocs_and_no_folder_of_pages_is_needed(tmp_path: Path) -> None:
    root = handbook(tmp_path / "one")
    done = run(root, "notchbook", "site")
    assert done.returncode == 0, done.stdout
    assert "The folder 'docs' of pages by hand was not there and is made" in done.stdout
    again = run(root, "notchbook", "site", "--site-dir", "other")
    assert (again.returncode, "is made" in again.stdout) == (0, False)
    other = handbook(tmp_path / "two")
    (other / "docs").mkdir()
    assert build(other, "--strict").returncode == 0
    different = {"sitemap.xml", "sitemap.xml.gz"}
    sites = [contents(folder) for folder in (root / "site", root / "other", other / "site")]
    kept = [{name: data for name, data in each.items() if name not in different} for each in sites]
    assert kept[0] == kept[1] == kept[2]
    assert "records/index.html" in kept[0]


def test_a_folder_to_write_counts_from_where_the_command_is_typed(tmp_path: Path) -> None:
    handbook(tmp_path / "lab")
    done = run(tmp_path, "notchbook", "site", "--root", "lab", "--site-dir", "out")
    assert done.returncode == 0, done.stdout
    assert (tmp_path / "out/index.html").is_file()


def test_a_warning_stops_it_unless_it_is_told_to_go_on(tmp_path: Path) -> None:
    declared = {"rule": "conditioning", "reason": "short of time", "accepted_by": "LT-1"}
    record = {**small.files()[small.TEST], "deviations": [declared]}
    root = handbook(tmp_path, SETTINGS.replace("notchbook]", "{notchbook: {deviations: label}}]"))
    small.write(root, {small.TEST: record})
    done = run(root, "notchbook", "site")
    assert (done.returncode, (root / "site").exists()) == (1, False), done.stdout
    assert "[deviation-unused]" in done.stdout
    assert run(root, "notchbook", "site", "--no-strict").returncode == 0
    assert (root / "site/index.html").is_file()


@pytest.mark.parametrize("command", ["site", pytest.param("serve", marks=pytest.mark.repeats)])
@pytest.mark.parametrize(
    ("spoil", "status", "words"),
    [
        ({"results": "result"}, 1, "'result' lies there"),
        ({"mkdocs.yml": "settings.yml"}, 2, "has no mkdocs.yml"),
        ({"results": "r", "procedures": "p"}, 2, "holds neither procedures/ nor results/"),
        ({"docs": "Docs"}, 1, "Nothing was built: there is no folder 'docs' of pages by hand; 'Docs' lies there"),
    ],
    ids=["a folder misspelt", "no settings", "no handbook", "pages in capitals"],
)
def test_what_is_wrong_is_told_and_nothing_is_written(
    command: str, spoil: dict[str, str], status: int, words: str, tmp_path: Path
) -> None:
    root = handbook(tmp_path, **{"docs/house-rules.md": "# Rules of the house\n"})
    for name, other in spoil.items():
        (root / name).rename(root / other)
    before = contents(root)
    done = run(root, "notchbook", command)
    assert (done.returncode, words in done.stdout) == (status, True), done.stdout
    assert "Traceback" not in done.stdout
    assert contents(root) == before


def test_a_folder_of_pages_that_was_named_is_not_made(tmp_path: Path) -> None:
    done = run(handbook(tmp_path, f"{SETTINGS}docs_dir: wiki\n"), "notchbook", "site")
    assert done.returncode == 1
    assert done.stdout.startswith("Nothing was built: there is no folder 'wiki' of pages by hand; correct the name")


def test_settings_that_do_not_name_the_plugin_build_no_site_without_records(tmp_path: Path) -> None:
    done = run(handbook(tmp_path, "site_name: Bench\n"), "notchbook", "site")
    assert done.returncode == 2
    assert done.stdout == "Error: mkdocs.yml does not name the plugin; write 'notchbook' below 'plugins'\n"


def test_settings_of_the_fork_are_those_that_are_built(tmp_path: Path) -> None:
    root = handbook(tmp_path, SETTINGS)
    (root / "mkdocs.yml").rename(root / "properdocs.yml")
    done = run(root, "notchbook", "site")
    assert done.returncode == 0, done.stdout
    assert (root / "site/index.html").is_file()


def test_no_module_of_the_handbook_takes_the_place_of_the_builder(tmp_path: Path) -> None:
    root = handbook(tmp_path, **{"mkdocs.py": "open('ran', 'w')\n", "yaml.py": "open('ran', 'w')\n"})
    # as pip installs the command: started by a file elsewhere, and not by a module of the folder
    start = "import sys; sys.path.remove(''); from notchbook.cli import main; main()"
    words = [sys.executable, "-c", start, "site"]
    done = subprocess.run(words, cwd=root, env=environment(), capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert not (root / "ran").exists()


def test_a_preview_is_shown_until_it_is_stopped(tmp_path: Path) -> None:
    root = handbook(tmp_path)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    words = [sys.executable, "-m", "notchbook", "serve", "--address", f"127.0.0.1:{port}"]
    with (tmp_path / "said").open("w") as said:
        process = subprocess.Popen(words, cwd=root, env=environment(), stdout=said, stderr=said)
        try:
            assert "Notched bars" in _shown(f"http://127.0.0.1:{port}/")
        finally:
            os.kill(process.pid, signal.SIGTERM)
        process.wait(30)
    with pytest.raises(OSError, match="refused"):
        urllib.request.urlopen(f"http://127.0.0.1:{port}/", timeout=5)


def _shown(address: str) -> str:
    until = time.monotonic() + 120
    while True:
        try:
            with urllib.request.urlopen(address, timeout=10) as page:  # noqa: S310  # one of this machine
                return page.read().decode("utf-8")
        except OSError:
            assert time.monotonic() < until
            time.sleep(0.2)
