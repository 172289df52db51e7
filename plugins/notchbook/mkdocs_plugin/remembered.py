"""What the theme made of pages at the last building of a preview, so that it makes only those again that changed.

A theme goes through the whole navigation for every page, which takes longer than all that is ours.
"""

from typing import Any, cast

from jinja2 import BytecodeCache, Environment, Template
from jinja2.bccache import Bucket
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.pages import Page

from notchbook.mkdocs_plugin.ready_page import ReadyPage
from notchbook.unchanged import Unchanged

_KNOWN_PLUGINS = frozenset({"notchbook", "search", "material/search"})
"""Those of which it is known what they give a template: nothing but the page."""


class RememberedTheme:
    """The pages as the theme made them, for one process."""

    def __init__(self) -> None:
        self._made = Unchanged()
        self._compiled = _Compiled()

    def around(self, env: Environment, config: MkDocsConfig) -> Environment:
        """The theme's templates, which give a page again where nothing that they see of it has changed.

        They are left as they are where a theme of the department's own, a hook or another plugin could give them more.
        """
        env.bytecode_cache = self._compiled
        if config.hooks or config.theme.custom_dir or not _KNOWN_PLUGINS.issuperset(config.plugins):
            return env
        self._made.begin()
        settings = (config.user_configs, config.site_dir, config.extra_css, list(map(str, config.extra_javascript)))
        return cast("Environment", _Templates(env, self._made, settings))


class _Compiled(BytecodeCache):
    """Templates compiled once for all buildings."""

    def __init__(self) -> None:
        self._codes: dict[str, bytes] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        code = self._codes.get(bucket.key)
        if code is not None:
            bucket.bytecode_from_string(code)

    def dump_bytecode(self, bucket: Bucket) -> None:
        self._codes[bucket.key] = bucket.bytecode_to_string()


class _Templates:
    """Stands for the theme's environment."""

    def __init__(self, env: Environment, made: Unchanged, settings: object) -> None:
        self._env, self._made, self._settings = env, made, settings
        self._nav: object = None
        self._around: tuple[object, ...] = ()

    def __getattr__(self, name: str) -> Any:
        return getattr(self._env, name)

    def get_template(self, name: str) -> Template:
        """A template that gives again what it gave for a page."""
        return cast("Template", _Remembering(self, name))

    def rendered(self, name: str, context: dict[str, Any]) -> str:
        """What the template of that name makes of a context."""
        page: Page | None = context.get("page")

        def make() -> str:
            return self._env.get_template(name).render(context)

        if page is None:
            return make()
        if self._nav is not context["nav"]:
            self._nav, self._around = context["nav"], (self._settings, _entries(context["nav"]))
        return self._made.of(page.file.dest_uri, (name, _seen(page), self._around), make)


class _Remembering:
    """Stands for one of its templates."""

    def __init__(self, templates: _Templates, name: str) -> None:
        self._templates, self._name = templates, name

    def render(self, context: dict[str, Any]) -> str:
        """As a template does it."""
        return self._templates.rendered(self._name, context)


def _seen(page: Page) -> tuple[object, ...]:
    """All that a template sees of a page."""
    beside = [(each.url, each.title) if each is not None else None for each in (page.previous_page, page.next_page)]
    own = (page.title, page.url, page.canonical_url, page.edit_url, page.is_homepage, page.update_date)
    headings = page.finished if isinstance(page, ReadyPage) else _headings(page.toc)
    return (page.content, dict(page.meta), headings, *own, *beside)


def _headings(toc: Any) -> list[tuple[object, ...]]:
    return [(each.level, each.id, each.title, _headings(each.children)) for each in toc]


def _entries(nav: Any) -> list[tuple[object, ...]]:
    return [(each.title, getattr(each, "url", None), _entries(each.children or ())) for each in nav]
