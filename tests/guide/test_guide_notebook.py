"""The guide's example of a notebook, run on the demo."""

import re

import pytest
from guide_blocks import GUIDE, ROOT

import notchbook

PAGE = (GUIDE / "commands.md").read_text(encoding="utf-8")
CODE = re.findall(r"^```python\n(.*?)^```$", PAGE, re.DOTALL | re.MULTILINE)


def test_the_example_of_a_notebook_runs(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.chdir(ROOT)
    (code,) = CODE
    exec(compile(code, "commands.md", "exec"), {})  # noqa: S102  # the guide is our own
    printed = capsys.readouterr().out.splitlines()
    found = notchbook.results(notchbook.open_handbook(ROOT))["tests"]
    sets = [(name, each) for name, test in found.items() for each in test["sets"]]
    assert printed[-len(sets) :] == [
        f"{name} {'/'.join(each['breaks'])} {each['n']} {each['mean_kJ_m2']:.4g} kJ/m²" for name, each in sets
    ]


def test_every_public_name_stands_on_the_page() -> None:
    section = PAGE.partition("## In a notebook")[2].partition("\n## ")[0]
    for name in set(notchbook.__all__) - {"__version__"}:
        assert f"`{name}`" in section or f"notchbook.{name}" in section, name
