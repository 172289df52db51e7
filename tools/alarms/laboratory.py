"""A made-up laboratory: its rigs, its hammers with the losses of each year, its materials, and their files."""

import datetime as dt
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import yaml

from alarms.materials import Material, materials
from alarms.pendulums import Hammer, Scale, fits, free_swings, losing, striking_length_mm

DEMO = Path(__file__).resolve().parents[2]
YEARS = range(2021, 2026)
"""Academic years by their autumn."""
_MATERIALS = 9

_SMALL, _LARGE, _IZOD = "small", "large", "izod"
_CLASSES: dict[str, tuple[str, float, tuple[tuple[float, float], ...], tuple[float, ...]]] = {
    # method, velocity, nominal energies with the loss that each is allowed, release angles
    _SMALL: ("iso-179-1", 2.9, ((0.5, 4.0), (1.0, 2.0), (2.0, 1.0), (4.0, 0.5), (5.0, 0.5)), (150.0, 124.4, 140.0)),
    _LARGE: ("iso-179-1", 3.8, ((7.5, 0.5), (15.0, 0.5), (25.0, 0.5)), (150.0, 160.0)),
    _IZOD: ("iso-180", 3.5, ((1.0, 2.0), (2.75, 1.0), (5.5, 0.5), (11.0, 0.5), (22.0, 0.5)), (125.5, 150.0)),
}
_SCALES = {
    _SMALL: (("angle", 0.1), ("angle", 0.2), ("angle", 0.5), ("angle", 1.0), ("energy", 0.001), ("energy", 0.002)),
    _LARGE: (("angle", 0.1), ("angle", 0.2), ("angle", 0.5), ("energy", 0.005), ("energy", 0.01), ("energy", 0.02)),
    _IZOD: (("angle", 0.1), ("angle", 0.2), ("angle", 0.5), ("energy", 0.002), ("energy", 0.005)),
}
_DECIMALS = {0.1: 2, 0.2: 1, 0.5: 2, 1.0: 1, 0.001: 4, 0.002: 3, 0.005: 4, 0.01: 3, 0.02: 2}


@dataclass(frozen=True, slots=True)
class Rig:
    """A rig with its hammers year by year."""

    id: str
    scale: Scale
    hammers: dict[int, list[Hammer]]
    """By year, the largest first."""
    data: dict[str, Any]
    """Its file."""


@dataclass(frozen=True, slots=True)
class Laboratory:
    """Everything that records are made in."""

    rigs: list[Rig]
    materials: list[Material]
    caliper_mm: float


def laboratory(random: np.random.Generator) -> Laboratory:
    """A laboratory of two to four rigs."""
    kinds = [_SMALL, *random.choice([_SMALL, _LARGE, _IZOD], int(random.integers(1, 4)))]
    rigs = [_rig(f"rig-{place + 1}", str(kind), random) for place, kind in enumerate(kinds)]
    return Laboratory(
        [each for each in rigs if each.hammers[YEARS[0]]],
        materials(random, _MATERIALS, YEARS),
        float(random.choice([0.01, 0.02, 0.05])),
    )


def _rig(name: str, kind: str, random: np.random.Generator) -> Rig:
    method, velocity, energies, angles = _CLASSES[kind]
    reads, division = _SCALES[kind][int(random.integers(len(_SCALES[kind])))]
    reads, division = str(reads), float(division)
    halves = reads == "angle" and random.random() < 0.4
    scale = Scale(reads, division, division / 2.0 if halves else division, _DECIMALS[division])
    release = float(angles[int(random.integers(len(angles)))])
    first: list[tuple[Hammer, float, float]] = []
    stated: dict[str, dict[str, Any]] = {}
    for nominal, allowed in sorted(energies, reverse=True):
        if not fits(scale, nominal, release, allowed):
            continue
        moment = round(nominal / (1.0 - np.cos(np.radians(release))) * random.uniform(0.997, 1.003), 4)
        edge = {"radius_mm": 0.8} if kind == _IZOD else {"radius_mm": 2.0, "angle_deg": 30}
        uses = [method, "saltmere-cold"] if kind == _SMALL and nominal <= 1.0 else [method]
        for use in uses:
            name_of = f"{'cold' if use == 'saltmere-cold' else 'izod' if kind == _IZOD else 'charpy'}-{nominal:g}"
            hammer = Hammer(name_of, use, nominal, moment, release, allowed, 0.0, 0.0)
            first.append((hammer, float(random.uniform(0.3, 0.6)), float(random.uniform(0.15, 0.4))))
            stated[name_of] = {
                "method": use, "nominal_energy_J": nominal, "release_angle_deg": release, "moment_Nm": float(moment),
                "striking_edge": dict(edge),
            }  # fmt: skip
    hammers: dict[int, list[Hammer]] = {}
    drift = random.uniform(0.99, 1.08, len(first))
    for place, year in enumerate(YEARS):
        wear = drift**place * random.uniform(0.97, 1.03, len(first))
        hammers[year] = [
            losing(hammer, share * factor, pointer)
            for (hammer, share, pointer), factor in zip(first, wear, strict=True)
        ]
    data: dict[str, Any] = {
        "kind": "rig", "title": f"Pendulum {name}", "gravity_m_s2": 9.81,
        "striking_length_mm": striking_length_mm(velocity, release),
        "indicator": {"reads": reads, "division_deg" if reads == "angle" else "division_J": division},
    }  # fmt: skip
    if kind == _IZOD:
        data["clamp"] = {"strike_height_mm": 22.0, "jaw_edge_radius_mm": 0.2}
    else:
        data["supports"] = {"span_mm": 62.2, "edge_radius_mm": 1.0}
    return Rig(name, scale, hammers, data | {"hammers": stated})


def write_laboratory(made: Laboratory, root: Path, random: np.random.Generator) -> None:
    """Write settings, procedures and verifications."""
    write(root / "mkdocs.yml", {"site_name": "Made up", "plugins": [{"notchbook": {"deviations": "label"}}]})
    for name in ("hazards.yaml", "exercises", "methods"):
        source, target = DEMO / "procedures" / name, root / "procedures" / name
        if source.is_dir():
            shutil.copytree(source, target)
        else:
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(source, target)
    for rig in made.rigs:
        write(root / f"procedures/rigs/{rig.id}.yaml", rig.data)
        for name, data in _verifications(rig, random):
            write(root / f"results/verifications/{name}.yaml", data)
    for material in made.materials:
        write(root / f"procedures/materials/{material.id}.yaml", _material(material, random))


def _verifications(rig: Rig, random: np.random.Generator) -> Iterator[tuple[str, dict[str, Any]]]:
    """One of each hammer in each September, valid for a year."""
    for year, hammers in rig.hammers.items():
        for hammer in hammers:
            day = dt.date(year, 9, int(random.integers(1, 21)))
            first, second = free_swings(hammer, rig.scale)
            names = ("first_rise_deg", "second_rise_deg")
            if rig.scale.reads == "energy":
                names = ("first_indicated_energy_J", "second_indicated_energy_J")
            arm = float(rig.data["striking_length_mm"])
            force = 1000.0 * hammer.moment_Nm / arm * random.normal(1.0, 0.0007)
            yield (
                f"{day}-{rig.id}-{hammer.id}",
                {
                    "kind": "verification", "date": str(day), "rig": rig.id, "hammer": hammer.id, "checked_by": "LT-2",
                    "valid_until": str(day.replace(year=year + 1)),
                    "weighing": {"force_N": round(float(force), 4), "arm_mm": arm},
                    "free_swings": dict(zip(names, (first, second), strict=True)),
                },
            )  # fmt: skip


def _material(material: Material, random: np.random.Generator) -> dict[str, Any]:
    """Its file, with the ranges that grades of the kind are known to have; the grade lies anywhere within."""
    typical = []
    for (method, notch), factor in material.factors.items():
        if method == "saltmere-cold" or (notch != "A" and random.random() < 0.5):
            continue
        width, place = np.log(random.uniform(1.6, 5.0)), random.uniform(0.08, 0.92)
        middle = np.log(material.notched_kJ_m2 * factor)
        low, high = np.exp(middle - place * width), np.exp(middle + (1.0 - place) * width)
        strengths = [float(f"{each:.2g}") for each in (low, high)]
        typical.append({"method": method, "notch": notch, "strength_kJ_m2": strengths, "source": "made up"})
    name = material.id.upper()
    return {"kind": "material", "title": name, "symbol": name, "form": "Injection-moulded bars", "typical": typical}


def write(path: Path, data: dict[str, Any]) -> None:
    """Write a data file."""
    path.parent.mkdir(parents=True, exist_ok=True)
    text = yaml.dump(data, Dumper=yaml.CSafeDumper, sort_keys=False, default_flow_style=None, width=200)
    path.write_text(text, encoding="utf-8")
