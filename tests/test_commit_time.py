"""The date of a site is that of the commit that it is built from."""

import datetime as dt
import os

import pytest

import small_handbook as small
from forged import object_of
from history import git, kept
from notchbook.commit_time import commit_time
from notchbook.handbook import day_of


def test_files_that_are_a_commit_have_its_date(tmp_path):
    small.write(tmp_path / "lab", small.files())
    kept(tmp_path)
    found = commit_time(tmp_path / "lab")
    assert found.epoch == int(dt.datetime(2026, 11, 2, 12, tzinfo=dt.UTC).timestamp())
    assert found.day == dt.date(2026, 11, 2)


def test_the_day_is_that_of_whoever_committed(tmp_path):
    small.write(tmp_path, small.files())
    kept(tmp_path, when="2026-11-03T00:30:00+02:00")
    found = commit_time(tmp_path)
    assert found.day == dt.date(2026, 11, 3)
    assert dt.datetime.fromtimestamp(found.epoch, tz=dt.UTC).date() == dt.date(2026, 11, 2)


def test_changed_or_new_files_are_no_commit(tmp_path):
    small.write(tmp_path, small.files())
    kept(tmp_path)
    path = tmp_path / small.RIG
    text = path.read_text(encoding="utf-8")
    path.write_text(text + "# changed\n", encoding="utf-8")
    assert commit_time(tmp_path) is None
    path.write_text(text, encoding="utf-8")
    assert commit_time(tmp_path) is not None
    (tmp_path / "results/tests/new.yaml").write_text("kind: test\n", encoding="utf-8")
    assert commit_time(tmp_path) is None


def test_what_is_ignored_does_not_count(tmp_path):
    small.write(tmp_path, small.files())
    (tmp_path / ".gitignore").write_text("site/\n", encoding="utf-8")
    kept(tmp_path)
    (tmp_path / "site").mkdir()
    (tmp_path / "site/index.html").write_text("built", encoding="utf-8")
    assert commit_time(tmp_path) is not None


@pytest.mark.parametrize("is_kept", [False, True], ids=["not ignored", "kept in the history"])
def test_what_builds_write_does_not_count(tmp_path, is_kept):
    lab = tmp_path / "lab"
    small.write(lab, small.files())
    beside = {"lab/.site.building-0123abcd/index.html": "half", "lab/.site.exchange-lock": ""}
    site = {"lab/site/index.html": "built", **beside}
    if is_kept:
        small.write(tmp_path, site)
    kept(tmp_path)
    small.write(tmp_path, {**site, "lab/site/index.html": "built anew", "lab/site/rigs/index.html": "new"})
    assert commit_time(lab) is None
    assert commit_time(lab, lab / "site") is not None
    assert commit_time(lab, lab / "elsewhere") is None
    # a folder that holds the handbook takes nothing out
    assert commit_time(lab, tmp_path) is None
    small.write(tmp_path, {"lab/site-notes/index.html": "not the site's"})
    assert commit_time(lab, lab / "site") is None


def test_the_day_is_the_commit_s_beside_a_site_that_nobody_ignores(tmp_path):
    small.write(tmp_path, {**small.files(), "mkdocs.yml": "site_name: x\nsite_dir: public\nplugins: [notchbook]\n"})
    kept(tmp_path)
    small.write(tmp_path, {"public/index.html": "built"})
    assert day_of(tmp_path) == dt.date(2026, 11, 2)
    small.write(tmp_path, {"site/index.html": "somebody's own"})
    assert day_of(tmp_path) != dt.date(2026, 11, 2)


def test_without_a_history_or_without_git(tmp_path, monkeypatch):
    small.write(tmp_path, small.files())
    assert commit_time(tmp_path) is None
    kept(tmp_path)
    monkeypatch.setenv("PATH", "")
    assert commit_time(tmp_path) is None


def in_seconds(seconds):
    moment = dt.datetime.now(tz=dt.UTC).replace(microsecond=0) + dt.timedelta(seconds=seconds)
    return moment.isoformat()


def test_a_commit_of_the_future_is_not_believed(tmp_path):
    small.write(tmp_path, small.files())
    kept(tmp_path, when=in_seconds(3600))
    assert commit_time(tmp_path) is None
    # clocks differ a little
    kept(tmp_path, when=in_seconds(120))
    assert commit_time(tmp_path) is not None


@pytest.mark.parametrize(
    "committer",
    [
        "LT-1 <lt-1@saltmere.example> 99999999999999999 +0000", "LT-1 <lt-1@saltmere.example> 1793620800 +9999",
        "LT-1 <lt-1@saltmere.example> -5 +0000", "LT-1 <lt-1@saltmere.example>", "nobody",
    ],
)  # fmt: skip
def test_times_that_are_none(tmp_path, committer):
    small.write(tmp_path, small.files())
    kept(tmp_path)
    head, _, message = git(tmp_path, "cat-file", "commit", "HEAD").partition("\n\n")
    lines = [line for line in head.splitlines() if not line.startswith("committer")]
    made = "\n".join([*lines, f"committer {committer}"]) + f"\n\n{message}\ncommitter x <y> 1 +0000\n"
    git(tmp_path, "update-ref", "HEAD", object_of(tmp_path, "commit", made.encode()))
    assert commit_time(tmp_path) is None


def test_another_time_that_is_said_goes_before(tmp_path, monkeypatch):
    small.write(tmp_path, small.files())
    kept(tmp_path)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1793620800")
    assert commit_time(tmp_path) is None


def test_files_that_were_only_touched_or_have_other_ends_of_lines_are_as_committed(tmp_path):
    small.write(tmp_path, {**small.files(), "docs/a.md": "one\ntwo\n"})
    (tmp_path / "docs/b.md").symlink_to("a.md")
    kept(tmp_path)
    (tmp_path / "docs/a.md").write_bytes(b"one\r\ntwo\r\n")
    for path in tmp_path.rglob("*.yaml"):
        os.utime(path, (1, 1))
    assert commit_time(tmp_path) is not None


@pytest.mark.parametrize(
    "change",
    [
        lambda root: (root / "docs/a.md").unlink(),
        lambda root: (root / "docs/b.md").unlink() or (root / "docs/b.md").symlink_to("c.md"),
        lambda root: (root / "docs/b.md").unlink() or (root / "docs/b.md").write_text("a.md", encoding="utf-8"),
        lambda root: (root / "docs/a.md").rename(root / "docs/c.md") and (root / "docs/a.md").symlink_to("c.md"),
        lambda root: (root / "docs/c.md").write_text("new", encoding="utf-8") and git(root, "add", "docs/c.md"),
        lambda root: git(root, "init", "-q", "docs/nested"),
        lambda root: (root / ".git/index").write_bytes(b"no index"),
    ],
    ids=["gone", "other link", "file for a link", "link for a file", "staged", "another repository", "no index"],
)
def test_whatever_differs_from_the_commit_is_seen(tmp_path, change):
    small.write(tmp_path, {**small.files(), "docs/a.md": "one\n"})
    (tmp_path / "docs/b.md").symlink_to("a.md")
    kept(tmp_path)
    assert commit_time(tmp_path) is not None
    change(tmp_path)
    assert commit_time(tmp_path) is None


def test_what_lies_beside_the_handbook_does_not_count(tmp_path):
    small.write(tmp_path / "lab", small.files())
    kept(tmp_path)
    small.write(tmp_path, {"lab-2/new.txt": "new", "new.txt": "new"})
    assert commit_time(tmp_path / "lab") is not None
