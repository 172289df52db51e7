"""A site takes the place of the one before it whole, or not at all."""

import errno
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from notchbook.building import locks
from notchbook.building import staging as staging_module
from notchbook.building.staging import Staging, StagingError
from notchbook.site_reading.site_places import UNFINISHED


def files_in(folder):
    return {each.relative_to(folder).as_posix(): each.read_text() for each in folder.rglob("*") if each.is_file()}


def names_in(folder):
    return sorted(each.name for each in folder.iterdir())


def filled(folder, **files):
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in files.items():
        path = folder / name.replace("__", "/")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text)
    return folder


@pytest.fixture
def site(tmp_path):
    return filled(tmp_path / "out/site", index="old", rigs__a="old", gone="old")


def test_the_new_site_takes_the_place_of_the_old_one(site):
    staging = Staging(site)
    filled(staging.folder, index="new", rigs__b="new")
    assert files_in(site) == {"index": "old", "rigs/a": "old", "gone": "old"}
    staging.publish()
    assert files_in(site) == {"index": "new", "rigs/b": "new"}
    assert names_in(site.parent) == ["site"]
    assert staging.mended == []


def test_a_first_site_in_a_folder_that_is_not_there(tmp_path):
    staging = Staging(tmp_path / "a/b/site")
    filled(staging.folder, index="new")
    staging.publish()
    assert files_in(tmp_path) == {"a/b/site/index": "new"}


def test_a_build_that_is_given_up_leaves_nothing(site):
    staging = Staging(site)
    filled(staging.folder, index="new")
    staging.abandon()
    assert files_in(site.parent) == {"site/index": "old", "site/rigs/a": "old", "site/gone": "old"}
    assert names_in(site.parent) == ["site"]


def test_hidden_files_of_the_site_stay(site):
    filled(site, **{".git": "gitdir: elsewhere", ".well-known__keys": "a key"})
    staging = Staging(site)
    filled(staging.folder, index="new")
    staging.publish()
    assert files_in(site) == {"index": "new", ".git": "gitdir: elsewhere", ".well-known/keys": "a key"}


def test_a_link_stays_one(site, tmp_path):
    link = tmp_path / "link"
    link.symlink_to(site)
    staging = Staging(link)
    filled(staging.folder, index="new")
    staging.publish()
    assert link.is_symlink()
    assert files_in(link) == {"index": "new"}


def test_two_builds_at_once_do_not_mix(site):
    first, second = Staging(site), Staging(site)
    filled(first.folder, index="first", only_first="first")
    filled(second.folder, index="second")
    second.publish()
    assert files_in(site) == {"index": "second"}
    first.publish()
    assert files_in(site) == {"index": "first", "only_first": "first"}
    assert first.mended == second.mended == []
    assert names_in(site.parent) == ["site"]


KILLED = """
import os, pathlib, signal, sys
from notchbook.building.staging import Staging
staging = Staging(pathlib.Path(sys.argv[1]))
(staging.folder / "index").write_text("half")
when = sys.argv[2]
rename = pathlib.Path.rename
def renamed(path, target):
    if when == "before":
        os.kill(os.getpid(), signal.SIGKILL)
    rename(path, target)
    if when == "between":
        os.kill(os.getpid(), signal.SIGKILL)
pathlib.Path.rename = renamed
if when == "while-building":
    os.kill(os.getpid(), signal.SIGKILL)
staging.publish()
"""


@pytest.mark.skipif(sys.platform == "win32", reason="there is no such signal")
@pytest.mark.parametrize("when", ["while-building", "before", "between"])
def test_the_next_build_mends_what_a_killed_one_left(site, when):
    before = files_in(site)
    done = subprocess.run([sys.executable, "-c", KILLED, str(site), when], check=False)
    assert done.returncode == -9
    assert len(names_in(site.parent)) > 1
    staging = Staging(site)
    assert files_in(site) == before
    assert len(staging.mended) >= 1
    assert all("cut short" in each for each in staging.mended)
    filled(staging.folder, index="new")
    staging.publish()
    assert files_in(site) == {"index": "new"}
    assert names_in(site.parent) == ["site"]


def test_another_site_s_leftovers_are_its_own(tmp_path):
    others = [tmp_path / ".other.building-01234567", tmp_path / ".other.earlier-01234567"]
    for each in others:
        filled(each, index="other")
    staging = Staging(tmp_path / "[o]ther")
    staging.publish()
    assert all(each.is_dir() for each in others)


def test_what_somebody_put_beside_the_site_is_left_alone(site):
    own = [site.parent / f".site.{name}" for name in ("earlier-notes", "building-plans", "earlier-01234567-copy")]
    for each in own:
        filled(each, index="own")
    (site.parent / ".site.earlier-89abcdef").symlink_to(own[0])
    Staging(site).publish()
    assert all(files_in(each) == {"index": "own"} for each in own)


def test_a_mounted_folder_is_filled_file_by_file(site, monkeypatch):
    rename = Path.rename

    def busy(path, target):
        if path == site:
            raise OSError(errno.EBUSY, "Device or resource busy")
        return rename(path, target)

    monkeypatch.setattr(Path, "rename", busy)
    filled(site, **{".git": "gitdir: elsewhere"})
    staging = Staging(site)
    # what was a file is a folder now, and the other way round
    filled(staging.folder, index__a="new", rigs="new")
    staging.publish()
    assert files_in(site) == {"index/a": "new", "rigs": "new", ".git": "gitdir: elsewhere"}
    assert names_in(site.parent) == ["site"]


@pytest.fixture(autouse=True)
def no_pauses(monkeypatch):
    monkeypatch.setattr(staging_module, "_PAUSES_S", (0.0, 0.0))


def refusing(monkeypatch, name, refused, times):
    """Refuse what a method of Path does to some paths, as Windows does while another program holds them."""
    usual, left = getattr(Path, name), {"times": times}

    def act(path, *arguments, **options):
        if refused(path) and left["times"]:
            left["times"] -= 1
            raise PermissionError(errno.EACCES, "The process cannot access the file", str(path))
        return usual(path, *arguments, **options)

    monkeypatch.setattr(Path, name, act)


@pytest.mark.parametrize("times", [2, 99], ids=["for a moment", "on and on"])
@pytest.mark.parametrize("held", ["the site", "the new one", "no site yet"])
def test_a_folder_that_a_program_holds_is_tried_again_and_copied_then(site, monkeypatch, held, times):
    if held == "no site yet":
        shutil.rmtree(site)
    staging = Staging(site)
    filled(staging.folder, index="new", rigs__b="new")
    folder = site if held == "the site" else staging.folder
    refusing(monkeypatch, "rename", lambda path: path == folder, times)
    staging.publish()
    assert files_in(site) == {"index": "new", "rigs/b": "new"}
    assert names_in(site.parent) == ["site"]


def test_a_file_that_a_program_holds_is_tried_again_while_it_is_copied(site, monkeypatch):
    refusing(monkeypatch, "rename", lambda path: path == site, 99)
    refusing(monkeypatch, "unlink", lambda path: path == site / "gone", 2)
    staging = Staging(site)
    filled(staging.folder, index="new")
    staging.publish()
    assert files_in(site) == {"index": "new"}


def test_a_copy_that_is_refused_says_that_the_site_is_not_whole(site, monkeypatch):
    refusing(monkeypatch, "rename", lambda path: path == site, 99)
    refusing(monkeypatch, "unlink", lambda path: path == site / "gone", 99)
    staging = Staging(site)
    filled(staging.folder, index="new")
    with pytest.raises(StagingError, match=r"in part only: .*gone.*build again"):
        staging.publish()
    assert (site / UNFINISHED).exists()


def test_a_new_site_that_cannot_be_copied_either_leaves_the_old_one(site, monkeypatch):
    staging = Staging(site)
    filled(staging.folder, index="new")
    refusing(monkeypatch, "rename", lambda path: path == staging.folder, 99)
    monkeypatch.setattr(shutil, "copyfile", lambda *_: (_ for _ in ()).throw(OSError(errno.ENOSPC, "No space left")))
    before = files_in(site)
    with pytest.raises(StagingError, match="No space left"):
        staging.publish()
    assert files_in(site) == before


def test_a_disk_without_locks_builds_with_a_word_and_deletes_nobody_s_folder(site, monkeypatch):
    other = Staging(site)
    filled(other.folder, index="other")

    def none(_handle):
        raise OSError(errno.ENOLCK, "No locks available")

    monkeypatch.setattr(locks, "_lock", none)
    said = []
    staging = Staging(site, said.append)
    filled(staging.folder, index="new")
    staging.publish()
    assert files_in(site) == {"index": "new"}
    assert said == ["this disk knows no locks (No locks available): let nobody else build here at the same time"]
    assert files_in(other.folder) == {"index": "other"}


def test_a_copy_that_was_cut_short_is_told(site):
    (site / UNFINISHED).touch()
    (told,) = Staging(site).mended
    assert "not whole" in told


def test_a_place_that_cannot_be_written_is_one_clear_line(tmp_path):
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(StagingError) as told:
        Staging(tmp_path / "file/site")
    assert "file" in str(told.value)
    assert "\n" not in str(told.value)


def test_the_old_site_is_back_where_the_new_one_cannot_take_its_place(site, monkeypatch):
    staging = Staging(site)
    filled(staging.folder, index="new")
    rename = Path.rename

    def full(path, target):
        if path == staging.folder:
            raise OSError(errno.ENOSPC, "No space left on device")
        return rename(path, target)

    monkeypatch.setattr(Path, "rename", full)
    with pytest.raises(StagingError, match="as it was: No space left on device"):
        staging.publish()
    assert files_in(site)["index"] == "old"
    staging.abandon()
    assert names_in(site.parent) == ["site"]
