"""What happens at each of MkDocs's events while a site is built: hand-over only.

What is wrong with the content is said, and every page of ours is made, before anything is written, so that the
earlier site stays as it was.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any, cast

from jinja2 import Environment
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import get_plugin_logger
from mkdocs.structure.files import Files
from mkdocs.structure.nav import Navigation
from mkdocs.structure.pages import Page
from mkdocs.structure.toc import get_toc

from briefgen.build import Beside, Examination, examine
from briefgen.cache.results import NO_RESULTS
from briefgen.collecting import in_one_go
from briefgen.language.printable import printable
from briefgen.levels import BadLevel, read_levels
from briefgen.pages.html.headings import headings
from briefgen.pages.html.panel import Panel
from briefgen.pages.html.tidy import lean, tidy
from briefgen.pages.publishing.pipeline import Made, made_of, own_mistake
from briefgen.pages.publishing.unbuilt import UnbuiltSite
from briefgen.plugin.files import add_files, dress, is_below, is_idle, is_refused, keep_frame, leave_out, navigation
from briefgen.plugin.finding import address, names_script, write_names
from briefgen.plugin.kept.builds import BetweenBuilds
from briefgen.plugin.options import Options, content_folder, record_file
from briefgen.plugin.publishing import Publishing
from briefgen.plugin.saying import say, stop_if_wrong
from briefgen.plugin.server.serving import Serving, mount_path
from briefgen.plugin.template_cache import KnownTheme
from briefgen.reading.folder import NoContent
from briefgen.recorded import NoVersion

log = get_plugin_logger("briefgen")


class SiteBuild:
    """One build. `serving` is None but under `mkdocs serve`; `between` is None where nothing is kept."""

    made: Made
    whole: bool
    whole_in_memory: bool
    ours: set[str]
    nav: Navigation
    names: str

    def __init__(
        self, options: Options, serving: Serving | None, publishing: Publishing | None, between: BetweenBuilds | None
    ) -> None:
        self.config, self.serving, self.publishing, self.between = options, serving, publishing, between

    def know_theme(self, config: MkDocsConfig) -> None:
        """What is known of the theme is used."""
        (self.serving.look if self.serving else KnownTheme()).keep(config.theme)

    def make(self, config: MkDocsConfig) -> None:
        """Reads and proves the content and makes our pages. Raises PluginError when it does not hold."""
        try:
            with in_one_go(to_the_end=self.serving is None):
                self.made = self._made(config)
            self.whole = True
        except PluginError as reason:
            if self.serving is None or self.serving.has_site or not content_folder(self.config, config).is_dir():
                raise  # a folder that is not there can't be watched either
            log.error(str(reason))
            site = UnbuiltSite(config.use_directory_urls)
            self.made = Made(site, {uri: site.html(uri) for uri in site.pages})
            self.whole = False

    def files(self, files: Files, config: MkDocsConfig) -> Files:
        """Adds a file for every page, picture and script, and the navigation."""
        # Another plugin may look at any page at any time.
        self.whole_in_memory = self.serving is not None or len(config.plugins) > 1
        if self.serving:
            self.serving.listening.begin()
        given = config.nav
        if not self._for_authors:
            leave_out(files, is_below(self.config.author_pages))
        if not self.whole:
            leave_out(files, lambda file: file.is_documentation_page())
            given = []
        self.ours = add_files(files, self.made.site, config)
        leave_out(files, is_idle(config), is_refused(config))
        config.nav = navigation(files, self.made.site, self.ours, given, self.config.author_pages)
        return files

    def markdown(self, markdown: str, page: Page) -> str:
        """Gives our pages their icon, their description."""
        if _uri(page) in self.ours:
            dress(page, self.made.site.pages[_uri(page)])
        else:
            keep_frame(page.meta)
        return markdown

    def content(self, html: str, page: Page) -> str:
        """Puts our own HTML into our pages, and resolves `kind:id` links in the author's."""
        if _uri(page) not in self.ours:
            return self.made.site.prose(html, _uri(page))
        if self.whole_in_memory:
            self._fill(page)
        return page.content or ""

    def turn(self, page: Page) -> None:
        """The page's turn has come: its HTML, which waited on the disk, is put in."""
        if _uri(page) in self.ours and not page.content:
            self._fill(page)

    def _fill(self, page: Page) -> None:
        page.content = self.made.html[_uri(page)]
        page.toc = get_toc(cast(Any, headings(page.content)))

    def template(self, output: str, name: str) -> str:
        """The style sheet goes out without what is said in it to people."""
        return lean(output) if name.endswith(".css") else output

    def env(self, env: Environment, config: MkDocsConfig, files: Files) -> None:
        """The names of all pages are known. While serving: what did not change need not be built again."""
        self.names = names_script(self.made.site, files, self.ours)
        env.globals |= {"names_page": address(files, "names"), "readers_page": address(files, "mine/index")}
        if self.serving:
            self.serving.frames.settle(config, files, self.nav)
        elif self.between and self.between.frames:
            self.between.frames.settle(env, self.nav, config.theme)

    def finished(self, output: str, page: Page) -> str:
        """Leaves out the white space of templates; while serving, nobody would gain by it."""
        if self.serving:
            return self.serving.frames.finished(output, page)
        if not self.whole_in_memory:
            page.content, page.toc = "", get_toc([])
        if self.between and self.between.frames and self.between.frames.is_finished(page):
            return output
        return tidy(output)

    def is_whole(self, config: MkDocsConfig) -> None:
        """The site is whole, but for what is found in it."""
        write_names(config, self.names)
        if self.serving:
            self.serving.built(config, self.whole)

    @property
    def _for_authors(self) -> bool:
        """Whether the site has what only whoever writes a briefing reads."""
        return self.config.for_authors or self.serving is not None

    def _made(self, config: MkDocsConfig) -> Made:
        """The pages; raises PluginError, and tells the panel why, when there is a reason to make none."""
        found = None
        try:
            levels = read_levels(self.config.levels.items())
            results = self.between.results if self.between else NO_RESULTS
            beside = Beside(Path(config.docs_dir), record_file(self.config, config), results=results)
            found = examine(content_folder(self.config, config), levels, beside)
            say(found)
            stop_if_wrong(found.findings, config.strict and not self.serving)
            kept = self.serving.pages if self.serving else None
            waits_in = self.publishing.beside if self.publishing else None
            made = made_of(found, config.use_directory_urls, kept, for_authors=self._for_authors, waits_in=waits_in)
        except PluginError:
            self._tell(config, found, "", held=True)
            raise
        except (NoContent, BadLevel, NoVersion) as reason:
            self._tell(config, found, str(reason), held=True)
            raise PluginError(printable(str(reason))) from None
        except Exception as error:
            if isinstance(error, OSError) and self.publishing is not None:
                raise  # what the disk says is told as such
            log.debug("unexpected", exc_info=error)
            sentence = own_mistake(error)
            self._tell(config, found, sentence, held=True)
            raise PluginError(printable(sentence)) from error
        self._tell(config, found, "", held=False)
        return made

    def _tell(self, config: MkDocsConfig, found: Examination | None, trouble: str, *, held: bool) -> None:
        """What the panel says from now on; `held`: no page was made."""
        if self.serving is None:
            return
        ending = "/" if config.use_directory_urls else ".html"
        self.serving.say(
            Panel(
                found.findings if found else (),
                trouble,
                held and self.serving.has_site,
                self.serving.since,
                rule_page=lambda rule: f"{mount_path(config)}rules/{rule}{ending}",
            )
        )


def _uri(page: Page) -> str:
    return page.file.src_uri.removesuffix(".md")
