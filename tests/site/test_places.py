"""Whole builds: nothing is lost where a site is written, nothing computed is replaced, one reading of the settings."""

from pathlib import Path

import pytest
from site_building import build, contents, run

import small_handbook as small

RECORD = f"records/{small.TEST_ID}"
PLUGINS = "plugins: [search, notchbook]\n"


def _handbook(root: Path, settings: str = "", plugins: str = PLUGINS, **pages: str) -> Path:
    small.write(root, small.files())
    (root / "docs").mkdir(exist_ok=True)
    for name, text in pages.items():
        path = root / name.replace("__", "/").replace("_dot_", ".")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    head = "site_name: Bench\ntheme: {name: mkdocs}\nuse_directory_urls: false\n"
    (root / "mkdocs.yml").write_text(head + settings + plugins, encoding="utf-8")
    return root


def _errors(text: str) -> list[str]:
    return [line.removeprefix("ERROR   -  ") for line in text.splitlines() if ": error: " in line]


def _assert_refused(root: Path, words: str, *options: str) -> str:
    before = contents(root)
    done = build(root, *options)
    assert done.returncode == 1, done.stdout
    assert "Traceback" not in done.stdout
    assert words in done.stdout
    assert "Nothing was built" in done.stdout
    assert {name: data for name, data in contents(root).items() if "__pycache__" not in name} == before
    return done.stdout


@pytest.mark.parametrize("options", [(), ("--dirty",)], ids=["whole", "dirty"])
def test_readings_survive_a_site_that_is_written_over_them(tmp_path: Path, options: tuple[str, ...]) -> None:
    root = _handbook(tmp_path, "site_dir: results\n")
    said = _assert_refused(root, "[site-place]", *options)
    checked = run(root, "notchbook", "check")
    assert checked.returncode == 1
    assert _errors(checked.stdout) == _errors(said)
    assert "mkdocs.yml:4:11: error: 'site_dir' is or holds 'results'" in checked.stdout


def test_readings_survive_a_folder_that_the_command_line_names(tmp_path: Path) -> None:
    _assert_refused(_handbook(tmp_path), "--site-dir of the command line is or holds 'results'", "-d", "results")
    assert run(tmp_path, "notchbook", "check").returncode == 0


def test_files_of_a_colleague_survive(tmp_path: Path) -> None:
    _assert_refused(_handbook(tmp_path, "site_dir: notes\n", notes__plan_dot_txt="mine"), "holds files and no site")


def test_forged_results_are_told_all_at_once_by_both_doors(tmp_path: Path) -> None:
    root = _handbook(
        tmp_path,
        **{
            f"docs__{RECORD}_dot_md": "# 99 kJ/m2\n",
            "docs__data__results_dot_json": "{}",
            "docs__exercises__notched-charpy__index_dot_md": "# Without cautions\n",
        },
    )
    said = _errors(_assert_refused(root, "[computed-address]"))
    assert [each.partition(":")[0] for each in said] == [
        "docs/data/results.json",
        "docs/exercises/notched-charpy/index.md",
        f"docs/{RECORD}.md",
    ]
    assert _errors(run(root, "notchbook", "check").stdout) == said


HOOKS = {
    "a page in the place of a record": (
        "from mkdocs.plugins import event_priority\n"
        "from mkdocs.structure.files import File\n"
        "@event_priority(-100)\n"
        "def on_files(files, config):\n"
        f"    files.remove(files.get_file_from_path('{RECORD}.md'))\n"
        f"    files.append(File.generated(config, '{RECORD}.md', content='# 99 kJ/m2'))\n"
        "    files.append(File.generated(config, 'DATA/forged.csv', content='x'))\n"
        "    files.get_file_from_path('data/results.json').content_string = '{}'\n",
        [f"'{RECORD}.md' was replaced", "'DATA/forged.csv' of", "for 'data/results.json' was changed"],
    ),
    "another folder of pages": (
        "def on_config(config):\n    config.docs_dir = config.docs_dir + '/below'\n",
        ["'docs_dir' is '"],
    ),
    "another setting of the plugin": (
        "def on_config(config):\n    config.plugins['notchbook'].config['deviations'] = 'label'\n",
        ["'deviations' is 'label', and in mkdocs.yml it is 'refuse'"],
    ),
    "another folder for the site": (
        "def on_config(config):\n    config.site_dir = config.docs_dir + '/../results'\n",
        ["'site_dir' or 'use_directory_urls'"],
    ),
    "data that is changed at the end": (
        "import pathlib\n"
        "def on_post_build(config):\n"
        "    (pathlib.Path(config.site_dir) / 'data/results.csv').write_text('99')\n",
        ["'data/results.csv' in the site is not what was computed"],
    ),
}


@pytest.mark.parametrize("name", HOOKS)
def test_what_a_hook_forges_stops_the_build(name: str, tmp_path: Path) -> None:
    text, words = HOOKS[name]
    root = _handbook(tmp_path, "hooks: [hook.py]\n", hook_dot_py=text)
    said = _assert_refused(root, "Nothing was built, an earlier site is as it was")
    assert all(each in said for each in words), said


def test_a_plugin_that_the_check_does_not_see_stops_the_build(tmp_path: Path) -> None:
    _assert_refused(_handbook(tmp_path, "site_dir: results\n", "plugins: [/notchbook]\n"), "does not name the plugin")


def test_a_computed_page_that_is_left_out_stops_the_build(tmp_path: Path) -> None:
    _assert_refused(_handbook(tmp_path, "exclude_docs: exercises/\n"), "'exercises/notched-charpy.md' was replaced")


def test_settings_that_are_inherited_and_of_the_environment(tmp_path: Path) -> None:
    base = "site_name: Base\nplugins:\n  notchbook:\n    results: !ENV [LAB_READINGS, results]\n    notice: Inherited\n"
    root = _handbook(tmp_path, "INHERIT: base.yml\ndocs_dir: pages\n", "", base_dot_yml=base, pages__a_dot_md="# A\n")
    (root / "results").rename(root / "readings")
    (root / "mkdocs.yml").rename(root / "other.yml")
    done = build(root, "--strict", "-f", "other.yml", LAB_READINGS="readings")
    assert done.returncode == 0, done.stdout
    page = (root / f"site/{RECORD}.html").read_text(encoding="utf-8")
    assert "Inherited" in page
    assert f"readings/tests/{small.TEST_ID}.yaml" in page
    wrong = build(root, "-f", "other.yml", LAB_READINGS="nowhere")
    assert "base.yml:4:14: error: plugin setting 'results' is 'nowhere'" in wrong.stdout


def test_a_site_of_mkdocs_alone_in_a_repository_of_its_own_is_replaced(tmp_path: Path) -> None:
    root = _handbook(tmp_path, "site_dir: pages\n", "plugins: [search]\n", docs__a_dot_md="# A\n")
    assert build(root).returncode == 0
    (root / "pages/.git").write_text("gitdir: elsewhere\n")
    (root / "mkdocs.yml").write_text((root / "mkdocs.yml").read_text().replace("[search]", "[search, notchbook]"))
    assert build(root).returncode == 0
    assert (root / f"pages/{RECORD}.html").is_file()
    assert (root / "pages/.git").read_text() == "gitdir: elsewhere\n"


def test_a_placeholder_gives_way_to_the_home_page_and_no_other_page_does(tmp_path: Path) -> None:
    head = "---\nnotchbook: placeholder\n---\n\n"
    root = _handbook(tmp_path, docs__index_dot_md=f"{head}# No records here\n", docs__own_dot_md=f"{head}# Mine\n")
    done = build(root, "--strict")
    assert done.returncode == 0, done.stdout
    home = (root / "site/index.html").read_text(encoding="utf-8")
    assert "No records here" not in home
    assert "exercises/notched-charpy.html" in home
    assert "Mine" in (root / "site/own.html").read_text(encoding="utf-8")
