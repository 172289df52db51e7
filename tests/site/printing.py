"""A page of a built site as the browser prints it, and what stands on its sheets."""

import base64
import io
import re
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest
from browser import prefer
from numpy.typing import NDArray
from PIL import Image
from selenium.webdriver import Chrome

PROGRAMS = ("pdfinfo", "pdftotext", "pdftoppm")
needs_programs = pytest.mark.skipif(not all(map(shutil.which, PROGRAMS)), reason="nothing here reads PDF")
POINTS_PER_mm = 72.0 / 25.4
A4_pt = (595.3, 841.9)
_SAME_LINE_pt = 2.0
_WORD = re.compile(r'<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(.*?)</word>')
_PAGE = re.compile(r'<page width="([\d.]+)" height="([\d.]+)">(.*?)</page>', re.DOTALL)


@dataclass(frozen=True)
class Word:
    """A word of a sheet, in points from its upper left corner."""

    left: float
    top: float
    right: float
    bottom: float
    text: str


@dataclass(frozen=True)
class Sheet:
    """One side of paper."""

    size_pt: tuple[float, float]
    words: list[Word]


def print_page(chrome: Chrome, address: str, target: Path, scheme: str = "light", *, backgrounds: bool = True) -> Path:
    """Print the page at an address to a PDF, on the paper that its style asks for."""
    prefer(chrome, scheme)
    chrome.get(address)
    options = {"preferCSSPageSize": True, "printBackground": backgrounds}
    target.write_bytes(base64.b64decode(chrome.execute_cdp_cmd("Page.printToPDF", options)["data"]))
    return target


def said(*command: str) -> str:
    return subprocess.run(command, check=True, capture_output=True, text=True, timeout=120).stdout


def sheets(pdf: Path) -> list[Sheet]:
    """All sheets with their words."""
    return [
        Sheet(
            (float(width), float(height)),
            [Word(*map(float, found[:4]), found[4]) for found in _WORD.findall(inside)],
        )
        for width, height, inside in _PAGE.findall(said("pdftotext", "-bbox", str(pdf), "-"))
    ]


def lines_across(sheet: Sheet) -> list[str]:
    """The lines of a sheet from the top, each read across its whole width."""
    lines: list[list[Word]] = []
    for word in sorted(sheet.words, key=lambda each: each.bottom):
        if lines and word.bottom - lines[-1][-1].bottom < _SAME_LINE_pt:
            lines[-1].append(word)
        else:
            lines.append([word])
    return [" ".join(each.text for each in sorted(line, key=lambda each: each.left)) for line in lines]


def text_of(pdf: Path, sheet: int | None = None) -> str:
    """The text of one sheet, counted from 1, or of all, with runs of space as one.

    Its order is that of the file, which is not always that of reading.
    """
    only = ["-f", str(sheet), "-l", str(sheet)] if sheet else []
    return re.sub(r"\s+", " ", said("pdftotext", "-raw", *only, str(pdf), "-"))


def picture(pdf: Path, sheet: int = 1, dots_per_inch: int = 100) -> NDArray[np.uint8]:
    """A sheet, counted from 1, in grey, shape (height, width)."""
    command = ["pdftoppm", "-gray", "-r", str(dots_per_inch), "-f", str(sheet), "-l", str(sheet), str(pdf)]
    shown = subprocess.run(command, check=True, capture_output=True, timeout=120).stdout
    return np.asarray(Image.open(io.BytesIO(shown)), dtype=np.uint8)
