"""The commands that are measured: the engine's own two, and bare tools that do a part of the same work."""

import html
import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import yaml

from bench.handbook import THEME
from bench.measure import ChildError, Command
from notchbook.pages.finished import FinishedPage
from notchbook.reading.schemas import schema_folder

_AROUND = '<div class="nb-page">\n'
# a heading inside a block, such as that of a card, begins no line of its own or has no id
_HEADING = re.compile(r'^<h(?P<level>[1-6]) id="[^"]*">(?P<words>.*?)</h(?P=level)>$', re.MULTILINE)
_TAGS = re.compile(r"<[^>]*>")
_SCRIPTS = Path(sys.executable).parent
_BARE_READER = Path(__file__).resolve().parent / "bare_reader.py"
_PREVIEW = Path(__file__).resolve().parent / "preview.py"


def data_files(root: Path) -> dict[str, list[str]]:
    """The data files of a handbook by what each states as its kind, relative to its root."""
    found: dict[str, list[str]] = {}
    for folder in ("procedures", "results"):
        for path in sorted((root / folder).rglob("*.yaml")):
            kind = next(
                line.removeprefix("kind: ")
                for line in path.read_text(encoding="utf-8").splitlines()
                if line.startswith("kind: ")
            )
            found.setdefault(kind, []).append(path.relative_to(root).as_posix())
    return found


def check(root: Path) -> Command:
    """`notchbook check`."""
    return Command([[str(_SCRIPTS / "notchbook"), "check"]], root)


def bare_reader(root: Path) -> Command:
    """The same files composed by libyaml and validated by jsonschema, nothing else."""
    lines = "".join(f"{kind} {path}\n" for kind, paths in data_files(root).items() for path in paths)
    return Command([[sys.executable, str(_BARE_READER), str(schema_folder())]], root, lines)


def schema_checker(root: Path) -> Command:
    """`check-jsonschema` on the same files, once for each kind."""
    program = str(_SCRIPTS / "check-jsonschema")
    return Command(
        [
            [program, "--schemafile", str(schema_folder() / f"{kind}.schema.json"), *paths]
            for kind, paths in data_files(root).items()
        ],
        root,
    )


def build(root: Path) -> Command:
    """A full `mkdocs build` with nothing kept from an earlier one."""

    def forget() -> None:
        for name in ("site", ".cache"):
            shutil.rmtree(root / name, ignore_errors=True)

    return Command([[str(_SCRIPTS / "mkdocs"), "build", "--quiet"]], root, before=forget)


def export(root: Path, folder: Path) -> Command:
    """A complete site by `notchbook export --html`."""

    def forget() -> None:
        shutil.rmtree(folder, ignore_errors=True)

    return Command([[str(_SCRIPTS / "notchbook"), "export", str(folder), "--html"]], root, before=forget)


def preview_seconds(root: Path) -> float:
    """Seconds from a changed reading to the whole site in a preview that has built it once."""
    # what somebody reported beside the readings would no longer agree with them
    records = sorted((root / "results/tests").glob("*.yaml"))
    record = next(each for each in records if "reported:" not in each.read_text(encoding="utf-8"))
    arguments = [sys.executable, str(_PREVIEW), str(root / "mkdocs.yml"), str(record)]
    environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1"}
    done = subprocess.run(arguments, env=environment, capture_output=True, text=True, check=False)  # noqa: S603  # ours
    if done.returncode:
        raise ChildError(f"the preview ended with {done.returncode}:\n{done.stderr[-2000:]}")
    seconds: float = json.loads(done.stdout.splitlines()[-1])
    return seconds


def write_plain_site(root: Path, plain: Path) -> int:
    """Write the pages of a handbook as Markdown for MkDocs without the plugin; returns how many there are.

    Theme, search and Markdown extensions are those that the plugin builds with, and `nav` names the same pages: those
    of single records are left out of it.
    """
    from notchbook.handbook import open_handbook
    from notchbook.pages.assets import STYLES
    from notchbook.pages.site import build_site

    site = build_site(open_handbook(root), directory_urls=True)
    for uri, page in site.pages.items():
        _write(plain / "site_src" / uri, as_markdown(page).encode("utf-8"))
    for name, content in site.files.items():
        _write(plain / "site_src" / name, content.encode("utf-8") if isinstance(content, str) else content)
    config = {
        "site_name": "The same pages",
        **THEME,
        "plugins": ["search"],
        "extra_css": list(STYLES),
        "nav": site.nav,
        "not_in_nav": "".join(f"/{uri}\n" for uri, page in site.pages.items() if not page.listed),
    }
    (plain / "mkdocs.yml").write_text(yaml.safe_dump(config, sort_keys=False), encoding="utf-8")
    return len(site.pages)


def as_markdown(page: FinishedPage) -> str:
    """A finished page as somebody would write it for MkDocs: Markdown headings, and blocks of HTML between them."""
    body = page.body.strip().removeprefix(_AROUND).removesuffix("</div>")
    front = {"title": page.title, **({"hide": sorted(page.hidden)} if page.hidden else {})}
    return f"---\n{yaml.safe_dump(front)}---\n\n{_HEADING.sub(_markdown_heading, body)}"


def _markdown_heading(heading: re.Match[str]) -> str:
    words = html.unescape(_TAGS.sub("", heading["words"]))
    # text inside a line of Markdown
    return (
        f"\n{'#' * int(heading['level'])} {''.join(c if c.isalnum() or c == ' ' else f'&#{ord(c)};' for c in words)}\n"
    )


def _write(path: Path, content: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)
