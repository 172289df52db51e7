"""The marks of break types: no two ways of breaking look alike, in print without colours too."""

import re
from itertools import chain

from notchbook.charts import style
from notchbook.charts.outlines import outline

LOOKS = [*chain.from_iterable(style.LOOKS.values()), style.UNKNOWN]


def test_every_look_has_an_outline_of_its_own() -> None:
    assert len({outline(each.shape, 10.0) for each in LOOKS}) == len(LOOKS)


def test_a_mark_lies_around_its_place() -> None:
    for each in LOOKS:
        numbers = [float(found) for found in re.findall(r"-?[0-9.]+", outline(each.shape, each.size_px))]
        assert max(map(abs, numbers)) <= each.size_px
