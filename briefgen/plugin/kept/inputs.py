"""All that a built site follows from: the program, the libraries, the settings, the theme, the content.

Whatever can't be told exactly (another plugin, another theme, a link in the content) is no case for keeping anything.
"""

from __future__ import annotations

import logging
import os
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.plugins import BasePlugin
from mkdocs.theme import Theme
from mkdocs.utils import get_build_date

import briefgen
from briefgen.cache.digests import Unknown, digest, folder_digest, folder_stamp
from briefgen.plugin.server.surroundings import has_other_templates
from briefgen.start.theme import is_installed

_OURS = Path(briefgen.__file__).parent
_MADE = frozenset({"__pycache__"})


def program_digest() -> str:
    """The digest of this program, of Python, and of the names and versions of all that is installed."""
    installed = sorted({name for folder in sys.path for name in _names(folder)})
    return digest((folder_digest(_OURS, _MADE), installed, sys.version, sys.platform, sys.byteorder))


def _names(folder: str) -> Iterator[str]:
    try:
        found = os.listdir(folder or ".")
    except OSError:
        return iter(())
    return (name for name in found if name.endswith((".dist-info", ".egg-info")))


class SiteInputs:
    """What one site follows from. `frame` is the digest of all but the content; raises Unknown.

    `project` tells this project and its settings from others, whatever the content is.
    """

    def __init__(self, config: MkDocsConfig, content: Path, record: Path | None) -> None:
        self._theme = [Path(folder) for folder in config.theme.dirs if not is_installed(folder)]
        self._files = [content, Path(config.docs_dir)]
        self._record = record
        self._known = _is_known(config)
        self.project = digest(dict(config), _settings)
        self.stamp = self._stamp()
        self.program = digest((program_digest(), self._record_text()))
        level = logging.getLogger("mkdocs").getEffectiveLevel()
        theme = [(str(folder), folder_digest(folder)) for folder in self._theme]
        self.frame = digest((self.program, self.project, config.theme.dirs, theme, get_build_date(), level))
        self.says_all = level > logging.DEBUG

    @property
    def may_keep_pages(self) -> bool:
        """Whether finished pages follow from what is told here: nobody else has a hand in them."""
        return self._known

    def whole(self) -> str:
        """The digest of all that the site follows from. Raises Unknown."""
        if not (self._known and self.says_all):
            raise Unknown("what others do")
        return digest((self.frame, [(str(folder), folder_digest(folder)) for folder in self._files]))

    def are_the_same(self) -> bool:
        """Whether no file was changed since, be it that the change was taken back."""
        try:
            return self.stamp == self._stamp()
        except Unknown:
            return False

    def _stamp(self) -> str:
        folders = [folder_stamp(folder, _MADE) for folder in (_OURS, *self._theme)]
        return digest((folders, [_loose_stamp(folder) for folder in self._files], self._record_text()))

    def _record_text(self) -> bytes | None:
        try:
            return self._record.read_bytes() if self._record else None
        except OSError:
            return None


def _loose_stamp(folder: Path) -> str | None:
    """The stamp; None where there is what has none, in which case the whole site is not kept."""
    try:
        return folder_stamp(folder)
    except Unknown:
        return None


def _settings(value: Any) -> Iterable[Any]:
    """What the settings consist of that are neither numbers nor words. Raises Unknown for what is written in Python."""
    if isinstance(value, Theme):
        return (value.name, value.dirs, sorted(value.static_templates), dict(value))
    if isinstance(value, BasePlugin):
        return (type(value).__qualname__, dict(value.config))
    if isinstance(value, tuple):
        return tuple(value)
    kind = type(value).__name__
    if kind == "Locale":
        return (str(value),)
    if kind == "GitIgnoreSpec":  # as in `exclude_docs`
        return ((one.include, one.regex and one.regex.pattern) for one in value.patterns)
    raise Unknown(type(value).__name__)


def _is_known(config: MkDocsConfig) -> bool:
    alone = len(config.plugins) == 1 and not config.hooks
    return alone and config.theme.name == "material" and not has_other_templates(config.theme)
