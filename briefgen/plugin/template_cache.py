"""The theme's templates are compiled once, and none of its ten thousand icons is listed with them."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable

from jinja2 import Environment, FileSystemLoader
from mkdocs.theme import Theme

from briefgen.pages.html.environment import Compiled
from briefgen.start.theme import is_installed


class KnownTheme:
    """What is known of the theme, while serving from the builds before, too."""

    def __init__(self) -> None:
        self._compiled = Compiled()
        self._installed: dict[tuple[str, ...], set[str]] = {}

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
            self._installed[installed] = _seen_in(installed)
        return sorted(self._installed[installed] | _seen_in(one for one in theme.dirs if not is_installed(one)))


def _seen_in(folders: Iterable[str]) -> set[str]:
    """The files in folders, by path. MkDocs copies nothing hidden, and the icons are."""
    found = set[str]()
    for folder in filter(os.path.isdir, folders):
        for entry in os.scandir(folder):
            if entry.is_dir(follow_symlinks=False) and not entry.name.startswith("."):
                found.update(f"{entry.name}/{name}" for name in FileSystemLoader(entry.path).list_templates())
            elif entry.is_file() and not entry.name.startswith("."):
                found.add(entry.name)
    return found
