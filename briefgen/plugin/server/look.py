"""While serving, the theme's templates are listed and compiled once: it brings ten thousand icons, and they stay."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader
from mkdocs.theme import Theme

from briefgen.pages.html.environment import Compiled


class KnownTheme:
    """What is known of the theme from the builds before."""

    def __init__(self) -> None:
        self._compiled = Compiled()
        self._installed: dict[tuple[str, ...], list[str]] = {}

    def keep(self, theme: Theme) -> None:
        """Lets the theme's environments know what is known."""
        make: Callable[[], Environment] = theme.get_env
        theme.get_env = lambda: self._taught(make(), theme)  # type: ignore[method-assign]

    def _taught(self, env: Environment, theme: Theme) -> Environment:
        env.bytecode_cache = self._compiled
        names = self._names(theme)
        env.list_templates = lambda extensions=None, filter_func=None: [  # type: ignore[method-assign]
            name for name in names if filter_func is None or filter_func(name)
        ]
        return env

    def _names(self, theme: Theme) -> list[str]:
        """Every template by name. What is installed stays while a server runs; folders of the author's may change."""
        installed = tuple(folder for folder in theme.dirs if is_installed(folder))
        if installed not in self._installed:
            self._installed[installed] = FileSystemLoader(installed).list_templates()
        own = FileSystemLoader([folder for folder in theme.dirs if not is_installed(folder)]).list_templates()
        # MkDocs copies nothing hidden, and the icons are: it need not be asked ten thousand times.
        return sorted(name for name in {*self._installed[installed], *own} if not name.startswith("."))


def is_installed(folder: Any) -> bool:
    """Whether a folder belongs to an installed package."""
    return "site-packages" in Path(folder).parts
