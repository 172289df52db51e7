"""The facts of a handbook as a whole, each worked out when it is first asked for."""

import datetime as dt
from collections.abc import Collection
from functools import cached_property

from notchbook.checks.verdict import Placed
from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.loss_trend import loss_trends
from notchbook.evaluation.watch import watch_of
from notchbook.facts.comparisons import Comparison, TermComparisons, by_term, comparisons
from notchbook.facts.exercises import ExerciseFacts
from notchbook.facts.hammers import HammerFacts, RigFacts
from notchbook.facts.records import RecordFacts
from notchbook.facts.sensitivity import SensitivityLine, sensitivity_lines
from notchbook.facts.swings import SwingsFacts
from notchbook.facts.verifications import VerificationFacts
from notchbook.handbook import Handbook
from notchbook.model.method import Method
from notchbook.model.procedure import Hazard, Material
from notchbook.reading.document import Document


class Facts:
    """Every object of a handbook, resolved once; all are in the order of their ids."""

    def __init__(self, handbook: Handbook) -> None:
        self.handbook = handbook
        self._records: dict[str, RecordFacts] = {}

    @property
    def day(self) -> dt.date:
        """The day that dates are held against."""
        return self.handbook.day

    @property
    def notice(self) -> str:
        """The notice of the settings; may be empty."""
        return self.handbook.settings.notice

    def document(self, kind: str, object_id: str) -> Document:
        """The file of one object."""
        return self.handbook.documents[kind, object_id]

    def unreadable(self, kind: str) -> Collection[str]:
        """Ids of the files of that kind that are there but could not be read."""
        return self.handbook.library.unreadable.get(kind, ())

    @cached_property
    def methods(self) -> dict[str, Method]:
        """The methods."""
        return dict(sorted(self.handbook.library.methods.items()))

    @cached_property
    def materials(self) -> dict[str, Material]:
        """The materials."""
        return dict(sorted(self.handbook.library.materials.items()))

    @property
    def hazards(self) -> dict[str, Hazard]:
        """The department's hazards, in the order of its list."""
        return self.handbook.library.hazards

    def record(self, record_id: str) -> RecordFacts:
        """One test record."""
        found = self._records.get(record_id)
        if found is None:
            found = self._records[record_id] = RecordFacts.of_record(self.handbook, record_id)
        return found

    @cached_property
    def records(self) -> dict[str, RecordFacts]:
        """The test records."""
        return {each: self.record(each) for each in sorted(self.handbook.library.records)}

    @cached_property
    def newest_records(self) -> list[RecordFacts]:
        """The test records, the newest first."""
        return sorted(self.records.values(), key=lambda each: (each.record.date, each.record.id), reverse=True)

    def records_of_material(self, material_id: str) -> list[RecordFacts]:
        """The records of a material, the newest first."""
        return [each for each in self.newest_records if each.record.material == material_id]

    @cached_property
    def notch_sensitivity(self) -> dict[str, list[SensitivityLine]]:
        """By material how much a notch leaves of the strength; materials without two notches have no row."""
        return {each: sensitivity_lines(self.records_of_material(each)) for each in self.materials}

    @cached_property
    def comparisons(self) -> list[Comparison]:
        """Groups that broke the same, held together over all dates."""
        return comparisons(self.records.values())

    @cached_property
    def term_comparisons(self) -> list[TermComparisons]:
        """The same of each half-year, the newest first."""
        return by_term(list(self.records.values()))

    @cached_property
    def verifications(self) -> dict[str, VerificationFacts]:
        """The verifications."""
        handbook, placed = self.handbook, self._placed
        return {
            each.id: VerificationFacts.of(
                handbook.evaluation,
                each,
                conforms=handbook.verdicts.verifications[each.id],
                placed=[*placed.get(("verification", each.id), ()), *placed.get(("rig", each.rig), ())],
                evaluation=handbook.evaluation,
            )
            for _, each in sorted(handbook.library.verifications.items())
        }

    @cached_property
    def newest_verifications(self) -> list[VerificationFacts]:
        """The verifications, the newest first."""
        found = self.verifications.values()
        return sorted(found, key=lambda each: (each.verification.date, each.verification.id), reverse=True)

    @cached_property
    def swings(self) -> dict[str, SwingsFacts]:
        """The free swings of groups."""
        handbook = self.handbook
        return {
            each.id: SwingsFacts.of(handbook.evaluation, each, conforms=handbook.verdicts.swings[each.id])
            for _, each in sorted(handbook.library.swings.items())
        }

    def swings_of(self, key: str, object_id: str) -> list[SwingsFacts]:
        """The free swings of groups under an exercise or on a rig, by the key that names it, the newest first."""
        found = [each for each in self.swings.values() if getattr(each.record, key) == object_id]
        return sorted(found, key=lambda each: (each.record.date, each.record.id), reverse=True)

    @cached_property
    def rigs(self) -> dict[str, RigFacts]:
        """The rigs with their hammers by method and energy."""
        evaluation, found = self.handbook.evaluation, {}
        for rig_id, rig in sorted(self.handbook.library.rigs.items()):
            swung = evaluation.hammers_of(rig_id).values()
            hammers = [self._hammer(fitted) for each in swung for fitted in each.fittings]
            hammers.sort(key=lambda each: (each.hammer.method, each.hammer.nominal_energy_J))
            drift, trends = evaluation.rig_drift(rig_id).standard, loss_trends(evaluation, rig_id)
            found[rig_id] = RigFacts(rig, hammers, drift, trends, watch_of(evaluation, rig_id))
        return found

    @cached_property
    def hammers(self) -> dict[tuple[str, str], HammerFacts]:
        """The hammers as first fitted, by the ids of rig and hammer, in the order of their rigs' files."""
        fitted = {
            (each.hammer.rig, each.hammer.id, each.hammer.method): each
            for rig in self.rigs.values()
            for each in rig.hammers
        }
        first = self.handbook.evaluation.hammers
        return {key: fitted[*key, each.method] for key, each in first.items()}

    def _hammer(self, hammer: SwungHammer) -> HammerFacts:
        evaluation, rig_id, hammer_id = self.handbook.evaluation, hammer.rig, hammer.id
        listed = evaluation.by_hammer.get((rig_id, hammer_id), ())
        return HammerFacts.on(
            evaluation,
            rig_id,
            hammer_id,
            hammer.method,
            day=self.day,
            verifications=tuple(self.verifications[each.id] for each in listed),
            nearest=evaluation.nearest_verification(rig_id, hammer_id, self.day),
        )

    def rigs_with_hammers(self, method_id: str) -> list[RigFacts]:
        """The rigs that have hammers of a method, with these alone."""
        found = (each.of_method(method_id) for each in self.rigs.values())
        return [each for each in found if each.hammers]

    @cached_property
    def exercises(self) -> dict[str, ExerciseFacts]:
        """The exercises."""
        library = self.handbook.library
        return {
            each.id: ExerciseFacts(
                each,
                library.methods.get(each.method),
                [line for line in self.newest_records if line.record.exercise == each.id],
                self.rigs_with_hammers(each.method),
                tuple(self.materials.values()),
                [library.hazards[hazard] for hazard in each.hazards if hazard in library.hazards],
            )
            for _, each in sorted(library.exercises.items())
        }

    @cached_property
    def _placed(self) -> dict[tuple[str, str], list[Placed]]:
        """What the checks say of each object."""
        found: dict[tuple[str, str], list[Placed]] = {}
        for each in self.handbook.verdicts.placed:
            found.setdefault((each.kind, each.id), []).append(each)
        return found
