"""Writing an export beside its place, and putting it there as a whole."""

import shutil
from collections.abc import Mapping
from pathlib import Path

from notchbook.building.finishing import finish
from notchbook.building.locks import Tell, nowhere
from notchbook.building.staging import Staging
from notchbook.exporting.content import Content
from notchbook.exporting.html_site import html_files
from notchbook.exporting.markdown_tree import markdown_page
from notchbook.exporting.place import LIST, page_list
from notchbook.exporting.site_settings import fork_settings, mkdocs_settings, successor_settings


def write_tree(content: Content, target: Path, tell: Tell = nowhere) -> list[str]:
    """Write the pages for other builders, with their settings; returns nothing to tell.

    Raises:
        StagingError: the place cannot be taken; what was there is as it was.
        OSError: a file cannot be written; what was there is as it was.
    """
    pages = {f"docs/{place}": markdown_page(page) for place, page in content.site.pages.items()}
    files = {f"docs/{path}": each for path, each in content.site.files.items()}
    settings = {
        "mkdocs.yml": mkdocs_settings(content),
        "properdocs.yml": fork_settings(),
        "zensical.toml": successor_settings(content),
    }
    return _write(content, Staging(target, tell), "markdown", {**files, **pages, **settings}, "docs")


def write_site(content: Content, target: Path, tell: Tell = nowhere) -> list[str]:
    """Write a site that needs no builder and no theme; returns what a phone does not keep, in words.

    Raises:
        StagingError: the place cannot be taken; what was there is as it was.
        OSError: a file cannot be written; what was there is as it was.
    """
    files = {**content.site.files, **html_files(content)}
    return _write(content, Staging(target, tell), "html", files, "", finished=True)


def _write(
    content: Content,
    staging: Staging,
    form: str,
    files: Mapping[str, str | bytes],
    copied_to: str,
    *,
    finished: bool = False,
) -> list[str]:
    try:
        for path, each in files.items():
            place = staging.folder / path
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(each if isinstance(each, bytes) else each.encode("utf-8"))
        for path, source in content.copied.items():
            place = staging.folder / copied_to / path
            place.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(source, place)
        told = finish(staging.folder) if finished else []
        (staging.folder / LIST).write_text(page_list(content, form, staging.folder), encoding="utf-8", newline="\n")
        staging.publish()
    except BaseException:
        staging.abandon()
        raise
    return told
