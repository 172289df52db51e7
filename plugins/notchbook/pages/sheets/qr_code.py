"""The address of a page as a QR code that prints: modules as one path of an SVG."""

from dataclasses import dataclass
from itertools import groupby

QUIET_ZONE = 4
"""Modules left white on each side (ISO/IEC 18004, four modules for a QR code; from memory, high certainty)."""
LEAST_WIDTH_mm = 25.0
"""Of the code without its quiet zone, where it is printed at its own size."""
LEAST_MODULE_mm = 0.5
"""A phone held a hand's breadth away still tells such modules apart (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class QrCode:
    """A code, its quiet zone included in all sizes."""

    address: str
    modules: int
    """Along one side."""
    width_mm: float
    """At which it prints large enough."""
    path: str
    """Rows of dark modules as strokes of width 1, in modules from the corner of the quiet zone."""


def qr_code(address: str) -> QrCode | None:
    """The code of an address with error correction M, which bears a stain; None where no code holds so much."""
    # it takes long to load, and a check draws no codes
    import segno

    try:
        # the smaller kind of code has another quiet zone, and not every phone reads it
        matrix = segno.make(address, error="m", micro=False).matrix
    except segno.DataOverflowError:
        return None
    module_mm = max(LEAST_WIDTH_mm / len(matrix), LEAST_MODULE_mm)
    modules = len(matrix) + 2 * QUIET_ZONE
    rows = (f"M{QUIET_ZONE} {QUIET_ZONE + y}.5{_strokes(row)}" for y, row in enumerate(matrix))
    return QrCode(address, modules, round(module_mm * modules, 2), "".join(rows))


def _strokes(row: bytes | bytearray) -> str:
    """Strokes over the dark modules of a row and steps over the light ones; those at its end are left out."""
    runs = [(dark, len(list(alike))) for dark, alike in groupby(row)]
    if not runs[-1][0]:
        runs.pop()
    return "".join(f"h{length}" if dark else f"m{length} 0" for dark, length in runs)
