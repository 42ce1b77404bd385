"""Opens a page of charts. It waits for no silence, as `browser_tools` does: charts say when they are there."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Literal

from playwright.sync_api import Browser, Page, expect

from tests.browser_tools import WIDE, Seen, fresh_tab

# Milliseconds; the shared script of 4.8 MB may take its time on a busy machine.
LIVE = 60_000


@contextmanager
def opened(
    browser: Browser,
    url: str,
    *,
    width: int = WIDE,
    scripts: bool = True,
    motion: Literal["no-preference", "reduce"] = "no-preference",
) -> Iterator[tuple[Page, Seen]]:
    """A page at a width (CSS pixels), loaded, in a tab of its own; and what it has asked for and said."""
    with fresh_tab(browser, url, width=width, scripts=scripts, motion=motion) as (page, seen):
        page.goto(url)
        yield page, seen


def live(page: Page, name: str) -> None:
    """Asks for a chart and waits until it is live."""
    page.locator(f"#{name} .bg-chart__ask").click()
    expect(page.locator(f"#{name}")).to_have_attribute("data-state", "live", timeout=LIVE)
