"""What a notebook may use of the engine, and that the rest of it waits until it is asked for."""

import inspect
import subprocess
import sys
from pathlib import Path

import pytest

import notchbook
import small_handbook as small
from notchbook.results_data import results_data

DEMO = Path(__file__).resolve().parents[1]


def test_these_names_are_public_and_each_is_described() -> None:
    assert set(notchbook.__all__) == {"Finding", "Handbook", "Severity", "__version__", "open_handbook", "results"}
    assert set(notchbook.__all__) <= set(dir(notchbook))
    for name in set(notchbook.__all__) - {"__version__"}:
        assert inspect.getdoc(getattr(notchbook, name))
    assert list(inspect.signature(notchbook.open_handbook).parameters) == ["root", "day"]
    assert list(inspect.signature(notchbook.results).parameters) == ["handbook"]


def test_importing_the_package_loads_nothing_of_the_engine() -> None:
    heavy = ("notchbook.", "numpy", "yaml")
    code = f"import sys, notchbook; print([each for each in sys.modules if each.startswith({heavy})])"
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=DEMO)
    assert told.stdout.strip() == "['notchbook.version']"


def test_another_name_is_none() -> None:
    with pytest.raises(AttributeError, match="no attribute 'open_book'"):
        notchbook.open_book  # noqa: B018


@pytest.mark.parametrize("form", [str, Path])
def test_a_handbook_is_opened_by_its_folder(tmp_path: Path, form: type) -> None:
    small.write(tmp_path, small.files())
    handbook = notchbook.open_handbook(form(tmp_path))
    assert isinstance(handbook, notchbook.Handbook)
    assert all(isinstance(each, notchbook.Finding) for each in handbook.findings)
    assert notchbook.results(handbook) == results_data(handbook)
    assert notchbook.results(handbook)["tests"][small.TEST_ID]["sets"]


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(NotADirectoryError, match="procedures/ and results/"):
        notchbook.open_handbook(tmp_path / "none")
