"""What can hurt: which changes of procedures and rigs are asked about before anything else."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.review.changes import Edit

if TYPE_CHECKING:
    from collections.abc import Iterator

    from notchbook.reading.document import Document
    from notchbook.review.changes import SetupChange
    from notchbook.review.differences import ValueChange

_STEPS = {"prepare", "steps", "finish"}
_CAN_HURT = {
    "hazards": {"hazards"},
    "exercise": {"hazards", "needs", *_STEPS},
    "method": {"equipment_hazards", "specimen_hazards"},
}
_ENERGY_OF_THE_BLOW = {"base", "nominal_energy_J", "release_angle_deg", "added_masses"}
"""Keys of a hammer. Its moment is weighed anew at each verification, and a rig's change is asked about anyway."""
_WHOLE_FILES = {"hazards", "exercise", "rig"}


def can_hurt(kind: str, change: ValueChange) -> bool:
    """Whether a change of a file of that kind bears on whether somebody gets hurt."""
    label = change.label
    if kind == "rig":
        return label[0] == "hammers" and (len(label) <= 2 or label[2] in _ENERGY_OF_THE_BLOW)
    if label[0] not in _CAN_HURT.get(kind, ()):
        return False
    # only steps are done in their order; with the other lists it says nothing
    return not change.moved or label[0] in _STEPS


def whole_files(change: SetupChange, before: Document | None, after: Document | None) -> Iterator[Edit]:
    """What there is to ask about an exercise, a rig or a list of hazards that came or went as a whole."""
    if change.kind not in _WHOLE_FILES or change.state == "changed":
        return
    yield Edit(change.path, 1, "", _title(before), _title(after), change.state)


def _title(document: Document | None) -> str | None:
    if document is None:
        return None
    title = document.data.get("title")
    return f"{document.kind} {title}" if isinstance(title, str) else f"{document.kind} {document.id}"
