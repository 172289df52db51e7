"""Files before they are read: their names, places, sizes and bytes."""

import os
import sys
from pathlib import Path

import pytest

from notchbook.findings import RENDERINGS
from notchbook.handbook import RULES, open_handbook
from notchbook.reading import folder as folder_reading
from notchbook.reading.files import LARGEST_BYTES
from small_handbook import (
    EXERCISE,
    FILES,
    MATERIAL,
    RIG,
    TEST,
    VERIFICATION,
    as_yaml,
    files,
    opened,
    own_method,
    told,
    write,
)


def rules_told(handbook, path):
    return [rule for rule, _, _ in told(handbook, path)]


def test_the_small_handbook_is_read_without_a_refusal(tmp_path):
    handbook = opened(tmp_path)
    assert handbook.files == len(FILES)
    assert [each.rule for each in handbook.findings] == ["mixed-breaks"]
    assert {kind for kind, _ in handbook.documents} == {
        "rig", "method", "material", "exercise", "hazards", "verification", "test",
    }  # fmt: skip


@pytest.mark.parametrize(
    "name", ["a.yml", "A.yaml", "a.YAML", "a.Yml", "a b.yaml", "a_b.yaml", "-a.yaml", "é.yaml", "1\n.yaml"]
)
def test_a_name_that_is_no_id_is_refused(tmp_path, name):
    handbook = opened(tmp_path, {f"results/tests/{name}": files()[TEST]})
    assert rules_told(handbook, f"results/tests/{name}") == ["file-name"]
    assert len(str(handbook.findings[0]).splitlines()) == 1


@pytest.mark.parametrize("name", ["a.yaml", "2026-10-06-g2.yaml", "0.yaml", "a.b.yaml", "a-.yaml"])
def test_a_name_that_is_an_id_is_read(tmp_path, name):
    handbook = opened(tmp_path, {**files(), f"results/tests/{name}": files()[TEST]})
    assert name.removesuffix(".yaml") in handbook.library.records


@pytest.mark.parametrize("name", [".hidden.yaml", ".a.yaml.swp", "notes.txt", "a.yaml~", "README.md", "yaml"])
def test_hidden_files_and_those_of_other_kinds_are_left_alone(tmp_path, name):
    handbook = opened(tmp_path, {**files(), f"results/tests/{name}": "\0"})
    assert told(handbook, f"results/tests/{name}") == []
    assert handbook.files == len(FILES)


def test_a_file_in_a_folder_of_its_own_is_told(tmp_path):
    handbook = opened(tmp_path, {**files(), "results/tests/autumn/a.yaml": files()[TEST]})
    (finding,) = [each for each in handbook.findings if each.path == "results/tests/autumn/a.yaml"]
    assert finding.rule == "file-place"
    assert "results/tests" in finding.hint


@pytest.mark.parametrize("path", ["results/a.yaml", "results/test/a.yaml", "procedures/rig/a.yaml", "procedures/a.yml"])
def test_a_file_in_no_folder_of_its_kind_is_told(tmp_path, path):
    assert rules_told(opened(tmp_path, {**files(), path: files()[TEST]}), path) == ["file-place"]


def test_a_misnamed_list_of_hazards_is_told(tmp_path):
    handbook = opened(tmp_path, {"procedures/hazards.yml": files()["procedures/hazards.yaml"]})
    assert rules_told(handbook, "procedures/hazards.yml") == ["file-name"]


def test_a_link_out_of_the_handbook_is_refused(tmp_path):
    outside = tmp_path / "outside.yaml"
    outside.write_text(as_yaml(files()[TEST]))
    root = write(tmp_path / "handbook", files())
    (root / "results/tests/linked.yaml").symlink_to(outside)
    handbook = open_handbook(root)
    assert rules_told(handbook, "results/tests/linked.yaml") == ["file-place"]
    assert "linked" not in handbook.library.records


def test_a_folder_that_leads_out_of_the_handbook_is_refused(tmp_path):
    write(tmp_path / "elsewhere", {"a.yaml": files()[TEST]})
    root = write(tmp_path / "handbook", {RIG: files()[RIG]})
    (root / "results").mkdir()
    (root / "results/tests").symlink_to(tmp_path / "elsewhere")
    handbook = open_handbook(root)
    assert rules_told(handbook, "results/tests") == ["file-place"]
    assert handbook.library.records == {}


@pytest.mark.parametrize("folder", ["../elsewhere", "{outside}"])
def test_a_folder_in_the_settings_that_lies_outside_is_refused(tmp_path, folder):
    outside = write(tmp_path / "elsewhere", {"tests/a.yaml": files()[TEST]})
    root = tmp_path / "handbook"
    name = folder.format(outside=outside)
    write(root, {"mkdocs.yml": f"plugins: [{{notchbook: {{results: '{name}'}}}}]\n"})
    handbook = open_handbook(root)
    assert {each.rule for each in handbook.findings} == {"file-place"}
    assert handbook.library.records == {}


def test_a_link_inside_the_handbook_is_followed(tmp_path):
    root = write(tmp_path, files())
    (root / "results/tests/linked.yaml").symlink_to(root / TEST)
    assert "linked" in open_handbook(root).library.records


@pytest.mark.parametrize("target", ["itself.yaml", "nowhere.yaml"])
def test_a_link_that_leads_to_nothing_is_refused(tmp_path, target):
    root = write(tmp_path, files())
    (root / "results/tests/itself.yaml").symlink_to(target)
    assert rules_told(open_handbook(root), "results/tests/itself.yaml") in (["file-place"], ["file-text"])


def test_a_list_of_hazards_that_links_to_itself_is_refused(tmp_path):
    (tmp_path / "procedures").mkdir()
    (tmp_path / "procedures/hazards.yaml").symlink_to("hazards.yaml")
    assert rules_told(open_handbook(tmp_path), "procedures/hazards.yaml") == ["file-place"]


def test_a_folder_named_like_a_file_is_not_read(tmp_path):
    (tmp_path / "procedures").mkdir()
    (tmp_path / "results/tests/a.yaml").mkdir(parents=True)
    assert open_handbook(tmp_path).findings == ()


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="nothing is unreadable to the superuser")
def test_a_file_that_may_not_be_read_is_told(tmp_path):
    root = write(tmp_path, files())
    (root / TEST).chmod(0)
    assert rules_told(open_handbook(root), TEST) == ["file-text"]


def test_a_file_that_cannot_be_read_is_told(tmp_path, monkeypatch):
    root = write(tmp_path, files())
    usual = os.open

    def open_file(path, *arguments, **options):
        if Path(path).name == "bench-1.yaml":
            raise PermissionError(13, "Permission denied")
        return usual(path, *arguments, **options)

    monkeypatch.setattr(os, "open", open_file)
    (finding,) = [each for each in open_handbook(root).findings if each.path == RIG]
    assert (finding.rule, finding.message) == ("file-text", "cannot be read: Permission denied")


@pytest.mark.parametrize("folder", ["results", "results/tests"])
def test_a_folder_that_cannot_be_read_is_told_once(tmp_path, monkeypatch, folder):
    root = write(tmp_path, files())
    usual = os.scandir

    def scan(path):
        if Path(path) == root / folder:
            raise PermissionError(13, "Permission denied")
        return usual(path)

    monkeypatch.setattr(os, "scandir", scan)
    told = [each for each in open_handbook(root).findings if each.rule == "file-text"]
    assert [(each.path, each.message) for each in told] == [(folder, "cannot be read: Permission denied")]


def test_a_folder_that_links_to_itself_is_told(tmp_path):
    (tmp_path / "results").symlink_to("results")
    assert rules_told(opened(tmp_path, {}), "results") == ["file-text"]


@pytest.mark.parametrize("gone", [MATERIAL, TEST, "procedures/hazards.yaml"])
def test_a_file_that_vanishes_while_the_folder_is_read_is_told(tmp_path, monkeypatch, gone):
    root = write(tmp_path, files())
    usual = Path.stat

    def vanish(path, **options):
        if path == root / gone:
            path.unlink(missing_ok=True)
        return usual(path, **options)

    monkeypatch.setattr(Path, "stat", vanish)
    handbook = open_handbook(root)
    told = [each.message for each in handbook.findings if each.path == gone]
    assert told == ["cannot be read: No such file or directory"]


def test_a_file_is_read_up_to_its_largest_size(tmp_path):
    text = as_yaml(files()[TEST])
    handbook = opened(tmp_path, {**files(), TEST: text + "#" * (LARGEST_BYTES - len(text) - 1) + "\n"})
    assert rules_told(handbook, TEST) == ["mixed-breaks"]
    handbook = opened(tmp_path, {**files(), TEST: text + "#" * (LARGEST_BYTES - len(text)) + "\n"})
    assert rules_told(handbook, TEST) == ["file-size"]


def test_a_file_that_grows_while_it_is_read_is_read_no_further(tmp_path, monkeypatch):
    root = write(tmp_path, {**files(), TEST: "#" * (3 * LARGEST_BYTES)})
    empty = tmp_path / "empty"
    empty.touch()
    monkeypatch.setattr(os, "fstat", lambda _: empty.stat())
    (finding,) = [each for each in open_handbook(root).findings if each.path == TEST]
    assert finding.message == f"has {LARGEST_BYTES + 1:,} bytes; at most {LARGEST_BYTES:,} are read"


def test_a_byte_order_mark_is_passed_over(tmp_path):
    handbook = opened(tmp_path, {**files(), TEST: b"\xef\xbb\xbf" + as_yaml(files()[TEST]).encode()})
    assert rules_told(handbook, TEST) == ["mixed-breaks"]


def test_a_byte_order_mark_moves_no_column(tmp_path):
    assert told(opened(tmp_path, {TEST: b"\xef\xbb\xbfa: \x01\n"}), TEST) == [("file-text", 1, 4)]


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be", "utf-32", "latin-1"])
def test_other_encodings_are_refused(tmp_path, encoding):
    handbook = opened(tmp_path, {TEST: "notes: Prüfung\n".encode(encoding)})
    assert rules_told(handbook, TEST) == ["file-text"]


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_the_byte_that_is_no_text_is_named_with_its_line(tmp_path, mark):
    handbook = opened(tmp_path, {TEST: mark + b"kind: test\nnotes: \xf6\n"})
    assert told(handbook, TEST) == [("file-text", 2, 8)]
    assert "0xf6" in handbook.findings[0].message


def test_windows_line_ends_keep_their_lines(tmp_path):
    text = as_yaml({**files()[TEST], "group": 5}).replace("\n", "\r\n")
    handbook = opened(tmp_path, {**files(), TEST: text.encode()})
    assert told(handbook, TEST) == [("value-type", 3, 10)]


@pytest.mark.skipif(sys.platform != "linux", reason="other systems do not allow such names")
def test_a_file_name_that_is_no_text_is_told_in_every_rendering(tmp_path):
    folder = tmp_path / "results/tests"
    folder.mkdir(parents=True)
    (folder / os.fsdecode(b"\xff.yaml")).write_text("a: 1\n")
    findings = opened(tmp_path, {}).findings
    assert [each.rule for each in findings] == ["file-name"]
    for rendering in RENDERINGS.values():
        assert rendering(findings, list(RULES.values())).encode("utf-8")


def test_a_method_of_the_department_takes_the_place_of_the_one_that_comes_along(tmp_path):
    own = own_method("title: Charpy impact strength of plastics, without force measurement", "title: As we do it")
    handbook = opened(tmp_path, {**files(), "procedures/methods/iso-179-1.yaml": own})
    assert handbook.library.methods["iso-179-1"].title == "As we do it"
    assert handbook.documents["method", "iso-179-1"].path == "procedures/methods/iso-179-1.yaml"
    assert "iso-180" in handbook.library.methods


def test_paths_have_forward_slashes_and_begin_at_the_root(tmp_path):
    contents = files()
    for path in (RIG, EXERCISE, VERIFICATION):
        contents[path]["zzz"] = 1
    assert {each.path for each in opened(tmp_path, contents).findings} == {RIG, EXERCISE, VERIFICATION}


def test_an_empty_handbook_has_nothing_to_say(tmp_path):
    for name in ("procedures", "results"):
        (tmp_path / name).mkdir()
    handbook = open_handbook(tmp_path)
    assert handbook.findings == ()
    assert handbook.files == 0


@pytest.mark.parametrize(
    ("name", "message", "hint"),
    [
        ("a.yml", "ends in .yml, where a data file ends in .yaml", "rename it to a.yaml"),
        ("a.yaml.txt", "ends in .yaml.txt", "rename it to a.yaml"),
        ("G2 PP_H.yaml", "'G2 PP_H.yaml' is no id", "rename it to g2-pp-h.yaml"),
        ("é.yaml", "'é.yaml' is no id", "small letters, digits"),
    ],
)
def test_a_name_is_told_with_the_one_that_it_could_have(tmp_path, name, message, hint):
    (finding,) = opened(tmp_path, {f"results/tests/{name}": files()[TEST]}).findings
    assert message in finding.message
    assert hint in finding.hint


@pytest.mark.parametrize(
    ("encoding", "place", "message"),
    [
        ("latin-1", (2, 11), "the byte is 0xb0, which is ° in an older encoding of Windows"),
        ("utf-16", (1, 1), "is saved in the encoding UTF-16"),
    ],
)
def test_a_file_in_another_encoding_is_told_to_be_saved_again(tmp_path, encoding, place, message):
    raw = "kind: test\nnotes: 23 °C\n".encode(encoding)
    (finding,) = opened(tmp_path, {TEST: raw}).findings
    assert (finding.rule, finding.line, finding.column) == ("file-text", *place)
    assert message in finding.message
    assert "UTF-8" in finding.hint


def test_a_file_in_utf_16_without_its_mark_is_told_to_be_saved_again(tmp_path):
    (finding,) = opened(tmp_path, {TEST: "kind: test\nnotes: none\n".encode("utf-16-le")}).findings
    assert (finding.rule, finding.message) == ("file-text", "is saved in the encoding UTF-16, not in UTF-8")


def test_a_folder_in_capitals_is_told_where_the_system_takes_it_for_the_one_meant(tmp_path, monkeypatch):
    # macOS and Windows: names differ in their letters and not in their case, and keep the case they were made with
    write(tmp_path, files())
    (tmp_path / "results").rename(tmp_path / "Results")
    usual = folder_reading.is_folder
    monkeypatch.setattr(folder_reading, "is_folder", lambda path: path.name == "results" or usual(path))
    (finding,) = [each for each in open_handbook(tmp_path).findings if each.rule == "file-place"]
    assert (finding.path, finding.hint) == ("Results", "rename it to results")
    assert finding.message == "is not found by systems that tell capitals apart: they look for results/"
