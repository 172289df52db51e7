"""What the guide says of writing a record is tried: the table gives the record of the page, the blank is written."""

import datetime as dt
import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner
from guide_blocks import GUIDE, base_handbook, blocks

from notchbook.cli import main
from notchbook.reading.strict_yaml import parse
from notchbook.writing.table_columns import recognised

PAGE = GUIDE / "first-record.md"
DAY = dt.date(2026, 11, 30)


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    seconds = dt.datetime.combine(DAY, dt.time(), tzinfo=dt.UTC).timestamp()
    monkeypatch.setenv("SOURCE_DATE_EPOCH", str(int(seconds)))
    monkeypatch.chdir(tmp_path)
    return base_handbook(tmp_path)


def _typed(words: str) -> list[str]:
    """The command of the page that begins with these words, as it is typed."""
    (command,) = re.findall(rf"`(notchbook {words}[^`]*)`", PAGE.read_text(encoding="utf-8"))
    return shlex.split(command)[1:]


def test_table_of_the_page_gives_the_record_of_the_page(root: Path) -> None:
    (table,) = [each.text for each in blocks(PAGE) if each.language == "text" and ";" in each.text.partition("\n")[0]]
    record = next(each.text for each in blocks(PAGE) if each.path)
    (root / "readings.csv").write_text(table, encoding="utf-8")
    result = CliRunner().invoke(main, _typed("record import"), catch_exceptions=False)
    assert (result.exit_code, result.stdout) == (0, "")
    (written,) = (root / "results/tests").glob("*.yaml")
    assert parse(written.read_text(encoding="utf-8")) == parse(record)


def test_blank_of_the_page_is_written(root: Path) -> None:
    result = CliRunner().invoke(main, _typed("record new"), catch_exceptions=False)
    assert (result.exit_code, result.stdout) == (0, "")
    assert [path.name for path in (root / "results/tests").glob("*.yaml")] == ["2026-11-03-g2-pp-h-notched-charpy.yaml"]


def test_heads_that_are_listed_are_known() -> None:
    text = (GUIDE / "commands.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| ([^|]+) \| ([^|]+) \| [^|]+ \|$", text.partition("| Column | Heads")[2], re.MULTILINE)
    heads = [head for title, heads in rows[:9] for head in re.split(r"[,;] (?:or )?", heads)]
    assert len(heads) > 20
    assert [head for head in heads if recognised(head).column is None] == []
