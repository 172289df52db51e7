"""The bars of the demo's records, and everything that somebody may be asked about them."""

from pathlib import Path

import pytest

from notchbook.answers.bars import Bars, bars_of
from notchbook.answers.candidates import OF_A_BAR, OF_A_SET, Asked
from notchbook.facts.facts import Facts
from notchbook.handbook import open_handbook

DEMO = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="session")
def bars() -> dict[str, Bars]:
    lines = Facts(open_handbook(DEMO)).records.values()
    found = {line.record.id: bars_of(line, line.uncertainty) for line in lines}
    return {record: each for record, each in found.items() if each is not None}


@pytest.fixture(scope="session")
def questions(bars: dict[str, Bars]) -> list[tuple[Bars, Asked]]:
    """Every quantity of every bar and set."""
    found = []
    for each in bars.values():
        for place, letter in enumerate(each.breaks):
            kinds = OF_A_BAR if each.method.breaks.give_strength(letter) else OF_A_BAR[:1]
            found += [(each, Asked(quantity, place)) for quantity in kinds]
        found += [(each, Asked(quantity, place)) for place in range(len(each.sets)) for quantity in OF_A_SET]
    return found
