"""How the scatter of values divides between what holds groups of them together, and groups of groups."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from notchbook.statistics.summary import summarise


@dataclass(frozen=True, slots=True)
class Components:
    """Components of variance as standard deviations, in the unit of the values; None where nothing tells them.

    Attributes:
        within_sd: from value to value in a group; None where no group has two values.
        groups_sd: from group to group of one class, beside that; None where no class has two groups.
        classes_sd: from class to class, beside both; None with one class, or where the others are not known.
        classes: number of classes.
        groups: number of groups.
        n: number of values.
    """

    within_sd: float | None
    groups_sd: float | None
    classes_sd: float | None
    classes: int
    groups: int
    n: int


def nested_components(classes: Sequence[Sequence[Sequence[float]]]) -> Components:
    """Components of variance of values in groups in classes, of unequal numbers, such as bars in records in years.

    The sums of squares of a nested analysis of variance are held equal to their expectations (Henderson's first method,
    C. R. Henderson, Biometrics 9 (1953), from memory): with n values in a group, N in a class and T in all, of b groups
    in a classes, ``MS_within = s^2``, ``MS_groups = s^2 + k1 g^2`` with ``k1 = (T - Q)/(b - a)`` and
    ``Q = sum over classes of sum(n^2)/N``, and ``MS_classes = s^2 + k2 g^2 + k3 c^2`` with
    ``k2 = (Q - sum(n^2)/T)/(a - 1)`` and ``k3 = (T - sum(N^2)/T)/(a - 1)``. A variance that comes out negative is 0.

    Args:
        classes: A sequence of groups a class, a sequence of finite values a group; empty ones are passed over.

    Returns:
        The components.

    Raises:
        ValueError: There is no value, or one is not finite.
    """
    kept = [[list(group) for group in groups if len(group)] for groups in classes]
    kept = [groups for groups in kept if groups]
    values = [value for groups in kept for group in groups for value in group]
    # about their mean, so that large values that lie close together keep their digits
    mean = summarise(values).mean
    shifted = [[[value - mean for value in group] for group in groups] for groups in kept]
    total, groups_number = len(values), sum(map(len, kept))
    within, between, apart = 0.0, 0.0, 0.0
    overall = math.fsum(value - mean for value in values) / total
    q = squares = of_classes = 0.0
    for groups in shifted:
        size = sum(map(len, groups))
        class_mean = math.fsum(value for group in groups for value in group) / size
        apart += size * (class_mean - overall) ** 2
        of_classes += size**2
        for group in groups:
            group_mean = math.fsum(group) / len(group)
            within += math.fsum((value - group_mean) ** 2 for value in group)
            between += len(group) * (group_mean - class_mean) ** 2
            q += len(group) ** 2 / size
            squares += len(group) ** 2
    freedoms = (total - groups_number, groups_number - len(kept), len(kept) - 1)
    variance = within / freedoms[0] if freedoms[0] else None
    of_groups = of_class = None
    if variance is not None and freedoms[1]:
        of_groups = max((between / freedoms[1] - variance) / ((total - q) / freedoms[1]), 0.0)
        if freedoms[2]:
            k2, k3 = (q - squares / total) / freedoms[2], (total - of_classes / total) / freedoms[2]
            of_class = max((apart / freedoms[2] - variance - k2 * of_groups) / k3, 0.0)
    return Components(_root(variance), _root(of_groups), _root(of_class), len(kept), groups_number, total)


def _root(variance: float | None) -> float | None:
    return None if variance is None else math.sqrt(variance)
