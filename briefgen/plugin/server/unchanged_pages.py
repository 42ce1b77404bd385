"""While serving, a page whose inside and whose surroundings did not change is not built again: it is kept as it was.

Compared by value: the page's inside, its title and settings, what its navigation shows, mkdocs.yml and the theme's
files.
"""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass
from pathlib import Path

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import Files
from mkdocs.structure.nav import Navigation
from mkdocs.structure.pages import Page

from briefgen.plugin.server.surroundings import surroundings
from briefgen.start.theme import is_installed


@dataclass
class _Kept:
    """A page as it was last built: what it says, what is around it, and the finished page."""

    says: Hashable
    around: Hashable
    page: Page
    output: str = ""


class Frames:
    """What is kept between two builds of the same server."""

    def __init__(self) -> None:
        self._kept: dict[str, _Kept] = {}

    def settle(self, config: MkDocsConfig, files: Files, nav: Navigation) -> None:
        """Before the frames are drawn: unchanged pages leave the build."""
        pages = [file.page for file in files.documentation_pages() if file.page is not None]
        shown, settings = surroundings(nav, config.theme), _settings(config)
        last, self._kept = self._kept, {}
        for page in pages:
            says, around = (page.content, str(page.title), repr(page.meta)), (settings, shown(page))
            kept = last.get(page.url)
            if kept is not None and kept.output and (kept.says, kept.around) == (says, around):
                files.remove(page.file)
            else:
                kept = _Kept(says, around, page)
            self._kept[page.url] = kept

    def finished(self, output: str, page: Page) -> str:
        """The finished page, which is kept."""
        self._kept[page.url].output = output
        return output

    def pages(self) -> dict[str, str]:
        """Every page of the last build by its file's path in the site, built then or kept."""
        return {kept.page.file.dest_uri: kept.output for kept in self._kept.values()}


def _settings(config: MkDocsConfig) -> Hashable:
    own = Path(config.config_file_path or "")
    folders = [Path(folder) for folder in config.theme.dirs if not is_installed(folder)]
    files = sorted(path for folder in folders for path in folder.rglob("*") if path.is_file())
    return (own.read_bytes() if own.is_file() else b"", *((str(path), path.stat().st_mtime_ns) for path in files))
