"""Opens a page of charts. It waits for no quiet network, as `browser_tools` does: charts say when they are there."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Literal

from playwright.sync_api import Browser, Page, expect

from tests.browser_tools import WIDE, Seen

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
    """A page at a width (CSS pixels), loaded, in a context of its own; and what it has asked for and said."""
    context = browser.new_context(
        viewport={"width": width, "height": 900}, java_script_enabled=scripts, reduced_motion=motion
    )
    page, seen = context.new_page(), Seen()
    seen.watch(page)
    try:
        page.goto(url)
        yield page, seen
    finally:
        context.close()


def live(page: Page, name: str) -> None:
    """Brings a chart into view and waits until it is live."""
    page.locator(f"#{name}").scroll_into_view_if_needed()
    expect(page.locator(f"#{name}")).to_have_attribute("data-state", "live", timeout=LIVE)
