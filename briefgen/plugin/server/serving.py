"""`mkdocs serve`: the last good site stays until a better one is whole, and what is wrong stands on every page.

Each build goes into the one of two folders that is not being served. Only when it is done are the two changed over;
so whatever stops a build, the pages that are served are whole. A page that did not change is put there when somebody
asks for it.
"""

from __future__ import annotations

import gc
import shutil
import tempfile
import threading
import time
import traceback
from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.livereload import LiveReloadServer
from mkdocs.plugins import get_plugin_logger
from watchdog.observers.polling import PollingObserver

from briefgen.pages.html.panel import Panel
from briefgen.pages.publishing.render_cache import KeptPages
from briefgen.plugin.listening import Listening
from briefgen.plugin.server.answers import answering, asking_again, error_page, put_page
from briefgen.plugin.server.returning import Returning
from briefgen.plugin.server.unchanged_pages import Frames
from briefgen.plugin.template_cache import KnownTheme

log = get_plugin_logger("briefgen")


class Serving:
    """What lasts from build to build while a site is served."""

    def __init__(self) -> None:
        self.panel = Panel()
        self.pages = KeptPages()
        self.frames = Frames()
        self.look = KnownTheme()
        self.listening = Listening()
        self.has_site = False
        self._folders: list[str] = []
        self._served: LiveReloadServer | None = None
        self._config: MkDocsConfig | None = None
        self._since = ""
        self._pages: dict[str, str] = {}
        self._told = False
        self._waiter: threading.Thread | None = None
        self._returning: Returning | None = None
        self._stop_waiting = threading.Event()

    def folder(self, given: str) -> str:
        """Where the next build goes: MkDocs's own folder at first, then the one that is not being served."""
        if not self._folders:
            self._folders = [given, tempfile.mkdtemp(prefix="briefgen_")]
        return next(one for one in self._folders if self._served is None or one != self._served.root)

    def built(self, config: MkDocsConfig, whole: bool) -> None:
        """A build is done; `whole` says whether it shows the content, or only what is wrong with it."""
        self.panel = replace(self.panel, warned=self.listening.end())
        self._config, self.has_site = config, self.has_site or whole
        self._since = time.strftime("%H:%M:%S")

    def say(self, panel: Panel) -> None:
        """What the panel says from now on."""
        self.panel, self._told = panel, True

    @property
    def since(self) -> str:
        """When the pages that are being served were built."""
        return self._since

    def look_after(self, server: LiveReloadServer, folders: Iterable[str]) -> None:
        """Sees these folders come back, should they go away."""
        self._returning = Returning(server, folders)
        self._returning.start()

    def attach(self, server: LiveReloadServer) -> None:
        """Puts the panel into what a server answers, and keeps it from stopping."""
        self._served = server
        builder: Any = server.builder
        server.builder = lambda: self._build(builder)
        app = asking_again(server.get_app(), lambda: server.root, self._put)  # type: ignore[arg-type]
        server.set_app(answering(app, lambda: self.panel))

    def close(self) -> None:
        """The server has ended."""
        self._stop()
        if self._returning is not None:
            self._returning.stop()
        for folder in self._folders[1:]:
            shutil.rmtree(folder, ignore_errors=True)

    def _build(self, builder: Callable[[], None]) -> None:
        """A build that may fail; its pages are served only when it does not."""
        self._stop()
        self._config, self._told = None, False
        gc.disable()  # somebody waits: the memory can be tidied up when the pages are shown
        try:
            builder()
        except (Exception, SystemExit) as reason:
            self.listening.end()
            self._failed(reason)
        self._change_over()
        self._stop_waiting.clear()
        self._waiter = threading.Thread(target=self._afterwards, daemon=True)
        self._waiter.start()

    def _failed(self, reason: BaseException) -> None:
        log.debug("the build failed", exc_info=reason)
        if not self._told or not self.panel.held:
            words = f"The site could not be built: {' '.join(str(reason).split())} The terminal says more."
            self.panel = Panel((), words, self.has_site, self._since)
        if type(reason).__module__.partition(".")[0] != "mkdocs":
            last = traceback.extract_tb(reason.__traceback__)[-1]
            log.error(f"{type(reason).__name__}: {reason} ({last.filename}, line {last.lineno})")
        log.warning("The pages shown are those of the last good state; the panel on each of them says what is wrong.")

    def _change_over(self) -> None:
        config, server = self._config, self._served
        if config is None or server is None:
            return
        self._pages = self.frames.pages()
        server.root = config.site_dir
        server.error_handler = lambda code: error_page(Path(config.site_dir), code)

    def _put(self, address: str) -> None:
        """Puts a kept page where the server looks for it; `address` is what a browser asks for."""
        server = self._served
        if server is None or not address.startswith(server.mount_path):
            return
        name = address.removeprefix(server.mount_path)
        for uri in (name, f"{name}index.html", f"{name}/index.html"):
            if uri in self._pages:
                put_page(Path(server.root, uri), self._pages[uri])

    def _afterwards(self) -> None:
        """What can wait until the pages are shown."""
        self._stop_waiting.wait(0.3)
        gc.enable()

    def _stop(self) -> None:
        self._stop_waiting.set()
        if self._waiter is not None:
            self._waiter.join()


def mount_path(config: MkDocsConfig) -> str:
    """The path at which the site is served, with a slash at its end."""
    return urlsplit(config.site_url or "/").path.rstrip("/") + "/"


def look_more_often(server: LiveReloadServer, watched: Iterable[str]) -> None:
    """Sees changes, and their end, after a twentieth of a second. `watched`: what may already be watched."""
    again = [path for path in dict.fromkeys(watched) if path and _unwatched(server, path)]
    server.observer = PollingObserver(timeout=0.05)
    server.build_delay = 0.08
    for path in again:
        server.watch(path)


def _unwatched(server: LiveReloadServer, path: str) -> bool:
    """Whether the path was watched until now."""
    try:
        server.unwatch(path)
    except KeyError:
        return False
    return True
