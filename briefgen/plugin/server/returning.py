"""While serving: a watched folder that goes away and comes back (a checkout, a sync) is watched and built again.

The watch that MkDocs sets ends with its folder; nobody would tell it that there is a new one.
"""

from __future__ import annotations

import os
import threading
from collections.abc import Iterable

from mkdocs.livereload import LiveReloadServer

_EVERY = 0.25
"""Seconds between two looks."""


class Returning(threading.Thread):
    """Looks after the folders until it is stopped."""

    def __init__(self, server: LiveReloadServer, folders: Iterable[str]) -> None:
        super().__init__(daemon=True)
        self._server = server
        self._known = {folder: _which(folder) for folder in folders}
        self._end = threading.Event()

    def run(self) -> None:
        """Looks at the folders again and again until it is told to end."""
        while not self._end.wait(_EVERY):
            for folder, known in self._known.items():
                now = _which(folder)
                if now is not None and now != known:
                    self._watch_again(folder)
                if now != known:
                    self._known[folder] = now
                    self._build()

    def stop(self) -> None:
        """The server ends."""
        self._end.set()

    def _watch_again(self, folder: str) -> None:
        try:
            self._server.unwatch(folder)
        except KeyError:
            return  # MkDocs itself has let it go: after a change of mkdocs.yml it watches other folders
        self._server.watch(folder)

    def _build(self) -> None:
        """Asks for a build, for which there is no public way."""
        with self._server._rebuild_cond:
            self._server._want_rebuild = True
            self._server._rebuild_cond.notify_all()


def _which(folder: str) -> tuple[int, int] | None:
    """Which folder that is now (device and number), or None where there is none."""
    try:
        found = os.stat(folder)
    except OSError:
        return None
    return found.st_dev, found.st_ino
