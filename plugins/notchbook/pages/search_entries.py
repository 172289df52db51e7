"""A finished page in the forms in which the searches of builders keep it, so that they need not parse it again."""

import html
from collections.abc import Callable
from typing import Any

from notchbook.pages.finished import FinishedPage


def theme_entries(page: FinishedPage, url: str) -> list[dict[str, Any]]:
    """The entries of the theme's search: title and text are HTML, a paragraph a line.

    Arguments:
        page: with what a search finds of it.
        url: of the page in the site.
    """
    weight = {"boost": page.boost} if page.boost != 1.0 else {}
    return [
        {
            "location": f"{url}#{part.anchor}" if part.anchor else url,
            "title": html.escape(part.title, quote=False),
            "text": " ".join(f"<p>{line}</p>" for line in html.escape(part.text, quote=False).splitlines()),
        }
        | weight
        for part in page.search
    ]


def plain_entries(page: FinishedPage, url: str, indexing: str) -> list[dict[str, Any]]:
    """The entries of MkDocs' own search: plain text, with that of all parts in the first, and no order of its own.

    Arguments:
        page: with what a search finds of it.
        url: of the page in the site.
        indexing: how much of it is wanted: `full`, `sections`, `titles`.
    """
    parts = page.search if indexing in ("full", "sections") else ()
    whole = " ".join(f"{each.title} {each.text}" for each in page.search)
    found = [(page.title, whole, url), *((each.title, each.text, f"{url}#{each.anchor}") for each in parts[1:])]
    return [
        {"title": title, "text": " ".join(words.split()) if indexing == "full" else "", "location": location}
        for title, words, location in found
        if page.search
    ]


def fed(index: Any, finished: Callable[[Any], FinishedPage | None]) -> bool:
    """Let an index of either search take the entries of finished pages as they are; it parses all others.

    Arguments:
        index: the plugin's; one of another form is left alone, parses everything and makes this False.
        finished: gives the finished page of a page of the builder, and None for one by hand.
    """
    parse = getattr(index, "add_entry_from_context", None)
    themes, plain = getattr(index, "entries", None), getattr(index, "_entries", None)
    if parse is None or (themes is None and plain is None):
        return False

    def add(page: Any) -> None:
        own = finished(page)
        if own is None:
            parse(page)
        elif themes is not None:
            index.entries.extend(theme_entries(own, page.url))
        else:
            index._entries.extend(plain_entries(own, page.url, index.config["indexing"]))  # noqa: SLF001

    index.add_entry_from_context = add
    return True


def search_languages(search: Any) -> list[str]:
    """The languages that a plugin of either search knows; English where nothing else is set or there is none."""
    languages = search.config.get("lang") if search is not None else None
    return [languages] if isinstance(languages, str) else list(languages or ["en"])
