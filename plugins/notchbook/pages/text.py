"""How foreign text and symbols are set on a page."""

from markupsafe import Markup, escape

from notchbook.wording.lines import one_line


def shown(value: str) -> Markup:
    """Foreign text as text and nothing else; markup of our own as it is."""
    return escape(value if isinstance(value, Markup) else one_line(value))


def finalized(value: object) -> object:
    """A value of a template before it is escaped: foreign text on one line; markup of our own and numbers as they are.

    Every value passes here, so that it asks for the type alone.
    """
    return one_line(value) if type(value) is str else value


def symbol(value: str) -> Markup:
    """A symbol with its index lowered: `a_cN`."""
    stem, _, index = (shown(part) for part in value.partition("_"))
    return Markup("<i>{}</i><sub>{}</sub>").format(stem, index) if index else Markup("<i>{}</i>").format(stem)
