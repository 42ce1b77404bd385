"""Paper: black on white whatever the palette, no furniture, sheets of the chosen size, no step broken."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.browser_tools import opened

pytestmark = pytest.mark.browser
FURNITURE = ".bg-top, .bg-nav, .bg-toc, .bg-foot, .bg-flow, .bg-keeper, .bg-pagekeep, .bg-skip"
# Widths and heights in points (1/72 inch): ISO 216 for A4 and A5, ANSI/ASME Y14.1 for letter.
PAPERS = {"a4": (595, 842), "a5": (420, 595), "letter": (612, 792)}


def sheets(pdf: bytes) -> list[tuple[int, int]]:
    boxes = re.findall(rb"/MediaBox \[\s*0 0 ([\d.]+) ([\d.]+)\s*\]", pdf)
    return [(round(float(width)), round(float(height))) for width, height in boxes]


@pytest.mark.parametrize("paper", PAPERS)
def test_cards_come_on_the_chosen_paper(browser: Browser, site: Path, paper: str) -> None:
    with opened(browser, (site / "cards.html").as_uri(), scheme="dark") as (tab, _):
        tab.check(f"input[value={paper}]")
        found = sheets(tab.pdf(prefer_css_page_size=True))
    assert len(found) == 3, "one sheet a card, none blank"
    for width, height in found:
        assert width == pytest.approx(PAPERS[paper][0], abs=1)
        assert height == pytest.approx(PAPERS[paper][1], abs=1)


@pytest.mark.parametrize("page", ["index", "tasks/swap-pump", "reference", "cards", "prose"])
def test_paper_is_black_on_white_without_furniture(browser: Browser, site: Path, page: str) -> None:
    with opened(browser, (site / f"{page}.html").as_uri(), scheme="dark") as (tab, _):
        tab.emulate_media(media="print", color_scheme="dark")
        look = tab.evaluate(
            "() => { const s = getComputedStyle(document.querySelector('.bg-page')); return [s.color, "
            "getComputedStyle(document.body).backgroundColor, getComputedStyle(document.documentElement).colorScheme] }"
        )
        assert look == ["rgb(0, 0, 0)", "rgb(255, 255, 255)", "light"]
        for part in tab.locator(FURNITURE).all():
            assert not part.is_visible()
        assert tab.locator(".bg-caution:visible, .bg-card__caution:visible").count() > 0


def test_no_step_is_broken_and_no_address_printed(browser: Browser, site: Path) -> None:
    with opened(browser, (site / "tasks/swap-pump.html").as_uri()) as (tab, _):
        tab.emulate_media(media="print")
        for kind in (".bg-step", ".bg-hazard", ".bg-hold", ".bg-ticks"):
            each = "s => [...document.querySelectorAll(s)].map(e => getComputedStyle(e).breakInside)"
            breaks = tab.evaluate(each, kind)
            assert breaks
            assert set(breaks) == {"avoid"}, kind
        assert tab.evaluate("getComputedStyle(document.querySelector('.bg-page a[href]'), '::after').content") == "none"


def test_the_margin_carries_the_caution(site: Path) -> None:
    sheet = (site / "bg" / "briefing.css").read_text(encoding="utf-8")
    margin = re.search(r"@page \{(.*?)\n@media print", sheet, re.S)
    assert margin is not None
    assert 'content: "Training aid, not the approved procedure"' in margin.group(1)


@pytest.mark.parametrize(
    ("page", "fold"), [("learning", "#q-first .bg-question__check"), ("reference", "#timeline .bg-chart__table")]
)
def test_paper_shows_the_folds_that_the_reader_opened(browser: Browser, site: Path, page: str, fold: str) -> None:
    with opened(browser, (site / f"{page}.html").as_uri()) as (tab, _):
        tab.emulate_media(media="print")
        assert not tab.is_visible(fold)
        tab.emulate_media(media="screen")
        tab.click(f"{fold} summary")
        tab.wait_for_selector(f"{fold}[data-wanted]")
        tab.emulate_media(media="print")
        assert tab.locator(f"{fold} p, {fold} table").first.is_visible()


def test_paper_does_not_give_the_answer_away(browser: Browser, site: Path) -> None:
    mark = "getComputedStyle(document.querySelector('#q-first .bg-answer[data-correct]'), '::after').content"
    with opened(browser, (site / "learning.html").as_uri()) as (tab, _):
        tab.emulate_media(media="print")
        tab.evaluate("dispatchEvent(new Event('beforeprint'))")
        tab.wait_for_function("document.querySelector('#q-first details').open")
        assert tab.evaluate(mark) in ("none", "normal")
