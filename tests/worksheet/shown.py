"""What the worksheet says of a session in words, put together from the engine's numbers as the other pages set them."""

from typing import Any

from engine import REPEATED, said
from typed_session import Bench, Session

from notchbook.facts.worksheet_limits import told_rules
from notchbook.wording.lists import counted
from notchbook.wording.numbers import interval_ends, number, to_decimals, to_figures


def words(bench: Bench, session: Session) -> dict[str, Any]:
    """Every line but the complaints; the session is one that a file may hold."""
    found = said(bench, session)
    hammer = bench.handbook.evaluation.hammers[session.fields["rig"], session.fields["hammer"]]
    kinds = {each.letter: each for each in bench.method.breaks.types}
    unbroken = sum(not bar.get("excluded") and not kinds[bar["break"]].has_strength for bar in session.touched)
    counting = sum(not bar.get("excluded") for bar in session.touched)
    window = bench.method.energy_window
    shares = (window.low_pct, window.high_pct)
    low, high = (to_figures(each / 100.0 * hammer.potential_energy_J, 2) for each in shares)
    return {
        "bars": [
            _bar(bench, found["whole_J"], bar, one) for bar, one in zip(session.touched, found["bars"], strict=True)
        ],
        "sets": [_set(bench, each) for each in found["sets"]],
        "unbroken": {
            "lines": [f"{unbroken} of {counted(counting, 'bar')} did not break: no strength"] if unbroken else [],
            "lead": unbroken > max((each[1] for each in found["sets"]), default=0),
        },
        "losses": _losses(bench, session),
        "hammer": f"For bars of {low} to {high} J; released at {number(hammer.release_angle_deg)}°.",
        "state": _state(found, waits=session.touched != list(session.bars)),
    }


def _break(bench: Bench, letter: str) -> str:
    kind = bench.method.breaks.of_letter(letter)
    assert kind is not None
    return f"{letter} {kind.title}"


def _bar(bench: Bench, whole_J: float, bar: dict[str, str], found: list[float | None]) -> list[str]:
    _, energy, used, strength = found
    if energy is None:
        return ["The energy cannot be had yet."] if bar.get("reading") else []
    share = f"{to_decimals(used, 1)} % of the hammer's {to_figures(whole_J, 3)} J"
    said_of = [f"{to_figures(energy, 3)} J, {share}"]
    if strength is not None:
        said_of.append(f"{to_figures(strength, 3)} kJ/m²")
    else:
        said_of.append(f"{_break(bench, bar['break'])}: no strength")
    return [*said_of, *(["left out"] if bar.get("excluded") else [])]


def _set(bench: Bench, found: list[Any]) -> str:
    breaks, n, mean, deviation, _, low, high, _, expanded = found
    figures = bench.method.reporting.significant_figures
    letters = ", ".join(_break(bench, each) for each in breaks)
    line = f"{letters}: mean {to_figures(mean, figures)} kJ/m²"
    if n == 1:
        return f"{line}, 1 bar"
    shown = interval_ends(low, high) if expanded is None else interval_ends(mean - expanded, mean + expanded)
    ends = f"{shown[0]} to {shown[1]} kJ/m²{' (from scatter alone)' if expanded is None else ''}"
    return f"{line}, s {to_figures(deviation, 2)} kJ/m², n {n}, 95 % interval of the mean {ends}"


def _losses(bench: Bench, session: Session) -> str:
    given = [key for key, each in session.fields.items() if key.startswith("free_swings.") and each]
    if given:
        both = {"free_swings.first", "free_swings.second"} <= set(given)
        return "Losses by the day's own free swings." if both else "Losses wait for both free swings of the day."
    known = bench.handbook.evaluation.by_hammer[session.fields["rig"], session.fields["hammer"]]
    day = session.fields["date"]
    in_force = [each for each in known if each.date.isoformat() <= day <= each.valid_until.isoformat()]
    if not in_force:
        return "Losses are not known: no verification covers the day, and there are no free swings."
    return f"Losses by the verification of {in_force[0].date}, valid until {in_force[0].valid_until}."


def _state(found: dict[str, Any], *, waits: bool) -> str:
    """How many errors and warnings there are; that bars are few is none while rows wait for more."""
    severities = told_rules()
    rules = [each[0] for each in found["findings"]]
    told = [severities[each] for each in rules if not waits or each not in ("specimen-number", "bar-missing")]
    told += [severities[REPEATED]] * len(found["repeats"])
    errors, warnings = (told.count(each) for each in ("error", "warning"))
    return f"{counted(errors, 'error')}, {counted(warnings, 'warning')}; complete."
