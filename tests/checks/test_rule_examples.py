"""Every rule against its examples.

`examples/<rule>/` holds folders `bad-<case>` and `good-<case>`, each in the form that `case_folders` describes. Each is
laid over a copy of the base handbook in `handbook/`, and all findings of the result, those of hand-written pages among
them, are compared with the case's `expected.txt`. A case without that file expects none.
"""

from pathlib import Path

import pytest

from case_folders import BASE, expected, prepare
from notchbook.handbook import RULES, open_handbook
from notchbook.pages.written.prose import checked

HERE = Path(__file__).parent
EXAMPLES = HERE / "examples"
CASES = sorted(path for path in EXAMPLES.glob("*/*") if path.is_dir())


@pytest.mark.parametrize("case", CASES, ids=[f"{path.parent.name}-{path.name}" for path in CASES])
def test_example_gives_exactly_its_findings(case: Path, tmp_path: Path, day: object) -> None:
    prepare(case, tmp_path / "handbook")
    found = checked(open_handbook(tmp_path / "handbook", day=day)).findings
    assert sorted(f"{each.path}:{each.line}:{each.column} {each.severity} {each.rule}" for each in found) == sorted(
        expected(case)
    ), "\n".join(map(str, found))
    for each in found:
        assert each.message, each
        assert each.hint or each.severity == "note", f"says nothing about what to do: {each}"


def test_base_handbook_gives_nothing(day: object) -> None:
    assert open_handbook(BASE, day=day).findings == ()


def test_every_rule_has_a_bad_and_a_good_example_and_no_folder_is_of_another_name() -> None:
    assert sorted(path.name for path in EXAMPLES.iterdir()) == sorted(RULES)


@pytest.mark.parametrize("rule", sorted(RULES))
def test_examples_of_a_rule_show_it(rule: str) -> None:
    folder = EXAMPLES / rule
    bad, good = sorted(folder.glob("bad-*")), sorted(folder.glob("good-*"))
    assert bad
    assert good
    assert {path.name for path in folder.iterdir()} == {path.name for path in bad + good}
    for case in bad:
        assert any(line.endswith(f" {rule}") for line in expected(case)), f"{case.name} does not break {rule}"
    for case in good:
        assert not any(line.endswith(f" {rule}") for line in expected(case)), f"{case.name} breaks {rule}"


@pytest.mark.parametrize("case", CASES, ids=[f"{path.parent.name}-{path.name}" for path in CASES])
def test_example_is_in_order(case: Path) -> None:
    listed = expected(case)
    assert listed == sorted(listed)
    assert any(case.iterdir())
