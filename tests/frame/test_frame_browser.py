"""The frame in a real Chromium, from a folder: nothing asked outside, nothing on the console, no barrier found."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.browser_tools import NARROW, SCHEMES, WIDE, Scheme, Seen, axe_violations, nu_errors, opened, resize
from tests.frame.sample_site import PAGES

pytestmark = pytest.mark.browser
TASK = "tasks/swap-pump"


@contextmanager
def at(
    browser: Browser, site: Path, page: str, width: int = WIDE, scheme: Scheme = "light", scripts: bool = True
) -> Iterator[tuple[Page, Seen]]:
    with opened(browser, (site / f"{page}.html").as_uri(), width=width, scheme=scheme, scripts=scripts) as found:
        yield found


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("page", PAGES)
def test_no_barrier_no_message_no_request(browser: Browser, site: Path, page: str, scheme: Scheme) -> None:
    with at(browser, site, page, WIDE, scheme) as (tab, seen):
        assert tab.get_attribute("body", "data-md-color-scheme") == ("default" if scheme == "light" else "slate")
        assert axe_violations(tab) == []
        resize(tab, NARROW)
        assert axe_violations(tab) == []
        assert seen.outside() == []
        assert seen.messages == []
        assert len(seen.requests) > 3


@pytest.mark.parametrize("page", PAGES)
def test_a_page_reflows_at_320_pixels(browser: Browser, site: Path, page: str) -> None:
    # WCAG 2.2, success criterion 1.4.10: no scrolling in two directions at 320 CSS pixels.
    with at(browser, site, page, 320) as (tab, _):
        assert tab.evaluate("document.scrollingElement.scrollWidth") <= 320


@pytest.mark.parametrize("page", PAGES)
def test_what_is_pressed_is_big_enough(browser: Browser, site: Path, page: str) -> None:
    # WCAG 2.2, success criterion 2.5.8: 24 by 24 CSS pixels, links in running text excepted.
    with at(browser, site, page, NARROW) as (tab, _):
        small = tab.evaluate(
            """() => [...document.querySelectorAll(
                 'button, summary, select, .bg-chip, .bg-tick, .bg-answer, .bg-keep, .bg-step__num a, .bg-pin, '
                 + '.bg-callouts__pin, .bg-flow a, .bg-nav a, .bg-papers label, .bg-tile__link')]
               .filter(e => e.checkVisibility({ visibilityProperty: true }))
               .map(e => [e.outerHTML.slice(0, 80), e.getBoundingClientRect()])
               .filter(([, r]) => r.width && (r.width < 24 || r.height < 24)).map(([html]) => html)"""
        )
        assert small == []


def test_the_html_has_no_error(site: Path) -> None:
    assert nu_errors(sorted(site.rglob("*.html"))) == []


@pytest.mark.parametrize("scheme", SCHEMES)
def test_the_drawer_by_keyboard(browser: Browser, site: Path, scheme: Scheme) -> None:
    with at(browser, site, TASK, NARROW, scheme) as (tab, _):
        assert not tab.is_visible(".bg-nav")
        tab.focus("[data-opens=drawer]")
        tab.keyboard.press("Enter")
        tab.wait_for_function("document.activeElement.closest('.bg-nav')")
        assert tab.get_attribute("[data-opens=drawer]", "aria-expanded") == "true"
        tab.wait_for_timeout(400)
        assert axe_violations(tab) == []
        tab.keyboard.press("Escape")
        assert tab.evaluate("document.activeElement.dataset.opens") == "drawer"
        tab.wait_for_selector(".bg-nav", state="hidden")


def test_the_skip_link_is_the_first_stop(browser: Browser, site: Path) -> None:
    with at(browser, site, TASK) as (tab, _):
        tab.keyboard.press("Tab")
        assert tab.evaluate("document.activeElement.textContent") == "Skip to the page"
        assert tab.locator(".bg-skip").bounding_box()["y"] >= 0  # type: ignore[index]
        tab.keyboard.press("Enter")
        assert tab.evaluate("document.activeElement.id") == "bg-page"


def test_every_stop_of_the_keyboard_is_seen(browser: Browser, site: Path) -> None:
    # WCAG 2.2, success criteria 2.4.7 and 2.4.11: the focus is drawn, and not wholly behind the bar.
    with at(browser, site, TASK) as (tab, _):
        stops = tab.locator("a:visible, button:visible, input:visible, summary:visible").count()
        unseen = []
        for _stop in range(stops):
            tab.keyboard.press("Tab")
            seen = tab.evaluate(
                """() => { const e = document.activeElement, r = e.getBoundingClientRect()
                  const drawn = getComputedStyle(e).outlineStyle !== 'none'
                  const top = document.elementFromPoint(r.x + r.width / 2, r.y + Math.max(r.height / 2, r.height - 4))
                  const free = e.contains(top) || e.closest('label')?.contains(top)
                  return e === document.body || (drawn && free) ? '' : e.outerHTML.slice(0, 90) }"""
            )
            unseen += [seen] if seen else []
        assert unseen == []


def test_the_palette_changes_by_keyboard_and_is_kept(browser: Browser, site: Path) -> None:
    with at(browser, site, TASK) as (tab, seen):
        tab.evaluate("document.addEventListener('bg:palette', () => { window.told = true })")
        tab.focus("[data-palette]:not([hidden])")
        tab.keyboard.press("Enter")
        assert tab.get_attribute("body", "data-md-color-scheme") == "slate"
        tab.wait_for_function("document.activeElement.textContent.trim() === 'Use day colours'")
        assert tab.evaluate("window.told") is True
        tab.reload()
        assert tab.get_attribute("body", "data-md-color-scheme") == "slate"
        assert seen.messages == []


def test_a_wide_table_is_a_stop_only_where_it_scrolls(browser: Browser, site: Path) -> None:
    wide_table = '[aria-labelledby="t-wide"]'
    with at(browser, site, "reference", NARROW) as (tab, _):
        tab.focus(wide_table)
        tab.keyboard.press("ArrowRight")
        tab.wait_for_function("s => document.querySelector(s).scrollLeft > 0", arg=wide_table)
        row = "getComputedStyle(document.querySelector('[data-narrow=cards] tbody tr')).display"
        assert tab.evaluate(row) == "block"
    with at(browser, site, "reference", WIDE) as (tab, _):
        assert tab.get_attribute(wide_table, "tabindex") is None
    with at(browser, site, "prose", NARROW) as (tab, _):
        table = tab.locator(".md-typeset__scrollwrap")
        assert table.get_attribute("tabindex") == "0"
        assert "Sign" in (table.get_attribute("aria-label") or "")


def test_pins_and_lines_light_each_other_up(browser: Browser, site: Path) -> None:
    with at(browser, site, "reference") as (tab, _):
        tab.focus("#pump-front-p14-pin")
        assert "bg-lit" in (tab.get_attribute("#pump-front-p14", "class") or "")
        assert "bg-lit" not in (tab.get_attribute("#pump-front-valves", "class") or "")
        box, picture = (tab.locator(s).bounding_box() for s in ("#pump-front-p14-pin", ".bg-figure__picture img"))
        assert box is not None
        assert picture is not None
        # The pin's centre stands at the author's 55 % and 36 % of the picture, to a pixel or two (border).
        assert box["x"] + box["width"] / 2 == pytest.approx(picture["x"] + 0.55 * picture["width"], abs=3)
        assert box["y"] + box["height"] / 2 == pytest.approx(picture["y"] + 0.36 * picture["height"], abs=3)


def test_the_answer_is_marked_by_a_word(browser: Browser, site: Path) -> None:
    marked = "getComputedStyle(document.querySelector('#q-first .bg-answer[data-correct]'), '::after').content"
    with at(browser, site, "learning", scripts=False) as (tab, _):
        assert tab.evaluate(marked) in ("none", "normal")
        tab.click("#q-first summary")
        assert tab.evaluate(marked) == '"right"'
        assert tab.is_visible("#q-first .bg-question__right")


@pytest.mark.parametrize("width", [WIDE, NARROW])
def test_a_link_to_a_step_shows_its_hazards_and_holds(browser: Browser, site: Path, width: int) -> None:
    with at(browser, site, TASK, width) as (tab, _):
        tab.goto(f"{tab.url}#demate")
        for what in (".bg-hazard[data-signal=danger]", ".bg-hold", "#demate"):
            box = tab.locator(f".bg-step:has(#demate) {what}").bounding_box()
            assert box is not None
            bar = tab.locator(".bg-top").bounding_box()
            assert bar is not None
            assert bar["height"] <= box["y"] < 900, what
    with at(browser, site, "index", width, scripts=False) as (tab, _):
        tab.goto(tab.url.replace("index.html", f"{TASK}.html#demate"))
        box = tab.locator(".bg-step:has(#demate) .bg-hold").bounding_box()
        assert box is not None
        assert box["y"] > 0
