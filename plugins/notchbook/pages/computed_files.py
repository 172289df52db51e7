"""Whether what is computed is what a builder will write, after all that other plugins did to its list of files."""

from collections.abc import Iterable, Mapping
from typing import Protocol

from notchbook.pages.addresses import Addresses
from notchbook.pages.finished import FinishedSite


class BuiltFile(Protocol):
    """A file that a builder is about to write, as far as it is looked at here."""

    src_uri: str
    dest_uri: str
    src_dir: str | None
    generated_by: str | None

    @property
    def content_string(self) -> str:
        """What it holds, as text."""

    @property
    def content_bytes(self) -> bytes:
        """What it holds."""


def strangers(addresses: Addresses, files: Iterable[BuiltFile], templates: Iterable[str]) -> list[str]:
    """What others put where the handbook's own pages and files lie, in words.

    Arguments:
        addresses: of what is computed.
        files: of others, that will be written.
        templates: names of templates that become files of the same name.
    """
    found = []
    for file in files:
        clash = addresses.clash(file.src_uri, file.dest_uri)
        if clash:
            found.append(f"'{file.src_uri}' of {file.generated_by or file.src_dir} {clash}")
    named = ((each, addresses.clash(each)) for each in templates)
    return [*found, *(f"the template '{name}' {clash}" for name, clash in named if clash)]


def lost(site: FinishedSite, added: Mapping[str, BuiltFile], files: Iterable[BuiltFile]) -> list[str]:
    """What was computed and will not be written as it is, in words.

    Arguments:
        site: what is computed.
        added: what the builder was given, by path.
        files: that will be written.
    """
    there = {file.src_uri: file for file in files}
    found = []
    for uri, file in added.items():
        if there.get(uri) is not file:
            found.append(f"'{uri}' was replaced or taken out by a plugin, or is left out by exclude_docs or draft_docs")
            continue
        computed = site.pages[uri].body if uri in site.pages else site.files[uri]
        if computed != (file.content_string if isinstance(computed, str) else file.content_bytes):
            found.append(f"what was computed for '{uri}' was changed by a plugin")
    return found
