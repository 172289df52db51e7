"""Pages of the verifications: one report each, to be printed, signed and filed."""

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from notchbook.evaluation.losses import Losses
from notchbook.facts import hammer_words
from notchbook.facts.facts import Facts
from notchbook.facts.verifications import VerificationFacts
from notchbook.model.method import LossCorrection, Method
from notchbook.pages.data.dataset import verification_dataset
from notchbook.pages.page import BESIDE, Page, page_uri
from notchbook.pages.rig.losses import energy_left_figure
from notchbook.pages.rig.verification_case import VerificationRow, Verified
from notchbook.pages.rig.verification_rows import verification_rows
from notchbook.pages.written.formulae import mathml
from notchbook.wording.dates import day_words

FOLDER = "verifications"
_FORMS: dict[LossCorrection, tuple[str, str]] = {
    "plastics": (
        "form of the plastics methods",
        r"W_\mathrm{f} = \tfrac12\left[W_\mathrm{AB} + \frac{\beta}{\alpha}\,(W_\mathrm{AB} + 2\,W_\mathrm{P})\right]",
    ),
    "metals": (
        "form of the metals methods",
        r"p_\beta = W_\mathrm{P}\,\frac{\beta}{\beta_1} + p'\,\frac{\alpha+\beta}{\alpha+\beta_2}",
    ),
}


def verification_pages(facts: Facts) -> Iterator[Page]:
    """One page a verification."""
    for verification_id, case in facts.verifications.items():
        hammer_name = case.hammer.title if case.hammer is not None else case.verification.hammer
        title = f"Verification of {hammer_name}, {day_words(case.verification.date)}"
        values = _values(case) | {
            "hammer_name": hammer_name,
            "findings": facts.handbook.findings_in("verification", verification_id),
            "dataset": verification_dataset(facts, case, title),
        }
        uri, path = page_uri(FOLDER, verification_id), facts.document("verification", verification_id).path
        yield Page(uri, "verification.html.j2", title, values, path, hidden=BESIDE)


def _values(case: VerificationFacts) -> dict[str, Any]:
    rig, hammer, method = case.rig, case.hammer, case.method
    rows = _rows(case)
    return {
        "energy": hammer_words.energy(hammer, case.verification) if hammer is not None else "",
        "methods": [each.method for each in case.fitted if each.method is not None],
        "verification": case.verification,
        "rig": rig,
        "hammer": hammer,
        "method": method,
        "rows": rows,
        # the rig may be at fault where the verification itself is not
        "conforms": case.conforms and not any(each.verdict.startswith("fails") for each in rows),
        "stands": case.stands,
        "correction": _correction(method, case.losses) if method and case.losses else None,
        "figure": energy_left_figure(case, "energy-left"),
    }


def _rows(case: VerificationFacts) -> list[VerificationRow]:
    """The quantities with the verdict by each method of the hammer, once where it is the same by all of them."""
    by_title: dict[str, dict[VerificationRow, list[str]]] = {}
    for each in case.fitted:
        if each.rig is None or each.hammer is None or each.method is None or each.result is None:
            continue
        for row in verification_rows(Verified(each, each.rig, each.hammer, each.method, each.result)):
            by_title.setdefault(row.title, {}).setdefault(row, []).append(each.method.standard)
    return [
        replace(row, title=f"{title}, {', '.join(standards)}") if len(alike) > 1 else row
        for title, alike in by_title.items()
        for row, standards in alike.items()
    ]


def _correction(method: Method, losses: Losses) -> dict[str, Any]:
    """The form of the loss correction that the method uses beside the other one, with what each takes off at a rise.

    A loss is None where it takes readings that are not there.
    """
    rise_deg = losses.release_angle_deg / 2.0

    def form(name: LossCorrection) -> dict[str, Any]:
        found = losses.in_test_J(name, rise_deg)
        loss_J = float(found) if found is not None and math.isfinite(float(found)) else None
        words, tex = _FORMS[name]
        return {"name": words, "formula": mathml(tex, block=True, label="Loss correction"), "loss_J": loss_J}

    other: LossCorrection = "metals" if method.loss_correction == "plastics" else "plastics"
    return {"own": form(method.loss_correction), "other": form(other), "rise_deg": rise_deg}
