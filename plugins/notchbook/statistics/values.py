"""Type shared by the functions of this room."""

from collections.abc import Sequence
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

FloatArray: TypeAlias = NDArray[np.float64]
"""An array of double precision numbers."""

Values: TypeAlias = Sequence[float] | FloatArray
"""The values of a set, one dimension, in any order."""


def as_list(values: Values) -> list[float]:
    """Give the values as plain numbers, which are quicker than an array for the ten values of a usual set.

    Args:
        values: One dimension, any length.

    Returns:
        The values in their order.
    """
    return values.tolist() if isinstance(values, np.ndarray) else list(values)
