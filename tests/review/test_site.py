"""What decides what a site publishes, changed in a handbook with a history: asked about, or said not to be compared."""

import json
import os

import pytest
from click.testing import CliRunner

import small_handbook as small
from history import git, kept
from notchbook.cli import main

SETTINGS = """\
site_name: A lab
theme:
  name: material
  custom_dir: overrides
hooks:
  - hooks/day.py
plugins:
  - search
  - notchbook:
      deviations: refuse
      notice: All data is invented.
markdown_extensions:
  - tables
"""
SITE = {
    "mkdocs.yml": SETTINGS,
    "docs/about.md": "# About\n\nOne.\n\nTwo.\n",
    "docs/plain.js": "1\n",
    "docs/picture.png": b"\x89PNG\x00",
    "overrides/main.html": "<html></html>\n",
    "hooks/day.py": "import helper\n",
    "hooks/helper.py": "1\n",
}


@pytest.fixture
def lab(tmp_path):
    root = small.write(tmp_path / "lab", small.files() | SITE)
    kept(root)
    return root


def run(root, *words):
    return CliRunner().invoke(main, ["review", "--root", str(root), *words])


def reviewed(root, *words):
    done = run(root, "--format", "json", *words)
    data = json.loads(done.stdout)
    assert done.exit_code == (1 if data["questions"] else 0)
    return data


def settings(root, old, new, path="mkdocs.yml"):
    text = (root / path).read_text("utf-8")
    assert text.count(old) == 1
    (root / path).write_text(text.replace(old, new), "utf-8")


def test_the_same_site_leaves_nothing_to_ask_about(lab):
    assert reviewed(lab)["questions"] == []
    settings(lab, "site_name: A lab", "site_name:   'A lab'  # as it was")
    assert reviewed(lab)["questions"] == []


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("deviations: refuse", "deviations: label", "departures from the method are published (deviations: label)"),
        ("      notice: All data is invented.\n", "", "the notice above every page was taken away"),
        ("All data is invented.", "''", "the notice above every page was taken away"),
        ("All data is invented.", "All data is true.", "the notice above every page was changed"),
        ("  - notchbook:\n      deviations: refuse\n      notice: All data is invented.\n", "", "nothing is checked"),
        ("hooks/day.py", "hooks/other.py", "code that runs when the site is built: hooks"),
        ("  - search\n", "  - search\n  - macros\n", "code that runs when the site is built: plugins"),
        ("site_name: A lab", "site_name: A lab\nextra_javascript: [x.js]", "extra_javascript"),
        ("site_name: A lab", "site_name: A lab\nextra_css: [x.css]", "extra_css"),
        ("site_name: A lab", "site_name: A lab\nextra: {polyfills: [https://cdn.example/x.js]}", "extra"),
        ("custom_dir: overrides", "custom_dir: docs", "theme.custom_dir"),
        ("  - tables", "  - tables\n  - pymdownx.snippets: {base_path: /}", "markdown_extensions"),
        ("site_name: A lab", "site_name: !!python/name:os.name ''", "code named by a tag"),
        ("site_name: A lab", "site_name: A lab\ndocs_dir: overrides", "docs_dir"),
        ("site_name: A lab", "site_name: A lab\nx-h: &h {hooks: [a.py]}\n<<: *h", "hooks"),
    ],
)
def test_a_grave_setting_is_named_in_words(lab, old, new, words):
    settings(lab, old, new)
    data = reviewed(lab)
    assert any(words in each for each in data["questions"]), data["questions"]
    assert data["settings"]
    assert all(each["path"] == "mkdocs.yml" for each in data["settings"])


def test_any_other_setting_is_asked_about_value_by_value(lab):
    settings(lab, "site_name: A lab", "site_name: Another lab\nnav: [about.md]")
    data = reviewed(lab)
    assert [(each["what"], each["old"], each["new"], each["line"]) for each in data["settings"]] == [
        ("site_name", "A lab", "Another lab", 1),
        ("nav › 1", None, "about.md", 2),
    ]
    assert data["questions"] == ["2 settings changed"]


def test_settings_that_are_inherited_from_outside_the_handbook(tmp_path):
    root = small.write(tmp_path / "all/lab", small.files() | SITE)
    settings(root, "site_name: A lab", "INHERIT: ../base.yml")
    small.write(tmp_path / "all", {"base.yml": "INHERIT: shared/deep.yml\nsite_name: A lab\n"})
    small.write(tmp_path / "all/shared", {"deep.yml": "strict: true\n"})
    kept(tmp_path / "all")
    assert reviewed(root)["questions"] == []
    small.write(tmp_path / "all/shared", {"deep.yml": "strict: true\nhooks: [x.py]\n"})
    data = reviewed(root)
    assert [(each["path"], each["what"]) for each in data["settings"]] == [("../shared/deep.yml", "hooks › 1")]
    assert "code that runs when the site is built: hooks" in data["questions"]


def test_a_notice_that_was_inherited(tmp_path):
    root = small.write(tmp_path / "all/lab", small.files() | SITE)
    plugins = "plugins: {notchbook: {notice: Invented.}}\n"
    small.write(tmp_path / "all", {"base.yml": plugins, "lab/mkdocs.yml": "INHERIT: ../base.yml\nsite_name: A lab\n"})
    kept(tmp_path / "all")
    small.write(tmp_path / "all", {"base.yml": "plugins: {notchbook: {}}\n"})
    assert "the notice above every page was taken away" in reviewed(root)["questions"]


def test_settings_that_cannot_be_read_were_not_compared(lab):
    (lab / "mkdocs.yml").write_text(SETTINGS + "\t- : [\n", "utf-8")
    data = reviewed(lab)
    assert any(each.startswith("mkdocs.yml, as it is, cannot be read") for each in data["not_compared"])


def test_settings_with_more_aliases_than_can_be_written_out(lab):
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{number}: &a{number} [{', '.join([f'*a{number - 1}'] * 10)}]" for number in range(1, 12)]
    (lab / "mkdocs.yml").write_text(SETTINGS + "\n".join(lines) + "\n", "utf-8")
    assert any(each.startswith("mkdocs.yml, as it is, holds more than") for each in reviewed(lab)["not_compared"])


@pytest.mark.parametrize(
    ("path", "content", "kind", "state", "lines"),
    [
        ("docs/about.md", "# About\n\nOne.\n\nThree.\nFour.\n", "page", "changed", (2, 1)),
        ("docs/new.md", "# New\n\nText.\n", "page", "added", (2, 0)),
        ("docs/about.md", None, "page", "removed", (0, 3)),
        ("docs/.hidden/page.md", "x\n", "page", "added", (1, 0)),
        ("docs/raw.html", "<script>1</script>\n", "page", "added", (1, 0)),
        ("docs/plain.js", "2\n", "script", "changed", (1, None)),
        ("docs/deep/x.css", "a {}\n", "style", "added", (1, 0)),
        ("docs/picture.png", b"\x89PNG\x01", "file", "changed", (None, None)),
        ("overrides/main.html", "<html>!</html>\n", "template", "changed", (1, None)),
        ("overrides/404.html", "<html>!</html>\n", "template", "added", (1, 0)),
        ("hooks/day.py", "import os\n", "code", "changed", (1, None)),
        ("hooks/helper.py", "import os\n", "code", "changed", (1, None)),
        ("hooks/more/inner.py", "import os\n", "code", "added", (1, 0)),
    ],
)
def test_a_file_of_the_site(lab, path, content, kind, state, lines):
    (lab / ".gitignore").write_text("*\n", "utf-8")  # says nothing about what is published
    if content is None:
        (lab / path).unlink()
    else:
        small.write(lab, {path: content})
    data = reviewed(lab)
    (told,) = data["files"]
    assert (told["path"], told["kind"], told["state"]) == (path, kind, state)
    came, went = lines
    assert told["lines_came"] in (came, None)
    assert went is None or told["lines_went"] == went
    assert data["questions"]


def test_lines_that_only_moved(lab):
    (lab / "docs/about.md").write_text("# About\n\nTwo.\n\nOne.\n", "utf-8")
    assert "only the order of its lines" in run(lab).stdout


@pytest.mark.parametrize("path", ["docs/linked.md", "results/tests/linked.yaml", "overrides/x.html", "hooks/x.py"])
def test_a_new_link_could_not_be_compared(lab, tmp_path, path):
    other = tmp_path / "other.md"
    other.write_text("x\n", "utf-8")
    (lab / path).symlink_to(other)
    data = reviewed(lab)
    assert any(each.startswith(f"new: {path} is a link") for each in data["not_compared"])


def test_a_record_that_became_a_link(lab):
    kept_elsewhere = lab / "elsewhere.yaml"
    (lab / small.TEST).rename(kept_elsewhere)
    (lab / small.TEST).symlink_to(kept_elsewhere)
    data = reviewed(lab)
    assert any(small.TEST in each for each in data["not_compared"])
    assert data["removed"] == []


def test_readings_behind_a_link_to_a_folder(lab):
    (lab / "results/tests").rename(lab / "read")
    (lab / "results/tests").symlink_to(lab / "read")
    data = reviewed(lab)
    assert any("results/tests is a link" in each for each in data["not_compared"])
    kept(lab)
    text = (lab / "read/2026-10-06-g2-pp-h.yaml").read_text("utf-8")
    (lab / "read/2026-10-06-g2-pp-h.yaml").write_text(text.replace("85.8", "84.8"), "utf-8")
    again = reviewed(lab)
    assert any("results/tests" in each for each in again["not_compared"])
    assert again["added"] == []


def test_a_repository_within_the_data(lab):
    inner = small.write(lab / "results/tests/more", {"a.yaml": "kind: test\n"})
    kept(inner)
    assert any("results/tests/more is a repository" in each for each in reviewed(lab)["not_compared"])
    git(lab, "-c", "protocol.file.allow=always", "add", "--all")
    git(lab, "commit", "-q", "-m", "a repository within")
    assert any("results/tests/more" in each for each in reviewed(lab)["not_compared"])


def test_a_record_that_could_not_be_read_before_or_now(lab):
    (lab / small.TEST).write_text("kind: test\nspecimens: none\n", "utf-8")
    kept(lab)
    assert reviewed(lab)["not_compared"] == []
    (lab / small.TEST).write_text("kind: test\nspecimens: nothing\n", "utf-8")
    assert any(each.startswith(f"{small.TEST} cannot be read") for each in reviewed(lab)["not_compared"])


def test_a_record_that_could_not_be_read_before(lab):
    sound = (lab / small.TEST).read_text("utf-8")
    (lab / small.TEST).write_text("kind: test\nspecimens: none\n", "utf-8")
    kept(lab)
    (lab / small.TEST).write_text(sound, "utf-8")
    data = reviewed(lab)
    assert data["added"] == []
    assert any("could not be read as it was" in each for each in data["not_compared"])


def test_a_commit_of_the_future(lab):
    (lab / "docs/about.md").write_text("# About\n", "utf-8")
    kept(lab, when="2098-01-01T00:00:00Z")
    data = reviewed(lab)
    assert any("2098-01-01" in each for each in data["not_compared"])


def test_a_link_that_was_there_is_told_once(lab):
    (lab / "results/tests/linked.yaml").symlink_to("nowhere")
    (lab / "docs/linked.md").symlink_to("nowhere")
    kept(lab)
    told = reviewed(lab)["not_compared"]
    assert sum(each.count("linked.yaml") for each in told) == sum(each.count("linked.md") for each in told) == 1


def test_a_hook_in_the_handbook_s_own_folder(lab):
    settings(lab, "hooks/day.py", "day.py")
    small.write(lab, {"day.py": "import helper\n", "helper.py": "1\n", "inner/x.py": "1\n"})
    kept(lab)
    small.write(lab, {"helper.py": "2\n"})
    (lab / "linked.py").symlink_to("inner/x.py")
    data = reviewed(lab)
    assert [(each["path"], each["kind"]) for each in data["files"]] == [("helper.py", "code")]
    assert any(each.startswith("new: linked.py is a link") for each in data["not_compared"])


def test_tags_of_settings_are_compared(lab):
    settings(lab, "site_name: A lab", "site_name: !ENV [NAME, A lab]\nrepo_name: !!python/name:os.name ''")
    kept(lab)
    settings(lab, "!!python/name:os.name", "!!python/name:os.sep")
    settings(lab, "!ENV [NAME, A lab]", "!ENV [OTHER, A lab]")
    assert [(each["what"], each["old"], each["new"]) for each in reviewed(lab)["settings"]] == [
        ("repo_name", "!!python/name:os.name", "!!python/name:os.sep"),
        ("site_name › !ENV › 1", None, "OTHER"),
        ("site_name › !ENV › 1", "NAME", None),
    ]


def test_a_key_that_stands_twice_is_compared_twice(lab):
    text = (lab / "mkdocs.yml").read_text("utf-8")
    (lab / "mkdocs.yml").write_text(f"{text}extra_css: [a.css]\nextra_css: [b.css]\n", "utf-8")
    kept(lab)
    settings(lab, "a.css", "c.css")
    data = reviewed(lab)
    assert [each["what"] for each in data["settings"]] == ["extra_css › 1"]
    assert "styles of every page" in data["questions"][0]


def test_a_folder_that_lies_outside(lab, tmp_path):
    (tmp_path / "pages").mkdir()
    settings(lab, "site_name: A lab", "site_name: A lab\ndocs_dir: ../pages")
    data = reviewed(lab)
    assert any(each.startswith("new: ../pages lies outside") for each in data["not_compared"])


def test_what_cannot_be_looked_into(lab):
    folder = lab / "docs/closed"
    folder.mkdir()
    folder.chmod(0)
    os.mkfifo(lab / "docs/pipe")
    try:
        told = reviewed(lab)["not_compared"]
    finally:
        folder.chmod(0o700)
    assert any("docs/pipe is no file that can be read" in each for each in told)
    if os.geteuid():
        assert any("docs/closed cannot be read" in each for each in told)


def test_a_handbook_without_settings_and_one_that_gets_some(tmp_path):
    root = small.write(tmp_path / "lab", small.files())
    kept(root)
    assert reviewed(root)["questions"] == []
    small.write(root, SITE)
    data = reviewed(root)
    assert "code that runs when the site is built: hooks" in data["questions"]
    assert {each["path"] for each in data["files"]} == set(SITE) - {"mkdocs.yml"}


def test_what_is_asked_about_comes_in_the_order_of_its_weight(lab):
    contents = small.files()
    contents["procedures/hazards.yaml"]["hazards"][0]["controls"]["guard"] = ["none"]
    contents[small.TEST]["specimens"][2]["rise_angle_deg"] = 84.8
    contents[small.TEST]["group"] = "G4"
    contents[small.TEST]["deviations"] = [{"rule": "conditioning", "reason": "in a hurry", "accepted_by": "LT-1"}]
    contents[small.MATERIAL]["title"] = "Polyamide 6"
    small.write(lab, contents)
    small.write(lab, {"docs/about.md": "# About\n", "hooks/day.py": "2\n"})
    settings(lab, "deviations: refuse", "deviations: label")
    (lab / "docs/link.md").symlink_to(lab / "docs/about.md")
    order = (
        "safety", "compared", "departures", "code, templates", "page changed", "raw reading", "what was tested",
        "setup", "result moved", "declared deviation",
    )  # fmt: skip
    asked = reviewed(lab)["questions"]
    places = [next(place for place, each in enumerate(asked) if words in each) for words in order]
    assert places == sorted(places)
    titles = (
        "What can hurt", "Could not be", "Settings", "Code, temp", "Hand-written", "Raw readings", "What was tested",
        "Setup changed", "Results that moved", "Declared deviations",
    )  # fmt: skip
    for form in ("text", "markdown"):
        shown = run(lab, "--format", form).stdout
        begins = [min(shown.find(f"{mark}{each}") % len(shown) for mark in ("\n\n", "#### ")) for each in titles]
        assert begins == sorted(begins), form
