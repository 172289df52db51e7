"""Files of a revision, read through git without touching those at hand."""

import hashlib
import os
import shutil

import pytest

import small_handbook as small
from forged import lose, object_of, tree_of
from history import git, kept
from notchbook import commits
from notchbook.commits import same_as_file
from notchbook.review import blobs
from notchbook.review.revision import RevisionError, write_revision
from notchbook.site_reading.settings import read_settings


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
    revision = write_revision(handbook, "HEAD", target)
    assert revision.root == target
    assert git(handbook, "rev-parse", "HEAD").startswith(revision.name)
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
    revision = write_revision(root, "HEAD", target)
    assert files_under(revision.root) == files_under(root)


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
    with pytest.raises(RevisionError, match="not in a git repository"):
        write_revision(root, "HEAD", target)


def test_without_git(handbook, target, monkeypatch):
    monkeypatch.setenv("PATH", "")
    with pytest.raises(RevisionError, match="git was not found"):
        write_revision(handbook, "HEAD", target)


def hashes(root, *names):
    return {name: git(root, "hash-object", "--no-filters", name) for name in names}


def words_of(root, target, revision="HEAD"):
    return write_revision(root, revision, target).not_compared


def test_every_plain_file_is_named_by_its_hash(handbook, target):
    (handbook / "hooks").mkdir()
    (handbook / "hooks/run.py").write_text("print()\n", encoding="utf-8")
    (handbook / "docs/picture.png").write_bytes(b"\x89PNG\r\n\0")
    (handbook / "docs/linked.md").symlink_to("about.md")
    kept(handbook)
    revision = write_revision(handbook, "HEAD", target)
    names = [each for each in data_of(handbook) if each != "docs/linked.md"]
    assert revision.files == hashes(handbook, *names)
    assert revision.others == {"docs/linked.md": "link"}
    assert all(same_as_file(each, handbook / name) for name, each in revision.files.items())
    # only what is read is written
    assert not {"hooks/run.py", "docs/picture.png", "elsewhere.txt"} & set(files_under(revision.root))
    assert revision.not_compared == ("links are not followed: 'docs/linked.md'",)


def test_the_same_in_a_folder_of_a_repository(tmp_path, target):
    root = small.write(tmp_path / "all/lab", small.files())
    small.write(tmp_path / "all", {"beside.txt": "not of the handbook"})
    kept(tmp_path / "all")
    revision = write_revision(root, "HEAD", target)
    assert revision.files == hashes(root, *small.files())
    assert revision.not_compared == ()


def test_whether_a_file_is_the_same(tmp_path):
    small.write(tmp_path, {"text": "one\ntwo\n", "binary": b"\0one\ntwo\n", "large": "x" * 2_000_000})
    kept(tmp_path)
    text, binary, large = hashes(tmp_path, "text", "binary", "large").values()
    assert same_as_file(text, tmp_path / "text")
    assert same_as_file(large, tmp_path / "large")
    assert not same_as_file(text, tmp_path / "binary")
    assert not same_as_file(text, tmp_path / "nothing")
    assert not same_as_file(text, tmp_path)
    assert not same_as_file("no hash", tmp_path / "text")
    (tmp_path / "text").write_bytes(b"one\r\ntwo\r\n")
    assert same_as_file(text, tmp_path / "text")
    (tmp_path / "text").write_bytes(b"one\r\ntwo \r\n")
    assert not same_as_file(text, tmp_path / "text")
    (tmp_path / "binary").write_bytes(b"\0one\r\ntwo\r\n")
    assert not same_as_file(binary, tmp_path / "binary")
    (tmp_path / "text").unlink()
    (tmp_path / "text").symlink_to("copy")
    (tmp_path / "copy").write_bytes(b"one\ntwo\n")
    assert not same_as_file(text, tmp_path / "text")
    assert same_as_file(text, tmp_path / "copy")


def test_a_file_too_large_to_be_compared_is_another(tmp_path, monkeypatch):
    small.write(tmp_path, {"text": "one\n"})
    kept(tmp_path)
    (stored,) = hashes(tmp_path, "text").values()
    monkeypatch.setattr(commits, "_MOST_BYTES", 3)
    assert not same_as_file(stored, tmp_path / "text")


def test_a_file_in_whose_place_git_keeps_a_pointer(tmp_path):
    # Git LFS, specification: version, oid and size, a line each
    content = b"a large picture"
    sha256 = hashlib.sha256(content).hexdigest()
    pointer = f"version https://git-lfs.github.com/spec/v1\noid sha256:{sha256}\nsize {len(content)}\n"
    small.write(tmp_path, {"picture.png": pointer})
    kept(tmp_path)
    stored = hashes(tmp_path, "picture.png")["picture.png"]
    (tmp_path / "picture.png").write_bytes(content)
    assert same_as_file(stored, tmp_path / "picture.png")
    (tmp_path / "picture.png").write_bytes(content + b"!")
    assert not same_as_file(stored, tmp_path / "picture.png")


def test_a_repository_of_the_longer_hash(tmp_path, target):
    root = small.write(tmp_path / "lab", small.files())
    git(root, "init", "-q", "-b", "main", "--object-format=sha256")
    kept(root)
    revision = write_revision(root, "HEAD", target)
    assert {len(each) for each in revision.files.values()} == {64}
    assert all(same_as_file(each, root / name) for name, each in revision.files.items())
    assert files_under(revision.root) == data_of(root)


FORGED = {
    "up": [("100644", "..", "blob")],
    "up and on": [("40000", "..", "folder")],
    "up in a name": [("100644", "../../out.yaml", "blob")],
    "absolute": [("100644", "/out.yaml", "blob")],
    "here": [("40000", ".", "folder")],
    "of git": [("40000", ".GIT", "folder")],
    "nothing": [("100644", "", "blob")],
    "through a link": [("120000", "tests", "outside"), ("40000", "tests", "folder")],
    "through a link in a name": [("120000", "tests", "outside"), ("100644", "tests/out.yaml", "blob")],
    "a file and a folder": [("100644", "tests", "blob"), ("40000", "tests", "folder")],
    "very long": [("100644", "x" * 5000, "blob")],
    "very deep": [("100644", "x/" * 100 + "x", "blob")],
    "twice": [("100644", "out.yaml", "blob"), ("100644", "out.yaml", "blob")],
}


@pytest.mark.parametrize("entries", FORGED.values(), ids=FORGED)
@pytest.mark.parametrize("below", ["", "lab/"])
def test_a_tree_with_names_that_no_file_can_have(entries, below, tmp_path, target):
    root = small.write(tmp_path / "all" / below, small.files())
    kept(tmp_path / "all")
    blob = object_of(root, "blob", b"kind: test\n")
    objects = {
        "blob": blob,
        "folder": tree_of(root, ("100644", "out.yaml", blob)),
        "outside": object_of(root, "blob", os.fsencode(tmp_path / "outside")),
    }
    results = tree_of(root, *((mode, name, objects[it]) for mode, name, it in entries))
    tree = tree_of(root, ("40000", "results", results))
    if below:
        tree = tree_of(root, ("40000", "lab", tree))
    commit = git(root, "commit-tree", "-m", "made by hand", tree)
    (tmp_path / "outside").mkdir()
    with pytest.raises(RevisionError, match=r"the revision holds '.*git would not|empty filename"):
        write_revision(root, commit, target)
    assert not list(tmp_path.rglob("out.yaml"))
    assert files_under(target) == {}


def test_names_that_this_system_cannot_write_are_told(handbook, target):
    blob = object_of(handbook, "blob", b"kind: test\n")
    long = "x" * 300 + ".yaml"
    tests = tree_of(handbook, ("100644", long, blob), ("100644", "short.yaml", blob))
    tree = tree_of(handbook, ("40000", "results", tree_of(handbook, ("40000", "tests", tests))))
    revision = write_revision(handbook, git(handbook, "commit-tree", "-m", "long", tree), target)
    assert list(files_under(target)) == ["results/tests/short.yaml"]
    assert "1 file is not to be written on this system" in revision.not_compared[0]


def test_names_that_lead_elsewhere_on_windows_are_not_written_there(handbook, target, monkeypatch):
    monkeypatch.setattr(blobs, "_ON_WINDOWS", True)
    led = ["x\\..\\..\\..\\out.yaml", "c:out.yaml", "\\out.yaml"]
    names = [*led, "nul.yaml", "COM1.x.yaml", "what?.yaml", "a\n.yaml", "out.yaml. "]
    blob = object_of(handbook, "blob", b"kind: test\n")
    entries = [("100644", name, blob) for name in [*names, "sound.yaml", "com.yaml"]]
    tree = tree_of(handbook, ("40000", "results", tree_of(handbook, *entries)))
    revision = write_revision(handbook, git(handbook, "commit-tree", "-m", "names", tree), target)
    assert set(files_under(target)) == {"results/sound.yaml", "results/com.yaml"}
    assert revision.not_compared[0].startswith(f"{len(names)} files are not to be written on this system: ")


def test_files_that_this_clone_lacks_are_told(handbook, target):
    lose(handbook, small.TEST)
    lose(handbook, "elsewhere.txt")  # which nobody reads
    (told,) = words_of(handbook, target)
    assert told.startswith("1 file is not in this clone")
    assert f"'{small.TEST}'" in told
    assert small.TEST not in files_under(target)


def test_settings_that_this_clone_lacks_are_told(handbook, target):
    lose(handbook, "mkdocs.yml")
    assert any("'mkdocs.yml'" in each for each in words_of(handbook, target))


def test_a_partial_clone(handbook, target, tmp_path):
    git(handbook, "config", "uploadpack.allowFilter", "true")
    git(tmp_path, "clone", "-q", "--no-checkout", "--filter=blob:none", handbook.as_uri(), str(tmp_path / "part"))
    (told,) = words_of(tmp_path / "part", target)
    assert told.startswith(f"{len(small.files()) + 1} files are not in this clone")
    assert told.endswith("fetch it whole, without a filter")


def test_a_partial_clone_without_folders(handbook, target, tmp_path):
    git(handbook, "config", "uploadpack.allowFilter", "true")
    git(tmp_path, "clone", "-q", "--no-checkout", "--filter=tree:0", handbook.as_uri(), str(tmp_path / "part"))
    with pytest.raises(RevisionError, match=r"could not fetch .* from promisor remote; this clone is a partial one"):
        write_revision(tmp_path / "part", "HEAD", target)


def test_files_too_large_to_be_read_are_told_and_still_are_too_large(handbook, target):
    (handbook / small.TEST).write_bytes(b"# large\n" * 300_000)
    kept(handbook)
    (told,) = words_of(handbook, target)
    assert told == f"1 file is too large, 1,048,576 bytes are read: '{small.TEST}'"
    assert (target / small.TEST).stat().st_size == 2_400_000


def test_pictures_do_not_count_against_the_bound(handbook, target, monkeypatch):
    monkeypatch.setattr(blobs, "MOST_BYTES", 100_000)
    (handbook / "docs/picture.png").write_bytes(bytes(200_000))
    kept(handbook)
    assert words_of(handbook, target) == ()
    (handbook / "docs/page.md").write_bytes(b"word " * 40_000)
    kept(handbook)
    with pytest.raises(RevisionError, match="hold more than"):
        write_revision(handbook, "HEAD", target / "second")


def test_folders_behind_links_and_in_repositories_are_told(handbook, target):
    (handbook / "results").rename(handbook / "away")
    (handbook / "results").symlink_to("away")
    shutil.rmtree(handbook / "docs")
    git(handbook, "rm", "-rq", "--cached", "docs")
    small.write(handbook / "docs", {"page.md": "of another repository"})
    kept(handbook / "docs")
    kept(handbook)
    revision = write_revision(handbook, "HEAD", target)
    assert revision.others == {"results": "link", "docs": "repository"}
    assert revision.not_compared == (
        "links are not followed: 'results'",
        "repositories within the repository (submodules) are not read: 'docs'",
    )


@pytest.mark.parametrize("kind", ["link", "repository"])
def test_a_handbook_behind_a_link_or_in_a_repository_is_told(kind, tmp_path, target):
    root = tmp_path / "all"
    small.write(root, {"other/x.txt": ""})
    if kind == "link":
        (root / "lab").symlink_to("other")
    else:
        small.write(root / "lab", small.files())
        kept(root / "lab")
    kept(root)
    git(root, "rm", "-q", "--cached", "lab")
    if kind == "link":
        (root / "lab").unlink()
    else:
        shutil.rmtree(root / "lab/.git")
    small.write(root / "lab", small.files())
    (told,) = words_of(root / "lab", target)
    assert told.startswith("'lab' was a " + ("link" if kind == "link" else "repository of its own"))


def test_a_folder_that_became_a_repository_is_told(tmp_path, target):
    root = small.write(tmp_path / "all/lab", small.files())
    kept(tmp_path / "all")
    kept(root)
    assert not words_of(tmp_path / "all", target)
    (told,) = words_of(root, target / "second")
    assert told.startswith("'lab' was a folder of the repository around it")
    git(tmp_path / "all", "rm", "-rq", "--cached", "lab")
    kept(tmp_path / "all")
    assert not words_of(root, target / "third")


def test_settings_that_cannot_be_read_are_told(handbook, target):
    (handbook / "mkdocs.yml").write_text("plugins: [notchbook\n", encoding="utf-8")
    kept(handbook)
    (told,) = words_of(handbook, target)
    assert told.startswith("mkdocs.yml was not in order, so that its settings may be other ones: cannot be read")


def test_a_link_in_place_of_the_settings_is_told(handbook, target):
    (handbook / "mkdocs.yml").rename(handbook / "other.yml")
    (handbook / "mkdocs.yml").symlink_to("other.yml")
    kept(handbook)
    assert "'mkdocs.yml' was a link, which is not followed" in words_of(handbook, target)


def inheriting(tmp_path, **files):
    """A handbook in a folder of a repository, with these files beside it; a hyphen in a name is a slash."""
    root = small.write(tmp_path / "all/lab", small.files())
    small.write(tmp_path / "all", {name.replace("__", "/") + ".yml": text for name, text in files.items()})
    kept(tmp_path / "all")
    return root


def test_files_that_the_settings_inherit_from(tmp_path, target):
    root = inheriting(
        tmp_path,
        lab__mkdocs="INHERIT: more/first.yml\n",
        lab__more__first="INHERIT: ../../base.yml\n",
        base="plugins: [{notchbook: {results: found}}]\n",
    )
    git(root, "mv", "results", "found")
    kept(root.parent)
    (tmp_path / "all/base.yml").write_text("changed\n", encoding="utf-8")
    revision = write_revision(root, "HEAD", target)
    assert {"mkdocs.yml", "more/first.yml", "../base.yml"} <= set(revision.files)
    assert (target / "base.yml").is_file()
    assert (revision.root / small.TEST.replace("results", "found")).is_file()
    assert read_settings(revision.root)[0].results == "found"
    assert revision.not_compared == ()
    assert not same_as_file(revision.files["../base.yml"], root / "../base.yml")


@pytest.mark.parametrize(
    ("files", "words"),
    [
        ({"lab__mkdocs": "INHERIT: ../base.yml\n", "base": "INHERIT: lab/mkdocs.yml\n"}, "inherits from this file"),
        ({"lab__mkdocs": "INHERIT: mkdocs.yml\n"}, "inherits from this file"),
        ({"lab__mkdocs": "INHERIT: ../../outside.yml\n"}, "leads out of the repository"),
        ({"lab__mkdocs": "INHERIT: /etc/outside.yml\n"}, "leads out of the repository"),
        ({"lab__mkdocs": "INHERIT: ../gone.yml\n"}, "no file that is there"),
        ({"lab__mkdocs": "INHERIT: ../.git/config\n"}, "no file that is there"),
        ({"lab__mkdocs": "INHERIT: ../linked/base.yml\n"}, "'linked' was a link"),
        ({"lab__mkdocs": "INHERIT: ../linked\n"}, "'linked' was a link"),
        ({"lab__mkdocs": "plugins: [{notchbook: {results: elsewhere}}]\n"}, "a folder that does not exist"),
    ],
)  # fmt: skip
def test_settings_that_cannot_be_followed_are_told(files, words, tmp_path, target):
    small.write(tmp_path / "all", {"real/base.yml": "plugins: [notchbook]\n"})
    (tmp_path / "all/linked").symlink_to("real")
    (tmp_path / "outside.yml").write_text("plugins: [{notchbook: {results: elsewhere}}]\n", encoding="utf-8")
    told = words_of(inheriting(tmp_path, **files), target)
    assert any(words in each for each in told), told


def test_settings_that_inherit_without_end(tmp_path, target):
    files = {f"lab__n{number}": f"INHERIT: n{number + 1}.yml\n" for number in range(1000)}
    told = words_of(inheriting(tmp_path, lab__mkdocs="INHERIT: n0.yml\n", **files), target)
    assert any("'INHERIT'" in each for each in told)
    assert len(list((target / "lab").glob("n*.yml"))) < 20


def test_a_shallow_clone_without_the_revision(handbook, target, tmp_path):
    git(handbook, "tag", "published")
    kept(handbook, "one more")
    git(tmp_path, "clone", "-q", "--depth=1", "--no-tags", handbook.as_uri(), str(tmp_path / "part"))
    for revision in ("published", "HEAD~1"):
        with pytest.raises(RevisionError, match=r"this clone is shallow .* \(git fetch --unshallow\)"):
            write_revision(tmp_path / "part", revision, target)
    assert words_of(tmp_path / "part", target) == ()


def test_a_name_of_two_commits_is_not_guessed(handbook, target):
    git(handbook, "tag", "main")
    assert words_of(handbook, target, "main") == ()
    kept(handbook, "one more")
    with pytest.raises(RevisionError, match="'main' is a tag and a branch, which differ; write refs/tags/main or refs"):
        write_revision(handbook, "main", target)
    assert words_of(handbook, target / "second", "refs/heads/main") == ()


def test_a_commit_that_is_not_yet_made_is_told(handbook, target):
    kept(handbook, "tomorrow", when="2099-01-01T12:00:00Z")
    (told,) = words_of(handbook, target, "HEAD~1")
    assert "says that it was made on 2099-01-01, later than now" in told
    assert words_of(handbook, target / "second", "HEAD") == (told,)


def test_a_branch_without_a_commit(handbook, target):
    git(handbook, "checkout", "-q", "--orphan", "empty")
    assert small.TEST in write_revision(handbook, "main", target).files


def test_a_tree_that_grows_without_end(handbook, target):
    blob = object_of(handbook, "blob", b"")
    tree = tree_of(handbook, ("100644", "x", blob))
    for _ in range(12):
        tree = tree_of(handbook, *(("40000", f"f{number}", tree) for number in range(9)))
    with pytest.raises(RevisionError, match="prints more than"):
        write_revision(handbook, git(handbook, "commit-tree", "-m", "large", tree), target)
