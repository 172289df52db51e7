"""Where a site may be written, and whose files a build may copy."""

import subprocess

import pytest

from notchbook.site_reading.settings import read_settings, settings_of
from notchbook.site_reading.site_config import read_site_config
from notchbook.site_reading.site_places import UNFINISHED, is_site, site_findings
from small_handbook import files, write

PLUGIN = "plugins: [search, notchbook]\n"


def handbook(root, settings=""):
    write(root, files())
    (root / "docs").mkdir(exist_ok=True)
    (root / "mkdocs.yml").write_text(settings + ("" if "plugins:" in settings else PLUGIN))
    return root


def told(root):
    return [(each.rule, each.path, each.line, each.column) for each in read_settings(root)[1]]


def fill(folder, *names):
    for name in names:
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text("x")
    return folder


@pytest.mark.parametrize(
    "site",
    ["results", "procedures", "results/tests", "results/site", "procedures/a/b", ".", "..", "/", "docs", "docs/site",
     "./results/", "site/../results", "own", "own/site", "build", "build/site", "mkdocs.yml"],
)  # fmt: skip
def test_a_site_where_something_else_lies_is_refused(tmp_path, site):
    fill(tmp_path / "lab", "own/main.html", "build/hook.py")
    settings = f"site_dir: {site}\ntheme: {{name: mkdocs, custom_dir: own}}\nhooks: [build/hook.py]\n"
    assert told(handbook(tmp_path / "lab", settings)) == [("site-place", "mkdocs.yml", 1, 11)]


@pytest.mark.parametrize("site", ["site", "results-site", "out/site", "../site", "public"])
def test_a_site_of_its_own_is_fine(tmp_path, site):
    assert told(handbook(tmp_path / "lab", f"site_dir: {site}\nhooks: [hook.py]\n")) == []


def test_a_link_to_the_data_is_the_data(tmp_path):
    root = handbook(tmp_path / "lab")
    (root / "site").symlink_to("results")
    assert told(root) == [("site-place", "mkdocs.yml", 1, 1)]
    (root / "site").unlink()
    (root / "site").symlink_to("results/not-there-yet")
    assert told(root) == [("site-place", "mkdocs.yml", 1, 1)]


def test_data_that_is_a_link_is_where_it_leads(tmp_path):
    root = handbook(tmp_path / "lab", "site_dir: archive/site\n")
    (root / "archive").mkdir()
    (root / "results").rename(root / "archive/2026")
    (root / "results").symlink_to("archive/2026")
    assert told(root) == []
    (root / "mkdocs.yml").write_text(f"site_dir: archive\n{PLUGIN}")
    assert told(root) == [("site-place", "mkdocs.yml", 1, 11)]


def test_letters_are_told_apart_where_the_system_does(tmp_path):
    root = handbook(tmp_path / "lab", "site_dir: Results\n")
    same = (root / "Results").exists()
    assert told(root) == ([("site-place", "mkdocs.yml", 1, 11)] if same else [])


def test_a_folder_under_another_name_is_the_same_folder(tmp_path, monkeypatch):
    # a system that knows no case gives one folder for both names; here the stat of one is that of the other
    root = handbook(tmp_path / "lab", "site_dir: RESULTS\n")
    (root / "RESULTS").mkdir(exist_ok=True)
    stat = type(root).stat

    def one_folder(path, **options):
        return stat(path.with_name("results") if path.name == "RESULTS" else path, **options)

    monkeypatch.setattr(type(root), "stat", one_folder)
    assert told(root) == [("site-place", "mkdocs.yml", 1, 11)]


def test_data_at_the_top_of_the_handbook_leaves_room_for_a_site(tmp_path):
    root = handbook(tmp_path / "lab", "plugins: [{notchbook: {procedures: ., results: .}}]\n")
    for folder in ("procedures", "results"):
        for each in (root / folder).iterdir():
            each.rename(root / each.name)
    assert told(root) == []
    (root / "mkdocs.yml").write_text(f"site_dir: tests\n{(root / 'mkdocs.yml').read_text()}")
    assert told(root) == [("site-place", "mkdocs.yml", 1, 11)]


@pytest.mark.parametrize("site", [".git", ".git/site", "../.git", "../.git/hooks"])
def test_the_history_is_not_a_site(tmp_path, site):
    root = handbook(tmp_path / "tree/lab", f"site_dir: {site}\n")
    (root / ".git").mkdir() if site.startswith(".git") else (tmp_path / "tree/.git/hooks").mkdir(parents=True)
    assert told(root) == [("site-place", "mkdocs.yml", 1, 11)]


def test_the_history_of_a_linked_working_tree_is_not_a_site(tmp_path):
    def git(*words):
        who = ["-c", "user.name=n", "-c", "user.email=n@example.org"]
        subprocess.run(["git", *who, "-C", str(tmp_path / "main"), *words], check=True, capture_output=True)

    (tmp_path / "main").mkdir()
    git("init", "-q")
    git("commit", "-q", "--allow-empty", "-m", "first")
    git("worktree", "add", "-q", str(tmp_path / "linked"))
    root = handbook(tmp_path / "linked", f"site_dir: {tmp_path}/main/.git/site\n")
    assert (root / ".git").is_file()
    assert told(root) == [("site-place", "mkdocs.yml", 1, 11)]
    (root / "mkdocs.yml").write_text(f"site_dir: ../pages\n{PLUGIN}")
    git("worktree", "add", "-q", "--detach", str(tmp_path / "pages"))
    assert told(root) == []


@pytest.mark.parametrize(
    ("names", "texts", "fine"),
    [
        ([], {}, True),
        ([".git", ".nojekyll"], {}, True),
        (["notes.txt"], {}, False),
        (["index.html"], {}, False),
        (["index.html", "sitemap.xml", "404.html"], {}, False),
        (["readings/2026.yaml", "sitemap.xml", "search/search_index.json"], {}, False),
        (["index.html", "assets/notchbook.css"], {}, True),
        (["404.html", "sitemap.xml", "search/search_index.json"], {}, True),
        ([UNFINISHED, "assets/notchbook.css"], {}, True),
        ([], {"index.html": '<meta name="generator" content="mkdocs-1.6.1">'}, True),
        ([], {"index.html": "<html></html>\n<!--\nMkDocs Version : 1.6.1\n-->"}, True),
        ([], {"index.html": '<meta name="generator" content="handmade">'}, False),
    ],
)
def test_a_folder_is_a_site_by_its_marks(tmp_path, names, texts, fine):
    folder = fill(tmp_path / "folder", *names)
    folder.mkdir(exist_ok=True)
    for name, text in texts.items():
        (folder / name).write_text(text)
    assert is_site(folder) is fine


def test_what_is_no_folder_is_no_site(tmp_path):
    assert is_site(tmp_path / "missing")
    (tmp_path / "file").touch()
    assert not is_site(tmp_path / "file")


def test_a_folder_of_a_colleague_s_files_is_told(tmp_path):
    root = handbook(tmp_path, "site_name: x\nsite_dir: notes\n")
    fill(root, "notes/plan.txt")
    assert told(root) == [("site-place", "mkdocs.yml", 2, 11)]


def test_a_folder_that_the_command_line_names_is_told_too(tmp_path):
    config = read_site_config(handbook(tmp_path) / "mkdocs.yml")
    settings, _ = settings_of(config)
    (finding,) = site_findings(config, settings, tmp_path / "results")
    assert finding.message.startswith("--site-dir of the command line is or holds 'results'")
    assert site_findings(config, settings, tmp_path / "elsewhere") == []
    fill(tmp_path, "preview/half")
    assert len(site_findings(config, settings, tmp_path / "preview")) == 1
    assert site_findings(config, settings, tmp_path / "preview", is_own=True) == []


@pytest.mark.parametrize(
    "folder", ["/etc", "..", ".", "../elsewhere", "results", "procedures/..", ".git", ".git/hooks"]
)
@pytest.mark.parametrize("key", ["docs_dir", "custom_dir"])
def test_pages_and_themes_are_of_the_handbook_and_only_that(tmp_path, key, folder):
    root = handbook(tmp_path / "lab", "")
    (root / ".git/hooks").mkdir(parents=True)
    (tmp_path / "elsewhere").mkdir()
    line = f"docs_dir: {folder}\n" if key == "docs_dir" else f"theme: {{name: x, custom_dir: {folder}}}\n"
    (root / "mkdocs.yml").write_text(line + PLUGIN)
    assert {each.rule for each in read_settings(root)[1]} <= {"file-place", "site-place"}
    assert ("file-place", "mkdocs.yml", 1) in [each[:3] for each in told(root)]


def test_pages_that_hold_the_data_are_refused(tmp_path):
    root = tmp_path / "lab"
    write(root, {f"docs/{path}": data for path, data in files().items()})
    (root / "mkdocs.yml").write_text("plugins: [{notchbook: {procedures: docs/procedures, results: docs/results}}]\n")
    (finding,) = read_settings(root)[1]
    assert (finding.rule, finding.path) == ("file-place", "mkdocs.yml")
    assert "docs/results" in finding.message or "docs/procedures" in finding.message


def test_a_theme_of_the_repository_is_fine_and_one_beside_it_is_not(tmp_path):
    fill(tmp_path, "tree/theme/main.html", "tree/shared.py", "other/main.html", "other.py")
    (tmp_path / "tree/.git").mkdir()
    settings = "theme: {name: x, custom_dir: ../theme}\nhooks: [../shared.py]\n"
    root = handbook(tmp_path / "tree/lab", settings)
    assert told(root) == []
    (root / "mkdocs.yml").write_text("theme: {name: x, custom_dir: ../../other}\nhooks: [../../other.py]\n" + PLUGIN)
    assert told(root) == [("file-place", "mkdocs.yml", 1, 30), ("file-place", "mkdocs.yml", 2, 9)]


def test_a_link_out_of_the_theme_is_told(tmp_path):
    root = handbook(tmp_path / "lab", "theme: {name: x, custom_dir: own}\n")
    fill(tmp_path, "secret.txt")
    fill(root, "own/main.html")
    (root / "own/secret.txt").symlink_to(tmp_path / "secret.txt")
    assert told(root) == [("file-place", "own/secret.txt", 1, 1)]


def test_without_the_plugin_nothing_is_said(tmp_path):
    assert told(handbook(tmp_path, "site_dir: results\nplugins: [search]\n")) == []
