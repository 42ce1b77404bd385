"""Every kind of page in a real Chromium, over HTTP and from a folder: silent, at home, within its width, readable.

An eye looks at each: no word broken, nothing clipped, covered, squeezed, or too small; `test_site_looks.py` proves it.

axe-core tries all of its rules in each palette and at each width, and those about colours in all four pairs of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser_tools import COLOURS, NARROW, SCHEMES, WIDE, axe_violations, nu_errors, opened, resize
from tests.site.eye import WIDTHS, hurts, looked_at
from tests.site.site_build import KINDS

pytestmark = pytest.mark.browser
# axe-core takes long on the longest pages: of their kinds it is given shorter ones, made of the same parts.
SHORTER = {
    "tasks/swap-pump": "tasks/collect-plates", "timelines/sortie-1": "timelines/sortie-2", "people/ev2": "people/iv",
    "plays/sortie-1": "plays/sortie-2", "states/sortie-1": "states/sortie-2", "booklets/sortie-2": "cards/sortie-2/iv",
}  # fmt: skip
ALL = (*KINDS, *SHORTER.values())
# Each live chart has followed the last change of size.
FITTED = """() => [...document.querySelectorAll(".bg-chart[data-state=live]")].map(window.briefgenCharts.of)
    .every(one => parseFloat(one.box.style.width) === one.size(one.narrow ? one.tools.narrow : {})[0])"""
LIVE = (
    "timelines/sortie-1", "stopping/sortie-1", "tasks/open-cover", "places/index", "plays/sortie-2",
)  # fmt: skip


def opened_parts(tab: Page) -> None:
    """Opens the folds of the page: what is in them must hold, too."""
    tab.evaluate("document.querySelectorAll('details.bg-part').forEach(part => { part.open = true })")


def barriers(tab: Page, page: str, rules: Sequence[str] = ()) -> list[str]:
    return [] if page in SHORTER else axe_violations(tab, rules=rules)


@pytest.mark.parametrize("page", ALL)
def test_on_a_phone_at_night_a_page_is_silent_fits_its_width_and_has_no_barrier(
    browser: Browser, address: str, page: str
) -> None:
    with opened(browser, f"{address}{page}.html", width=NARROW, scheme="dark") as (tab, seen):
        assert tab.get_attribute("body", "data-md-color-scheme") == "slate"
        widths = {NARROW: tab.evaluate("document.scrollingElement.scrollWidth")}
        assert barriers(tab, page) == []
        # WCAG 2.2, success criterion 1.4.10: no scrolling in two directions at 320 CSS pixels.
        resize(tab, 320)
        widths[320] = tab.evaluate("document.scrollingElement.scrollWidth")
        assert all(width <= limit for limit, width in widths.items()), widths
        resize(tab, WIDE)
        assert barriers(tab, page, COLOURS) == []
        assert seen.outside(address) == []
        assert seen.messages == []
        assert len(seen.requests) > 3


@pytest.mark.parametrize("page", [kind for kind in KINDS if kind != "404"])
def test_from_a_folder_without_a_script_a_page_is_readable(browser: Browser, site: Path, page: str) -> None:
    with opened(browser, (site / f"{page}.html").as_uri(), scripts=False) as (tab, seen):
        assert tab.locator("article h1").first.is_visible() or tab.locator("article h2").first.is_visible()
        assert "not the approved procedure" in tab.locator(".bg-caution").inner_text()
        assert len(tab.locator("article.bg-page").inner_text()) > 150
        opened_parts(tab)
        charts = tab.locator("figure.bg-chart")
        for number in range(charts.count()):
            assert charts.nth(number).locator(".bg-chart__still svg:visible").count() == 1
        assert tab.locator("[data-print]:visible, .bg-keep:visible, [data-opens]:visible").count() == 0
        assert seen.outside() == []


@pytest.mark.parametrize("page", ALL)
def test_on_a_desk_by_day_a_page_has_no_barrier_and_nothing_on_it_hurts_the_eye_at_any_width(
    browser: Browser, address: str, page: str
) -> None:
    with opened(browser, f"{address}{page}.html") as (tab, seen):
        assert tab.get_attribute("body", "data-md-color-scheme") == "default"
        assert barriers(tab, page) == []
        resize(tab, NARROW)
        assert barriers(tab, page, COLOURS) == []
        assert seen.messages == []
        if page in KINDS:
            assert list(looked_at(tab)) == []


@pytest.mark.parametrize("page", LIVE)
def test_no_barrier_and_nothing_that_hurts_the_eye_where_charts_are_live(
    browser: Browser, address: str, page: str
) -> None:
    with opened(browser, f"{address}{page}.html") as (tab, seen):
        opened_parts(tab)
        charts = tab.locator("figure.bg-chart")
        for number in range(charts.count()):
            charts.nth(number).locator(".bg-chart__ask").click()
            expect(charts.nth(number)).to_have_attribute("data-state", "live", timeout=30_000)
        assert charts.count() > 0
        assert axe_violations(tab) == []
        found = []
        for width in WIDTHS:
            resize(tab, width)
            tab.wait_for_function(FITTED)
            for scheme in SCHEMES:
                tab.emulate_media(color_scheme=scheme)
                found += [f"{width} {scheme}, {kind}: {words}" for kind, words in hurts(tab)]
        assert found == []
        assert seen.messages == []


def test_the_html_of_every_page_has_no_error(site: Path) -> None:
    pages = sorted(site.rglob("*.html"))
    assert len(pages) > 200
    assert nu_errors(pages) == []
