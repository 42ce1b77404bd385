"""A page whose inside and whose surroundings are those of the last build is taken from there, frame and all."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from hashlib import sha256
from typing import Any

from jinja2 import Environment
from mkdocs.structure.nav import Navigation
from mkdocs.structure.pages import Page
from mkdocs.theme import Theme

from briefgen.cache.digests import digest
from briefgen.plugin.kept.last_site import LastSite
from briefgen.plugin.server.surroundings import surroundings

_TEMPLATE = "main.html"


class KeptFrames:
    """Stands between MkDocs and the template of pages. `keys` says by each page's path what it follows from."""

    def __init__(self, last: LastSite, settings: str) -> None:
        self._last, self._settings = last, settings
        self.keys: dict[str, str] = {}
        self._taken: Page | None = None

    def settle(self, env: Environment, nav: Navigation, theme: Theme) -> None:
        """Before the frames are drawn."""
        shown = surroundings(nav, theme)
        settings = digest((self._settings, env.globals["names_page"], env.globals["readers_page"], _seen(nav.homepage)))
        find: Callable[..., Any] = env.get_template

        def found(name: str, *given: Any, **named: Any) -> Any:
            if name != _TEMPLATE:
                return find(name, *given, **named)
            return _Drawn(lambda: find(name), lambda page: self._kept(page, digest((settings, _of(page, shown)))))

        env.get_template = found  # type: ignore[method-assign,assignment]

    def _kept(self, page: Page, key: str) -> str | None:
        self.keys[page.file.dest_uri] = key
        found = self._last.page(key)
        self._taken = page if found is not None else None
        return found

    def is_finished(self, page: Page) -> bool:
        """Whether the page that was drawn last is a finished one of the last build."""
        return self._taken is page


class _Drawn:
    """What MkDocs takes for the template."""

    def __init__(self, template: Callable[[], Any], kept: Callable[[Page], str | None]) -> None:
        self._template, self._kept = template, kept

    def render(self, context: Any) -> str:
        """A page with its frame."""
        page = context["page"]
        found = self._kept(page) if page is not None else None
        return found if found is not None else str(self._template().render(context))


def _of(page: Page, shown: Callable[[Page], Hashable]) -> tuple[Any, ...]:
    """All that a frame says of its page."""
    inside = sha256((page.content or "").encode("utf-8", "surrogatepass")).hexdigest()
    own = (page.url, page.file.dest_uri, page.is_homepage, page.canonical_url, page.edit_url, page.update_date)
    beside = (_seen(page.previous_page), _seen(page.next_page))
    return (inside, str(page.title), repr(page.meta), own, beside, repr(shown(page)))


def _seen(page: Page | None) -> tuple[str, str] | None:
    return None if page is None else (page.url, str(page.title))
