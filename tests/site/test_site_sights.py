"""Figures beside steps, in Chromium: rings where the callouts are, the whole picture by touch, by keyboard, by link."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser_tools import axe_violations, opened
from tests.demo import demo

pytestmark = pytest.mark.browser
TASK = "tasks/swap-pump.html"

# How far each ring of a crop is from its callout on the picture, in CSS pixels; `points` by the callout's name.
AWAY = """points => [...document.querySelectorAll(".bg-crop")].filter(crop => crop.checkVisibility()).flatMap(crop => {
    const image = crop.querySelector("img"), picture = image.getBoundingClientRect();
    const known = points[image.getAttribute("src").split("/").pop()];
    return [...crop.querySelectorAll(".bg-ring")].map(ring => {
        const box = ring.getBoundingClientRect();
        const across = box.x + box.width / 2 - picture.x, down = box.y + box.height / 2 - picture.y;
        return Math.min(...known.map(([x, y]) => Math.hypot(x * picture.width - across, y * picture.height - down)));
    });
})"""


def points() -> dict[str, list[list[float]]]:
    """The callouts' points of every figure of the demo, in shares, by the name of its file."""
    return {
        Path(str(figure.file)).name: [[float(share) for share in callout.at] for callout in figure.callouts.values()]
        for figure in demo().library.figures.values()
    }


@pytest.mark.parametrize("width", [390, 1280])
def test_a_ring_is_where_its_callout_is_on_the_part_that_is_shown(browser: Browser, address: str, width: int) -> None:
    with opened(browser, f"{address}{TASK}", width=width) as (tab, _):
        away = tab.evaluate(AWAY, points())
    assert len(away) > 20
    assert max(away) < 2


COVERED = """() => [...document.querySelectorAll(".bg-crop__frame, .bg-look[open] .bg-look__frame")]
    .filter(frame => frame.checkVisibility()).flatMap(frame => {
    const box = (one) => one.getBoundingClientRect(), edge = box(frame);
    const letters = [...frame.querySelectorAll(".bg-ring > b")];
    const lies = (one, other) => Math.min(one.right, other.right) - Math.max(one.left, other.left) > 1 &&
        Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top) > 1;
    const covers = (one, ring) => {
        const x = ring.x + ring.width / 2, y = ring.y + ring.height / 2;
        const across = Math.max(one.left - x, 0, x - one.right), down = Math.max(one.top - y, 0, y - one.bottom);
        return Math.hypot(across, down) < ring.width / 2 - 1;
    };
    return letters.filter(letter => box(letter).left < edge.left - 1 || box(letter).right > edge.right + 1 ||
        letters.some(other => other !== letter && lies(box(letter), box(other))) ||
        covers(box(letter), box(letter.parentElement))).map(letter => frame.parentElement.textContent);
})"""


@pytest.mark.parametrize("width", [390, 1280])
def test_no_letter_covers_what_it_shows_or_another_letter(browser: Browser, address: str, width: int) -> None:
    with opened(browser, f"{address}{TASK}", width=width) as (tab, _):
        assert tab.locator(".bg-crop .bg-ring > b").count() > 10
        assert tab.evaluate(COVERED) == []
        open_bolts(tab)
        assert tab.evaluate(COVERED) == []


def open_bolts(tab: Page) -> None:
    """Opens the picture of the four front bolts by keyboard."""
    tab.locator(".bg-crop", has_text="Bolt 1").first.focus()
    tab.keyboard.press("Enter")
    expect(tab.locator("dialog[open]")).to_have_count(1)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_whole_picture_opens_and_shuts_by_keyboard(browser: Browser, address: str, scheme: str) -> None:
    with opened(browser, f"{address}{TASK}", scheme=scheme) as (tab, seen):  # type: ignore[arg-type]
        open_bolts(tab)
        assert tab.locator("dialog[open] .bg-ring").count() == 4
        assert tab.locator("dialog[open] .bg-look__names").inner_text() == "A Bolt 1, B Bolt 2, C Bolt 3, D Bolt 4"
        assert axe_violations(tab) == []
        tab.keyboard.press("Escape")
        expect(tab.locator("dialog[open]")).to_have_count(0)
        assert tab.evaluate("document.activeElement.className").startswith("bg-crop")
        open_bolts(tab)
        tab.locator("dialog[open] a.bg-button").click()
        expect(tab.locator("dialog[open]")).to_have_count(0)
        assert seen.messages == []


def test_without_a_script_the_link_leads_to_the_picture_and_back(browser: Browser, address: str) -> None:
    with opened(browser, f"{address}{TASK}", scripts=False, width=390, height=844) as (tab, _):
        assert tab.locator(".bg-look:visible").count() == 0
        tab.locator(".bg-crop", has_text="Bolt 1").first.click()
        expect(tab.locator(".bg-look:visible")).to_have_count(1)
        tab.locator(".bg-look:visible a.bg-button").click()
        expect(tab.locator(".bg-look:visible")).to_have_count(0)
        assert tab.locator(":target").is_visible()


def test_on_paper_no_picture_stands_beside_a_step(browser: Browser, address: str) -> None:
    with opened(browser, f"{address}{TASK}") as (tab, _):
        tab.emulate_media(media="print")
        assert tab.locator(":is(.bg-crop, .bg-see, .bg-look):visible").count() == 0
