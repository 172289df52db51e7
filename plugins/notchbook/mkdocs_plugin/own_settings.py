"""The plugin's block in mkdocs.yml, and whether what a build was given is what the check and the review read."""

from pathlib import Path

from mkdocs.config import config_options as options
from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig

from notchbook.mkdocs_plugin.telling import stop
from notchbook.model.settings import Settings
from notchbook.site_reading.inherited import absolute
from notchbook.site_reading.settings import changed_since
from notchbook.site_reading.site_config import SiteConfig

_USUAL = Settings()


class NotchbookConfig(Config):  # type: ignore[no-untyped-call]  # MkDocs leaves a hook untyped
    """The plugin's block in mkdocs.yml; any value is let through, `site_reading.settings` says what is wrong."""

    procedures = options.Type(object, default=_USUAL.procedures)
    """Folder of rigs, materials, exercises and hazards, beside mkdocs.yml."""
    results = options.Type(object, default=_USUAL.results)
    """Folder of verifications and tests, beside mkdocs.yml."""
    deviations = options.Type(object, default=_USUAL.deviations)
    """Whether a declared departure from a method fails the build or is published with its mark."""
    notice = options.Type(object, default=_USUAL.notice)
    """Shown at the top of every page."""
    raw_html = options.Type(object, default=_USUAL.raw_html)
    """What is done with HTML of hand-written pages, and with files, that can do more than say or show something."""


def hold_settings(read: SiteConfig, settings: Settings, given: NotchbookConfig, config: MkDocsConfig) -> None:
    """Raise where a hook or another plugin changed what the check and the review read from the file.

    Arguments:
        read: the settings of the site as they were read.
        settings: those of the plugin among them.
        given: those that the plugin was given.
        config: what MkDocs goes by.
    """
    if settings.prose is None:
        stop([f"{read.path.name} does not name the plugin as 'notchbook'"], "the check would not know of a site")
    # the command line can choose another theme, which has no folder of its own
    own_files = config.theme.custom_dir
    custom_dir = absolute(Path(own_files)) if own_files is not None else None
    changed = changed_since(read, settings, Path(config.docs_dir), custom_dir, given)
    stop(changed, "a hook or another plugin changed settings, which no check and no review sees")
