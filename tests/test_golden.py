"""The demo's results and findings stay what they are, whatever moves inside the engine.

The files were written by the commands themselves. A result that changes on purpose changes its file in the same commit.
Other versions of numpy, and other processors, round the last digits of some functions differently: by 1.3e-15 of the
value at most between the oldest and the newest packages allowed, so numbers may differ by 1e-12 and text by nothing.
"""

import datetime as dt
import math
import re
from pathlib import Path

import pytest

from notchbook.findings import as_json as findings_as_json
from notchbook.handbook import open_handbook
from notchbook.pages.written.prose import checked
from notchbook.results_data import as_csv, as_json

DEMO = Path(__file__).resolve().parents[1]
GOLDEN = Path(__file__).resolve().parent / "golden"
DAY = dt.date(2026, 11, 26)
_NUMBER = re.compile(r"-?\d+\.\d{6,}(?:e[-+]\d+)?")
_TOLERANCE = 1e-12


@pytest.fixture(scope="module")
def demo():
    return checked(open_handbook(DEMO, day=DAY))


def _differences(now, before):
    """The lines that differ in their text, or in a number by more than rounding."""
    for number, (new, old) in enumerate(zip(now.splitlines(), before.splitlines(), strict=True), start=1):
        if _NUMBER.sub("#", new) != _NUMBER.sub("#", old) or not all(
            math.isclose(float(a), float(b), rel_tol=_TOLERANCE)
            for a, b in zip(_NUMBER.findall(new), _NUMBER.findall(old), strict=True)
        ):
            yield f"{number}: {old} -> {new}"


@pytest.mark.parametrize(
    ("name", "written"),
    [
        ("results.json", as_json),
        ("results.csv", as_csv),
        ("findings.json", lambda handbook: findings_as_json(handbook.findings, [])),
    ],
)
def test_the_demo_gives_what_it_gave(demo, name, written):
    with (GOLDEN / name).open(encoding="utf-8", newline="") as file:
        before = file.read()
    assert list(_differences(written(demo), before)) == []


def test_a_changed_number_or_word_is_seen():
    assert list(_differences("a 1.23456789012", "a 1.23456789013"))
    assert list(_differences("a 1.2345678", "b 1.2345678"))
    assert not list(_differences("a 1.2345678901234", "a 1.2345678901235"))
