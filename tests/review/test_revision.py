"""Files of a revision, read through git without touching those at hand."""

import os
import shutil

import pytest

import small_handbook as small
from history import git, kept
from notchbook.review.revision import RevisionError, write_revision


def files_under(folder):
    return {
        each.relative_to(folder).as_posix(): each.read_bytes() for each in sorted(folder.rglob("*")) if each.is_file()
    }


def data_of(folder):
    return {name: content for name, content in files_under(folder).items() if not name.startswith(".git/")}


@pytest.fixture
def handbook(tmp_path):
    root = small.write(tmp_path / "lab", small.files())
    (root / "mkdocs.yml").write_text("site_name: A lab\nplugins: [notchbook]\n", encoding="utf-8")
    (root / "docs").mkdir()
    (root / "docs/about.md").write_text("# About\n", encoding="utf-8")
    (root / "elsewhere.txt").write_text("not of the handbook\n", encoding="utf-8")
    kept(root)
    return root


@pytest.fixture
def target(tmp_path):
    folder = tmp_path / "target"
    folder.mkdir()
    return folder


def test_the_files_are_those_of_the_revision(handbook, target):
    before = data_of(handbook)
    shutil.rmtree(handbook / "results")
    (handbook / small.RIG).write_text("kind: rig\n", encoding="utf-8")
    at_hand = data_of(handbook)
    name = write_revision(handbook, "HEAD", target)
    assert git(handbook, "rev-parse", "HEAD").startswith(name)
    assert files_under(target) == {path: content for path, content in before.items() if path != "elsewhere.txt"}
    assert data_of(handbook) == at_hand
    assert git(handbook, "status", "--porcelain").splitlines()  # what was changed is still changed


def test_an_older_revision_by_its_tag(handbook, target):
    git(handbook, "tag", "published")
    (handbook / small.TEST).unlink()
    kept(handbook, "one record less")
    write_revision(handbook, "published", target)
    assert (target / small.TEST).is_file()


def test_a_handbook_in_a_folder_of_a_repository(tmp_path, target):
    root = small.write(tmp_path / "all/teaching/lab", small.files())
    small.write(tmp_path / "all/teaching/lab-2", small.files())
    kept(tmp_path / "all")
    write_revision(root, "HEAD", target)
    assert files_under(target) == files_under(root)


def test_other_names_of_the_folders(tmp_path, target):
    contents = {name.replace("procedures/", "what/").replace("results/", "found/"): each
                for name, each in small.files().items()}  # fmt: skip
    root = small.write(tmp_path / "lab", contents)
    (root / "mkdocs.yml").write_text("plugins: [{notchbook: {procedures: what, results: found}}]\n", encoding="utf-8")
    kept(root)
    write_revision(root, "HEAD", target)
    assert set(contents) <= set(files_under(target))


def test_a_link_is_no_data_file(handbook, target, tmp_path):
    secret = tmp_path / "secret.yaml"
    secret.write_text("kind: test\n", encoding="utf-8")
    (handbook / "results/tests/linked.yaml").symlink_to(secret)
    kept(handbook)
    write_revision(handbook, "HEAD", target)
    assert "results/tests/linked.yaml" not in files_under(target)


def test_names_and_contents_of_any_bytes(handbook, target):
    odd = handbook / "results/tests" / os.fsdecode(b"caf\xc3\xa9 \xff.yaml")
    odd.write_bytes(b"\x00\n\n12 blob\n\xff")
    (handbook / "results/tests/empty.yaml").write_bytes(b"")
    kept(handbook)
    write_revision(handbook, "HEAD", target)
    assert files_under(target) == {each: text for each, text in data_of(handbook).items() if each != "elsewhere.txt"}


@pytest.mark.parametrize("revision", ["nowhere", "--help", "-h", "HEAD:results", "HEAD~9", "", "a..b"])
def test_there_is_no_such_revision(handbook, target, revision):
    with pytest.raises(RevisionError, match="there is no revision"):
        write_revision(handbook, revision, target)
    assert files_under(target) == {}


def test_a_folder_without_a_history(tmp_path, target):
    root = small.write(tmp_path / "lab", small.files())
    with pytest.raises(RevisionError, match="not a git repository"):
        write_revision(root, "HEAD", target)


def test_without_git(handbook, target, monkeypatch):
    monkeypatch.setenv("PATH", "")
    with pytest.raises(RevisionError, match="git was not found"):
        write_revision(handbook, "HEAD", target)
