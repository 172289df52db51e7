"""The date of a site is that of the commit that it is built from."""

import datetime as dt

import small_handbook as small
from history import kept
from notchbook.building.commit_time import commit_time


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


def test_without_a_history_or_without_git(tmp_path, monkeypatch):
    small.write(tmp_path, small.files())
    assert commit_time(tmp_path) is None
    kept(tmp_path)
    monkeypatch.setenv("PATH", "")
    assert commit_time(tmp_path) is None
