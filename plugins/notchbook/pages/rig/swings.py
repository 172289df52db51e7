"""Pages of the free swings that groups read: their losses beside what is allowed and beside the verification."""

from collections.abc import Iterator
from typing import Any

from notchbook.facts.facts import Facts
from notchbook.facts.swings import SwingsFacts
from notchbook.pages.page import BESIDE, Page, page_uri
from notchbook.pages.rig.losses import energy_left_figure
from notchbook.wording.dates import day_words
from notchbook.wording.numbers import plain, to_decimals, to_figures

FOLDER = "swings"
_BEHIND_RECORDS = 0.5
"""How far ahead a search puts them: whoever looks for a group wants its bars first."""


def swings_pages(facts: Facts) -> Iterator[Page]:
    """One page a record of free swings."""
    for record_id, case in facts.swings.items():
        record = case.record
        title = f"Free swings of {record.group}, {day_words(record.date)}"
        values = {
            "case": case,
            "record": record,
            "hammer_name": case.hammer.title if case.hammer is not None else record.hammer,
            "read": _read(case),
            "rows": result_rows(case),
            "figure": energy_left_figure(case, "energy-left"),
            "findings": facts.handbook.findings_in("swings", record_id),
        }
        uri, path = page_uri(FOLDER, record_id), facts.document("swings", record_id).path
        yield Page(uri, "swings.html.j2", title, values, path, hidden=BESIDE, boost=_BEHIND_RECORDS)


def _read(case: SwingsFacts) -> list[tuple[str, str]]:
    """What was read, as it was written: the quantity, and its value with the unit."""
    swings, series = case.own_swings, case.record.series
    found: list[tuple[str, str]] = []
    for name in ("first", "second", "later"):
        rise_deg, energy_J = getattr(swings, f"{name}_rise_deg"), getattr(swings, f"{name}_indicated_energy_J")
        if name == "later" and swings.half_swings is not None:
            found.append(("Half swings to the later swing", plain(swings.half_swings)))
        if rise_deg is not None:
            found.append((f"{name.capitalize()} rise", f"{plain(rise_deg)}°"))
        if energy_J is not None:
            found.append((f"{name.capitalize()} indicated energy", f"{plain(energy_J)} J"))
    if series is not None:
        unit = "°" if series.rises_deg else " J"
        values = ", ".join(f"{plain(each)}{unit}" for each in series.rises_deg or series.indicated_energies_J)
        found.append((f"Dying away, every {plain(series.half_swings_between)} half swings", values))
    return found


def result_rows(case: SwingsFacts) -> list[dict[str, Any]]:
    """The results, a row each: the quantity, its value, its expanded uncertainty, and what it is held against."""
    losses, result, asked = case.losses, case.result, case.asked
    if losses is None or result is None:
        return []
    sure, verified, agreement = result.uncertainty, case.verified, case.agreement

    def row(title: str, value: str, uncertainty: str = "", beside: str = "") -> dict[str, Any]:
        return {"title": title, "value": value, "uncertainty": uncertainty, "beside": beside}

    def loss_J(title: str, value_J: float, expanded_J: float | None, verified_J: float | None) -> dict[str, Any]:
        spread = f"± {to_figures(expanded_J, 2)} J" if expanded_J is not None else ""
        beside = f"{to_figures(verified_J, 3)} J at the verification" if verified_J is not None else ""
        return row(title, f"{to_figures(value_J, 3)} J", spread, beside)

    share = case.allowed_share_pct
    allowed = ""
    if asked is not None and share is not None:
        allowed = f"{plain(asked.loss_pct)} % allowed, of which this is {to_decimals(share, 0)} %"
    rows = [
        loss_J("Loss of the indicator", losses.indicator_loss_J, sure.indicator_loss_J if sure else None,
               verified.indicator_loss_J if verified else None),
        loss_J("Loss of bearings and air, free swing", losses.swing_loss_J, sure.swing_loss_J if sure else None,
               verified.swing_loss_J if verified else None),
        row("Both losses together", f"{to_decimals(losses.loss_pct, 2)} % of the nominal energy",
            f"± {to_decimals(sure.loss_pct, 2)} %" if sure else "", allowed),
    ]  # fmt: skip
    if result.later_swing_loss_J is not None:
        verified_J = verified.half_swing_loss_J if verified else None
        rows.append(loss_J("Loss of bearings and air, later half swings", result.later_swing_loss_J, None, verified_J))
    if result.energy_left is not None:
        decay = f"{to_figures(result.energy_left.half_swing_loss_pct, 2)} % of what is left, each half swing"
        rows.append(row("Decay", decay))
    if agreement is not None:
        rows.append(
            row(
                "Both losses less those of the verification",
                f"{to_decimals(agreement.difference_pct, 2)} % of the nominal energy",
                f"± {to_decimals(agreement.expanded_pct, 2)} % by the readings of both",
                "agrees" if agreement.agrees else "differs by more than the readings explain",
            )
        )
    return rows
