"""The columns of the data files: what each is called, means, is measured in and may hold.

What is read at the bench is described by the schemas of the data files, what is computed here. The heads of the files,
their machine-readable descriptions and the page about them are all made from these columns.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache
from typing import Any

from notchbook.model.quantity import IMPACT_STRENGTH
from notchbook.pages.data.table import Column, Datatype, Table
from notchbook.reading.schemas import schema

_UNIT_IN_TITLE = re.compile(r" \([^)]*\)$")
_LIMITS = {
    "minimum": "minimum", "maximum": "maximum", "exclusiveMinimum": "minExclusive", "exclusiveMaximum": "maxExclusive",
}  # fmt: skip


def _read(name: str, about: dict[str, Any], required: bool = False) -> Column:
    """The column of a key of a data file."""
    in_a_row = about.get("type") == "array"
    held = about["items"] if in_a_row else about
    datatype: Datatype = "date" if held.get("format") == "date" else held["type"]
    return Column(
        name,
        _UNIT_IN_TITLE.sub("", about["title"]),
        about["description"].replace("`", "") + (" Several in one field have a space between." if in_a_row else ""),
        datatype,
        tuple((_LIMITS[key], value) for key, value in held.items() if key in _LIMITS),
        in_a_row,
        required,
    )


def _below(kind: str, *keys: str) -> Iterator[Column]:
    """The columns of all keys in a mapping of a kind of file, those in mappings within it too.

    A list of mappings, such as the bars or what was declared, fits into no field.
    """
    about = schema(kind)
    for key in keys:
        about = about["items"] if key == "(each)" else about["properties"][key]
    for key, inner in about["properties"].items():
        if "properties" in inner:
            yield from _below(kind, *keys, key)
        elif "type" in inner and inner.get("items", {}).get("type") != "object":
            yield _read(key, inner, key in about["required"] if not keys or keys[-1] == "(each)" else False)


_BAR_RESULTS = (
    Column("energy_J", "Energy", "Energy absorbed by the bar: what the swing lacked, less the loss."),
    Column("loss_J", "Loss", "Energy lost to indicator, bearings and air in this test."),
    Column("used_pct", "Share used", "Absorbed energy in percent of the pendulum's potential energy."),
    Column(
        "strength_kJ_m2",
        IMPACT_STRENGTH.title,
        "Energy over the section that broke: thickness times width, or times the width under a notch. Empty for a bar "
        "that did not break.",
    ),
    Column(
        "expanded_uncertainty_kJ_m2",
        "Expanded uncertainty",
        f"Of the {IMPACT_STRENGTH.name}, k = 2, by JCGM 100:2008.",
        limits=(("minExclusive", 0),),
    ),
)
_CONFORMS = Column(
    "conforms", "Conforms", "Whether the checks find no departure from the method and no error.", "boolean"
)
_TEST = Column("test", "Test", "Id of the record: the stem of its file name.", "string", required=True)
_LOSSES = (
    Column("indicator_loss_J", "Indicator loss", "W_P: energy that the indicator takes in one half swing."),
    Column("swing_loss_J", "Loss of the first half swing", "W_AB: energy that bearings and air take in it."),
    Column(
        "half_swing_loss_J",
        "Loss of a later half swing",
        "p′: energy that bearings and air take in one of the further half swings.",
    ),
    Column("loss_pct", "Loss share", "Losses of indicator and swing together, in percent of the nominal energy."),
)


@cache
def bars_table() -> Table:
    """The bars of one record: readings and results."""
    read = {each.name: each for each in _below("test", "specimens", "(each)")}
    # what the schema says of these two is for whoever writes the file
    del read["id"]
    read["excluded"] = Column(
        "excluded", "Excluded because", "Why the bar does not count; empty where it does.", "string"
    )
    bar = Column("specimen", "Bar", "Mark on the bar.", "string", required=True)
    columns = (bar, *read.values(), *_BAR_RESULTS)
    return Table("record", "Bars of one record", "one bar", columns, ("specimen",), tuple(read))


@cache
def results_table(names: Sequence[str]) -> Table:
    """The bars of all records, with these columns."""
    read = {each.name: each for each in _below("test")}
    notch = schema("test")["properties"]["specimen"]["properties"]["notch"]
    known = read | {each.name: each for each in bars_table().columns}
    known |= {"test": _TEST, "notch": _read("notch", notch, required=True), "conforms": _CONFORMS}
    columns = tuple(known[each] for each in names)
    return Table("results", "Bars of all records", "one bar", columns, ("test", "specimen"))


@cache
def sets_table() -> Table:
    """The sets of all records: means and spreads."""
    read = {each.name: each for each in _below("test")}
    columns = (
        _TEST,
        *(read[each] for each in ("date", "group", "exercise", "rig", "hammer", "material")),
        Column("designation", "Designation", "Of the test in its method.", "string"),
        Column("breaks", "Break types",
               "Those that share this mean, with + between them where the method has codes of several letters.",
               "string", required=True),
        Column("n", "Bars", "Number of bars in the set; excluded and unbroken ones are in none.", "integer",
               (("minimum", 1),)),
        Column("mean_kJ_m2", "Mean", f"Mean {IMPACT_STRENGTH.name} of the set."),
        Column("reported_kJ_m2", "Reported mean", "The mean, rounded as the method asks."),
        Column("standard_deviation_kJ_m2", "Standard deviation", "Of the sample, with n − 1.",
               limits=(("minimum", 0),)),
        Column("variation_pct", "Coefficient of variation", "Standard deviation in percent of the mean.",
               limits=(("minimum", 0),)),
        Column("interval_low_kJ_m2", "Interval from",
               "Low end of the 95 % interval of the mean by Student's t, from scatter alone."),
        Column("interval_high_kJ_m2", "Interval to",
               "High end of the 95 % interval of the mean by Student's t, from scatter alone."),
        Column("expanded_uncertainty_kJ_m2", "Expanded uncertainty of the mean",
               "At 95 %, by JCGM 100:2008: scatter, instrument and readings together.", limits=(("minExclusive", 0),)),
        _CONFORMS,
    )  # fmt: skip
    return Table("sets", "Sets of all records", "one set of bars that share a mean", columns, ("test", "breaks"))


@cache
def verifications_table() -> Table:
    """Verifications: readings and results."""
    read = {each.name: each for each in _below("verification")}
    notes = read.pop("notes")
    columns = (
        Column("verification", "Verification", "Its id: the stem of its file name.", "string", required=True),
        *read.values(),
        Column("nominal_energy_J", "Nominal energy", "Of the hammer, as its file states it."),
        Column("potential_energy_J", "Potential energy", "E = M (1 − cos α), moment and release angle of the hammer."),
        Column("velocity_m_s", "Impact velocity", "At the lowest point of the swing."),
        Column("weighed_moment_Nm", "Weighed moment", "Force times arm."),
        Column("pendulum_length_mm", "Pendulum length", "From the period, with its amplitude taken out."),
        *_LOSSES,
        Column("allowed_loss_pct", "Allowed loss share", "The most that the method allows a hammer of that energy."),
        _CONFORMS,
        notes,
    )
    return Table("verification", "Verifications", "one verification", columns, ("verification",), tuple(read))


@cache
def swings_table() -> Table:
    """Free swings of groups: readings and results."""
    read = {each.name: each for each in _below("swings")}
    notes = read.pop("notes")
    of_both = "Of both losses together, in percent of the nominal energy."
    columns = (
        Column("record", "Record", "Id of the record: the stem of its file name.", "string", required=True),
        *read.values(),
        *(each for each in _LOSSES if each.name != "half_swing_loss_J"),
        Column("allowed_pct", "Allowed loss share", "The most that the method allows a hammer of that energy."),
        Column("later_swing_loss_J", "Loss of later half swings", "p′: bearings and air, one half swing."),
        Column("expanded_uncertainty_indicator_loss_J", "Uncertainty of the indicator loss", "k = 2.",
               limits=(("minimum", 0),)),
        Column("expanded_uncertainty_swing_loss_J", "Uncertainty of the loss of the first half swing", "k = 2.",
               limits=(("minimum", 0),)),
        Column("expanded_uncertainty_loss_pct", "Uncertainty of the loss share", "k = 2.", limits=(("minimum", 0),)),
        Column("decay_pct", "Decay", "What each half swing takes of the energy that is left before it."),
        Column("verification", "Verification", "The one in force on the day.", "string"),
        Column("difference_pct", "Beside the verification", f"The loss less that of the verification. {of_both}"),
        Column("agrees", "Agrees", "Whether the readings of both explain the difference.", "boolean"),
        _CONFORMS,
        notes,
    )  # fmt: skip
    return Table("swings", "Free swings of groups", "the free swings of one group", columns, ("record",), tuple(read))


def lookup_columns(reads: str, sections: Sequence[tuple[bool, float, str]]) -> tuple[Column, ...]:
    """The columns of a look-up table: reading, loss, energy and the strengths.

    Arguments:
        reads: what the scale reads, `angle` or `energy`.
        sections: of the bars whose strengths are listed: whether under a notch, the width in mm, and it in words.
    """
    name = "rise_angle_deg" if reads == "angle" else "indicated_energy_J"
    read = next(each for each in bars_table().columns if each.name == name)
    energy, loss = _BAR_RESULTS[:2]
    strengths = [
        Column(
            f"strength_{'notched' if notched else 'plain'}_{width_mm:g}_mm_kJ_m2",
            IMPACT_STRENGTH.title,
            f"Of a bar of nominal size, {words}.",
        )
        for notched, width_mm, words in sections
    ]
    return replace(read, required=True), loss, energy, *strengths
