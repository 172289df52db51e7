"""Types shared by the functions of this room."""

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

FloatArray: TypeAlias = NDArray[np.float64]
"""An array of double precision numbers, any shape."""

Floats: TypeAlias = float | FloatArray
"""One number or an array; several arguments follow numpy's broadcasting, and numbers in give a number out."""
