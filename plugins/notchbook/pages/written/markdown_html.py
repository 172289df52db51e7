"""The HTML of a hand-written page as the site will make it, as far as that can be told without building the site."""

import copy
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any
from xml.etree.ElementTree import Element

import markdown
from markdown.treeprocessors import Treeprocessor

_BUILT_IN = ("toc", "tables", "fenced_code")
"""What MkDocs always adds."""
_OWN = frozenset(
    ["abbr", "admonition", "attr_list", "codehilite", "def_list", "extra", "fenced_code", "footnotes", "legacy_attrs",
     "legacy_em", "md_in_html", "meta", "nl2br", "sane_lists", "smarty", "tables", "toc", "wikilinks"]
)  # fmt: skip
_FAMILY = "pymdownx."
_LEFT_OUT = frozenset({"pymdownx.b64", "pymdownx.pathconverter"})
"""They need to know where files and pages lie in the site."""
_MOST_EXTENSIONS = 100


class Converter:
    """Markdown with the extensions of a site: those of Markdown itself and of the usual family.

    Others take part in the build alone, where the HTML is looked at again.
    """

    def __init__(self, listed: Any, root: Path) -> None:
        """Take the extensions as `markdown_extensions` of mkdocs.yml lists them, and the handbook's root."""
        self._markdown = markdown.Markdown()
        wanted = {**{name: {} for name in _BUILT_IN}, **dict(_known(listed))}
        for name, settings in wanted.items():
            if not self._add(name, _usable(name, settings, root)):
                self._add(name, {})

        self._addresses = _Addresses()
        # after all that makes links of text, as MkDocs does it
        self._markdown.treeprocessors.register(self._addresses, "addresses", 0)

    def html(self, text: str, address: Callable[[str], str] | None = None) -> str:
        """The HTML; raises what an extension raises, and `RecursionError` for what is nested too deep.

        Arguments:
            text: the page, in Markdown.
            address: gives what a link or a picture that is written in Markdown leads to; as written where left out.
        """
        self._markdown.reset()
        self._addresses.address = address
        return str(self._markdown.convert(text))

    def _add(self, name: str, settings: dict[str, Any]) -> bool:
        try:
            self._markdown.registerExtensions([name], {name: copy.deepcopy(settings)})
        except Exception:  # whatever an extension says of its settings, the build says again
            return False
        return True


class _Addresses(Treeprocessor):  # type: ignore[misc]  # the library is untyped
    """Puts addresses in the place of the files that links and pictures name."""

    address: Callable[[str], str] | None = None

    def run(self, root: Element) -> None:
        for element in root.iter() if self.address is not None else ():
            key = {"a": "href", "img": "src"}.get(element.tag, "")
            written = element.get(key)
            # what Markdown writes in code, so that robots cannot read it, is an address of mail
            if self.address is not None and written is not None and "\x02" not in written:
                element.set(key, self.address(written))


def left_out(listed: Any) -> list[str]:
    """The extensions of a site that take no part here, by name."""
    known = {name for name, _ in _known(listed)}
    names = [name for name, _ in _named(listed)]
    return [each for each in names if each.removeprefix("markdown.extensions.") not in known]


def _known(listed: Any) -> Iterator[tuple[str, dict[str, Any]]]:
    for name, settings in _named(listed):
        short = name.removeprefix("markdown.extensions.")
        if short in _OWN or (name.startswith(_FAMILY) and name not in _LEFT_OUT):
            yield short, settings if isinstance(settings, dict) else {}


def _named(listed: Any) -> Iterator[tuple[str, Any]]:
    if isinstance(listed, dict):
        entries = list(listed.items())
    elif isinstance(listed, list):
        entries = [pair for each in listed for pair in (each.items() if isinstance(each, dict) else [(each, None)])]
    else:
        return
    yield from ((name, settings) for name, settings in entries[:_MOST_EXTENSIONS] if isinstance(name, str))


def _usable(name: str, settings: dict[str, Any], root: Path) -> dict[str, Any]:
    """The settings without Python objects, which are passed over where they are read, and without needless work."""
    plain = {key: each for key, each in settings.items() if isinstance(key, str) and not _is_object(each)}
    if name == "pymdownx.emoji":
        from pymdownx.emoji import to_alt

        return {"emoji_generator": to_alt}
    if name == "pymdownx.snippets":
        paths = plain.get("base_path", ["."])
        named = [each for each in (paths if isinstance(paths, list) else [paths]) if isinstance(each, str)]
        return {**plain, "base_path": [str(root / each) for each in named], "url_download": False, "check_paths": False}
    if name in ("codehilite", "pymdownx.highlight"):
        return {**plain, "use_pygments": False}
    plain.pop("custom_fences", None)
    return plain


def _is_object(value: Any) -> bool:
    """Whether a tag made a Python object of it."""
    return value == "" or (isinstance(value, dict) and not {"kwds", "args"}.isdisjoint(value))
