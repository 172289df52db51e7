"""A record that is being put together: its values, where each was given, and what stands in the way."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from notchbook.reading import acceptance, strict_yaml
from notchbook.writing.fields import FIELDS
from notchbook.writing.heads import words_of
from notchbook.writing.record_yaml import record_text
from notchbook.writing.trouble import Trouble

if TYPE_CHECKING:
    from collections.abc import Collection

    from notchbook.writing.given import Common
    from notchbook.writing.record_yaml import Values

Place = tuple[str | int, ...]


@dataclass(slots=True)
class Draft:
    """A record that is being put together."""

    values: Values
    places: dict[Place, str] = field(default_factory=dict)
    """Where each value was given, by its keys in the record."""
    troubles: list[Trouble] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)
    """What is worth a look and no trouble."""

    def refuse(self, *, whole: bool = True) -> None:
        """Add what the reader of data files would refuse in the values, at the places where they were given.

        Arguments:
            whole: whether the record has to be complete.
        """
        data, flaws = strict_yaml.parse(record_text(self.values))
        if data is not None:
            flaws += acceptance.flaws("test", data, refused_values=bool(flaws))
        told = bool(self.troubles) or not whole
        for flaw in flaws:
            place = self.places.get(flaw.keys)
            # what is missing was told before, with the option or the cell that lacks it
            if place is not None or not told:
                self.troubles.append(Trouble(place or "", flaw.message, flaw.hint))


def draft_of(common: Common, required: Collection[str] | None = None) -> Draft:
    """A record of what all its bars share.

    Arguments:
        common: what was given.
        required: keys at the top of a record that it cannot be without; all that a record needs where left out.
    """
    draft = Draft({"kind": "test"}, troubles=list(common.troubles), remarks=list(common.remarks))
    for keys, given in common.values.items():
        inner = draft.values
        for key in keys[:-1]:
            inner = inner.setdefault(key, {})
        inner[keys[-1]] = given.value
        draft.places[keys] = given.place
    for index, (deviation, place) in enumerate(common.deviations):
        draft.values.setdefault("deviations", []).append(deviation)
        draft.places |= {("deviations", index, key): place for key in deviation}
    for each in FIELDS:
        if each.is_required and each.keys not in common.named and (required is None or each.keys[0] in required):
            hint = f"give {each.option} {each.form}"
            if required is None:
                hint += f", or a row '{words_of(each.option)}' above the table"
            draft.troubles.append(Trouble("", f"{each.title} is missing", hint))
    return draft
