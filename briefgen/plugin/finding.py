"""Hands the search its names: those of our own pages, and the titles and headings of the author's."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from html import unescape
from pathlib import Path
from typing import Any

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import Files
from mkdocs.structure.pages import Page

from briefgen.pages.finding.entries import SearchEntry, entries
from briefgen.pages.finding.script import FILE, script
from briefgen.pages.html.assets import FOLDER
from briefgen.pages.publishing.site import Site


def names_script(site: Site, files: Files, ours: Collection[str]) -> str:
    """The script of names; the author's pages are those that are not `ours` and whose text is rendered."""
    made = (page for uri, page in site.pages.items() if uri in ours)
    written = (
        entry
        for file in files.documentation_pages()
        if file.page is not None and file.src_uri.removesuffix(".md") not in ours
        for entry in _written(file.page)
    )
    return script([*entries(site.context, made), *written])


def address(files: Files, uri: str) -> str:
    """Where a page of ours lies, from the site's root; empty where there is none, as in a site that was not built."""
    file = files.get_file_from_path(f"{uri}.md")
    return file.url if file is not None else ""


def write_names(config: MkDocsConfig, names: str) -> None:
    """Puts the script of names into the site."""
    path = Path(config.site_dir, FOLDER, FILE)
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(names, encoding="utf-8")


def _written(page: Page) -> Iterator[SearchEntry]:
    title = unescape(str(page.title))
    yield SearchEntry("page", title, page.url)
    for top in page.toc:
        yield from (SearchEntry("page", unescape(str(one.title)), f"{page.url}#{one.id}", title) for one in _below(top))


def _below(heading: Any) -> Iterator[Any]:
    for child in heading.children:
        yield child
        yield from _below(child)
