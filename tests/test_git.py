"""The one way to call git: each door through which a repository could have a command run, opened and tried.

Every door is also tried with plain git, which goes through it: a door that is not open proves nothing.
"""

import os
import stat
import subprocess
import sys

import pytest

import small_handbook as small
from forged import looks_like_a_repository, lose, object_of, plain_git, set_in, settings_text
from history import git as work
from history import kept
from notchbook.commit_time import commit_time
from notchbook.git import GitError, git, repository_of
from notchbook.review.revision import RevisionError, write_revision

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="the doors are commands of a shell")


@pytest.fixture
def mark(tmp_path):
    """A file that is only there once a command was run."""
    return tmp_path / "mark"


@pytest.fixture
def lab(tmp_path):
    """A handbook in a folder of a repository."""
    root = small.write(tmp_path / "all/lab", small.files())
    kept(tmp_path / "all")
    return root


@pytest.fixture
def everything(tmp_path):
    """Does all that is done with git, whatever comes of it."""

    def do(root):
        commit_time(root)
        try:
            (tmp_path / "target").mkdir(exist_ok=True)
            write_revision(root, "HEAD", tmp_path / "target")
        except RevisionError:
            pass

    return do


def script(path, text):
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(f"#!/bin/sh\n{text}\n", encoding="utf-8")
    path.chmod(path.stat().st_mode | stat.S_IXUSR)


def touched(root):
    """Make git look into the files again, without changing them."""
    for path in root.rglob("*.yaml"):
        os.utime(path, (1, 1))


def attributes(root, words):
    (root / ".gitattributes").write_text(f"* {words}\n", encoding="utf-8")
    kept(root.parent)
    touched(root)


def fsmonitor(root, run):
    set_in(root, core__fsmonitor=f"{run}; false")
    return ["status"]


def included(root, run):
    (root / "settings").write_text(settings_text(core={"fsmonitor": f"{run}; false"}), encoding="utf-8")
    set_in(root, include__path="../lab/settings")
    return ["status"]


def hook(root, run):
    script(root / "hooks/post-index-change", run)
    set_in(root, core__hooksPath="lab/hooks")
    touched(root)
    return ["status"]


def clean(root, run):
    set_in(root, filter__door__clean=f"{run}; cat", filter__door__required="true")
    attributes(root, "filter=door")
    return ["status"]


def process(root, run):
    attributes(root, "filter=door")
    set_in(root, filter__door__process=run)
    return ["status"]


def smudge(root, run):
    set_in(root, filter__door__smudge=f"{run}; cat")
    attributes(root, "filter=door")
    return ["cat-file", "--filters", f"HEAD:lab/{small.RIG}"]


def other_attributes(root, run):
    (root.parent / ".git/info").mkdir(exist_ok=True)
    (root.parent / ".git/info/attributes").write_text("* filter=door\n", encoding="utf-8")
    set_in(root, filter__door__clean=f"{run}; cat")
    touched(root)
    return ["status"]


def attributes_file(root, run):
    (root / "named").write_text("* filter=door\n", encoding="utf-8")
    set_in(root, filter__door__clean=f"{run}; cat", core__attributesFile=str(root / "named"))
    touched(root)
    return ["status"]


def textconv(root, run):
    set_in(root, diff__door__textconv=f"{run}; cat")
    attributes(root, "diff=door")
    return ["log", "-1", "-p"]


def diff_command(root, run):
    set_in(root, diff__door__command=run)
    attributes(root, "diff=door")
    (root / small.RIG).write_text("kind: rig\n", encoding="utf-8")
    return ["diff"]


def external_diff(root, run):
    set_in(root, diff__external=run)
    (root / small.RIG).write_text("kind: rig\n", encoding="utf-8")
    return ["diff"]


def signature(root, run):
    text = work(root, "cat-file", "commit", "HEAD")
    head, empty, message = text.partition("\n\n")
    signed = f"{head}\ngpgsig -----BEGIN PGP SIGNATURE-----\n \n x\n -----END PGP SIGNATURE-----{empty}{message}\n"
    work(root, "update-ref", "HEAD", object_of(root, "commit", signed.encode()))
    script(root.parent.parent / "gpg", run)
    set_in(root, gpg__program=str(root.parent.parent / "gpg"), log__showSignature="true")
    return ["log", "-1"]


def promised(root, **settings):
    """A clone that lacks the contents of a file, which a remote promises."""
    set_in(root, remote__far__promisor="true", remote__far__partialclonefilter="blob:none", **settings)
    lose(root, small.RIG)
    return ["cat-file", "-p", f"HEAD:lab/{small.RIG}"]


def fetched_by_a_command(root, run):
    set_in(root, protocol__ext__allow="always", protocol__allow="always")
    return promised(root, remote__far__url=f"ext::{run}")


def fetched_from_a_folder(root, run):
    return promised(root, remote__far__url=str(root.parent), remote__far__uploadpack=f"{run};")


def fetched_by_ssh(root, run):
    set_in(root, core__sshCommand=f"{run};")
    return promised(root, remote__far__url="ssh://somewhere.example/lab")


def fetched_through_a_proxy(root, run):
    script(root.parent.parent / "proxy", run)
    set_in(root, core__gitProxy=str(root.parent.parent / "proxy"))
    return promised(root, remote__far__url="git://somewhere.example/lab")


DOORS = [
    fsmonitor, included, hook, clean, process, smudge, other_attributes, attributes_file, textconv, diff_command,
    external_diff, signature, fetched_by_a_command, fetched_from_a_folder, fetched_by_ssh, fetched_through_a_proxy,
]  # fmt: skip


@pytest.mark.parametrize("door", DOORS, ids=lambda door: door.__name__)
def test_no_command_of_the_settings_is_run(door, lab, mark, everything):
    way = door(lab, f"touch {mark}")
    mark.unlink(missing_ok=True)
    everything(lab)
    assert not mark.exists()
    plain_git(lab, *way)
    assert mark.exists()


def folder_with_a_monitor(root, run):
    settings = {"repositoryformatversion": "0", "bare": "false", "worktree": ".", "fsmonitor": f"{run}; false"}
    looks_like_a_repository(root, settings_text(core=settings))
    return ["status"]


def folder_with_a_remote(root, run):
    remote = {"url": f"ext::{run}", "promisor": "true", "partialclonefilter": "blob:none"}
    settings = settings_text(
        core={"repositoryformatversion": "1", "bare": "true"},
        extensions={"partialClone": "far"}, remote__far=remote, protocol__ext={"allow": "always"},
    )  # fmt: skip
    looks_like_a_repository(root, settings)
    return ["rev-parse", "--verify", "1234567890123456789012345678901234567890^{commit}"]


@pytest.mark.parametrize("door", [folder_with_a_monitor, folder_with_a_remote], ids=lambda door: door.__name__)
@pytest.mark.parametrize("inside", [".", "deeper"])
def test_a_folder_that_looks_like_a_repository_is_passed_by(door, inside, lab, mark, everything):
    root = lab if inside == "." else small.write(lab / inside, small.files())
    way = door(lab, f"touch {mark}")
    kept(lab.parent)
    everything(root)
    assert not mark.exists()
    found = repository_of(root)
    assert found.top == lab.parent
    assert found.prefix == ("lab/" if inside == "." else "lab/deeper/")
    plain_git(lab, *way)
    assert mark.exists()


def test_a_git_of_the_branch_is_not_run(lab, mark, everything, monkeypatch):
    script(lab / "git", f"touch {mark}")
    monkeypatch.chdir(lab)
    monkeypatch.setenv("PATH", os.pathsep.join(["", ".", os.environ["PATH"]]))
    everything(lab)
    assert not mark.exists()
    subprocess.run(["git", "status"], check=False)
    assert mark.exists()


def elsewhere(tmp_path):
    small.write(tmp_path / "other", {"other.txt": "of another repository"})
    kept(tmp_path / "other")
    return tmp_path / "other"


def test_variables_of_a_hook_do_not_lead_elsewhere(lab, tmp_path, monkeypatch, mark):
    inside = elsewhere(tmp_path) / ".git"
    head, other = work(lab, "rev-parse", "HEAD"), work(inside.parent, "rev-parse", "HEAD")
    for name, value in {
        "GIT_DIR": inside, "GIT_WORK_TREE": inside.parent, "GIT_INDEX_FILE": inside / "index",
        "GIT_OBJECT_DIRECTORY": inside / "objects", "GIT_COMMON_DIR": inside, "GIT_PREFIX": "elsewhere/",
        "GIT_NAMESPACE": "other", "GIT_CEILING_DIRECTORIES": lab, "GIT_SHALLOW_FILE": inside / "HEAD",
        "GIT_CONFIG_COUNT": "1", "GIT_CONFIG_KEY_0": "core.fsmonitor", "GIT_CONFIG_VALUE_0": f"touch {mark}",
        "GIT_CONFIG_PARAMETERS": f"'core.fsmonitor=touch {mark}'", "GIT_EXTERNAL_DIFF": f"touch {mark}",
        "GIT_TRACE": mark, "GIT_TRACE2_EVENT": mark, "GIT_REPLACE_REF_BASE": "refs/heads/",
        "GIT_ALTERNATE_OBJECT_DIRECTORIES": inside / "objects",
    }.items():  # fmt: skip
        monkeypatch.setenv(name, str(value))
    found = repository_of(lab)
    assert found.top == lab.parent
    assert git(found.top, "rev-parse", "HEAD").decode().strip() == head
    assert git(found.top, "ls-files").count(b"\n") == len(small.files())
    with pytest.raises(GitError):
        git(found.top, "cat-file", "-p", other)
    assert not mark.exists()


def test_while_a_commit_is_being_made(lab, tmp_path):
    """A hook's variables name the index that is being committed, and in a linked working tree the repository."""
    work(lab, "worktree", "add", "-q", str(tmp_path / "linked"))
    code = "import notchbook.git as g, pathlib; print(g.repository_of(pathlib.Path('lab')))"
    told = f'env > {tmp_path}/variables\n{sys.executable} -c "{code}" > {tmp_path}/said'
    script(lab.parent / ".git/hooks/pre-commit", told)
    (tmp_path / "linked/lab" / small.RIG).write_text("kind: rig\n", encoding="utf-8")
    work(tmp_path / "linked", "commit", "-q", "-a", "-m", "changed")
    assert "GIT_INDEX_FILE" in (tmp_path / "variables").read_text(encoding="utf-8")
    assert f"{tmp_path / 'linked'}'" in (tmp_path / "said").read_text(encoding="utf-8")


def test_a_linked_working_tree(lab, tmp_path):
    work(lab, "worktree", "add", "-q", "-b", "second", str(tmp_path / "linked"))
    root = tmp_path / "linked/lab"
    assert repository_of(root).top == tmp_path / "linked"
    assert commit_time(root) is not None
    (tmp_path / "target").mkdir()
    assert small.TEST in write_revision(root, "main", tmp_path / "target").files


def test_a_submodule(lab, tmp_path):
    small.write(tmp_path / "outer", {"readme.txt": "around it"})
    kept(tmp_path / "outer")
    work(tmp_path / "outer", "-c", "protocol.file.allow=always", "submodule", "add", "-q", str(lab.parent), "inner")
    kept(tmp_path / "outer")
    root = tmp_path / "outer/inner/lab"
    assert repository_of(root).top == tmp_path / "outer/inner"
    assert commit_time(root) is not None
    assert commit_time(tmp_path / "outer") is not None
    (root / small.RIG).write_text("kind: rig\n", encoding="utf-8")
    assert commit_time(tmp_path / "outer") is None


def test_replaced_objects_and_grafts_are_not_followed(lab):
    first = work(lab, "rev-parse", "HEAD")
    kept(lab.parent, "second")
    second, third = work(lab, "rev-parse", "HEAD"), kept(lab.parent, "third")
    other = work(lab, "commit-tree", "-m", "other", work(lab, "rev-parse", f"{first}^{{tree}}"))
    (lab.parent / ".git/info").mkdir(exist_ok=True)
    (lab.parent / ".git/info/grafts").write_text(f"{third} {other}\n", encoding="utf-8")
    assert work(lab, "rev-parse", "HEAD~1") == other
    assert git(lab.parent, "rev-parse", "HEAD~1").decode().strip() == second
    (lab.parent / ".git/info/grafts").unlink()
    work(lab, "replace", second, other)
    assert b"second" in git(lab.parent, "cat-file", "commit", second)
    assert "other" in work(lab, "cat-file", "commit", second)


def test_a_working_tree_elsewhere(lab, tmp_path):
    (tmp_path / "far").mkdir()
    set_in(lab, core__worktree=str(tmp_path / "far"))
    with pytest.raises(GitError, match="elsewhere"):
        repository_of(lab)


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="only root can give files away")
def test_a_repository_of_somebody_else(lab, tmp_path, monkeypatch):
    settings = tmp_path / "settings"
    settings.write_text("", encoding="utf-8")
    monkeypatch.setenv("GIT_CONFIG_GLOBAL", str(settings))
    os.chown(lab.parent, 12345, 12345)
    with pytest.raises(GitError, match=r"dubious ownership.*git config --global --add safe\.directory"):
        repository_of(lab)
    settings.write_text(settings_text(safe={"directory": str(lab.parent)}), encoding="utf-8")
    assert repository_of(lab).top == lab.parent


def test_what_git_says(lab):
    with pytest.raises(GitError, match=r"^git says: Not a valid object name nothing$"):
        git(lab.parent, "cat-file", "-p", "nothing")


def test_bounds_of_time_and_output(lab, monkeypatch, tmp_path):
    with pytest.raises(GitError, match="more than 10 bytes"):
        git(lab.parent, "ls-files", most_bytes=10)
    script(tmp_path / "slow/git", "exec sleep 60")
    monkeypatch.setenv("PATH", os.pathsep.join([str(tmp_path / "slow"), os.environ["PATH"]]))
    with pytest.raises(GitError, match="longer than"):
        git(lab.parent, "ls-files", seconds=0.2)


def test_without_git(lab, monkeypatch):
    monkeypatch.setenv("PATH", "")
    with pytest.raises(GitError, match="git was not found"):
        repository_of(lab)


def test_names_that_are_patterns_or_options(tmp_path):
    for name in (":(top)", "-x", "*"):
        small.write(tmp_path / name, {"here.txt": name})
    small.write(tmp_path, {"there.txt": "there"})
    kept(tmp_path)
    for name in (":(top)", "-x", "*"):
        assert git(tmp_path, "ls-files", "--", f"{name}/") == f"{name}/here.txt\n".encode()
