"""What the plugin does at each of MkDocs's events: hand-over only.

What is wrong with the content is said, and every page of ours is made, before anything is written, so that the
earlier site stays as it was.
"""

from __future__ import annotations

import gc
import signal
import threading
from pathlib import Path
from typing import Any, cast

from jinja2 import Environment
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.livereload import LiveReloadServer
from mkdocs.plugins import BasePlugin, CombinedEvent, event_priority, get_plugin_logger
from mkdocs.structure.files import Files
from mkdocs.structure.nav import Navigation
from mkdocs.structure.pages import Page
from mkdocs.structure.toc import get_toc
from mkdocs.utils.templates import TemplateContext

from briefgen.build import Beside, Examination, examine
from briefgen.collecting import in_one_go
from briefgen.language.printable import printable
from briefgen.levels import BadLevel, read_levels
from briefgen.pages.html.headings import headings
from briefgen.pages.html.panel import Panel
from briefgen.pages.html.tidy import lean, tidy
from briefgen.pages.publishing.pages_made import pages_made
from briefgen.pages.publishing.pipeline import Made, made_of, own_mistake
from briefgen.pages.publishing.unbuilt import UnbuiltSite
from briefgen.plugin.files import add_files, dress, is_below, is_idle, is_refused, keep_frame, leave_out, navigation
from briefgen.plugin.finding import address, names_script, write_names
from briefgen.plugin.options import Options
from briefgen.plugin.publishing import Publishing
from briefgen.plugin.quiet import keep_printable
from briefgen.plugin.saying import count_no_warnings, say, stop_if_wrong, warned
from briefgen.plugin.server.hosts import own_names_only
from briefgen.plugin.server.ranges import by_ranges
from briefgen.plugin.server.serving import Serving, look_more_often, mount_path
from briefgen.plugin.template_cache import KnownTheme
from briefgen.reading.folder import NoContent
from briefgen.recorded import NoVersion
from briefgen.start.theme import theme_folder

log = get_plugin_logger("briefgen")


class BriefgenPlugin(BasePlugin[Options]):  # type: ignore[no-untyped-call]
    """Makes the pages of a briefing from a content folder. `serving` is None but under `mkdocs serve`."""

    serving: Serving | None = None
    in_place = False
    publishing: Publishing | None = None
    made: Made
    whole: bool
    whole_in_memory: bool
    ours: set[str]
    nav: Navigation
    names: str

    def on_startup(self, *, command: str, dirty: bool) -> None:
        """With this event MkDocs keeps the plugin from build to build; serving, there is something to keep."""
        self.serving = Serving() if command == "serve" and not dirty else None
        self.in_place = dirty or command == "serve"
        if threading.current_thread() is threading.main_thread():
            # Whoever is asked to end does so as at the keyboard, and takes along what lies in temporary folders.
            signal.signal(signal.SIGTERM, signal.default_int_handler)

    def on_shutdown(self) -> None:
        """The command has ended, be it because somebody stopped it."""
        if self.serving:
            self.serving.close()
        self.serving = None
        publishing, self.publishing = self.publishing, None
        if publishing is not None:
            publishing.give_up()

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Watches the content folder, so that `mkdocs serve` sees every change in it, and brings the site's look."""
        keep_printable()
        if not config.theme.custom_dir:
            config.theme.dirs.insert(0, str(theme_folder()))
        if not config.site_url:
            config.theme.static_templates.discard("sitemap.xml")
        folder = str(self._folder(config))
        if folder not in config.watch:
            config.watch.append(folder)
        record = self._record(config)
        if record is not None and record.is_file() and str(record) not in config.watch:
            config.watch.append(str(record))
        (self.serving.look if self.serving else KnownTheme()).keep(config.theme)
        if self.serving:
            config.site_dir = self.serving.folder(config.site_dir)
            count_no_warnings()
        elif not self.in_place:
            self.publishing = Publishing(config.site_dir)
            config.site_dir = self.publishing.begin()
        return config

    def on_serve(self, server: LiveReloadServer, *, config: MkDocsConfig, builder: Any) -> LiveReloadServer:
        """The first build is done; from now on changes are built while the pages are being read."""
        if self.serving:
            self.serving.attach(server)
            look_more_often(server, [config.docs_dir, config.config_file_path or "", *config.theme.dirs])
            self.serving.look_after(server, [str(self._folder(config)), config.docs_dir])
        app = by_ranges(server.get_app())  # type: ignore[arg-type]
        server.set_app(own_names_only(app, config.dev_addr.host))
        return server

    def on_pre_build(self, *, config: MkDocsConfig) -> None:
        """Reads and proves the content and makes our pages. Raises PluginError when it does not hold."""
        try:
            with in_one_go(to_the_end=self.serving is None):
                self.made = self._made(config)
            self.whole = True
        except PluginError as reason:
            if self.serving is None or self.serving.has_site or not self._folder(config).is_dir():
                raise  # a folder that is not there can't be watched either
            log.error(str(reason))
            site = UnbuiltSite(config.use_directory_urls)
            self.made = Made(site, {uri: site.html(uri) for uri in site.pages})
            self.whole = False

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
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

    @event_priority(-100)
    def on_nav(self, nav: Navigation, *, config: MkDocsConfig, files: Files) -> Navigation:
        """What the pages will list is known."""
        self.nav = nav
        return nav

    def on_page_markdown(self, markdown: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
        """Gives our pages their icon, their description."""
        if _uri(page) in self.ours:
            dress(page, self.made.site.pages[_uri(page)])
        else:
            keep_frame(page.meta)
        return markdown

    def on_page_content(self, html: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
        """Puts our own HTML into our pages, and resolves `kind:id` links in the author's."""
        if _uri(page) not in self.ours:
            return self.made.site.prose(html, _uri(page))
        if self.whole_in_memory:
            self._fill(page)
        return page.content or ""

    @event_priority(100)
    def on_page_context(
        self, context: TemplateContext, *, page: Page, config: MkDocsConfig, nav: Navigation
    ) -> TemplateContext:
        """The page's turn has come: its HTML, which waited on the disk, is put in."""
        if _uri(page) in self.ours and not page.content:
            self._fill(page)
        return context

    def _fill(self, page: Page) -> None:
        page.content = self.made.html[_uri(page)]
        page.toc = get_toc(cast(Any, headings(page.content)))

    def on_post_template(self, output_content: str, *, template_name: str, config: MkDocsConfig) -> str:
        """The style sheet goes out without what is said in it to people."""
        return lean(output_content) if template_name.endswith(".css") else output_content

    @event_priority(-100)
    def on_env(self, env: Environment, *, config: MkDocsConfig, files: Files) -> Environment:
        """The names of all pages are known. While serving: what did not change need not be built again."""
        self.names = names_script(self.made.site, files, self.ours)
        env.globals |= {"names_page": address(files, "names"), "readers_page": address(files, "mine/index")}
        if self.serving:
            self.serving.frames.settle(config, files, self.nav)
        return env

    @event_priority(-100)
    def on_post_page(self, output: str, *, page: Page, config: MkDocsConfig) -> str:
        """Leaves out the white space of templates; while serving, nobody would gain by it."""
        if self.serving:
            return self.serving.frames.finished(output, page)
        if not self.whole_in_memory:
            page.content, page.toc = "", get_toc([])
        return tidy(output)

    @event_priority(100)
    def _site_is_whole(self, *, config: MkDocsConfig) -> None:
        """The site is whole, but for what is found in it."""
        write_names(config, self.names)
        if self.serving:
            self.serving.built(config, self.whole)

    @event_priority(-1000)
    def _publish(self, *, config: MkDocsConfig) -> None:
        """After everybody else: the site takes its place, unless a strict build stops at a warning that was said."""
        gc.unfreeze()
        publishing, self.publishing = self.publishing, None
        if publishing is None:
            return
        config.site_dir = publishing.site_dir
        if config.strict and warned():
            publishing.give_up()
        else:
            publishing.finish()

    on_post_build = CombinedEvent(_site_is_whole, _publish)

    def on_build_error(self, *, error: Exception) -> None:
        """What was built so far is taken away; what the disk says is a sentence."""
        gc.unfreeze()
        publishing, self.publishing = self.publishing, None
        if publishing is None:
            return
        publishing.give_up()
        if isinstance(error, OSError):
            raise PluginError(printable(publishing.why(error))) from None

    @property
    def _for_authors(self) -> bool:
        """Whether the site has what only whoever writes a briefing reads."""
        return self.config.for_authors or self.serving is not None

    def _folder(self, config: MkDocsConfig) -> Path:
        return Path(config.config_file_path or "").parent / self.config.content

    def _record(self, config: MkDocsConfig) -> Path | None:
        """The record of an earlier revision that the pages are compared with."""
        return Path(config.config_file_path or "").parent / self.config.since if self.config.since else None

    def _made(self, config: MkDocsConfig) -> Made:
        """The pages; raises PluginError, and tells the panel why, when there is a reason to make none."""
        found = None
        try:
            levels = read_levels(self.config.levels.items())
            beside = Beside(Path(config.docs_dir), self._record(config), pages_made)
            found = examine(self._folder(config), levels, beside)
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
