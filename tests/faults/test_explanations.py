"""The page of limits, and the table that is held against it."""

from pathlib import Path

import pytest

from faults.changes import KINDS
from faults.explanations import PAGE, PageError, matches, read_explanations
from faults.leaves import numeric_leaves, path_pattern
from faults.table import Outcome, Table
from notchbook.findings import Severity
from notchbook.reading.strict_yaml import parse

ROOT = Path(__file__).resolve().parents[2]
HEAD = "| Number | Change | Why it is not seen | Who sees it instead |\n|---|---|---|---|\n"
ROW = "| `test specimens[].width_mm` `rig **.mass_kg` | × 10, sign; at most 50 % | Because. | Somebody. |\n"
WIDTH = "test specimens[].width_mm"


def test_every_row_of_the_page_is_read_and_names_a_number_of_the_demo() -> None:
    explanations = read_explanations(PAGE.read_text(encoding="utf-8"))
    assert explanations
    names = set()
    for path in sorted(ROOT.glob("procedures/*/*.yaml")) + sorted(ROOT.glob("results/*/*.yaml")):
        text = path.read_text(encoding="utf-8")
        data, _ = parse(text)
        names |= {path_pattern(data["kind"], data, leaf.keys) for leaf in numeric_leaves(text)}
    for each in explanations:
        assert [pattern for pattern in each.numbers if not any(matches(pattern, name) for name in names)] == []


def test_every_kind_of_change_is_told_on_the_page() -> None:
    told = PAGE.read_text(encoding="utf-8").partition("| Change | What")[2].partition("\n\n")[0]
    assert [each for each in KINDS if each not in told] == []


def test_row_is_read() -> None:
    (row,) = read_explanations(f"Some words.\n\n{HEAD}{ROW}\n| a | b | c | d |\n")
    assert row.cases == [
        (WIDTH, "× 10"), (WIDTH, "sign"), ("rig **.mass_kg", "× 10"), ("rig **.mass_kg", "sign")
    ]  # fmt: skip
    assert (row.most_pct, row.why, row.who) == (50, "Because.", "Somebody.")


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("× 10", "x 10"), ("50 %", "0 %"), ("50 %", "101 %"), ("at most 50 %", "some"), ("`rig", "and `rig"),
        ("[].", "[0]."),
        ("Because.", ""), ("| Somebody. |", "|"), ("test specimens", "specimens"), ("**.mass", "***.mass"),
    ],
)  # fmt: skip
def test_row_that_cannot_be_read_is_told_with_its_line(old: str, new: str) -> None:
    with pytest.raises(PageError, match=r"limits\.md:3: "):
        read_explanations(HEAD + ROW.replace(old, new))


def test_row_without_a_share_holds_for_all() -> None:
    (row,) = read_explanations(HEAD + ROW.replace("; at most 50 %", ""))
    assert row.most_pct == 100


def test_patterns() -> None:
    assert matches("rig **.mass_kg", "rig hammers.*.added_masses[].mass_kg")
    assert matches("rig hammers.*.moment_Nm", "rig hammers.*.moment_Nm")
    assert not matches("rig hammers.*.moment_Nm", "rig hammers.a.moment_Nm")
    assert not matches(WIDTH, "test specimens[excluded].width_mm")


def _table(*severities: Severity | None, row: str = ROW) -> Table:
    outcomes = [Outcome(WIDTH, "× 10", f"a.yaml:{line}:1", each) for line, each in enumerate(severities, 1)]
    return Table(outcomes, read_explanations(HEAD + row))


ONLY = "| `test specimens[].width_mm` | × 10; at most 50 % | Because. | Somebody. |\n"


def test_explained_misses_are_no_trouble() -> None:
    table = _table(Severity.ERROR, None, Severity.WARNING, None, row=ONLY)
    assert table.trouble(whole=True) == []
    assert table.explained() == [
        "", "Because. Instead: Somebody.", f"  {WIDTH} × 10: 2 of 4, such as a.yaml:2:1"
    ]  # fmt: skip
    assert table.summary()[1].split() == ["×", "10", "4", "1", "1", "2", "50.00", "%"]
    assert table.summary()[-1].split() == ["all", "4", "1", "1", "2", "50.00", "%"]


def test_more_misses_than_the_page_allows() -> None:
    (line,) = _table(Severity.ERROR, None, None, row=ONLY).trouble(whole=True)
    assert line == f"more than 50 %: {WIDTH} × 10: 2 of 3, such as a.yaml:2:1"


def test_miss_without_an_explanation() -> None:
    (line,) = _table(None, row=ONLY.replace("× 10", "÷ 10")).trouble(whole=False)
    assert line.startswith(f"not explained: {WIDTH} × 10: 1 of 1")


def test_explanation_of_nothing() -> None:
    lines = _table(None, Severity.ERROR).trouble(whole=True)
    assert lines == [
        f"explains nothing any more: {WIDTH} sign",
        "explains nothing any more: rig **.mass_kg × 10",
        "explains nothing any more: rig **.mass_kg sign",
    ]
    assert _table(None, Severity.ERROR).trouble(whole=False) == []
