"""The commands that are measured: the engine's own two, and bare tools that do a part of the same work."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import yaml

from bench.handbook import THEME
from bench.measure import Command
from notchbook.reading.schemas import schema_folder

_SCRIPTS = Path(sys.executable).parent
_BARE_READER = Path(__file__).resolve().parent / "bare_reader.py"


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


def write_plain_site(root: Path, plain: Path) -> int:
    """Write the pages of a handbook as plain Markdown for MkDocs without the plugin; returns how many there are.

    Theme, search and Markdown extensions are those that the plugin builds with; every page stands in `nav`, which is
    how MkDocs is used without a plugin.
    """
    from notchbook.handbook import open_handbook
    from notchbook.pages.assets import STYLES
    from notchbook.pages.site import build_site

    site = build_site(open_handbook(root), directory_urls=True)
    for name, content in site.files.items():
        path = plain / "site_src" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content.encode("utf-8") if isinstance(content, str) else content)
    pages = sorted(name for name in site.files if name.endswith(".md"))
    config = {"site_name": "The same pages", **THEME, "plugins": ["search"], "extra_css": list(STYLES), "nav": pages}
    (plain / "mkdocs.yml").write_text(yaml.safe_dump(config, sort_keys=False), encoding="utf-8")
    return len(pages)
