"""The fenced examples of the guide, and handbooks in which they are tried.

A block that opens with a comment that names a path is a file of a handbook; one that opens with `in` and a path is a
passage of a file that stood on the page before: its top-level keys or rows of bars take the place of those with the
same name, and what the file lacks is put at its end. A comment that begins with `finds:` names what the check finds
then: a severity where it is no error, a rule, `at line:column`, and `in path` where it is another file. Blocks in which
nothing but notes is found are kept for those that follow on the page. A block that opens with `$ notchbook` is a screen
of the command, in the handbook of the block before it.
"""

import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
GUIDE = ROOT / "plugins/notchbook/guide"
FENCE = re.compile(r"^```(?P<language>\w+)\n(?P<text>.*?)^```$", re.DOTALL | re.MULTILINE)
OPENING = re.compile(r"\A(?:# (?P<within>in )?(?P<path>[\w./-]+\.(?:yaml|yml))|<!-- (?P<page>[\w./-]+\.md) -->)$", re.M)
FINDS = re.compile(
    r"^(?:#|<!--) finds: (?:(?P<severity>warning|note) )?(?P<rule>[a-z-]+) at (?P<line>\d+):(?P<column>\d+)"
    r"(?: in (?P<path>\S+))?(?: -->)?\n",
    re.MULTILINE,
)
TOP_LEVEL = re.compile(r"^(?P<name>\w+):.*\n(?:(?![\w#]).*\n)*", re.MULTILINE)
BAR_ROW = re.compile(r'^ +- \{id: (?P<name>"[^"]+").*\n(?: {5}.*\n)*', re.MULTILINE)


@dataclass(frozen=True)
class Block:
    """One fenced block."""

    page: str
    line: int
    language: str
    text: str

    @property
    def path(self) -> str | None:
        """The file that it is, or is a passage of; None for other blocks."""
        opening = OPENING.match(self.text)
        return (opening["path"] or opening["page"]) if opening else None

    @property
    def is_passage(self) -> bool:
        opening = OPENING.match(self.text)
        return opening is not None and opening["within"] is not None

    @property
    def is_screen(self) -> bool:
        return self.text.startswith("$ notchbook")

    @property
    def finds(self) -> list[tuple[str, str, str, int, int]]:
        """Path, severity, rule, line and column of each finding."""
        return [
            (
                each["path"] or self.path or "",
                each["severity"] or "error",
                each["rule"],
                int(each["line"]),
                int(each["column"]),
            )
            for each in FINDS.finditer(self.text)
        ]

    @property
    def is_kept(self) -> bool:
        """Whether the blocks after it build on it: nothing but notes is found in it."""
        return all(severity == "note" for _, severity, *_ in self.finds)

    def applied(self, before: str | None) -> str:
        """The text of the file with the block in it."""
        if not self.is_passage:
            return self.text
        assert before is not None, f"{self.page}: {self.path} is not a file of the page"
        passage = FINDS.sub("", self.text.partition("\n")[2])
        piece = BAR_ROW if BAR_ROW.match(passage) else TOP_LEVEL
        pieces = {each["name"]: each.group() for each in piece.finditer(passage)}
        assert pieces, f"{self.page}:{self.line}: a passage without a key or a row"
        assert "".join(pieces.values()) == passage, f"{self.page}:{self.line}: more than keys or rows"
        after = piece.sub(lambda each: pieces.pop(each["name"], each.group()), before)
        return after + "".join(pieces.values())


def pages() -> list[Path]:
    return sorted(GUIDE.glob("*.md"))


def blocks(page: Path) -> Iterator[Block]:
    """The fenced blocks of a page of the guide."""
    text = page.read_text(encoding="utf-8")
    for each in FENCE.finditer(text):
        yield Block(page.name, text.count("\n", 0, each.start()) + 1, each["language"], each["text"])


def base_handbook(root: Path) -> Path:
    """The demo without its tests: rigs, materials, exercises, hazards, methods and verifications."""
    shutil.copytree(ROOT / "procedures", root / "procedures")
    shutil.copytree(ROOT / "results/verifications", root / "results/verifications")
    (root / "results/tests").mkdir()
    settings = (ROOT / "mkdocs.yml").read_text(encoding="utf-8")
    # the pages by hand of the examples lie where they do in a handbook that says nothing of them
    write(root, "mkdocs.yml", settings.replace("docs_dir: site_src\n", ""))
    return root


def write(root: Path, path: str, text: str) -> None:
    (root / path).parent.mkdir(parents=True, exist_ok=True)
    (root / path).write_text(text, encoding="utf-8")
