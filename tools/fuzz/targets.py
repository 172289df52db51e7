"""What each input is given to, and what must hold whatever the input is."""

import json
import math
import re
import tempfile
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

from hypothesis.strategies import SearchStrategy

from fuzz import demo, inputs
from notchbook.facts.facts import Facts
from notchbook.findings import RENDERINGS, Finding
from notchbook.handbook import RULES
from notchbook.model.settings import Settings
from notchbook.pages.written.guarded_page import GuardedPage
from notchbook.pages.written.markdown_html import Converter
from notchbook.pages.written.page_markup import MarkupLook
from notchbook.pages.written.prose import filled, rendered, troubles
from notchbook.reading.files import Refused, text_of
from notchbook.reading.folder import Read, read_text
from notchbook.reading.strict_yaml import parse
from notchbook.results_data import as_csv, results_data
from notchbook.site_reading.pages import WrittenPage
from notchbook.site_reading.settings import read_settings

_LINE_BREAK = re.compile(r"\r\n|\r|\n")
_FOLDER = Path(tempfile.mkdtemp(prefix="fuzz-"))


@dataclass(frozen=True, slots=True)
class Target:
    """One thing that reads input."""

    inputs: Callable[[], SearchStrategy[Any]]
    give: Callable[[Any], None]
    share: int
    """Of a hundred inputs."""


def _file(given: tuple[str, bytes]) -> None:
    """The strict reader and the schemas: a file as bytes."""
    kind, raw = given
    path = _FOLDER / "file.yaml"
    path.write_bytes(raw)
    text = text_of(path)
    if isinstance(text, Refused):
        lines = _lines(raw.decode("utf-8", "replace"))
        assert 1 <= text.place[0] <= lines, text
        return
    data, flaws = parse(text)
    assert data is not None or flaws
    _assert_finite(data)
    read = Read()
    read_text("file.yaml", "file", kind, text, read)
    assert read.documents or read.findings
    _assert_placed(read.findings, {"file.yaml": text})


def _model(given: tuple[bool, dict[tuple[str, str], str]]) -> None:
    """Model, evaluation and checks: data of the right form."""
    label, changed = given
    handbook = demo.handbook(changed, label=label)
    found = {demo.path_of(*place): text for place, text in {**demo.texts(), **changed}.items()}
    _assert_placed(handbook.findings, found)
    data = results_data(handbook)
    _assert_finite(data)
    json.dumps(data, allow_nan=False)
    assert "nan" not in as_csv(handbook)


def _page(markdown: str) -> None:
    """The notation of hand-written pages."""
    handbook = demo.handbook() if _page.__dict__.get("handbook") is None else _page.__dict__["handbook"]
    _page.__dict__["handbook"] = handbook
    unshown = list(troubles(Facts(handbook), markdown))
    for each in unshown:
        assert 0 <= each.start <= len(markdown), each
        assert each.message
    html = rendered(Facts(handbook), markdown)
    for word in ("<script", "javascript:", "onerror", "<iframe"):
        # what somebody wrote as HTML stays; none is made of a value or a formula, whose TeX stands in it once more
        assert html.lower().count(word) <= markdown.lower().count(word) * 2, word
    assert html.count("<script") <= markdown.count("<script")
    look = _page.__dict__.setdefault("look", MarkupLook({"markdown_extensions": ["attr_list", "admonition"]}, _FOLDER))
    found = list(look.findings(WrittenPage("page.md", markdown)))
    _assert_placed(found, {"page.md": markdown})
    page = GuardedPage(markdown, partial(filled, Facts(handbook)))
    try:
        made, refused = page.published(Converter(["attr_list", "admonition"], _FOLDER).html(page.markdown))
    except RecursionError:
        return
    assert "<script" not in made
    assert "nbkept" not in made
    # a formula that cannot be shown stays as it was written
    assert not refused or found or unshown, refused


def _settings(raw: bytes) -> None:
    """The settings in mkdocs.yml."""
    (_FOLDER / "mkdocs.yml").write_bytes(raw)
    settings, findings = read_settings(_FOLDER)
    assert isinstance(settings, Settings)
    assert all(isinstance(each, str) for each in (settings.procedures, settings.results, settings.notice))
    for name in (settings.procedures, settings.results, settings.prose or ""):
        (_FOLDER / name).exists()
    _assert_placed(findings, {"mkdocs.yml": raw.decode("utf-8-sig", "replace")})


def _assert_placed(findings: Iterable[Finding], texts: dict[str, str]) -> None:
    found = list(findings)
    for each in found:
        lines = _lines(texts[each.path])
        assert 1 <= each.line <= lines + 1, each
        assert each.column >= 1, each
        assert each.message, each
    rules = [RULES[each] for each in sorted({each.rule for each in found})]
    for rendering in RENDERINGS.values():
        rendering(found, rules).encode("utf-8")


def _lines(text: str) -> int:
    return len(_LINE_BREAK.findall(text)) + 1


def _assert_finite(data: Any) -> None:
    if isinstance(data, dict):
        for each in data.values():
            _assert_finite(each)
    elif isinstance(data, list | tuple):
        for each in data:
            _assert_finite(each)
    elif isinstance(data, float):
        assert math.isfinite(data), data


TARGETS: dict[str, Target] = {
    "reader": Target(inputs.files, _file, 42),
    "model": Target(inputs.wild_files, _model, 20),
    "prose": Target(inputs.pages, _page, 22),
    "settings": Target(inputs.settings, _settings, 16),
}
