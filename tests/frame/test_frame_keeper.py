"""The place-keeper, and reading without a script."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.browser_tools import NARROW, opened

pytestmark = pytest.mark.browser


def test_marks_are_kept_counted_and_cleared(browser: Browser, site: Path) -> None:
    names = ("tasks/swap-pump", "tasks/collect-plates", "index")
    task, plates, start = ((site / f"{name}.html").as_uri() for name in names)
    count = "[data-keeper-count]"
    with opened(browser, task) as (tab, seen):
        assert tab.inner_text(count) == "Nothing read yet"
        assert tab.is_disabled("[data-keeper-clear]")
        tab.check('[data-keep="task:swap-pump#close-valves"]')
        tab.check('[data-keep="task:swap-pump#draw-out/3"]')
        tab.check('[data-keep^="page:"]')
        assert tab.inner_text(count) == "1 of 4 read"
        assert tab.inner_text("[data-ticks-count]") == "5 of 6 to do"
        tab.reload()
        assert tab.is_checked('[data-keep="task:swap-pump#close-valves"]')
        assert tab.is_checked('[data-keep="task:swap-pump#draw-out/3"]')

        tab.goto(plates)
        tab.check('[data-keep="task:collect-plates#bag/2-c"]')
        tab.goto(start)
        assert tab.inner_text('[data-kept-by="task:swap-pump"] + .bg-kept') == "1 of 17 read"

        tab.goto(task)
        assert tab.inner_text('.bg-nav [aria-current="page"]').endswith(", read")
        tab.click("[data-keeper-clear]")
        assert tab.inner_text(count) == "Nothing read yet"
        assert not tab.is_checked('[data-keep="task:swap-pump#draw-out/3"]')
        assert tab.is_checked('[data-keep^="page:"]'), "only the marks of this task are cleared"
        tab.goto(plates)
        assert tab.is_checked('[data-keep="task:collect-plates#bag/2-c"]')
        assert seen.messages == []


def test_a_page_reads_without_a_script(browser: Browser, site: Path) -> None:
    with opened(browser, (site / "tasks/swap-pump.html").as_uri(), width=NARROW, scripts=False) as (tab, seen):
        assert tab.is_visible("h3#demate")
        assert tab.is_visible(".bg-hazard[data-signal=danger]")
        for idle in (".bg-keeper", ".bg-keep", "[data-palette]", ".bg-pagekeep"):
            assert not tab.locator(idle).first.is_visible(), idle
        tab.click("label.bg-top__menu")
        tab.wait_for_selector(".bg-nav", state="visible")
        assert seen.outside() == []


def test_the_still_of_a_chart_needs_no_script(browser: Browser, site: Path) -> None:
    with opened(browser, (site / "reference.html").as_uri(), scripts=False) as (tab, _):
        assert tab.is_visible(".bg-chart__still svg")
        assert not tab.is_visible(".bg-chart__live")
        tab.click(".bg-chart__table summary")
        assert tab.is_visible(".bg-chart__table table")
