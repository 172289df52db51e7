"""The settings of a site are those that MkDocs has: held against its own reader of them."""

import os

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st
from mkdocs.utils.yaml import yaml_load

from notchbook.review.site_folders import at_hand, site_folders
from notchbook.site_reading.inherited import MOST_FILES, named
from notchbook.site_reading.settings import read_settings
from notchbook.site_reading.site_config import config_path, read_site_config, repository_of
from small_handbook import files, write


def config_of(root, main, **others):
    files = {"mkdocs.yml": main, **{f"{name}.yml": text for name, text in others.items()}}
    write(root, {name: text.encode() for name, text in files.items()})
    return read_site_config(root / "mkdocs.yml")


def as_mkdocs_reads(path):
    with path.open("rb") as file:
        return yaml_load(file)


def places(config):
    return [(each.rule, each.path, each.line, each.column) for each in config.findings]


PLAIN = st.recursive(
    st.sampled_from([None, True, 3, "a", "b", 2.5]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from("xyz"), inner, max_size=3),
    max_leaves=12,
)
MAPPINGS = st.dictionaries(st.sampled_from(["docs_dir", "plugins", "theme", "extra", "nav"]), PLAIN, max_size=5)


@given(chain=st.lists(MAPPINGS, min_size=1, max_size=4))
def test_a_chain_is_merged_as_mkdocs_merges_it(tmp_path_factory, chain):
    root = tmp_path_factory.mktemp("chain")
    for number, values in enumerate(chain):
        following = {"INHERIT": f"{number + 1}.yml"} if number + 1 < len(chain) else {}
        (root / f"{number}.yml").write_text(yaml.safe_dump(values | following))
    config = read_site_config(root / "0.yml")
    assert config.values == as_mkdocs_reads(root / "0.yml")
    assert config.files == tuple(root / f"{number}.yml" for number in range(len(chain)))


@pytest.mark.parametrize(
    "text",
    [
        "!ENV FOLDER", "!ENV [FOLDER]", "!ENV [NOWHERE, FOLDER]", "!ENV [NOWHERE, FOLDER, other]",
        "!ENV [NOWHERE, other]", "!ENV [NOWHERE, 5]", "!ENV [NOWHERE, [a, b]]", "!ENV [NOWHERE, {a: b}]",
        "!ENV NOWHERE", "!ENV [NOWHERE]", "!ENV []", "!ENV [NOWHERE, !ENV [FOLDER, x]]", "!ENV YES", "!ENV NUMBER",
        "!ENV EMPTY", "!ENV [EMPTY, other]", "!ENV TILDE", "!ENV MAPPING", "!ENV DAY", "{a: !ENV [NOWHERE, 1]}",
        "!ENV 'FOLDER'",
    ],
)  # fmt: skip
def test_the_environment_is_filled_in_as_mkdocs_fills_it_in(tmp_path, monkeypatch, text):
    known = {"FOLDER": "lab data", "YES": "yes", "NUMBER": "0x1F", "EMPTY": "", "TILDE": "~", "MAPPING": "{a: b}"}
    for name, value in (known | {"DAY": "2026-02-03"}).items():
        monkeypatch.setenv(name, value)
    monkeypatch.delenv("NOWHERE", raising=False)
    config = config_of(tmp_path, f"extra: {text}\n")
    assert config.values == as_mkdocs_reads(tmp_path / "mkdocs.yml")
    assert config.findings == ()


@pytest.mark.parametrize(
    ("text", "environment"),
    [("!ENV {a: b}", {}), ("!ENV [[a], b]", {}), ("!ENV DAY", {"DAY": "2026-02-30"})],
)
def test_what_mkdocs_cannot_fill_in_is_told(tmp_path, monkeypatch, text, environment):
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    (finding,) = config_of(tmp_path, f"extra: {text}\n").findings
    assert (finding.rule, finding.line) == ("settings", 1)
    assert finding.message.startswith("cannot be read")


def test_folders_count_from_the_file_that_mkdocs_is_given(tmp_path):
    base = "docs_dir: pages\nsite_dir: ../out\ntheme: {name: x, custom_dir: own}\nhooks: [a.py, /b.py]\n"
    write(tmp_path, {"base/mkdocs.yml": base.encode(), "a/b/mkdocs.yml": b"INHERIT: ../../base/mkdocs.yml\n"})
    (tmp_path / ".git").mkdir()
    config = read_site_config(tmp_path / "a/b/mkdocs.yml")
    root = tmp_path / "a/b"
    assert (config.root, config.docs_dir, config.site_dir) == (root, root / "pages", tmp_path / "a/out")
    assert (config.custom_dir, config.hooks) == (root / "own", (root / "a.py", tmp_path.__class__("/b.py")))
    assert config.findings == ()


def test_without_a_word_the_folders_are_those_of_mkdocs(tmp_path):
    config = read_site_config(tmp_path / "mkdocs.yml")
    assert (config.docs_dir, config.site_dir, config.custom_dir) == (tmp_path / "docs", tmp_path / "site", None)
    assert (config.files, config.values, config.findings) == ((tmp_path / "mkdocs.yml",), {}, ())


def test_a_value_is_found_in_the_file_that_gives_it(tmp_path):
    config = config_of(
        tmp_path,
        "INHERIT: base.yml\nplugins: {notchbook: {results: r}}\n",
        base="docs_dir: 5\nplugins:\n  notchbook: {procedures: p, results: s}\n",
    )
    assert places(config) == [("settings", "base.yml", 1, 11)]
    keys = ("plugins", "notchbook")
    assert config.values["plugins"]["notchbook"] == {"procedures": "p", "results": "r"}
    told = {key: config.finding((*keys, key), "is wrong", "mend it") for key in ("procedures", "results")}
    assert (told["procedures"].path, told["procedures"].line, told["procedures"].column) == ("base.yml", 3, 27)
    assert (told["results"].path, told["results"].line, told["results"].column) == ("mkdocs.yml", 2, 32)


@pytest.mark.parametrize(
    ("main", "others", "place", "words"),
    [
        ("INHERIT: mkdocs.yml\n", {}, ("settings", "mkdocs.yml", 1, 10), "inherits from this file"),
        (
            "INHERIT: a.yml\n",
            {"a": "x: 1\nINHERIT: mkdocs.yml\n"},
            ("settings", "a.yml", 2, 10),
            "inherits from this file",
        ),
        ("INHERIT: gone.yml\n", {}, ("settings", "mkdocs.yml", 1, 10), "no file that is there"),
        ("INHERIT: [a, b]\n", {}, ("settings", "mkdocs.yml", 1, 10), "no name of a file"),
        ("INHERIT: .\n", {}, ("settings", "mkdocs.yml", 1, 10), "no file that is there"),
        ("INHERIT: ../other.yml\n", {}, ("file-place", "mkdocs.yml", 1, 10), "out of the repository"),
        ("INHERIT: /etc/passwd\n", {}, ("file-place", "mkdocs.yml", 1, 10), "out of the repository"),
        ("INHERIT: a.yml\n", {"a": "x: [\n"}, ("settings", "a.yml", 2, 1), "cannot be read"),
        ("docs_dir: [a]\n", {}, ("settings", "mkdocs.yml", 1, 11), "'docs_dir' is a list"),
        ("site_dir: 5\n", {}, ("settings", "mkdocs.yml", 1, 11), "'site_dir' is '5'"),
        ("theme: {custom_dir: {a: b}}\n", {}, ("settings", "mkdocs.yml", 1, 21), "'theme.custom_dir' is a mapping"),
        ("hooks:\n  - a.py\n  - 5\n", {}, ("settings", "mkdocs.yml", 3, 5), "'hooks' is '5'"),
    ],
)
def test_what_is_wrong_is_told_at_its_place(tmp_path, main, others, place, words):
    config = config_of(tmp_path, main, **others)
    assert places(config) == [place]
    assert words in config.findings[0].message


def test_a_long_chain_is_cut(tmp_path):
    for number in range(MOST_FILES + 5):
        (tmp_path / f"{number}.yml").write_text(f"INHERIT: {number + 1}.yml\n")
    config = read_site_config(tmp_path / "0.yml")
    assert len(config.files) == MOST_FILES
    assert places(config) == [("settings", f"{MOST_FILES - 1}.yml", 1, 10)]


def test_mappings_of_two_files_that_double_without_end_are_told(tmp_path):
    doubling = "a0: &a0 {x: 1}\n" + "".join(f"a{n}: &a{n} {{l: *a{n - 1}, r: *a{n - 1}}}\n" for n in range(1, 40))
    (finding,) = config_of(tmp_path, f"INHERIT: base.yml\n{doubling}", base=doubling).findings
    assert "without end" in finding.message


def test_mappings_that_hold_themselves_are_told(tmp_path):
    (finding,) = config_of(tmp_path, "INHERIT: base.yml\nx: &x {y: *x}\n", base="x: &x {y: *x}\n").findings
    assert "without end" in finding.message


def test_a_file_that_is_a_link_out_of_the_handbook_is_not_read(tmp_path):
    write(tmp_path, {"elsewhere.yml": b"docs_dir: secret\n"})
    (tmp_path / "lab").mkdir()
    (tmp_path / "lab/mkdocs.yml").symlink_to(tmp_path / "elsewhere.yml")
    config = read_site_config(tmp_path / "lab/mkdocs.yml")
    assert places(config) == [("file-place", "mkdocs.yml", 1, 1)]
    assert config.values == {}


def test_a_handbook_that_is_reached_by_a_link_inherits_as_from_where_it_lies(tmp_path):
    write(tmp_path, {"real/base.yml": b"docs_dir: pages\n", "real/lab/mkdocs.yml": b"INHERIT: ../base.yml\n"})
    (tmp_path / "real/.git").mkdir()
    (tmp_path / "linked").symlink_to("real")
    config = read_site_config(tmp_path / "linked/lab/mkdocs.yml")
    assert config.findings == ()
    assert config.docs_dir == tmp_path / "linked/lab/pages"


def test_a_file_that_is_a_link_to_itself_is_told(tmp_path):
    (tmp_path / "mkdocs.yml").symlink_to("mkdocs.yml")
    (finding,) = read_site_config(tmp_path / "mkdocs.yml").findings
    assert finding.message.startswith("cannot be read")


def test_a_pipe_is_not_read(tmp_path):
    os.mkfifo(tmp_path / "mkdocs.yml")
    (finding,) = read_site_config(tmp_path / "mkdocs.yml").findings
    assert finding.message.startswith("cannot be read")


def test_files_that_are_not_on_the_disk(tmp_path):
    there = {"lab/mkdocs.yml": "INHERIT: ../base.yml\n", "base.yml": "docs_dir: pages\n"}
    config = read_site_config(
        tmp_path / "lab/mkdocs.yml",
        boundary=tmp_path,
        read=lambda path: there[path.relative_to(tmp_path).as_posix()],
    )
    assert config.docs_dir == tmp_path / "lab/pages"
    assert config.findings == ()


def test_the_second_name_that_mkdocs_looks_for(tmp_path):
    assert config_path(tmp_path) == tmp_path / "mkdocs.yml"
    (tmp_path / "mkdocs.yaml").touch()
    assert config_path(tmp_path) == tmp_path / "mkdocs.yaml"
    (tmp_path / "mkdocs.yml").touch()
    assert config_path(tmp_path) == tmp_path / "mkdocs.yml"


def test_the_repository_of_a_folder(tmp_path):
    (tmp_path / "tree/a/b").mkdir(parents=True)
    (tmp_path / "tree/.git").write_text("gitdir: elsewhere\n")
    assert repository_of(tmp_path / "tree/a/b") == tmp_path / "tree"


def test_the_fork_of_mkdocs_looks_for_its_own_names_first(tmp_path):
    # ProperDocs 1.6.7, config/base.py: paths_to_try
    from properdocs.config.base import _open_config_file

    for name in ("mkdocs.yaml", "mkdocs.yml", "properdocs.yaml", "properdocs.yml"):
        (tmp_path / name).write_text(f"site_name: {name}\n")
        with pytest.MonkeyPatch.context() as patch:
            patch.chdir(tmp_path)
            with _open_config_file(None) as opened:
                read_by_fork = opened.name
        assert config_path(tmp_path) == tmp_path.__class__(read_by_fork)


@pytest.mark.parametrize("given", ["mkdocs.yml", "properdocs.yml"])
def test_settings_of_two_sites_are_told_whichever_builder_reads_them(tmp_path, given):
    write(tmp_path, {"mkdocs.yml": b"site_name: x\n", "properdocs.yml": b"site_name: y\n"})
    assert places(read_site_config(tmp_path / given)) == [("settings", given, 1, 1)]
    (tmp_path / "properdocs.yml").write_text("INHERIT: mkdocs.yml\nsite_name: y\n")
    assert places(read_site_config(tmp_path / given)) == []
    (tmp_path / "other.yml").write_text("site_name: z\n")
    assert places(read_site_config(tmp_path / "other.yml")) == []


def test_a_folder_on_another_drive_is_named_as_a_whole(tmp_path, monkeypatch):
    def apart(path, start):
        raise ValueError(f"path is on mount '{path}', start on mount '{start}'")

    # Windows, where no relative path leads from drive to drive: os.path.relpath, Library Reference
    monkeypatch.setattr(os.path, "relpath", apart)
    settings = b"theme: {name: x, custom_dir: own}\nhooks: [a.py]\nplugins: [notchbook]\n"
    write(tmp_path, {**files(), "mkdocs.yml": settings})
    assert named(tmp_path / "lab", tmp_path / "own") == (tmp_path / "own").as_posix()
    settings, _ = read_settings(tmp_path)
    folders = site_folders(tmp_path, settings)
    assert folders.custom_dir == (tmp_path / "own").as_posix()
    assert at_hand(tmp_path, folders).others[folders.custom_dir] == "lies outside of the handbook"
