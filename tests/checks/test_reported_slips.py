"""What a group reported wrong is told with the step that it comes from, by all its numbers together."""

from pathlib import Path

import pytest

import small_handbook as small
from notchbook.answers.bars import Bars, bars_of
from notchbook.evaluation.resolved import ResolvedRecord
from notchbook.findings import Finding


@pytest.fixture(scope="module")
def bars(tmp_path_factory: pytest.TempPathFactory) -> Bars:
    handbook = small.opened(tmp_path_factory.mktemp("sound"))
    found = bars_of(ResolvedRecord.of(handbook.evaluation, handbook.library.records[small.TEST_ID]))
    assert found is not None
    return found


def _told(folder: Path, reported: dict[str, object]) -> list[Finding]:
    contents = small.files()
    contents[small.TEST]["reported"] = reported
    found = small.opened(folder, contents).findings_in("test", small.TEST_ID)
    return [each for each in found if each.rule.startswith("reported-")]


def test_a_loss_that_was_forgotten_is_told_for_bars_and_mean(bars: Bars, tmp_path: Path) -> None:
    forgotten = bars.indicated_J * bars.per_section_m2
    mean = sum(float(forgotten[place]) for place in bars.sets[0].members) / len(bars.sets[0].members)
    reported = {
        "mean_kJ_m2": round(mean, 2),
        "specimens": {"01": {"strength_kJ_m2": round(float(forgotten[0]), 3)}},
    }
    found = _told(tmp_path, reported)
    assert {each.rule for each in found} == {"reported-mean", "reported-specimen"}
    assert all("Look again at what the swing loses by itself" in each.hint for each in found)


def test_a_spread_that_was_divided_by_n_is_told(bars: Bars, tmp_path: Path) -> None:
    deviation, n = bars.sets[0].summary.standard_deviation, bars.sets[0].summary.n
    assert deviation is not None
    (found,) = _told(tmp_path, {"standard_deviation_kJ_m2": round(deviation * ((n - 1) / n) ** 0.5, 4)})
    assert "Look again at what the sum of squares is divided by" in found.hint


def test_a_number_that_no_slip_gives_asks_for_reading_dimension_and_sum(tmp_path: Path) -> None:
    (found,) = _told(tmp_path, {"mean_kJ_m2": 7.7123})
    assert "a reading, a dimension or the sum" in found.hint
