"""A handbook of any size: the demo's procedures and verifications, and records made up by the engine's own formulas."""

import datetime as dt
import shutil
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import yaml

from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.losses import Losses
from notchbook.handbook import Handbook, open_handbook
from notchbook.model.method import Climate, Method
from notchbook.model.procedure import Exercise
from notchbook.model.rig import Rig
from notchbook.model.verification import Verification
from notchbook.physics.arrays import FloatArray
from notchbook.physics.pendulum import energy_from_rise_J, rise_from_energy_deg
from notchbook.physics.strength import impact_strength_kJ_m2
from notchbook.statistics.summary import summarise

DEMO = Path(__file__).resolve().parents[2]
SPECIMENS = 10
_GROUPS = 8
# Shares of the hammer's energy that a record may take: inside the window of the methods with room for the spread.
_LOWEST_SHARE, _HIGHEST_SHARE, _SPREAD = 0.112, 0.6, 0.04

THEME = {"docs_dir": "site_src", "theme": {"name": "material", "font": False}}
"""What the handbook's mkdocs.yml shares with one for the same pages without the plugin."""


@dataclass(frozen=True, slots=True)
class _Setup:
    """Everything that a record names, with what its readings are made up from."""

    rig: Rig
    hammer: SwungHammer
    method: Method
    exercise: Exercise
    verification: Verification
    losses: Losses
    last_day: dt.date
    highest_share: float


def write_handbook(root: Path, records: int) -> None:
    """Write a handbook with so many records of ten specimens, free of errors, into the folder."""
    for name in ("procedures", "results/verifications"):
        shutil.copytree(DEMO / name, root / name)
    for path in (root / "procedures/materials").iterdir():
        # the strengths that are made up are typical of no material
        material = yaml.safe_load(path.read_text(encoding="utf-8"))
        material.pop("typical", None)
        path.write_text(yaml.safe_dump(material, sort_keys=False, allow_unicode=True), encoding="utf-8")
    (root / "results/tests").mkdir()
    (root / "site_src").mkdir()
    plugins = ["search", {"notchbook": {"deviations": "label"}}]
    config = {"site_name": f"Handbook of {records} records", **THEME, "plugins": plugins}
    (root / "mkdocs.yml").write_text(yaml.safe_dump(config, sort_keys=False), encoding="utf-8")
    handbook = open_handbook(root)
    setups = _setups(handbook)
    materials = sorted(handbook.library.materials)
    random = np.random.default_rng(1)
    for number in range(records):
        setup = setups[number % len(setups)]
        text = _record(setup, materials[number // len(setups) % len(materials)], number, random)
        (root / "results/tests" / f"record-{number:04d}.yaml").write_text(text, encoding="utf-8")


def _setups(handbook: Handbook) -> list[_Setup]:
    """Every exercise with every hammer of its method that a conforming verification covers."""
    library, evaluation = handbook.library, handbook.evaluation
    found = []
    today = dt.datetime.now(tz=dt.UTC).date()
    for (rig_id, hammer_id), verifications in sorted(evaluation.by_hammer.items()):
        hammer, rig = evaluation.hammers[rig_id, hammer_id], library.rigs[rig_id]
        newest = next(each for each in verifications if handbook.verdicts.verifications[each.id])
        losses = evaluation.verifications[newest.id].losses
        larger = [
            each.potential_energy_J
            for each in evaluation.hammers.values()
            if each.rig == rig_id
            and each.method == hammer.method
            and each.potential_energy_J > 1.01 * hammer.potential_energy_J
        ]
        # above this share of its energy the next larger hammer would have served
        share = min([_HIGHEST_SHARE, *(0.098 * energy / hammer.potential_energy_J for energy in larger)])
        for exercise in library.exercises.values():
            if exercise.method == hammer.method and exercise.specimen is not None and losses is not None:
                last = min(newest.valid_until, today)
                method = library.methods[hammer.method]
                found.append(_Setup(rig, hammer, method, exercise, newest, losses, last, share))
    return found


def _record(setup: _Setup, material: str, number: int, random: np.random.Generator) -> str:
    """The text of one record."""
    choice = setup.exercise.specimen
    assert choice is not None  # noqa: S101  # only such exercises are set up
    notch = setup.method.notch(choice.notch)
    width = 9.95 + random.permutation(11)[:SPECIMENS] / 100.0  # all different: no row looks copied
    thickness = np.round(random.uniform(3.95, 4.05, SPECIMENS), 2)
    remaining = np.round(random.uniform(7.95, 8.05, SPECIMENS), 2) if notch is not None else None
    share = random.uniform(_LOWEST_SHARE, max(setup.highest_share, _LOWEST_SHARE * 1.01))
    wanted = setup.hammer.potential_energy_J * share * random.uniform(1 - _SPREAD, 1 + _SPREAD, SPECIMENS)
    rise, reading = _readings(setup, wanted)
    energy = energy_from_rise_J(setup.hammer.moment_Nm, setup.hammer.release_angle_deg, rise) - _loss(setup, rise)
    strength = np.asarray(impact_strength_kJ_m2(energy, thickness, width if remaining is None else remaining))
    key, decimals = ("rise_angle_deg", 1) if setup.rig.indicator.reads == "angle" else ("indicated_energy_J", 3)
    rows = [
        f'  - {{id: "{index + 1:02d}", width_mm: {width[index]:.2f}, thickness_mm: {thickness[index]:.2f}, '
        + (f"remaining_width_mm: {remaining[index]:.2f}, " if remaining is not None else "")
        + f"{key}: {reading[index]:.{decimals}f}, break: C}}\n"
        for index in range(SPECIMENS)
    ]
    hours = setup.method.conditioning.hours.value if setup.method.conditioning.hours is not None else 0.0
    days = (setup.last_day - setup.verification.date).days
    text = (
        f"kind: test\ndate: {setup.verification.date + dt.timedelta(days=number * 7 % (days + 1))}\n"
        f"group: G{number % _GROUPS + 1}\nexercise: {setup.exercise.id}\n"
        f"rig: {setup.rig.id}\nhammer: {setup.hammer.id}\nmaterial: {material}\nbatch: {material.upper()}-01\n"
        f'specimen: {{type: "{choice.type}", notch: {choice.notch}, direction: {choice.direction}}}\n'
        f"conditioning: {{{_climate(setup.method.conditioning)}, hours: {max(24, round(hours))}}}\n"
        f"test_atmosphere: {{{_climate(setup.method.test_atmosphere)}}}\n"
        "specimens:\n"
    ) + "".join(rows)
    return text + _reported(energy, strength) if number % 2 else text


def _climate(asked: Climate) -> str:
    """The climate that the method asks for, as it stands in a record."""
    return f"temperature_C: {asked.temperature_C.value:.1f}, humidity_pct: {asked.humidity_pct.value:.0f}"


def _loss(setup: _Setup, rise_deg: FloatArray) -> FloatArray:
    loss = setup.losses.in_test_J(setup.method.loss_correction, rise_deg)
    assert loss is not None  # noqa: S101  # plastics methods need no later swings
    return np.asarray(loss)


def _readings(setup: _Setup, wanted_J: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Angles of rise that give about the wanted energies, and the readings to the scale's division they come from."""
    moment, release = setup.hammer.moment_Nm, setup.hammer.release_angle_deg
    indicated = wanted_J
    for _ in range(5):  # the loss hardly depends on the rise
        indicated = wanted_J + _loss(setup, np.asarray(rise_from_energy_deg(moment, release, indicated)))
    indicator = setup.rig.indicator
    if indicator.division_deg is not None:
        rise = np.asarray(rise_from_energy_deg(moment, release, indicated))
        rise = np.round(np.round(rise / indicator.division_deg) * indicator.division_deg, 1)
        return rise, rise
    division = indicator.division_J or 0.001
    reading = np.round(np.round(indicated / division) * division, 3)
    return np.asarray(rise_from_energy_deg(moment, release, reading)), reading


def _reported(energy_J: FloatArray, strength_kJ_m2: FloatArray) -> str:
    """What half of the groups hand in: mean, spread and the first three bars, worked out as the engine does."""
    summary = summarise(strength_kJ_m2.tolist())
    bars = [
        f'    "{index + 1:02d}": {{energy_J: {energy_J[index]:.3f}, strength_kJ_m2: {strength_kJ_m2[index]:.1f}}}\n'
        for index in range(3)
    ]
    return (
        f"reported:\n  mean_kJ_m2: {summary.mean:.1f}\n"
        f"  standard_deviation_kJ_m2: {summary.standard_deviation or 0.0:.2f}\n  specimens:\n"
    ) + "".join(bars)
