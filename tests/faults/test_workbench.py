"""The quick check of a changed file against a check of the whole handbook from its files."""

import random
import shutil
from pathlib import Path

import pytest

from faults.changes import changes
from faults.leaves import numeric_leaves
from faults.workbench import NotCleanError, Said, Workbench
from notchbook.findings import Severity
from notchbook.handbook import open_handbook
from notchbook.reading.document import Document
from repeating import repeated

pytestmark = pytest.mark.repeats

ROOT = Path(__file__).resolve().parents[2]
EACH = (3, 10)
"""Changes of each kind of file."""


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    copy = tmp_path_factory.mktemp("demo")
    for name in ("procedures", "results"):
        shutil.copytree(ROOT / name, copy / name)
    shutil.copyfile(ROOT / "mkdocs.yml", copy / "mkdocs.yml")
    return copy


@pytest.fixture(scope="module")
def bench(root: Path) -> Workbench:
    return Workbench(open_handbook(root))


def _sample(bench: Workbench, each: int) -> list[tuple[Document, str]]:
    """As many changes of each kind of file, taken with a fixed seed from all that there are."""
    choose = random.Random(179)  # noqa: S311  # which changes are tried is no secret
    found = []
    for kind in sorted({document.kind for document in bench.documents} - {"hazards"}):
        documents = [document for document in bench.documents if document.kind == kind]
        for _ in range(each):
            document = choose.choice(documents)
            leaves = numeric_leaves(document.text)
            _, text = choose.choice(list(changes(kind, document.text, choose.choice(leaves), leaves)))
            found.append((document, text))
    return found


@pytest.mark.parametrize("each", repeated(EACH, but=EACH[:1]))
def test_quick_check_says_what_a_check_of_all_files_says(root: Path, bench: Workbench, each: int) -> None:
    sample = _sample(bench, each)
    assert len(sample) == 7 * each
    silent = 0
    for document, text in sample:
        (root / document.path).write_text(text, encoding="utf-8")
        findings = open_handbook(root).findings
        (root / document.path).write_text(document.text, encoding="utf-8")
        whole = {Said(each.severity, each.rule, each.path, each.message) for each in findings}
        whole = {each for each in whole if each.severity is not Severity.NOTE}
        assert bench.check(document, text) == whole, text
        gravest = min((each.severity for each in whole), key=list(Severity).index, default=None)
        assert bench.gravest(document, text) == gravest
        silent += not whole
    # changes that are seen and changes that are not, or the comparison would show nothing
    assert 0 < silent < len(sample) // 2


def test_unchanged_files_bring_nothing(bench: Workbench) -> None:
    for document in bench.documents:
        assert bench.check(document, document.text) == set()


def test_handbook_with_errors_is_no_place_to_try_changes(root: Path, tmp_path: Path) -> None:
    shutil.copytree(root, tmp_path / "spoiled")
    (tmp_path / "spoiled/procedures/materials/pp-h.yaml").write_text("kind: material\n", encoding="utf-8")
    with pytest.raises(NotCleanError, match="'title' is missing"):
        Workbench(open_handbook(tmp_path / "spoiled"))
