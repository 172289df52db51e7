"""What was measured of the bars on their way to the blow, in words for a record's page and its test report."""

from notchbook.facts.records import RecordFacts
from notchbook.model.requirement import Requirement
from notchbook.wording.numbers import plain

_STATES = {"dry": "dry", "conditioned": "conditioned", "as-received": "as received"}


def notch_radius(line: RecordFacts) -> str:
    """The radius as it was measured, and what is asked; the nominal one said to be that where it was not."""
    asked = line.notch.base_radius_mm if line.notch is not None else None
    measured = _measured(line, "notch_radius_mm", "mm", asked)
    if measured or asked is None:
        return measured
    return f"nominal {asked.text('mm')}, not measured"


def clamp_torque(line: RecordFacts) -> str:
    """The torque with which the clamp was closed; empty where nobody says."""
    return _measured(line, "clamp_torque_Nm", "Nm", line.method.clamp_torque_Nm if line.method is not None else None)


def transfer(line: RecordFacts) -> str:
    """The time from conditioning to the blow; empty where nobody says."""
    return _measured(line, "transfer_s", "s", line.method.transfer_s if line.method is not None else None)


def zero_reading(line: RecordFacts) -> str:
    """What the scale showed where it should show nothing; empty where nobody says."""
    record = line.record
    parts = [
        *([] if record.zero_reading_deg is None else [f"{plain(record.zero_reading_deg)}°"]),
        *([] if record.zero_reading_J is None else [f"{plain(record.zero_reading_J)} J"]),
    ]
    return ", ".join(parts)


def state(line: RecordFacts) -> str:
    """The state of moisture; empty where nobody says."""
    return _STATES.get(line.record.conditioning.state or "", "")


def handling(line: RecordFacts) -> list[tuple[str, str]]:
    """Titles and words of all that is known of it."""
    rows = [
        ("Notch radius", notch_radius(line)),
        ("Clamp torque", clamp_torque(line)),
        ("Conditioning to blow", transfer(line)),
        ("Zero of the scale", zero_reading(line)),
    ]
    return [(title, words) for title, words in rows if words]


def _measured(line: RecordFacts, name: str, unit: str, asked: Requirement | None) -> str:
    parts = []
    for keys, value in line.record.measured(name):
        whose = f"bar {line.record.specimens[int(keys[1])].id} " if len(keys) > 1 else ""
        parts.append(f"{whose}{plain(value)} {unit}")
    words = ", ".join(parts)
    return f"{words} measured; asked for {asked.text(unit)}" if words and asked is not None else words
