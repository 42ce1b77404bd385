"""What the navigation shows around a page.

Our frame lists the main pages and, under one of them, the pages of the section that one is in. An author's own
templates may list anything: then every page is surrounded by all of it.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator
from pathlib import Path
from typing import Any

from mkdocs.structure.nav import Navigation
from mkdocs.structure.pages import Page
from mkdocs.theme import Theme

from briefgen.start.theme import is_installed, theme_folder


def surroundings(nav: Navigation, theme: Theme) -> Callable[[Page], Hashable]:
    """For each page all titles, addresses and icons that its navigation can show, to be compared by value."""
    if has_other_templates(theme):
        everything = tuple(_tree(item) for item in nav.items)
        return lambda page: everything
    mains = tuple(_main(item) for item in nav.items)
    branches = {page.url: _tree(item) for item in nav.items for page in _pages(item)}
    return lambda page: (mains, branches.get(page.url))


def has_other_templates(theme: Theme) -> bool:
    """Whether any template of ours is hidden by another, or the author has some beside ours."""
    ours, folders = theme_folder(), [Path(folder) for folder in theme.dirs]
    own = [folder for folder in folders if folder == ours or not is_installed(folder)]
    names = {path.relative_to(folder) for folder in (ours, *own) for path in folder.rglob("*.html")}
    return any(
        not _same(next((one / name for one in folders if (one / name).is_file()), None), ours / name) for name in names
    )


def _same(one: Path | None, other: Path) -> bool:
    return one == other or (one is not None and other.is_file() and one.read_bytes() == other.read_bytes())


def _main(item: Any) -> Hashable:
    """A main page, or a section by its title and its first page."""
    if not item.is_section:
        return _tree(item)
    first = next((child for child in item.children if child.is_page), None)
    return (item.title, first and _tree(first))


def _tree(item: Any) -> Hashable:
    if item.is_section:
        return (item.title, *(_tree(child) for child in item.children))
    return (item.url, str(item.title), item.meta.get("icon") if item.is_page else None)


def _pages(item: Any) -> Iterator[Page]:
    if item.is_section:
        for child in item.children:
            yield from _pages(child)
    elif item.is_page:
        yield item
