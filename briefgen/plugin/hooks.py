"""What the plugin does at each of MkDocs's events: it begins a build, hands over, and publishes what was built.

What a build needs is loaded only where one is made: a site that is the last one is taken from what is kept.
"""

from __future__ import annotations

import gc
import signal
import threading
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jinja2 import Environment
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, CombinedEvent, event_priority
from mkdocs.structure.files import Files
from mkdocs.structure.nav import Navigation
from mkdocs.structure.pages import Page
from mkdocs.utils.templates import TemplateContext

from briefgen.language.printable import printable
from briefgen.plugin.kept.builds import BetweenBuilds
from briefgen.plugin.kept.whole_site import expect_nothing
from briefgen.plugin.options import Options, content_folder, record_file
from briefgen.plugin.publishing import Publishing
from briefgen.plugin.quiet import keep_printable
from briefgen.plugin.saying import count_no_warnings, warned
from briefgen.start.theme import theme_folder

if TYPE_CHECKING:
    from mkdocs.livereload import LiveReloadServer

    from briefgen.plugin.server.serving import Serving
    from briefgen.plugin.site_build import SiteBuild


class BriefgenPlugin(BasePlugin[Options]):  # type: ignore[no-untyped-call]
    """Makes the pages of a briefing from a content folder. `serving` is None but under `mkdocs serve`.

    `site` is the build that is being made; None where the last site is the one that it would make.
    """

    serving: Serving | None = None
    in_place = False
    publishing: Publishing | None = None
    between: BetweenBuilds | None = None
    site: SiteBuild | None = None

    def on_startup(self, *, command: str, dirty: bool) -> None:
        """With this event MkDocs keeps the plugin from build to build; serving, there is something to keep."""
        if command == "serve" and not dirty:
            from briefgen.plugin.server.serving import Serving

            self.serving = Serving()
        else:
            self.serving = None
        self.in_place = dirty or command == "serve"
        if threading.current_thread() is threading.main_thread():
            # Whoever is asked to end does so as at the keyboard, and takes along what lies in temporary folders.
            signal.signal(signal.SIGTERM, signal.default_int_handler)

    def on_shutdown(self) -> None:
        """The command has ended, be it because somebody stopped it."""
        if self.serving:
            self.serving.close()
        self.serving = None
        publishing = self._ended()
        if publishing is not None:
            publishing.give_up()

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Watches the content folder, so that `mkdocs serve` sees every change in it, and brings the site's look."""
        keep_printable()
        if not config.theme.custom_dir:
            config.theme.dirs.insert(0, str(theme_folder()))
        if not config.site_url:
            config.theme.static_templates.discard("sitemap.xml")
        content, record = content_folder(self.config, config), record_file(self.config, config)
        if str(content) not in config.watch:
            config.watch.append(str(content))
        if record is not None and record.is_file() and str(record) not in config.watch:
            config.watch.append(str(record))
        if self.serving:
            config.site_dir = self.serving.folder(config.site_dir)
            count_no_warnings()
        elif not self.in_place:
            self.between = BetweenBuilds.of(config, content, record) if self.config.cache else None
            self.publishing = Publishing(config.site_dir)
            config.site_dir = self.publishing.begin()
        self._begin(config)
        return config

    def _begin(self, config: MkDocsConfig) -> None:
        if self.between is not None and self.between.is_same:
            self.site = None
            expect_nothing(config)
            return
        from briefgen.plugin.site_build import SiteBuild

        self.site = SiteBuild(self.config, self.serving, self.publishing, self.between)
        self.site.know_theme(config)

    def on_serve(self, server: LiveReloadServer, *, config: MkDocsConfig, builder: Any) -> LiveReloadServer:
        """The first build is done; from now on changes are built while the pages are being read."""
        from briefgen.plugin.server.hosts import own_names_only
        from briefgen.plugin.server.ranges import by_ranges
        from briefgen.plugin.server.serving import look_more_often

        if self.serving:
            self.serving.attach(server)
            look_more_often(server, [config.docs_dir, config.config_file_path or "", *config.theme.dirs])
            self.serving.look_after(server, [str(content_folder(self.config, config)), config.docs_dir])
        app = by_ranges(server.get_app())  # type: ignore[arg-type]
        server.set_app(own_names_only(app, config.dev_addr.host))
        return server

    def on_pre_build(self, *, config: MkDocsConfig) -> None:
        """Reads and proves the content and makes our pages. Raises PluginError when it does not hold."""
        if self.site:
            self.site.make(config)
        elif self.between:
            self.between.last.say_again()

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Adds a file for every page, picture and script, and the navigation."""
        return self.site.files(files, config) if self.site else Files([])

    @event_priority(-100)
    def on_nav(self, nav: Navigation, *, config: MkDocsConfig, files: Files) -> Navigation:
        """What the pages will list is known."""
        if self.site:
            self.site.nav = nav
        return nav

    def on_page_markdown(self, markdown: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
        """Gives our pages their icon, their description."""
        return self.site.markdown(markdown, page) if self.site else markdown

    def on_page_content(self, html: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
        """Puts our own HTML into our pages, and resolves `kind:id` links in the author's."""
        return self.site.content(html, page) if self.site else html

    @event_priority(100)
    def on_page_context(
        self, context: TemplateContext, *, page: Page, config: MkDocsConfig, nav: Navigation
    ) -> TemplateContext:
        """The page's turn has come: its HTML, which waited on the disk, is put in."""
        if self.site:
            self.site.turn(page)
        return context

    def on_post_template(self, output_content: str, *, template_name: str, config: MkDocsConfig) -> str:
        """The style sheet goes out without what is said in it to people."""
        return self.site.template(output_content, template_name) if self.site else output_content

    @event_priority(-100)
    def on_env(self, env: Environment, *, config: MkDocsConfig, files: Files) -> Environment:
        """The names of all pages are known. What did not change need not be built again."""
        if self.site:
            self.site.env(env, config, files)
        return env

    @event_priority(-100)
    def on_post_page(self, output: str, *, page: Page, config: MkDocsConfig) -> str:
        """Leaves out the white space of templates; while serving, nobody would gain by it."""
        return self.site.finished(output, page) if self.site else output

    @event_priority(100)
    def _site_is_whole(self, *, config: MkDocsConfig) -> None:
        """The site is whole, but for what is found in it."""
        if self.site:
            self.site.is_whole(config)
        elif self.between:
            self.between.take_over(Path(config.site_dir))

    @event_priority(-1000)
    def _publish(self, *, config: MkDocsConfig) -> None:
        """After everybody else: the site takes its place, unless a strict build stops at a warning that was said."""
        gc.unfreeze()
        built, publishing = Path(config.site_dir), self.publishing
        held = config.strict and warned()
        if self.between is not None and not held:
            self.between.keep(built)
        self._ended()
        if publishing is None:
            return
        config.site_dir = publishing.site_dir
        if held:
            publishing.give_up()
        else:
            publishing.finish()

    on_post_build = CombinedEvent(_site_is_whole, _publish)

    def on_build_error(self, *, error: Exception) -> None:
        """What was built so far is taken away; what the disk says is a sentence."""
        gc.unfreeze()
        publishing = self._ended()
        if publishing is None:
            return
        publishing.give_up()
        if isinstance(error, OSError):
            raise PluginError(printable(publishing.why(error))) from None

    def _ended(self) -> Publishing | None:
        """The build is over; what is still to be published, or given up."""
        publishing, self.publishing = self.publishing, None
        between, self.between = self.between, None
        if between is not None:
            between.end()
        return publishing
