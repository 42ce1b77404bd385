"""The same site behind a server: the page for a wrong address."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread

import pytest
from playwright.sync_api import Browser

from tests.browser_tools import axe_violations, opened

pytestmark = pytest.mark.browser


class Quiet(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: object) -> None:
        """Say nothing."""


@pytest.fixture(scope="module")
def address(site: Path) -> Iterator[str]:
    with ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(site))) as server:
        thread = Thread(target=server.serve_forever)
        thread.start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()
        thread.join()


def test_the_page_for_a_wrong_address(browser: Browser, address: str) -> None:
    with opened(browser, f"{address}/404.html", scheme="dark") as (tab, seen):
        assert axe_violations(tab) == []
        assert seen.messages == []
        tab.click(".bg-page a")
        assert tab.inner_text("h1") == "Two sorties to keep the garden cool"
