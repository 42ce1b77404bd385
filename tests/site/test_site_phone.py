"""On a phone: what must be on one screen is, nothing scrolls sideways, and no number is parted from its unit."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from bs4 import BeautifulSoup, NavigableString
from playwright.sync_api import Browser

from briefgen.language.unbroken import unbroken
from tests.browser_tools import opened

LOW, NARROWEST = 844, 390
SHOWN = "[...document.querySelectorAll('.bg-now__person, .bg-player__bar, .bg-player__map')]"


@pytest.mark.browser
@pytest.mark.parametrize("sortie", ["sortie-1", "sortie-2"])
def test_a_sortie_to_be_played_is_on_one_screen(browser: Browser, address: str, sortie: str) -> None:
    with opened(browser, f"{address}plays/{sortie}.html", width=NARROWEST, height=LOW) as (tab, _):
        tab.set_viewport_size({"width": NARROWEST, "height": LOW})
        tab.evaluate("document.fonts.ready")
        ends = tab.evaluate(f"{SHOWN}.map(one => one.getBoundingClientRect().bottom)")
        assert len(ends) == 6
        assert max(ends) <= LOW
        assert tab.evaluate("scrollY") == 0


@pytest.mark.browser
@pytest.mark.parametrize("reader", ["instructor-", "ev1", "iv", "ground"])
def test_no_way_of_a_reader_is_scrolled_to(browser: Browser, address: str, reader: str) -> None:
    with opened(browser, f"{address}mine/index.html", width=NARROWEST, height=LOW) as (tab, _):
        tab.locator(f"[data-reader='{reader}']").first.click()
        tab.locator(".bg-bar__ways a[aria-current]").wait_for()
        bar = tab.locator(".bg-bar__ways")
        assert bar.locator("a").count() >= 5
        assert bar.evaluate("one => one.scrollWidth - one.clientWidth") <= 0
        assert bar.evaluate("one => one.getBoundingClientRect().right") <= NARROWEST
        assert bar.evaluate("one => Math.min(...[...one.querySelectorAll('a')].map(link => link.offsetWidth))") >= 24


PAIR = re.compile(r"[0-9] (?:%|min|h|s|m|kg|°C|V|N·m|turns)(?![\w·*/-])")


@pytest.mark.parametrize("part", ["tasks", "sorties", "deciding", "cards", "mine", "readers", "stopping"])
def test_no_number_is_parted_from_its_unit(site: Path, part: str) -> None:
    kept = 0
    for path in (site / part).rglob("*.html"):
        page = BeautifulSoup(path.read_text(encoding="utf-8"), "lxml")
        for words in page.find_all(string=True):
            if type(words) is NavigableString and not words.find_parents(["pre", "textarea"]):
                assert not PAIR.search(words), f"{path.name}: {words}"
                kept += words.count("\u00a0")
    assert kept > 20


@pytest.mark.parametrize("words", ["3 steps", "in 2 hours", "step 4 s-bend", "P14 and 5 more", "12 N·m*2", "a % b"])
def test_other_numbers_may_stand_at_the_end_of_a_line(words: str) -> None:
    assert unbroken(words) == words
