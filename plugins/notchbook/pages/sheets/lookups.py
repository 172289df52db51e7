"""Look-up tables to print and lay beside a rig: a page a hammer, division by division, and the same as CSV."""

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import NDArray

from notchbook.evaluation.lookup import ScaleTable
from notchbook.evaluation.scale import Section
from notchbook.facts.facts import Facts
from notchbook.facts.hammers import HammerFacts
from notchbook.model.method import SpecimenType
from notchbook.model.rig import Rig
from notchbook.pages.page import TOC, Page, page_uri
from notchbook.unchanged import Unchanged, made
from notchbook.wording.numbers import plain, to_decimals

FOLDER = "lookup"
INDEX = "lookup/index.md"
DATA_FOLDER = "data/lookup"
_LAYOUTS = (("large", 3, 60), ("medium", 4, 72), ("small", 5, 82))
"""How many blocks of how many rows one sheet of A4 holds in each size of print."""
_MOST_IN_DATA = 10_000
_MOST_DECIMALS = 6
_LAST_BITS = 1e-6
_SECOND_HYPHEN = re.compile("-(?=-)")


@dataclass(frozen=True, slots=True)
class Strength:
    """One section of the nominal bar whose strengths are listed."""

    section: Section
    notched: bool

    @property
    def head(self) -> str:
        """Head of its column."""
        return f"{'Notched' if self.notched else 'Plain'} {plain(self.section.width_mm)} mm, kJ/m²"

    @property
    def words(self) -> str:
        """The width in words."""
        return f"{plain(self.section.width_mm)} mm {'under the notch' if self.notched else 'without a notch'}"


@dataclass(frozen=True, slots=True)
class HammerSheet:
    """One hammer's table before it is laid out."""

    rig: Rig
    line: HammerFacts
    bar: SpecimenType
    strengths: list[Strength]
    table: ScaleTable
    """Short enough for one sheet of paper."""
    every: ScaleTable
    """For the data file."""

    @property
    def name(self) -> str:
        """File name of its page and of its data."""
        return sheet_name(self.line)

    @property
    def data_uri(self) -> str:
        """Path of its data file."""
        return f"{DATA_FOLDER}/{self.name}.csv"

    @property
    def unit(self) -> str:
        """Unit of the readings, as it stands behind a number."""
        return "°" if self.table.reads == "angle" else " J"

    @property
    def division(self) -> str:
        """One division of the scale with its unit."""
        return self.line.scale_division

    @property
    def span(self) -> str:
        """From the first to the last reading."""
        shown = _shown(self.table.readings, 0)
        return f"{shown[0]} to {shown[-1]}{self.unit}"


def sheet_name(line: HammerFacts) -> str:
    """Name of a hammer's page, `rig--hammer`, no other hammer's: hyphens in a row within an id are set apart.

    Where the pendulum serves several methods, that of each but the first is called after it as well.
    """
    hammer = line.hammer
    ids = (hammer.rig, hammer.id) if hammer.method == hammer.methods[0] else (hammer.rig, hammer.id, hammer.method)
    return "--".join(_SECOND_HYPHEN.sub("-_", each) for each in ids)


def hammer_sheets(facts: Facts, unchanged: Unchanged | None = None) -> Iterator[HammerSheet]:
    """The hammers that have a table, by rig; one that was never verified has none.

    Arguments:
        facts: of the handbook.
        unchanged: what the caller holds of an earlier time.
    """
    for each in facts.rigs.values():
        for line in each.hammers:
            if line.method is None or line.losses is None or not line.method.specimen_types:
                continue
            bar = line.method.specimen_types[0]
            strengths = _strengths(line, bar)
            inputs = (line.rig, line.hammer, line.method, line.losses, strengths)
            name = ("scale", each.rig.id, line.hammer.id, line.hammer.method)
            table, every = made(unchanged, name, inputs, partial(_tables, line, strengths))
            if table is not None and every is not None:
                yield HammerSheet(line.rig, line, bar, strengths, table, every)


def _tables(line: HammerFacts, strengths: Sequence[Strength]) -> tuple[ScaleTable | None, ScaleTable | None]:
    """The tables for paper and for the data file."""
    sections = [each.section for each in strengths]
    most = max(blocks * rows for _, blocks, rows in _LAYOUTS)
    return line.scale(sections, most), line.scale(sections, _MOST_IN_DATA)


def _strengths(line: HammerFacts, bar: SpecimenType) -> list[Strength]:
    """The sections that the method breaks of a bar, those under a notch first; notches that leave as much share one."""
    notched = {each.notch for each in bar.arrangements if each.notch != "none"}
    names = [*sorted(notched), *(["none"] if any(each.notch == "none" for each in bar.arrangements) else [])]
    found = [(line.section(bar.id, each), each != "none") for each in names]
    return list(dict.fromkeys(Strength(section, cut) for section, cut in found if section is not None))


def lookup_pages(facts: Facts, sheets: Sequence[HammerSheet]) -> Iterator[Page]:
    """The list of the tables by rig, and a page a hammer."""
    by_rig = [(each.rig, [sheet for sheet in sheets if sheet.rig is each.rig]) for each in facts.rigs.values()]
    yield Page(INDEX, "lookups.html.j2", "Look-up tables", {"rigs": by_rig})
    for sheet in sheets:
        title = f"{sheet.rig.title}, {sheet.line.name}: from the reading to the strength"
        size, blocks = _blocks(sheet)
        values = {"sheet": sheet, "size": size, "blocks": blocks}
        yield Page(page_uri(FOLDER, sheet.name), "lookup.html.j2", title, values, hidden=TOC)


def _blocks(sheet: HammerSheet) -> tuple[str, list[list[tuple[str, ...]]]]:
    """Size of the print, and the rows as they are shown in blocks that stand side by side on paper."""
    table = sheet.table
    strengths = (_shown(each, 1) for each in table.strength_kJ_m2)
    rows = list(zip(_shown(table.readings, 0), _shown(table.energy_J, 1), *strengths, strict=True))
    size, blocks = next((size, blocks) for size, blocks, height in _LAYOUTS if len(rows) <= blocks * height)
    height = math.ceil(len(rows) / blocks)
    return size, [rows[start : start + height] for start in range(0, len(rows), height)]


def _shown(values: NDArray[np.float64], fewest: int) -> list[str]:
    """Numbers with as many decimals as it takes to tell each from the next, or at least so many."""
    nearest = float(np.min(np.abs(np.diff(values)))) if values.size > 1 else float(np.max(np.abs(values))) / 1000.0
    needed = math.ceil(-math.log10(nearest) - _LAST_BITS) if nearest > 0.0 else fewest
    decimals = min(max(needed, fewest), _MOST_DECIMALS)
    return [to_decimals(each, decimals) for each in values.tolist()]
