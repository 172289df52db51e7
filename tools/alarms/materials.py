"""Materials as they really are: how strong, how scattered, how they break, and in which batches they come."""

from dataclasses import dataclass

import numpy as np

from notchbook.physics.arrays import FloatArray

NAMES = ("abs", "hips", "pa6", "pbt", "pc", "pe-hd", "pet", "pla", "pmma", "pom", "pp-b", "pp-h", "ps", "pvc-u", "san")
_KINDS = {
    # share of each break type, and what it takes of the energy of the first
    "brittle": ((("C", 1.0, 1.0),), 0.45),
    "hinging": ((("C", 0.7, 1.0), ("H", 0.3, 1.05)), 0.2),
    "tearing": ((("P", 0.75, 1.0), ("H", 0.25, 0.85)), 0.15),
    "tough": ((("P", 0.7, 1.0), ("N", 0.3, 1.4)), 0.1),
    "turning tough": ((("C", 0.7, 1.0), ("N", 0.3, 2.5)), 0.05),
    "unbroken": ((("N", 1.0, 1.0),), 0.05),
}
_SHAPES = ("normal", "lognormal", "weibull")


@dataclass(frozen=True, slots=True)
class Material:
    """A grade."""

    id: str
    notched_kJ_m2: float
    """Charpy strength with notch A, in the mean of all batches."""
    variation: float
    """Coefficient of variation of single bars."""
    between: float
    """Relative standard deviation between records of one batch."""
    shape: str
    kind: str
    factors: dict[tuple[str, str], float]
    """How many times stronger it is by method and notch than with notch A by ISO 179-1."""
    batches: tuple[tuple[str, float], ...]
    """Name of each batch and how many times stronger it is than the mean; the oldest first."""

    def strengths(self, mean_kJ_m2: float, letters: list[str], random: np.random.Generator) -> FloatArray:
        """Strengths of bars that break so; for one that does not break, what it takes."""
        takes = {letter: factor for letter, _, factor in _KINDS[self.kind][0]}
        scatter = _scatter(self.shape, self.variation, len(letters), random)
        return np.maximum(mean_kJ_m2 * np.array([takes[each] for each in letters]) * scatter, 0.2 * mean_kJ_m2)

    def letters(self, number: int, random: np.random.Generator) -> list[str]:
        """How bars break."""
        shares = _KINDS[self.kind][0]
        names, weights = [each[0] for each in shares], [each[1] for each in shares]
        return [str(each) for each in random.choice(names, number, p=weights)]


def _scatter(shape: str, variation: float, number: int, random: np.random.Generator) -> FloatArray:
    """Factors with mean one and that coefficient of variation."""
    if shape == "lognormal":
        sigma = np.sqrt(np.log1p(variation**2))
        return np.asarray(random.lognormal(-(sigma**2) / 2.0, sigma, number))
    if shape == "weibull":
        # the modulus by a common approximation, the mean set to one by what was drawn from very many
        modulus = variation**-1.086
        typical = random.weibull(modulus, 4000).mean()
        return np.asarray(random.weibull(modulus, number) / typical)
    return np.asarray(random.normal(1.0, variation, number))


def materials(random: np.random.Generator, number: int, years: range) -> list[Material]:
    """So many grades with batches for these years."""
    found = []
    weights = [each[1] for each in _KINDS.values()]
    for name in random.permutation(NAMES)[:number]:
        kind = str(random.choice(list(_KINDS), p=weights))
        blunt, plain, izod, cold = random.uniform((1.2, 3.0, 0.85, 0.4), (2.5, 10.0, 1.4, 0.95))
        found.append(
            Material(
                str(name),
                float(np.exp(random.uniform(np.log(1.5), np.log(45.0)))),
                float(np.exp(random.uniform(np.log(0.02), np.log(0.25)))),
                float(random.uniform(0.02, 0.08)),
                str(random.choice(_SHAPES)),
                kind,
                {
                    ("iso-179-1", "A"): 1.0,
                    ("iso-179-1", "B"): blunt,
                    ("iso-179-1", "none"): plain,
                    ("iso-180", "A"): izod,
                    ("saltmere-cold", "A"): cold,
                },
                tuple(_batches(str(name), random, years)),
            )
        )
    return found


def _batches(name: str, random: np.random.Generator, years: range) -> list[tuple[str, float]]:
    """Names as suppliers and technicians make them: numbered within a year, running on, or a lot number."""
    style, start = random.integers(3), int(random.integers(10000, 90000))
    found = []
    for place, year in enumerate(years):
        for part in range(int(random.integers(1, 3))):
            number = 2 * place + part + 1
            names = (
                f"{name.upper()}-{year % 100}-{part + 1:02d}",
                f"{name.upper()}-{number}",
                f"{start + 37 * number}",
            )
            found.append((names[style], float(random.lognormal(0.0, 0.04))))
    return found
