"""`mkdocs serve` on a project of a test, in a process of its own."""

from __future__ import annotations

import os
import re
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page


class Server:
    """A running server: its pages, and what it has said in the terminal."""

    def __init__(self, process: subprocess.Popen[bytes], address: str, log: Path) -> None:
        self.process = process
        self.address = address
        self._log = log

    @property
    def said(self) -> str:
        return self._log.read_text(encoding="utf-8")

    def page(self, name: str) -> str:
        """A page as it is served now, also the one for what is not there; empty while nothing answers."""
        try:
            with urllib.request.urlopen(self.address + name, timeout=20) as answer:
                return str(answer.read().decode("utf-8"))
        except urllib.error.HTTPError as error:
            return error.read().decode("utf-8")
        except OSError:
            return ""

    def wait_for(self, name: str, what: Callable[[str], bool], seconds: float = 60) -> str:
        """The page as soon as it is so."""
        end = time.monotonic() + seconds
        page = ""
        while time.monotonic() < end:
            assert self.process.poll() is None, self.said
            page = self.page(name)
            if page and what(page):
                return page
            time.sleep(0.05)
        pytest.fail(f"waited {seconds} s; the server said: {self.said[-3000:]}\nthe page: {page[-3000:]}")

    def assert_well(self) -> None:
        """It runs, and what it said is for people."""
        assert self.process.poll() is None
        assert "Traceback" not in self.said


@contextmanager
def serving(folder: Path) -> Iterator[Server]:
    """A server on a folder with a mkdocs.yml; it has built once when this begins."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    log = folder.parent / f"{folder.name}.log"
    command = [sys.executable, "-m", "mkdocs", "serve", "-a", f"127.0.0.1:{port}"]
    environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1", "PYTHONUNBUFFERED": "1"}
    with log.open("wb") as stream:
        # Tests that were started in the background ignore Ctrl-C, and the server would inherit that.
        before = signal.signal(signal.SIGINT, signal.default_int_handler)
        process = subprocess.Popen(command, stdout=stream, stderr=subprocess.STDOUT, env=environment, cwd=folder)
        signal.signal(signal.SIGINT, before)
        server = Server(process, f"http://127.0.0.1:{port}/", log)
        try:
            server.wait_for("", bool)
            yield server
        finally:
            process.send_signal(signal.SIGINT)  # as Ctrl-C does, so that it tidies up
            process.wait(timeout=60)


@contextmanager
def opened_while_serving(browser: Browser, address: str) -> Iterator[Page]:
    """A page that waits for changes: it is never idle, so nobody waits for that."""
    context = browser.new_context()
    page = context.new_page()
    try:
        page.goto(address, wait_until="load")
        yield page
    finally:
        context.close()


def panel_of(page: str) -> str:
    """The words of the panel on a page; empty without one."""
    found = re.search(r'<aside class="bg-panel".*?</aside>', page, re.DOTALL)
    return " ".join(re.sub(r"<[^>]*>", " ", found[0]).split()) if found else ""
