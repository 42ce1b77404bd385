"""Every kind of page in a real Chromium, over HTTP and from a folder: silent, at home, within its width, readable."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from tests.browser_tools import NARROW, SCHEMES, WIDE, Scheme, axe_violations, nu_errors, opened
from tests.site.site_build import KINDS

pytestmark = pytest.mark.browser
# axe-core takes long on the longest pages: of their kinds it is given shorter ones, made of the same parts.
SHORTER = {
    "tasks/swap-pump": "tasks/collect-plates", "timelines/sortie-1": "timelines/sortie-2", "people/ev2": "people/iv",
    "plays/sortie-1": "plays/sortie-2", "states/sortie-1": "states/sortie-2",
}  # fmt: skip
AXE = tuple(SHORTER.get(kind, kind) for kind in KINDS)
LIVE = ("timelines/sortie-1", "tasks/open-cover", "places/index", "plays/sortie-2", "states/sortie-2")


@pytest.mark.parametrize("page", KINDS)
def test_over_http_a_page_is_silent_and_fits_its_width(browser: Browser, address: str, page: str) -> None:
    with opened(browser, f"{address}{page}.html", width=NARROW) as (tab, seen):
        widths = {NARROW: tab.evaluate("document.scrollingElement.scrollWidth")}
        # WCAG 2.2, success criterion 1.4.10: no scrolling in two directions at 320 CSS pixels.
        tab.set_viewport_size({"width": 320, "height": 900})
        widths[320] = tab.evaluate("document.scrollingElement.scrollWidth")
        assert all(width <= limit for limit, width in widths.items()), widths
        assert seen.outside(address) == []
        assert seen.messages == []
        assert len(seen.requests) > 3


@pytest.mark.parametrize("page", [kind for kind in KINDS if kind != "404"])
def test_from_a_folder_without_a_script_a_page_is_readable(browser: Browser, site: Path, page: str) -> None:
    with opened(browser, (site / f"{page}.html").as_uri(), scripts=False) as (tab, seen):
        assert tab.locator("article h1").first.is_visible() or tab.locator("article h2").first.is_visible()
        assert "not the approved procedure" in tab.locator(".bg-caution").inner_text()
        assert len(tab.locator("article.bg-page").inner_text()) > 150
        charts = tab.locator("figure.bg-chart")
        for number in range(charts.count()):
            assert charts.nth(number).locator(".bg-chart__still svg:visible").count() == 1
        assert tab.locator("[data-print]:visible, .bg-keep:visible, [data-opens]:visible").count() == 0
        assert seen.outside() == []


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("page", AXE)
def test_no_barrier_in_either_palette_at_either_width(
    browser: Browser, address: str, page: str, scheme: Scheme
) -> None:
    with opened(browser, f"{address}{page}.html", scheme=scheme) as (tab, _):
        assert tab.get_attribute("body", "data-md-color-scheme") == ("default" if scheme == "light" else "slate")
        for width in (WIDE, NARROW):
            tab.set_viewport_size({"width": width, "height": 900})
            tab.wait_for_function(f"innerWidth === {width}")
            assert axe_violations(tab) == [], width


@pytest.mark.parametrize("page", LIVE)
def test_no_barrier_where_charts_are_live(browser: Browser, address: str, page: str) -> None:
    with opened(browser, f"{address}{page}.html") as (tab, seen):
        charts = tab.locator("figure.bg-chart")
        for number in range(charts.count()):
            charts.nth(number).scroll_into_view_if_needed()
            expect(charts.nth(number)).to_have_attribute("data-state", "live", timeout=30_000)
        assert charts.count() > 0
        assert axe_violations(tab) == []
        assert seen.messages == []


@pytest.mark.parametrize("scheme", SCHEMES)
def test_the_open_search_has_no_barrier(browser: Browser, address: str, scheme: Scheme) -> None:
    with opened(browser, f"{address}index.html", scheme=scheme) as (tab, _):
        tab.keyboard.press("/")
        tab.keyboard.type("hatch", delay=20)
        tab.wait_for_selector(".md-search-result__link")
        assert axe_violations(tab) == []


def test_the_html_of_every_page_has_no_error(site: Path) -> None:
    pages = sorted(site.rglob("*.html"))
    assert len(pages) > 200
    assert nu_errors(pages) == []
