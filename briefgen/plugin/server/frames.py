"""While serving, a page whose inside and whose surroundings did not change is not built again: it is kept as it was.

Compared by value: the page's inside, its title and settings, what its navigation shows, mkdocs.yml and the theme's
files. The words of changed pages go into the search once the pages are shown.
"""

from __future__ import annotations

import copy
from collections.abc import Callable, Hashable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import Files
from mkdocs.structure.nav import Navigation
from mkdocs.structure.pages import Page

from briefgen.plugin.server.look import is_installed
from briefgen.plugin.server.surroundings import surroundings

_WRITERS = ("material/search", "search", "material/offline", "offline")


@dataclass
class _Kept:
    """A page as it was last built: what it says, what is around it, the finished page, and its entries in the search.

    `unread`: its entries are those of an earlier state.
    """

    says: Hashable
    around: Hashable
    page: Page
    output: str = ""
    entries: list[dict[str, Any]] = field(default_factory=list)
    unread: bool = False


class Frames:
    """What is kept between two builds of the same server."""

    def __init__(self) -> None:
        self._kept: dict[str, _Kept] = {}
        self._first = True

    def settle(self, config: MkDocsConfig, files: Files, nav: Navigation) -> None:
        """Before the frames are drawn: unchanged pages leave the build, and the search reads none of the others yet."""
        pages = [file.page for file in files.documentation_pages() if file.page is not None]
        shown, settings = surroundings(nav, config.theme), _settings(config)
        last, self._kept = self._kept, {}
        for page in pages:
            says, around = (page.content, str(page.title), repr(page.meta)), (settings, shown(page))
            kept = last.get(page.url)
            if kept is not None and kept.output and (kept.says, kept.around) == (says, around):
                files.remove(page.file)
            else:
                kept = _new(page, says, around, kept)
            self._kept[page.url] = kept
            if not self._first and _index(config) is not None:
                page.meta["search"] = {"exclude": True}

    def finished(self, output: str, page: Page) -> str:
        """The finished page, which is kept."""
        self._kept[page.url].output = output
        return output

    def pages(self) -> dict[str, str]:
        """Every page of the last build by its file's path in the site, built then or kept."""
        return {kept.page.file.dest_uri: kept.output for kept in self._kept.values()}

    def fill_search(self, config: MkDocsConfig) -> None:
        """Before the search is written: the entries of a first build are kept, and a later one gets those."""
        index = _index(config)
        if index is None:
            return
        if self._first:
            for entry in index.entries:
                self._kept[entry["location"].partition("#")[0]].entries.append(entry)
            for kept in self._kept.values():
                kept.unread = False
        self._first = False
        index.entries = self._entries()

    def read_changed(self, config: MkDocsConfig, stopped: Callable[[], bool]) -> None:
        """After the pages are shown: the words of those that changed go into the search, and it is written again."""
        index = _index(config)
        unread = [kept for kept in self._kept.values() if kept.unread]
        if index is None or not unread:
            return
        for kept in unread:
            if stopped():
                return
            fresh = type(index)(**index.config)
            fresh.add_entry_from_context(kept.page)
            kept.entries, kept.unread = fresh.entries, False
        index.entries = self._entries()
        for name in _WRITERS:
            if name in config.plugins:
                config.plugins[name].on_post_build(config=config)

    def _entries(self) -> list[dict[str, Any]]:
        return [entry for kept in self._kept.values() for entry in kept.entries]


def _new(page: Page, says: Hashable, around: Hashable, last: _Kept | None) -> _Kept:
    """A page that is built anew; until its words are read, the search has those of its last state."""
    if last is not None and last.says == says:
        return _Kept(says, around, last.page, entries=last.entries, unread=last.unread)
    spare = copy.copy(page)  # the page itself is changed while it is built
    spare.meta = dict(page.meta)
    return _Kept(says, around, spare, entries=last.entries if last else [], unread=True)


def _index(config: MkDocsConfig) -> Any:
    """The search's index, of the one search plugin whose entries can be put together anew; else None."""
    found = (getattr(plugin, "search_index", None) for plugin in config.plugins.values())
    return next((index for index in found if hasattr(index, "entries") and hasattr(index, "config")), None)


def _settings(config: MkDocsConfig) -> Hashable:
    own = Path(config.config_file_path or "")
    folders = [Path(folder) for folder in config.theme.dirs if not is_installed(folder)]
    files = sorted(path for folder in folders for path in folder.rglob("*") if path.is_file())
    return (own.read_bytes() if own.is_file() else b"", *((str(path), path.stat().st_mtime_ns) for path in files))
