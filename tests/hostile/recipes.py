"""Handbooks that are too large for a repository, or whose files have names and kinds that one cannot keep.

Each recipe gets a copy of the base handbook and spoils it. Its findings stand beside it as in an `expected.txt`; of a
long list only the first, and how many there are.
"""

import os
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

MATERIAL = "procedures/materials/x.yaml"
RIG = "procedures/rigs/rig-1.yaml"
TEST = "results/tests/2026-10-06-g2-pp-h.yaml"
VERIFICATION = "results/verifications/2026-09-10-rig-1-charpy-1.yaml"
EXERCISE = "procedures/exercises/notched-charpy.yaml"
HEAD = "kind: material\ntitle: X\nsymbol: PP\n"
BIG = 1_000_000


@dataclass(frozen=True)
class Recipe:
    """How to spoil a handbook, and what is said of it."""

    make: Callable[[Path], object]
    expected: tuple[str, ...] = ()
    number: int | None = None
    """How many findings there are, where not all are listed."""


def _write(path: str, content: str | bytes) -> Callable[[Path], object]:
    def make(root: Path) -> None:
        target = root / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(content if isinstance(content, bytes) else content.encode())

    return make


def _material(rest: str) -> Callable[[Path], object]:
    return _write(MATERIAL, HEAD + rest)


def _page(text: str | bytes) -> Callable[[Path], object]:
    return _both(_write("mkdocs.yml", "site_name: x\nplugins: [notchbook]\n"), _write("docs/index.md", text))


def _both(*makes: Callable[[Path], object]) -> Callable[[Path], object]:
    def make(root: Path) -> None:
        for each in makes:
            each(root)

    return make


def _changed(path: str, change: Callable[[str], str]) -> Callable[[Path], object]:
    def make(root: Path) -> None:
        (root / path).write_text(change((root / path).read_text("utf-8")), "utf-8")

    return make


def _link(path: str, target: str) -> Callable[[Path], object]:
    def make(root: Path) -> None:
        (root / path).parent.mkdir(parents=True, exist_ok=True)
        (root / path).symlink_to(target)

    return make


def _pipe(path: str) -> Callable[[Path], object]:
    def make(root: Path) -> None:
        (root / path).parent.mkdir(parents=True, exist_ok=True)
        os.mkfifo(root / path)

    return make


def _named(name: str) -> Callable[[Path], object]:
    return _write(f"procedures/materials/{name}", HEAD)


def _deep_folders(root: Path) -> None:
    # a path as long as Linux lets one be, too long to be given in one piece from further up
    here = os.open(root / "results", os.O_RDONLY)
    for _ in range(1_500):
        os.mkdir("a", dir_fd=here)
        below = os.open("a", os.O_RDONLY, dir_fd=here)
        os.close(here)
        here = below
    os.close(here)


def _bars(number: int) -> Callable[[str], str]:
    def change(text: str) -> str:
        head = text.partition("specimens:\n")[0]
        bar = "thickness_mm: 4, remaining_width_mm: 8, rise_angle_deg: 87, break: C"
        return f"{head}specimens:\n" + "".join(f"  - {{id: B{each}, width_mm: 10, {bar}}}\n" for each in range(number))

    return change


def _hammers(number: int, own: Callable[[int], str]) -> Callable[[str], str]:
    def change(text: str) -> str:
        return text + "".join(f"  h{each}: {{{own(each)}, nominal_energy_J: 1.0}}\n" for each in range(number))

    return change


# Twice as many of what is named last, once for each that is named: beyond counting where they were followed.
_LAUGHS = "a0: &a0 [x]\n" + "".join(f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]\n" for n in range(1, 12))
# Mappings of two mappings each: merged with themselves they are beyond counting.
_DOUBLING = "a0: &a0 {x: 1}\n" + "".join(f"a{n}: &a{n} {{l: *a{n - 1}, r: *a{n - 1}}}\n" for n in range(1, 60))

# The HTML of a longer page is not looked at.
_LONG_PAGE = ("docs/index.md:1:1 error page-markup",)
_DRAWING = '<svg xmlns="http://www.w3.org/2000/svg">'
_LAUGHING_DRAWING = (
    '<!DOCTYPE svg [<!ENTITY a0 "x">'
    + "".join(f'<!ENTITY a{n} "{f"&a{n - 1};" * 10}">' for n in range(1, 12))
    + f"]>{_DRAWING}<title>&a11;</title></svg>"
)

RECIPES: dict[str, Recipe] = {
    # size and number
    "file-of-ten-megabytes": Recipe(
        _material(f"notes: '{'x' * 10 * BIG}'\n"), ("procedures/materials/x.yaml:1:1 error file-size",)
    ),
    "page-of-ten-megabytes": Recipe(_page("word " * 2 * BIG), ("docs/index.md:1:1 error file-size",)),
    "settings-of-ten-megabytes": Recipe(
        _write("mkdocs.yml", f"x: [{'a,' * 5 * BIG}]\n"), ("mkdocs.yml:1:1 error settings",)
    ),
    "text-of-a-megabyte": Recipe(
        _material(f"notes: '{'x' * BIG}'\n"), ("procedures/materials/x.yaml:4:8 error value-form",)
    ),
    "key-of-a-megabyte": Recipe(
        _material(f"? {'k' * BIG}\n: 1\n"), ("procedures/materials/x.yaml:4:3 error key-unknown",)
    ),
    "half-a-million-keys": Recipe(
        _material(f"notes: {{{'a,' * 500_000}}}\n"), ("procedures/materials/x.yaml:4:99999 error file-size",)
    ),
    "keys-of-their-own-without-end": Recipe(
        _material("".join(f"{each:x}:\n" for each in range(150_000))),
        ("procedures/materials/x.yaml:50000:1 error file-size",),
    ),
    "half-a-million-entries": Recipe(
        _material(f"typical: [{'1,' * 500_000}]\n"), ("procedures/materials/x.yaml:4:10 error file-size",)
    ),
    "as-many-nodes-as-are-read": Recipe(
        _material(f"typical: [{'{},' * 99_900}]\n"),
        (
            "procedures/materials/x.yaml:1:1 error key-missing",
            "procedures/materials/x.yaml:4:10 error value-form",
        ),
        101,
    ),
    "as-many-entries-of-two-types": Recipe(
        _changed(EXERCISE, lambda text: text.replace("hazards: [", f"hazards: [{'1, ' * 45_000}{'a, ' * 45_000}")),
        (
            "procedures/exercises/notched-charpy.yaml:1:1 error value-type",
            "procedures/exercises/notched-charpy.yaml:7:10 error value-form",
        ),
        101,
    ),
    "one-of-many-entries-twice": Recipe(
        _changed(
            EXERCISE,
            lambda text: text.replace("hazards: [", f"hazards: [{', '.join(f'h{n}' for n in range(60_000))}, h59999, "),
        ),
        (
            "procedures/exercises/notched-charpy.yaml:7:10 error value-form",
            "procedures/exercises/notched-charpy.yaml:7:10 error value-form",
        ),
    ),
    "as-many-numbers-that-are-none": Recipe(
        _material(f"notes: [{'1e999,' * 99_900}]\n"),
        (
            "procedures/materials/x.yaml:1:1 error value-type",
            "procedures/materials/x.yaml:4:9 error number-finite",
        ),
        101,
    ),
    "anchors-without-end": Recipe(
        _material(f"notes: [{'&a x,' * 170_000}]\n"),
        (
            "procedures/materials/x.yaml:1:1 error yaml-feature",
            "procedures/materials/x.yaml:4:9 error yaml-feature",
        ),
        101,
    ),
    "tags-without-end": Recipe(
        _material(f"notes: [{'!x x,' * 170_000}]\n"), ("procedures/materials/x.yaml:4:8 error file-size",)
    ),
    "tag-lines-without-end": Recipe(
        _write(MATERIAL, "".join(f"%TAG !e{each}! x\n" for each in range(60_000)) + "---\n" + HEAD),
        ("procedures/materials/x.yaml:1:1 error yaml-feature",),
    ),
    "documents-without-end": Recipe(
        _write(MATERIAL, "---\n" * 250_000), ("procedures/materials/x.yaml:2:1 error yaml-syntax",)
    ),
    "aliases-that-laugh": Recipe(
        _material(_LAUGHS),
        (
            "procedures/materials/x.yaml:1:1 error yaml-feature",
            "procedures/materials/x.yaml:4:5 error yaml-feature",
        ),
        101,
    ),
    "settings-that-laugh": Recipe(
        _write("mkdocs.yml", _LAUGHS + "plugins: [{notchbook: {results: *a11}}]\n"), ("mkdocs.yml:12:6 error settings",)
    ),
    "settings-of-thousands-of-keys": Recipe(
        _write("mkdocs.yml", f"plugins: [{{notchbook: {{{', '.join(f'k{n}: 1' for n in range(9_000))}}}}}]\n"),
        (
            "mkdocs.yml:1:24 error settings",
            "mkdocs.yml:1:31 error settings",
        ),
        20,
    ),
    "addresses-that-are-none": Recipe(
        _material(f"notes: '{'a' * 500_000}@{'b.c-' * 100_000}'\n"),
        ("procedures/materials/x.yaml:4:8 error value-form",),
    ),
    "thousand-bars-all-alike": Recipe(
        _changed(TEST, _bars(1_000)),
        (
            "results/tests/2026-10-06-g2-pp-h.yaml:14:3 warning reading-steps",
            "results/tests/2026-10-06-g2-pp-h.yaml:14:3 warning same-remaining-width",
            "results/tests/2026-10-06-g2-pp-h.yaml:14:3 note same-dimensions",
        ),
    ),
    "more-bars-than-a-record-has": Recipe(
        _changed(TEST, _bars(1_001)), ("results/tests/2026-10-06-g2-pp-h.yaml:14:3 error value-form",)
    ),
    "hammers-upon-hammers": Recipe(
        _changed(RIG, _hammers(3_000, lambda n: f"base: h{n - 1 if n else 'x'}")),
        ("procedures/rigs/rig-1.yaml:10:3 error value-form",),
    ),
    "hammers-in-a-circle": Recipe(
        _changed(RIG, _hammers(96, lambda n: f"base: h{(n + 1) % 96}")),
        (
            "procedures/rigs/rig-1.yaml:32:14 error hammer-base",
            "procedures/rigs/rig-1.yaml:33:14 error hammer-base",
        ),
        96,
    ),
    "times-without-end": Recipe(
        _changed(VERIFICATION, lambda text: text.replace("times_s: [", f"times_s: [{'62.7,' * 45_000}")),
        ("results/verifications/2026-09-10-rig-1-charpy-1.yaml:8:31 error value-form",),
    ),
    # depth
    "brackets-to-their-limit": Recipe(
        _material(f"notes: {'[' * 990}{'a,' * 480_000}{']' * 990}\n"),
        ("procedures/materials/x.yaml:4:106 error nesting",),
    ),
    "mappings-in-mappings": Recipe(
        _material("notes:\n" + "".join(f"{' ' * n}a:\n" for n in range(1, 1_300))),
        ("procedures/materials/x.yaml:103:100 error nesting",),
    ),
    "keys-in-keys": Recipe(_material("? " * 490_000 + "\n"), ("procedures/materials/x.yaml:4:199 error nesting",)),
    "folders-in-folders": Recipe(_deep_folders),
    # notation
    "comments-never-closed": Recipe(_page("<!--" * 200_000), _LONG_PAGE),
    "code-never-closed": Recipe(_page(" ".join("`" * each for each in range(1, 1_400))), _LONG_PAGE),
    "fences-never-closed": Recipe(_page("".join(f"{'`' * (3 + each)}x\n" for each in range(1_400, 0, -1))), _LONG_PAGE),
    "notation-never-closed": Recipe(_page("[[" * 500_000), _LONG_PAGE),
    "notation-without-end": Recipe(
        _page("[[x]] " * 150_000),
        (
            *_LONG_PAGE,
            "docs/index.md:1:1 error prose-value",
            "docs/index.md:1:7 error prose-value",
        ),
        102,
    ),
    "notation-full-of-spaces": Recipe(
        _page(f"[[test a: b{' ' * 60_000}c{' ' * 60_000}]]"), ("docs/index.md:1:1 error prose-value",)
    ),
    "pictures-without-end": Recipe(
        _page("[[test 2026-10-06-g2-pp-h: chart]]\n\n" * 1_000), ("docs/index.md:61:1 error prose-value",)
    ),
    "formula-of-brackets": Recipe(
        _page(f"$${'{' * 99_000}{'}' * 99_000}$$"), ("docs/index.md:1:3 error prose-formula",)
    ),
    "formula-of-commands": Recipe(_page("$$" + "\\frac" * 20_000 + "$$"), ("docs/index.md:1:3 error prose-formula",)),
    "formulae-without-end": Recipe(_page("$x$ " * 120_000), (*_LONG_PAGE, "docs/index.md:1:8001 error prose-value")),
    "formulae-without-end-that-are-none": Recipe(
        _page("$\\nosuch$ " * 100_000),
        (
            *_LONG_PAGE,
            "docs/index.md:1:2 error prose-formula",
            "docs/index.md:1:12 error prose-formula",
        ),
        102,
    ),
    # HTML
    "page-of-angle-brackets": Recipe(_page("<" * 1_048_576), _LONG_PAGE),
    "page-of-tags-never-closed": Recipe(_page("<a " * 66_000), ("docs/index.md:1:1 error page-markup",)),
    "page-of-links-never-closed": Recipe(_page("[a](b" * 39_000), ("docs/index.md:1:1 error page-markup",)),
    "page-of-quotes-in-quotes": Recipe(_page("> " * 99_000), ("docs/index.md:1:1 error page-markup",)),
    "page-of-elements-in-elements": Recipe(_page("<span>" * 33_000), ("docs/index.md:1:1 error page-markup",)),
    "page-of-elements-begun-anew": Recipe(
        _page("".join(f"<p><b id={each}></p>\n\n" for each in range(9_000))), ("docs/index.md:1:12 error page-markup",)
    ),
    "page-of-attributes": Recipe(
        _page(f"<p {' '.join(f'a{each}' for each in range(30_000))}>x</p>"), ("docs/index.md:1:1 error page-markup",)
    ),
    "page-of-scripts": Recipe(
        _page("<script></script>\n\n" * 10_000),
        ("docs/index.md:1:1 error page-markup", "docs/index.md:3:1 error page-markup"),
        101,
    ),
    "page-of-two-hundred-thousand-letters": Recipe(_page("The *bar* of [one](index.md) rig `broke`.\n\n" * 4_600)),
    "head-of-a-page-that-laughs": Recipe(_page(f"---\n{_LAUGHS}---\n\ntext\n")),
    # drawings
    "drawing-of-many-shapes": Recipe(_both(_page("x"), _write("docs/a.svg", f"{_DRAWING}{'<g/>' * BIG}</svg>"))),
    "drawing-of-many-scripts": Recipe(
        _both(_page("x"), _write("docs/a.svg", f"{_DRAWING}{'<script/>' * 400_000}</svg>")),
        ("docs/a.svg:1:41 error docs-file", "docs/a.svg:1:50 error docs-file"),
        100,
    ),
    "drawing-of-shapes-in-shapes": Recipe(
        _both(_page("x"), _write("docs/a.svg", f"{_DRAWING}{'<g>' * BIG}")), ("docs/a.svg:1:3000041 error docs-file",)
    ),
    "drawing-of-ten-megabytes": Recipe(
        _both(_page("x"), _write("docs/a.svg", f"{_DRAWING}{' ' * 10 * BIG}</svg>")),
        ("docs/a.svg:1:1 error docs-file",),
    ),
    "drawing-that-laughs": Recipe(
        _both(_page("x"), _write("docs/a.svg", _LAUGHING_DRAWING)), ("docs/a.svg:1:15 error docs-file",)
    ),
    # names
    "name-of-a-device": Recipe(_named("con.yaml"), ("procedures/materials/con.yaml:1:1 error file-name",)),
    "name-of-a-device-and-more": Recipe(
        _named("lpt9.pp.yaml"), ("procedures/materials/lpt9.pp.yaml:1:1 error file-name",)
    ),
    "name-like-a-device": Recipe(_named("console.yaml")),
    "name-ends-in-a-full-stop": Recipe(_named("a..yaml"), ("procedures/materials/a..yaml:1:1 error file-name",)),
    "name-ends-in-a-space": Recipe(_named("a.yaml "), ("procedures/materials/a.yaml :1:1 error file-name",)),
    "name-as-a-text-file": Recipe(_named("a.yaml.txt"), ("procedures/materials/a.yaml.txt:1:1 error file-name",)),
    "name-in-capitals-beside-its-own": Recipe(
        _both(_named("A.yaml"), _named("a.yaml")), ("procedures/materials/A.yaml:1:1 error file-name",)
    ),
    "name-of-hundred-letters": Recipe(_named(f"{'a' * 100}.yaml")),
    "name-of-more-letters": Recipe(
        _named(f"{'a' * 101}.yaml"),
        (f"procedures/materials/{'a' * 101}.yaml:1:1 error file-name",),
    ),
    "name-of-two-lines": Recipe(_named("a\nb.yaml"), ("procedures/materials/a\nb.yaml:1:1 error file-name",)),
    "name-turns-direction": Recipe(
        _named("a\u202elmay.yaml"), ("procedures/materials/a\u202elmay.yaml:1:1 error file-name",)
    ),
    "name-that-is-no-text": Recipe(
        _named(os.fsdecode(b"\xff.yaml")), ("procedures/materials/\\udcff.yaml:1:1 error file-name",)
    ),
    "name-of-an-index": Recipe(_named("index.yaml")),
    "page-name-that-is-no-text": Recipe(
        _both(_page("fine"), _write("docs/" + os.fsdecode(b"\xff\n.md"), "[[x]]")),
        ("docs/\\udcff\n.md:1:1 error prose-value",),
    ),
    "page-name-that-is-a-tag": Recipe(
        _both(_page("fine"), _write("docs/<img src=x onerror=hit()>.md", "fine")),
        ("docs/<img src=x onerror=hit()>.md:1:1 error docs-file",),
    ),
    "folder-name-that-is-a-tag": Recipe(
        _both(_page("fine"), _write("docs/<img src=x onerror=hit()>/page.md", "fine")),
        ("docs/<img src=x onerror=hit()>:1:1 error docs-file",),
    ),
    # kinds of file
    "pipe-as-a-data-file": Recipe(_pipe(MATERIAL), ("procedures/materials/x.yaml:1:1 error file-text",)),
    "pipe-as-a-page": Recipe(_both(_page("fine"), _pipe("docs/pipe.md")), ("docs/pipe.md:1:1 error file-text",)),
    "pipe-as-a-picture": Recipe(_both(_page("fine"), _pipe("docs/pipe.png")), ("docs/pipe.png:1:1 error file-text",)),
    "pipe-as-settings": Recipe(_pipe("mkdocs.yml"), ("mkdocs.yml:1:1 error settings",)),
    "folder-as-settings": Recipe(lambda root: (root / "mkdocs.yml").mkdir(), ("mkdocs.yml:1:1 error settings",)),
    "folder-as-a-data-file": Recipe(lambda root: (root / MATERIAL).mkdir()),
    "device-as-a-data-file": Recipe(
        _link(MATERIAL, "/dev/zero"), ("procedures/materials/x.yaml:1:1 error file-place",)
    ),
    "device-as-settings": Recipe(_link("mkdocs.yml", "/dev/zero"), ("mkdocs.yml:1:1 error file-place",)),
    "link-to-nothing": Recipe(_link(MATERIAL, "nothing.yaml"), ("procedures/materials/x.yaml:1:1 error file-text",)),
    "page-linked-from-outside": Recipe(
        _both(_page("fine"), _link("docs/a.md", "/etc/hosts")), ("docs/a.md:1:1 error file-place",)
    ),
    "picture-linked-from-outside": Recipe(
        _both(_page("fine"), _link("docs/a.png", "/etc/hosts")), ("docs/a.png:1:1 error file-place",)
    ),
    "hidden-link-from-outside": Recipe(
        _both(_page("fine"), _link("docs/.a", "/etc/hosts")), ("docs/.a:1:1 error file-place",)
    ),
    "history-linked-into-the-pages": Recipe(
        _both(_page("fine"), _write(".git/config", "[remote]\n"), _link("docs/config.txt", "../.git/config")),
        ("docs/config.txt:1:1 error file-place",),
    ),
    "page-linked-within-the-pages": Recipe(_both(_page("fine"), _link("docs/b.md", "index.md"))),
    "theme-that-is-the-machine": Recipe(
        _write("mkdocs.yml", "theme: {name: mkdocs, custom_dir: /}\nplugins: [notchbook]\n"),
        ("mkdocs.yml:1:35 error file-place", "mkdocs.yml:1:35 error file-place"),
    ),
    "settings-inherited-without-end": Recipe(
        _both(*(_write(f"{each or 'mkdocs'}.yml", f"INHERIT: {each + 1}.yml\n") for each in range(20))),
        ("9.yml:1:10 error settings",),
    ),
    "settings-that-double-where-they-are-merged": Recipe(
        _both(_write("mkdocs.yml", f"INHERIT: base.yml\n{_DOUBLING}"), _write("base.yml", _DOUBLING)),
        ("mkdocs.yml:1:1 error settings",),
    ),
    "a-thousand-files-in-the-way": Recipe(
        _both(_page("fine"), *(_write(f"docs/records/{each}.md", "x") for each in range(1_000))),
        ("docs/records/0.md:1:1 error computed-address",),
        100,
    ),
    "pages-linked-from-outside": Recipe(
        _both(_page("fine"), _link("docs/all", "/")), ("docs/all:1:1 error file-place",)
    ),
    "pages-linked-in-a-circle": Recipe(
        _both(_page("fine"), _link("docs/a", "."), _link("docs/b", "..")),
        (
            "docs/a:1:1 error file-place",
            "docs/b:1:1 error file-place",
        ),
    ),
    "pages-linked-within": Recipe(
        _both(_page("fine"), _write("more/one.md", "[[x]]"), _link("docs/more", "../more")),
        ("docs/more/one.md:1:1 error prose-value",),
    ),
    "page-in-two-bytes": Recipe(_page("[[x]]".encode("utf-16")), ("docs/index.md:1:1 error file-text",)),
    "page-with-nul": Recipe(_page("a\0b\n")),
}
