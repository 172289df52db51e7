"""A drawing as an SVG file: whether it only draws.

A drawing is published on the site's own host, and whoever opens it by itself runs what is in it. It is read by expat as
the XML that a browser takes it for; only what is listed may stand in it: the elements and attributes of SVG 2 that
draw, describe or move, and run nothing.
"""

import html
import re
from collections.abc import Iterator
from xml.parsers import expat

from notchbook.reading.files import Refused
from notchbook.site_reading import site_rules
from notchbook.site_reading.sanitiser import kept_attributes

_ELEMENTS = """
a animate animateMotion animateTransform circle clipPath cursor defs desc ellipse feBlend feColorMatrix
feComponentTransfer feComposite feConvolveMatrix feDiffuseLighting feDisplacementMap feDistantLight feDropShadow
feFlood feFuncA feFuncB feFuncG feFuncR feGaussianBlur feImage feMerge feMergeNode feMorphology feOffset
fePointLight feSpecularLighting feSpotLight feTile feTurbulence filter flowRoot g image line linearGradient marker
mask metadata mpath path pattern polygon polyline radialGradient rect set solidcolor stop style svg switch symbol
text textPath title tspan use view
"""
ELEMENTS = frozenset(_ELEMENTS.split())
"""SVG 2, appendix E; without script, foreignObject and what plays sound or pictures of another host."""
_ATTRIBUTES = """
accumulate additive alignment-baseline amplitude attributeName attributeType azimuth baseFrequency baseProfile
baseline-shift begin bias by calcMode class clip clip-path clip-rule clipPathUnits color color-interpolation
color-interpolation-filters color-rendering contentScriptType contentStyleType cursor cx cy d diffuseConstant
direction display divisor dominant-baseline download dur dx dy edgeMode elevation enable-background end exponent
fill fill-opacity fill-rule filter filterUnits flood-color flood-opacity focusable font font-family
font-feature-settings font-size font-size-adjust font-stretch font-style font-variant font-variant-ligatures
font-weight fr from fx fy gradientTransform gradientUnits height hreflang id image-rendering in in2
intercept isolation k1 k2 k3 k4 kernelMatrix kernelUnitLength keyPoints keySplines keyTimes lang lengthAdjust
letter-spacing lighting-color limitingConeAngle line-height marker marker-end marker-mid marker-start markerHeight
markerUnits markerWidth mask mask-type maskContentUnits maskUnits max media method min mix-blend-mode mode name
numOctaves offset opacity operator order orient origin overflow paint-order path pathLength patternContentUnits
patternTransform patternUnits pointer-events points pointsAtX pointsAtY pointsAtZ preserveAlpha
preserveAspectRatio primitiveUnits r radius refX refY rel repeatCount repeatDur requiredExtensions
requiredFeatures restart result role rotate rx ry scale seed shape-rendering side slope solid-color solid-opacity
spacing specularConstant specularExponent spreadMethod startOffset stdDeviation stitchTiles stop-color
stop-opacity stroke stroke-dasharray stroke-dashoffset stroke-linecap stroke-linejoin stroke-miterlimit
stroke-opacity stroke-width style surfaceScale systemLanguage tabindex tableValues target targetX targetY
text-align text-anchor text-decoration text-overflow text-rendering textLength title to transform transform-box
transform-origin type unicode-bidi values vector-effect version viewBox viewTarget visibility white-space width
word-spacing writing-mode x x1 x2 xChannelSelector y y1 y2 yChannelSelector z zoomAndPan
"""
ATTRIBUTES = frozenset(_ATTRIBUTES.split())
"""Without a namespace; SVG 2, appendices F and G, without those that hold a script, and those of older drawings."""


LARGEST_DRAWING = 4 << 20
"""Bytes; drawings with photographs in them are better saved as pictures."""
_MOST_TROUBLES = 100
_LONGEST_SHOWN = 60
_SVG = "http://www.w3.org/2000/svg"
_XLINK = "http://www.w3.org/1999/xlink"
_XML = "http://www.w3.org/XML/1998/namespace"
# Namespaces that browsers give a meaning; what drawing programs note in others does nothing.
_ALIVE = {"http://www.w3.org/1999/xhtml": "HTML", "http://www.w3.org/1998/Math/MathML": "MathML"}
_PICTURE = re.compile(r"data:image/(?:png|jpeg|gif|webp);base64,[A-Za-z0-9+/=\s]*\Z")
# CSS Syntax 3: an escape can hide a name, an at-rule can load; functions that take an address.
_LOADS = re.compile(r"\\|@import|@namespace|@font-face|(?:url|src|image|image-set)\(\s*(?![\s\"']*#)", re.IGNORECASE)
_LOADED = "draw with what the file itself holds; save it as a plain drawing"


def _refused(message: str, hint: str, place: tuple[int, int] = (1, 1)) -> Refused:
    return Refused(site_rules.DOCS_FILE, message, hint, place)


class _EnoughError(Exception):
    """More is wrong than anybody mends one by one."""


def drawing_troubles(raw: bytes) -> Iterator[Refused]:
    """Everything in a drawing that loads or runs something, or why it cannot be read."""
    if len(raw) > LARGEST_DRAWING:
        message = f"has more than {LARGEST_DRAWING:,} bytes, which are not looked through"
        yield _refused(message, "save it as a picture, such as .png")
        return
    look = _Look()
    try:
        look.parser.Parse(raw, True)
    except _EnoughError:
        pass
    except expat.ExpatError as error:
        message = f"cannot be read as a drawing: {expat.ErrorString(error.code)}"
        look.found.append(_refused(message, "save it anew as a plain drawing", (error.lineno, error.offset + 1)))
    except (ValueError, LookupError):  # an encoding that Python does not know
        look.found.append(_refused("cannot be read as a drawing", "save it anew in UTF-8"))
    yield from look.found


class _Look:
    def __init__(self) -> None:
        self.found: list[Refused] = []
        self._style: list[str] | None = None
        self.parser = expat.ParserCreate(namespace_separator=" ")
        self.parser.StartDoctypeDeclHandler = self._doctype
        self.parser.ProcessingInstructionHandler = self._instruction
        self.parser.StartElementHandler = self._start
        self.parser.EndElementHandler = self._end
        self.parser.CharacterDataHandler = self._text

    def _refuse(self, message: str, hint: str) -> None:
        place = (self.parser.CurrentLineNumber, self.parser.CurrentColumnNumber + 1)
        self.found.append(_refused(message, hint, place))
        if len(self.found) >= _MOST_TROUBLES:
            raise _EnoughError

    def _doctype(self, _name: str, _system: str | None, _public: str | None, has_inner: int) -> None:
        if has_inner:
            self._refuse("declares entities, which can stand for anything", "save it as a plain drawing")
            raise _EnoughError  # before one of them grows

    def _instruction(self, target: str, _data: str) -> None:
        self._refuse(f"holds the instruction <?{target[:_LONGEST_SHOWN]}>", "take it out")

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        space, _, local = name.rpartition(" ")
        if space in _ALIVE:
            self._refuse(f"holds <{local[:_LONGEST_SHOWN]}> of {_ALIVE[space]}", "turn texts into plain <text>")
        elif space in ("", _SVG):
            if local not in ELEMENTS:
                self._refuse(f"holds <{local[:_LONGEST_SHOWN]}>, which does more than draw", "take it out")
            for key, value in attributes.items():
                self._attribute(local, key, value)
            if local == "style":
                self._style = []

    def _attribute(self, element: str, key: str, value: str) -> None:
        space, _, local = key.rpartition(" ")
        shown = value[:_LONGEST_SHOWN]
        if local == "href" and space in ("", _XLINK):
            if not _is_harmless(element, value):
                self._refuse(f"<{element}> leads to '{shown}'", "lead to a part of the drawing by #, or take it out")
        elif space == "":
            if local not in ATTRIBUTES and not local.startswith(("aria-", "data-")):
                self._refuse(f"<{element}> has the attribute '{local[:_LONGEST_SHOWN]}'", "take it out")
            elif local == "attributeName" and value not in ATTRIBUTES:
                self._refuse(f"<{element}> changes '{shown}' while it is looked at", "take it out")
            elif _LOADS.search(value):
                self._refuse(f"<{element}> loads something by {local}", _LOADED)
        elif space == _XML and local == "base":
            self._refuse("moves the place that its links start from", "take xml:base out")

    def _text(self, text: str) -> None:
        if self._style is not None:
            self._style.append(text)

    def _end(self, name: str) -> None:
        if self._style is not None and name.rpartition(" ")[2] == "style":
            if _LOADS.search("".join(self._style)):
                self._refuse("loads something by its style", _LOADED)
            self._style = None


def _is_harmless(element: str, address: str) -> bool:
    """Whether an address leads to a part of the drawing, holds a picture, or is a link as pages may have it."""
    if address.startswith("#") or (element in ("image", "feImage") and _PICTURE.match(address)):
        return True
    return element == "a" and "href" in kept_attributes("a", f'<a href="{html.escape(address)}">')
