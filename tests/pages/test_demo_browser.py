"""What the demo's pages do in a real Chromium, opened from a folder: links both ways, ways on, marks that stay."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import urljoin

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser_tools import Seen, opened

pytestmark = pytest.mark.browser


@contextmanager
def at(browser: Browser, site: Path, page: str, scripts: bool = True) -> Iterator[tuple[Page, Seen]]:
    with opened(browser, (site / f"{page}.html").as_uri(), scripts=scripts) as found:
        yield found


def anchor(tab: Page) -> str:
    return tab.url.rpartition("#")[2]


def test_without_a_script_the_still_leads_to_the_step(browser: Browser, demo_folder: Path) -> None:
    with at(browser, demo_folder, "timelines/sortie-1", scripts=False) as (tab, _):
        link = tab.locator(".bg-chart__still[data-wide] a[href*='tasks/'][href*='#']").first
        tab.goto(urljoin(tab.url, str(link.get_attribute("href"))))
        assert tab.locator(f"[id='{anchor(tab)}']").is_visible()


def test_the_clock_of_a_step_leads_into_the_timeline(browser: Browser, demo_folder: Path) -> None:
    with at(browser, demo_folder, "tasks/swap-pump") as (tab, seen):
        tab.locator(".bg-step a.bg-clock").nth(3).click()
        tab.wait_for_url("**/timelines/sortie-1.html#*")
        assert anchor(tab).startswith("timeline-sortie-1.swap-pump.")
        assert seen.messages == []


def test_a_pin_and_its_line_lead_to_each_other_by_keyboard(browser: Browser, demo_folder: Path) -> None:
    with at(browser, demo_folder, "figures/pump-front") as (tab, _):
        tab.locator(".bg-pin").nth(4).focus()
        tab.keyboard.press("Enter")
        line = anchor(tab)
        assert tab.locator(f"#{line}").is_visible()
        tab.locator(f"#{line} .bg-callouts__pin").focus()
        tab.keyboard.press("Enter")
        assert anchor(tab) == f"{line}-pin"


def test_a_callout_leads_to_the_step_that_uses_it_and_the_step_to_the_callout(
    browser: Browser, demo_folder: Path
) -> None:
    with at(browser, demo_folder, "figures/pump-front") as (tab, _):
        line = tab.locator(".bg-callouts > li").filter(has=tab.locator(".bg-callouts__used a")).first
        name = str(line.get_attribute("id"))
        line.locator(".bg-callouts__used a").first.click()
        step = tab.locator(".bg-step").filter(has=tab.locator(f"[id='{anchor(tab)}']"))
        step.locator("a[data-whole]").first.click()
        tab.locator("dialog[open] a[href*='figures/pump-front']").click()
        tab.wait_for_url("**/figures/pump-front.html")
        assert tab.locator(f"#{name}").is_visible()


def test_then_follows_a_persons_own_flow(browser: Browser, demo_folder: Path) -> None:
    with at(browser, demo_folder, "tasks/swap-pump") as (tab, _):
        tab.locator("nav.bg-flow").filter(has_text="Heron").locator("a.bg-flow__next").click()
        expect(tab).not_to_have_url(re.compile(r"tasks/swap-pump\.html"))
        expect(tab.locator(f"[id='{anchor(tab)}']")).to_be_visible()


@pytest.mark.parametrize(
    ("page", "fold"), [("tasks/collect-plates", ".bg-rounds"), ("tasks/open-cover", ".bg-step:has(.bg-tick)")]
)
def test_what_is_ticked_is_remembered(browser: Browser, demo_folder: Path, page: str, fold: str) -> None:
    with at(browser, demo_folder, page) as (tab, _):
        tab.locator(f"{fold} summary").first.click()
        tab.locator(".bg-tick input").first.check()
        tab.reload()
        expect(tab.locator(".bg-tick input").first).to_be_checked()
        expect(tab.locator(".bg-tick input").nth(1)).not_to_be_checked()


@pytest.mark.parametrize("page", ["tasks/collect-plates", "cards/sortie-1/ev2"])
def test_on_a_phone_no_box_of_a_block_is_cut(browser: Browser, demo_folder: Path, page: str) -> None:
    with at(browser, demo_folder, page) as (tab, _):
        tab.set_viewport_size({"width": 390, "height": 844})
        tab.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true })")
        assert tab.locator(".bg-ticks__round").count() == 3
        cut = tab.evaluate(
            """() => [...document.querySelectorAll('.bg-ticks__round .bg-tick')].filter(box => {
                const within = box.closest('fieldset').getBoundingClientRect(), own = box.getBoundingClientRect()
                return own.left < within.left - 1 || own.right > within.right + 1 || own.right > innerWidth
            }).length"""
        )
        assert cut == 0
        wide = "[...document.querySelectorAll('.bg-rounds, .bg-card__rounds')].map(e => e.scrollWidth - e.clientWidth)"
        assert max(tab.evaluate(wide)) <= 0
        # The boxes for the items of one step stand in one row.
        rows = tab.evaluate(
            """() => [...document.querySelectorAll('.bg-ticks__step')].map(step =>
                new Set([...step.children].map(box => Math.round(box.getBoundingClientRect().top))).size)"""
        )
        assert set(rows) == {1}
