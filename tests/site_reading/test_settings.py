"""The plugin's settings as the command line finds them in mkdocs.yml."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notchbook.handbook import open_handbook
from notchbook.model.settings import Settings
from notchbook.site_reading.settings import read_settings
from small_handbook import TEST, files, write


def settings_of(root, text):
    raw = text if isinstance(text, bytes) else text.encode("utf-8")
    return read_settings(write(root, {"mkdocs.yml": raw}))


def test_without_a_file_the_defaults_hold(tmp_path):
    assert read_settings(tmp_path) == (Settings("procedures", "results", "refuse"), [])


@pytest.mark.parametrize(
    "text",
    [
        "plugins:\n  - search\n  - notchbook:\n      procedures: p\n      results: r\n      deviations: label\n",
        "plugins:\n  search: {}\n  notchbook:\n    procedures: p\n    results: r\n    deviations: label\n",
        "plugins: [search, {notchbook: {procedures: p, results: r, deviations: label, enabled: true}}]\n",
        "x: &own {procedures: p, results: r}\nplugins: [{notchbook: {<<: *own, deviations: label}}]\n",
        "plugins:\r\n  - notchbook:\r\n      procedures: p\r\n      results: r\r\n      deviations: label\r\n",
    ],
    ids=["list", "mapping", "flow", "merged", "Windows line ends"],
)
def test_settings_are_found_in_every_form_that_mkdocs_allows(tmp_path, text):
    (tmp_path / "p").mkdir()
    (tmp_path / "r").mkdir()
    settings, findings = settings_of(tmp_path, text)
    assert (settings.procedures, settings.results, settings.deviations) == ("p", "r", "label")
    assert findings == []


@pytest.mark.parametrize(
    "text",
    [
        "",
        "# only a remark\n",
        "site_name: x\n",
        "plugins:\n",
        "plugins: []\n",
        "plugins: 5\n",
        "plugins: notchbook\n",
        "plugins: [null, 3, [notchbook], {}]\n",
        "- a list\n",
        "x: &x [*x]\n",
    ],
)
def test_a_file_without_settings_leaves_the_defaults(tmp_path, text):
    assert settings_of(tmp_path, text) == (Settings(), [])


@pytest.mark.parametrize("plugins", ["[notchbook]", "[{notchbook: }]", "{notchbook: ~}"])
@pytest.mark.parametrize(("line", "folder"), [("", "docs"), ("docs_dir: pages", "pages")])
def test_a_plugin_without_settings_still_has_hand_written_pages(tmp_path, plugins, line, folder):
    assert settings_of(tmp_path, f"plugins: {plugins}\n{line}\n") == (Settings(prose=folder), [])


@pytest.mark.parametrize(
    "line",
    [
        "edit_uri: !ENV [EDIT, '']",
        "site_url: !ENV SITE",
        "emoji: !!python/name:material.extensions.emoji.twemoji",
        "slugify: !!python/object/apply:pymdownx.slugs.slugify {kwds: {case: lower}}",
        "other: !relative $config_dir",
    ],
)
def test_tags_that_mkdocs_understands_are_passed_over(tmp_path, line):
    settings, findings = settings_of(tmp_path, f"{line}\nplugins: [{{notchbook: {{deviations: label}}}}]\n")
    assert (settings.deviations, findings) == ("label", [])


def test_tags_are_never_obeyed(tmp_path):
    mark = tmp_path / "mark"
    text = f"x: !!python/object/apply:pathlib.Path.touch [!!python/object/apply:pathlib.Path ['{mark}']]\n"
    assert settings_of(tmp_path, text)[1] == []
    assert not mark.exists()


def test_an_unknown_setting_is_told_at_its_key(tmp_path):
    settings, (finding,) = settings_of(tmp_path, "plugins:\n  - notchbook:\n      deviation: label\n")
    assert settings == Settings(prose="docs")
    assert (finding.rule, finding.path, finding.line, finding.column) == ("settings", "mkdocs.yml", 3, 7)
    assert "deviations" in finding.hint


@pytest.mark.parametrize("value", ["accept", "no", "1", "[label]", "{a: b}", "!ENV [X, some]", "~"])
def test_a_value_that_deviations_cannot_have_is_told(tmp_path, value):
    settings, (finding,) = settings_of(tmp_path, f"plugins: [{{notchbook: {{deviations: {value}}}}}]\n")
    assert settings.deviations == "refuse"
    assert (finding.rule, finding.line, finding.column > 1) == ("settings", 1, True)


def test_a_chosen_folder_that_is_not_there_is_told_where_it_is_inherited_from(tmp_path):
    plugins = b"plugins: {notchbook: {procedures: how, results: what}}\n"
    (tmp_path / "how").mkdir()
    write(tmp_path, {"base.yml": plugins, "mkdocs.yml": b"INHERIT: base.yml\n"})
    settings, (finding,) = read_settings(tmp_path)
    assert (settings.procedures, settings.results) == ("how", "what")
    assert (finding.rule, finding.path, finding.line) == ("settings", "base.yml", 1)


def test_an_old_line_break_after_a_key_is_no_obstacle(tmp_path):
    text = "plugins:\n  - notchbook:\n      procedures: gone\n      deviations:\x85\n"
    _, found = settings_of(tmp_path, text)
    assert found
    assert all((each.rule, each.line) == ("settings", 1) for each in found)


def test_a_setting_from_the_environment(tmp_path, monkeypatch):
    monkeypatch.setenv("LAB_RESULTS", "readings")
    (tmp_path / "readings").mkdir()
    text = "plugins: [{notchbook: {results: !ENV [LAB_RESULTS, results]}}]\n"
    assert settings_of(tmp_path, text) == (Settings(results="readings", prose="docs"), [])


@pytest.mark.parametrize("plugins", ["[notchbook, notchbook]", "[notchbook: {notice: a}, notchbook: {notice: b}]"])
def test_a_plugin_that_is_named_twice_is_told(tmp_path, plugins):
    _, (finding,) = settings_of(tmp_path, f"plugins: {plugins}\n")
    assert "a second time" in finding.message


@pytest.mark.parametrize("key", ["procedures", "results"])
@pytest.mark.parametrize("value", ["5", "~", "[a]", "{a: b}", "2026-01-01", '"a\\0b"', '"a\\nb"'])
def test_a_folder_that_is_no_name_is_told(tmp_path, key, value):
    settings, (finding,) = settings_of(tmp_path, f"plugins: [{{notchbook: {{{key}: {value}}}}}]\n")
    assert settings == Settings(prose="docs")
    assert (finding.rule, len(str(finding).splitlines())) == ("settings", 1)


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("plugins: [\n", 2),
        ("a: b: c\n", 1),
        ("x: 1\ny: *z\n", 2),
        ("{[a]: b}\n", 1),
        ("since: 2026-02-30\n", 1),
        ("x: !!int y\n", 1),
        ("x: !!int\n", 1),
        ("x: !!bool y\n", 1),
        ("x: !!timestamp y\n", 1),
        ("x: " + "9" * 5000 + "\n", 1),
        ("x: " + "[" * 5000 + "\n", 1),
        ("x: " + "!!set {? " * 900 + "}" * 900 + "\n", 1),
        ("x: \x01\n", 1),
        ("a: 1\n---\nb: 2\n", 2),
        ("site_name: Prüfung\n".encode("latin-1"), 1),
        ("site_name: x\n".encode("utf-16"), 1),
    ],
)
def test_a_file_that_cannot_be_read_is_told_and_the_defaults_hold(tmp_path, text, line):
    settings, (finding,) = settings_of(tmp_path, text)
    assert settings == Settings()
    assert (finding.rule, finding.line) == ("settings", line)
    assert finding.message.startswith("cannot be read")


def test_the_handbook_obeys_the_settings(tmp_path):
    contents = {f"own/{path}": data for path, data in files().items()}
    contents["mkdocs.yml"] = "plugins: [{notchbook: {procedures: own/procedures, results: ./own/results}}]\n"
    handbook = open_handbook(write(tmp_path, contents))
    assert len(handbook.library.records) == 1
    assert {each.path for each in handbook.findings} == {f"own/{TEST}"}


PIECES = st.sampled_from(
    ["plugins", ":", " ", "\n", "\n  ", "- ", "notchbook", "{", "}", "[", "]", "deviations: ", "procedures: ", "!ENV ",
     "&a ", "*a", "<<: ", "2026-02-30", "!!int ", "!!binary ", "!!set ", "!!timestamp ", "!!bool ", "!!float ",
     "!!omap ", "\0", "~", "é", "? ", "'", '"']
)  # fmt: skip


@given(text=st.one_of(st.text(), st.lists(PIECES).map("".join)))
def test_no_text_in_the_file_makes_the_reader_raise(tmp_path_factory, text):
    settings, findings = settings_of(tmp_path_factory.mktemp("settings"), text.encode("utf-8", "surrogatepass"))
    assert settings.deviations in ("refuse", "label")
    assert all(each.rule == "settings" for each in findings)
