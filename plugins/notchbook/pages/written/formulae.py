"""Formulae: TeX in a page's text to MathML, at build time, so that no page needs a script or another host for them."""

import html
import re
from functools import cache, lru_cache

from markupsafe import Markup
from math_core import LatexError, LatexToMathML

# The converter follows nesting on the stack; far fewer levels than a stack holds are more than a formula has.
_LONGEST = 2_000
_DEEPEST = 50
_OPENS_OR_ENDS = re.compile(r"\\[\\{}\[\]]|(?P<opens>\{|\[|\\left\b|\\begin\b)|(?P<ends>\}|\]|\\right\b|\\end\b)")
_COLOUR_CODES = re.compile(r"\x1b\[[0-9;]*m")
_PLACE = re.compile(r"input:(\d+):(\d+)")


class FormulaError(ValueError):
    """TeX that is no formula; the column is that of the trouble in its line, from 1."""

    def __init__(self, message: str, line: int, column: int) -> None:
        super().__init__(message)
        self.line = line
        self.column = column


@cache
def _converter() -> LatexToMathML:
    return LatexToMathML(pretty_print="never")


# of the formulae of a worked bar most stand on the pages of many records
@lru_cache(maxsize=1024)
def mathml(tex: str, *, block: bool = False, label: str = "Formula") -> Markup:
    """The formula as MathML with the TeX as its alternative text; raises FormulaError.

    A block scrolls in its own region, which has the label, where it is wider than the page. Neither form enters the
    search index, which would keep it as a row of single letters.
    """
    _refuse_too_much(tex)
    try:
        converted = _converter().convert_with_local_state(tex, displaystyle=block)
    except LatexError as error:
        raise _plain_error(str(error)) from None
    alternative = html.escape(" ".join(tex.split()))
    element = converted.replace("<math", f'<math alttext="{alternative}"', 1)
    if block:
        return Markup(  # noqa: S704  # the converter escapes what stands in the TeX
            f'<div class="nb-formula" tabindex="0" role="region" aria-label="{html.escape(label)}" data-search-exclude>'
            f"{element}</div>"
        )
    return Markup(f"<span data-search-exclude>{element}</span>")  # noqa: S704


def _refuse_too_much(tex: str) -> None:
    if len(tex) > _LONGEST:
        raise FormulaError(f"it has {len(tex):,} characters; it can have {_LONGEST:,}", 1, 1)
    depth = 0
    for mark in _OPENS_OR_ENDS.finditer(tex):
        depth += 1 if mark["opens"] else -1 if mark["ends"] else 0
        if depth > _DEEPEST:
            line = tex.count("\n", 0, mark.start()) + 1
            column = mark.start() - tex.rfind("\n", 0, mark.start())
            raise FormulaError(f"it is nested more than {_DEEPEST} levels deep", line, column)


def _plain_error(report: str) -> FormulaError:
    """The first sentence of the converter's report, which is drawn for a terminal, and the place that it names."""
    lines = [line.strip() for line in _COLOUR_CODES.sub("", report).splitlines() if line.strip()]
    message = lines[0].removeprefix("Error:").strip() if lines else "is no formula"
    place = _PLACE.search(report if not lines else "\n".join(lines))
    return FormulaError(message, int(place.group(1)) if place else 1, int(place.group(2)) if place else 1)
