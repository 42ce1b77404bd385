"""The MkDocs plugin: options and hand-over only. The one module that knows MkDocs.

What is wrong with the content is said before anything is written, so that the earlier site stays as it was.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any, cast

from mkdocs.config import config_options
from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, get_plugin_logger
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page
from mkdocs.structure.toc import get_toc
from mkdocs.utils import nest_paths

from briefgen.build import Examination, examine
from briefgen.findings import Finding, Level, in_order
from briefgen.levels import BadLevel, read_levels
from briefgen.pages.assets import ASSETS, FOLDER
from briefgen.pages.desk import Desk
from briefgen.pages.headings import headings
from briefgen.pages.links import picture_path
from briefgen.pages.pictures import Pictures
from briefgen.pages.prose import prose_findings
from briefgen.pages.site import Site
from briefgen.pages.tidy import tidy
from briefgen.pages.verdict import Verdict
from briefgen.reading.folder import NoContent
from briefgen.reporters.text import as_text, place_words, summary
from briefgen.start.theme import theme_folder

log = get_plugin_logger("briefgen")


class Options(Config):  # type: ignore[no-untyped-call]
    """What stands below `briefgen:` in mkdocs.yml.

    `content`: the folder with the YAML files, from the folder of mkdocs.yml. `levels`: the level of rules by name
    (error, warning, advice or off).
    """

    content = config_options.Type(str, default="content")
    levels = config_options.Type(dict, default={})


class BriefgenPlugin(BasePlugin[Options]):  # type: ignore[no-untyped-call]
    """Makes the pages of a briefing from a content folder."""

    site: Site
    ours: set[str]

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Watches the content folder, so that `mkdocs serve` sees every change in it, and brings the site's look."""
        if not config.theme.custom_dir:
            config.theme.dirs.insert(0, str(theme_folder()))
        folder = str(self._folder(config))
        if folder not in config.watch:
            config.watch.append(folder)
        return config

    def on_pre_build(self, *, config: MkDocsConfig) -> None:
        """Reads and proves the content. Raises PluginError when it does not hold."""
        try:
            examination = examine(self._folder(config), read_levels(self.config.levels.items()))
        except (NoContent, BadLevel) as reason:
            raise PluginError(str(reason)) from None
        prose = prose_findings(Path(config.docs_dir), examination.reading.root, examination.evidence)
        findings = in_order([*examination.findings, *prose])
        _say(findings, examination)
        _stop_if_wrong(findings, config.strict)
        pictures = Pictures(examination.reading.root, examination.library)
        verdict = Verdict(findings, tuple((one.finding, one.because) for one in examination.accepted))
        self.site = Site(Desk(examination.evidence, pictures, verdict, config.use_directory_urls))

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Adds a file for every page, picture and script, and the navigation."""
        self.ours = {uri for uri in self.site.pages if _add(files, File.generated(config, f"{uri}.md", content=""))}
        for name, path in self.site.desk.pictures.files.items():
            _add(files, File.generated(config, picture_path(name), abs_src_path=str(path)))
        for address, path in ASSETS.items():
            _add(files, File.generated(config, address, abs_src_path=str(path)))
        name, script = self.site.desk.plots.script
        _add(files, File.generated(config, f"{FOLDER}/{name}", content=script))
        _leave_out(files, _idle(config))
        config.nav = self._navigation(files, config)
        return files

    def on_page_markdown(self, markdown: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
        """Gives our pages their icon, their description and their weight in the search."""
        if _uri(page) in self.ours:
            ours = self.site.pages[_uri(page)]
            page.meta["icon"] = ours.icon
            page.meta["description"] = ours.about
            page.meta["search"] = {"boost": ours.found_before}
        return markdown

    def on_page_content(self, html: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
        """Puts our own HTML into our pages, and resolves `kind:id` links in the author's."""
        if _uri(page) not in self.ours:
            return self.site.prose(html, _uri(page))
        own = self.site.html(_uri(page))
        page.toc = get_toc(cast(Any, headings(own)))
        return own

    def on_post_page(self, output: str, *, page: Page, config: MkDocsConfig) -> str:
        """Leaves out the white space of templates."""
        return tidy(output)

    def _folder(self, config: MkDocsConfig) -> Path:
        return Path(config.config_file_path or "").parent / self.config.content

    def _navigation(self, files: Files, config: MkDocsConfig) -> list[object]:
        """Our sections, after the overview the author's own pages: those in `nav`, or else all of them."""
        if config.nav is not None:
            own = config.nav
        else:
            written = (file.src_uri for file in files.documentation_pages())
            own = nest_paths(  # type: ignore[no-untyped-call]
                uri for uri in written if uri.removesuffix(".md") not in self.ours
            )
        first = [{self.site.pages["index"].title: "index.md"}] if "index" in self.ours else []
        return [*first, *own, *self._sections()]

    def _sections(self) -> Iterator[object]:
        """Our pages as MkDocs's `nav` says it, but for the overview."""
        for section, pages in self.site.sections():
            links = [{page.title: f"{page.uri}.md"} for page in pages if page.uri in self.ours - {"index"}]
            if section.title and links:
                yield {section.title: links}
            else:
                yield from links


def _uri(page: Page) -> str:
    return page.file.src_uri.removesuffix(".md")


def _add(files: Files, file: File) -> bool:
    """Adds our own file and says so, unless the author has written one of that name: theirs stands."""
    if files.get_file_from_path(file.src_uri) is not None:
        log.warning(f"Your own “{file.src_uri}” stands in the place of the page that would be made here.")
        return False
    files.append(file)
    return True


def _idle(config: MkDocsConfig) -> Callable[[str], bool]:
    """What no reader's browser asks for: source maps, and the search's word lists for other languages than English."""
    search = [plugin.config.get("lang") for name, plugin in config.plugins.items() if name.endswith("search")]
    english = all(list(languages or ()) == ["en"] for languages in search)
    return lambda uri: uri.endswith(".map") or (english and uri.startswith("assets/javascripts/lunr/"))


def _leave_out(files: Files, idle: Callable[[str], bool]) -> None:
    for file in list(files):
        if idle(file.src_uri):
            files.remove(file)


def _say(findings: Iterable[Finding], examination: Examination) -> None:
    says = {Level.ERROR: log.error, Level.WARNING: log.warning, Level.ADVICE: log.info}
    for finding in findings:
        says[finding.level](as_text([finding], examination.reading.sources).strip())


def _stop_if_wrong(findings: Iterable[Finding], strict: bool) -> None:
    """Stops the build; names the first reason again, since `--quiet` shows no warnings."""
    fatal = [one for one in findings if one.level is Level.ERROR or (strict and one.level is Level.WARNING)]
    if fatal:
        first = f"{place_words(fatal[0].position)}: {fatal[0].sentence}"
        raise PluginError(f"The briefing was not built. {summary(fatal)} The first: {first}")
