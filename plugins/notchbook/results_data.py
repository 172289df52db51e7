"""The results of a handbook as plain data, for scripts and for the site's data folder."""

from collections.abc import Iterator
from typing import Any

from notchbook.evaluation.records import SpecimenResult
from notchbook.facts.comparisons import Comparison
from notchbook.facts.facts import Facts
from notchbook.facts.records import RecordFacts, ReportedSet
from notchbook.facts.swings import SwingsFacts
from notchbook.facts.verifications import VerificationFacts
from notchbook.handbook import Handbook
from notchbook.model.record import Record
from notchbook.wording.csv_text import csv_table
from notchbook.wording.json_text import json_text

CSV_COLUMNS = (
    "test",
    "date",
    "group",
    "exercise",
    "rig",
    "hammer",
    "material",
    "notch",
    "specimen",
    "break",
    "excluded",
    "energy_J",
    "loss_J",
    "used_pct",
    "strength_kJ_m2",
    "expanded_uncertainty_kJ_m2",
    "conforms",
)


def results_data(handbook: Handbook) -> dict[str, Any]:
    """Every computed result at full precision; what cannot be had is None."""
    return results_of(Facts(handbook))


def results_of(facts: Facts) -> dict[str, Any]:
    """The same of the facts of a handbook.

    The keys are those of the contract of the outputs; what has an id comes in the order of the ids.
    """
    return {
        "tests": {record_id: of_test(each) | about_test(each) for record_id, each in facts.records.items()},
        "verifications": {each_id: of_verification(each) for each_id, each in facts.verifications.items()},
        "swings": {each_id: of_swings(each) for each_id, each in facts.swings.items()},
        "comparisons": list(map(of_comparison, facts.comparisons)),
        "notch_sensitivity": of_notches(facts),
    }


def of_test(line: RecordFacts) -> dict[str, Any]:
    """The results of one test record."""
    result, uncertainty, verdict = line.result, line.uncertainty, line.verdict
    specimens = result.specimens if result else ()
    expanded = uncertainty.strength.expanded if uncertainty else (None,) * len(specimens)
    return {
        "specimens": list(map(_specimen, specimens, expanded)),
        "sets": list(map(_set, line.sets)),
        "conforms": verdict.conforms,
        "deviations": [
            {"rule": each.rule, "reason": each.reason, "accepted_by": each.accepted_by} for each in verdict.deviations
        ],
    }


def about_test(line: RecordFacts) -> dict[str, Any]:
    """What a test record is of, so that its results can be held beside those of another handbook."""
    record, method = line.record, line.method
    return {
        "date": record.date.isoformat(),
        "group": record.group,
        "exercise": record.exercise,
        "material": record.material,
        "batch": record.batch,
        "method": method.id if method is not None else None,
        "standard": method.standard if method is not None else None,
        "type": record.specimen.type,
        "notch": record.specimen.notch,
        "direction": record.specimen.direction,
        "velocity_m_s": line.speed_m_s,
    }


def _specimen(result: SpecimenResult, expanded_uncertainty_kJ_m2: float | None) -> dict[str, Any]:
    return {
        "id": result.id,
        "energy_J": result.energy_J,
        "loss_J": result.loss_J,
        "strength_kJ_m2": result.strength_kJ_m2,
        "used_pct": result.used_pct,
        "expanded_uncertainty_kJ_m2": expanded_uncertainty_kJ_m2,
        "break": result.break_type,
        "excluded": result.excluded,
    }


def _set(reported: ReportedSet) -> dict[str, Any]:
    result, uncertainty = reported.result, reported.uncertainty
    interval = result.summary.interval
    return {
        "breaks": list(result.breaks),
        "averaged_together": list(reported.together),
        "n": result.summary.n,
        "mean_kJ_m2": result.summary.mean,
        "standard_deviation_kJ_m2": result.summary.standard_deviation,
        "variation_pct": result.summary.variation_pct,
        "interval_kJ_m2": list(interval) if interval is not None else None,
        "reported": result.reported_kJ_m2,
        "standard_uncertainty_kJ_m2": uncertainty.standard if uncertainty else None,
        "expanded_uncertainty_kJ_m2": uncertainty.expanded if uncertainty else None,
        "coverage_factor": uncertainty.coverage_factor if uncertainty else None,
    }


def of_verification(case: VerificationFacts) -> dict[str, Any]:
    """The results of one verification."""
    result, losses = case.result, case.losses
    return {
        "potential_energy_J": result.potential_energy_J if result else None,
        "velocity_m_s": result.velocity_m_s if result else None,
        "pendulum_length_mm": result.pendulum_length_mm if result else None,
        "indicator_loss_J": losses.indicator_loss_J if losses else None,
        "swing_loss_J": losses.swing_loss_J if losses else None,
        "loss_pct": losses.loss_pct if losses else None,
        "conforms": case.conforms,
    }


def of_swings(case: SwingsFacts) -> dict[str, Any]:
    """The results of the free swings of one group."""
    result, losses, agreement = case.result, case.losses, case.agreement
    uncertainty = result.uncertainty if result else None
    left = result.energy_left if result else None
    return {
        "indicator_loss_J": losses.indicator_loss_J if losses else None,
        "swing_loss_J": losses.swing_loss_J if losses else None,
        "loss_pct": losses.loss_pct if losses else None,
        "allowed_pct": case.asked.loss_pct if case.asked else None,
        "later_swing_loss_J": result.later_swing_loss_J if result else None,
        "expanded_uncertainty_indicator_loss_J": uncertainty.indicator_loss_J if uncertainty else None,
        "expanded_uncertainty_swing_loss_J": uncertainty.swing_loss_J if uncertainty else None,
        "expanded_uncertainty_loss_pct": uncertainty.loss_pct if uncertainty else None,
        "decay_pct": left.half_swing_loss_pct if left else None,
        "verification": case.verification.id if case.verification else None,
        "difference_pct": agreement.difference_pct if agreement else None,
        "agrees": agreement.agrees if agreement else None,
        "conforms": case.conforms,
    }


def of_comparison(found: Comparison) -> dict[str, Any]:
    """Groups that broke the same, held together."""
    about, precision = found.subject, found.precision
    return {
        "exercise": about.exercise,
        "material": about.material,
        "batch": about.batch,
        "method": about.method,
        "type": about.specimen.type,
        "notch": about.specimen.notch,
        "direction": about.specimen.direction,
        "velocity_m_s": about.speed_m_s,
        "breaks": found.breaks,
        "departs": about.departure.rules,
        "groups": [
            {
                "record": cell.name,
                "n": summary.n,
                "mean_kJ_m2": summary.mean,
                "standard_deviation_kJ_m2": summary.standard_deviation,
                "interval_kJ_m2": list(cell.interval) if cell.interval is not None else None,
                "h": h,
                "k": k,
            }
            for cell, summary, h, k in found.rows
        ],
        "mean_kJ_m2": precision.mean,
        "repeatability_sd_kJ_m2": precision.repeatability_sd,
        "between_sd_kJ_m2": precision.between_sd,
        "reproducibility_sd_kJ_m2": precision.reproducibility_sd,
        "cochran": precision.cochran,
    }


def of_notches(facts: Facts) -> list[dict[str, Any]]:
    """The ratios of strengths with different notches, the sharper over the blunter, in the order of the materials."""
    return [
        {
            "material": material_id,
            "method": each.method,
            "velocity_m_s": each.speed_m_s,
            "sharper": each.sharper,
            "blunter": each.blunter,
            "breaks": each.breaks.split("/"),
            "departs": each.departure.rules,
            "ratio": each.ratio.value,
            "interval": list(each.ratio.interval) if each.ratio.interval is not None else None,
            "of_these_records": each.ratio.of_these_records,
        }
        for material_id, lines in facts.notch_sensitivity.items()
        for each in lines
        if each.ratio is not None
    ]


def as_json(handbook: Handbook) -> str:
    """The results as JSON."""
    return json_text(results_data(handbook))


def as_csv(handbook: Handbook) -> str:
    """The results as CSV (RFC 4180), one row a specimen; an empty field is a value that cannot be had."""
    records = Facts(handbook).records.values()
    return csv_table(CSV_COLUMNS, (row for each in records for row in csv_rows_of(each.record, of_test(each))))


def csv_rows_of(record: Record, test: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """The rows of one test record, whose results are in the form of `of_test`."""
    about = {
        "test": record.id,
        "date": record.date.isoformat(),
        "group": record.group,
        "exercise": record.exercise,
        "rig": record.rig,
        "hammer": record.hammer,
        "material": record.material,
        "notch": record.specimen.notch,
        "conforms": test["conforms"],
    }
    for specimen in test["specimens"]:
        yield about | specimen | {"specimen": specimen["id"]}


FORMS = {"json": as_json, "csv": as_csv}
