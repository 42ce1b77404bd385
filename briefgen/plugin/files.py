"""The files that the plugin adds to MkDocs's own, those that no browser asks for, and the navigation."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, MutableMapping
from html import escape
from pathlib import Path, PurePosixPath
from typing import Any

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.plugins import get_plugin_logger
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page as BuiltPage
from mkdocs.utils import nest_paths

from briefgen.pages.finding.readers import script as readers
from briefgen.pages.html.assets import ASSETS, FOLDER, typeface_files
from briefgen.pages.html.night.drawing import with_night
from briefgen.pages.links import picture_path
from briefgen.pages.publishing.page import Page
from briefgen.pages.publishing.site import Site
from briefgen.reading.prose.files import refusal

log = get_plugin_logger("briefgen")
_THEMES_SEARCH = ("assets/javascripts/lunr/", "assets/javascripts/workers/")
_THEMES_ICON = "assets/images/favicon.png"
_PARTS = ("styles/", "icons/")
"""Of our theme: what its one style sheet is put together from."""


def add_files(files: Files, site: Site, config: MkDocsConfig) -> set[str]:
    """Adds a file for every page, picture and script; returns the pages that are ours and not the author's own."""
    ours = {page.uri for page in site.pages.values() if _add(files, _empty(page, config))}
    for name, path in site.context.pictures.files.items():
        _add(files, _picture(name, path, config))
    for address, path in ASSETS.items():
        _add(files, File.generated(config, address, abs_src_path=str(path)))
    for address, content in typeface_files().items():
        _add(files, File.generated(config, address, content=content))
    for name, content in (site.context.plots.script, (readers.FILE, readers.script(site.context))):
        _add(files, File.generated(config, f"{FOLDER}/{name}", content=content))
    return ours


def _picture(name: str, path: Path, config: MkDocsConfig) -> File:
    """A figure's file: a drawing with its palette for the dark, any other as it is."""
    if path.suffix.lower() == ".svg":
        return File.generated(config, picture_path(name), content=with_night(path.read_bytes()))
    return File.generated(config, picture_path(name), abs_src_path=str(path))


def _empty(page: Page, config: MkDocsConfig) -> File:
    listed = InclusionLevel.UNDEFINED if page.listed else InclusionLevel.NOT_IN_NAV
    return File.generated(config, f"{page.uri}.md", content="", inclusion=listed)


def _add(files: Files, file: File) -> bool:
    """Adds our own file and says so, unless the author has written one of that name: theirs stands."""
    if files.get_file_from_path(file.src_uri) is not None:
        log.warning(f"Your own “{file.src_uri}” stands in the place of the page that would be made here.")
        return False
    files.append(file)
    return True


def leave_out(files: Files, *unwanted: Callable[[File], bool]) -> None:
    """Takes files out that are not wanted for one reason or another."""
    for file in list(files):
        if any(reason(file) for reason in unwanted):
            files.remove(file)


def is_below(folder: str) -> Callable[[File], bool]:
    """What lies in a folder of the author's pages; without its name nothing does."""
    start = f"{PurePosixPath(folder)}/"
    return lambda file: bool(folder) and file.src_uri.startswith(start)


def is_idle(config: MkDocsConfig) -> Callable[[File], bool]:
    """What no reader's browser asks for: source maps, the parts of our style sheet, the theme's own search and icon.

    Neither where they are asked for; a site map lists whole addresses, so it needs the site's own.
    """
    idle: list[str] = []
    if not any(name.endswith("search") for name in config.plugins):
        idle += _THEMES_SEARCH
    own = {folder for folder in config.theme.dirs if Path(folder, "bg", "brand.svg").is_file()}
    if own:
        idle += [_THEMES_ICON]
    if not config.site_url:
        idle += ["sitemap.xml"]

    def unasked(file: File) -> bool:
        part = file.src_dir in own and file.src_uri.startswith(_PARTS)
        return part or file.src_uri.endswith(".map") or file.src_uri.startswith(tuple(idle))

    return unasked


def is_refused(config: MkDocsConfig) -> Callable[[File], bool]:
    """What lies beside the author's pages and is not fit to be published; the check has said why."""
    folder = Path(config.docs_dir)

    def unfit(file: File) -> bool:
        return file.src_dir == config.docs_dir and bool(refusal(folder, Path(str(file.abs_src_path))))

    return unfit


def navigation(files: Files, site: Site, ours: set[str], given: Any, authors: str = "") -> list[object]:
    """Our sections, after the overview the author's own pages: those in `nav`, or else all of them.

    Without `nav`, those in the folder for `authors` come last: a crew looks for none of them.
    """
    last: list[object] = []
    if given is not None:
        own = given
    else:
        written = [file for file in files.documentation_pages() if file.src_uri.removesuffix(".md") not in ours]
        apart = is_below(authors)
        own, last = (_nested(file for file in written if apart(file) is wanted) for wanted in (False, True))
    first = [_link(site.pages["index"])] if "index" in ours else []
    return [*first, *own, *_sections(site, ours), *last]


def _nested(files: Iterable[File]) -> list[object]:
    """Pages in the folders in which they lie, as MkDocs's `nav` says it."""
    return list(nest_paths(file.src_uri for file in files))  # type: ignore[no-untyped-call]


def _sections(site: Site, ours: set[str]) -> Iterator[object]:
    """Our pages as MkDocs's `nav` says it, but for the overview and what only other pages lead to."""
    for section, pages in site.sections():
        links = [_link(page) for page in pages if page.listed and page.uri in ours - {"index"}]
        if section.title and links:
            yield {section.title: links}
        else:
            yield from links


def title_markup(title: str) -> str:
    """A title as MkDocs takes it: as markup. Templates make it text again, and print that escaped."""
    return escape(title, quote=False)


def dress(page: BuiltPage, ours: Page) -> None:
    """Gives a page of ours its title, icon and description."""
    page.title = title_markup(ours.title)
    page.meta["icon"] = ours.icon
    page.meta["description"] = ours.about
    # There is no Markdown in it: to set up a parser all the same is a tenth of the time of a build.
    page.render = lambda config, files: setattr(page, "content", "")  # type: ignore[method-assign]


def keep_frame(head: MutableMapping[str, Any]) -> None:
    """Every page has the one frame with its policy and its caution, whatever an author's says at its head."""
    head.pop("template", None)
    if "title" in head:
        head["title"] = title_markup(str(head["title"]))


def _link(page: Page) -> Mapping[str, str]:
    return {title_markup(page.title): f"{page.uri}.md"}
