"""Who reads finds what is theirs: chosen once, kept in the browser, on every page; without a script on one page."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from briefgen.language.wording import capital
from tests.browser_tools import NARROW, SCHEMES, WIDE, Scheme, axe_violations, opened
from tests.demo import demo
from tests.pages.site_tools import BuiltSite

HOUR = 3600.0


def readers_of(site: Path) -> Any:
    return json.loads((site / "briefgen/readers.js").read_text(encoding="utf-8").partition("=")[2])


def first_hour(sortie: str, person: str) -> tuple[set[str], set[str]]:
    """What a person takes from where it lies, and the steps of others that end a hold, in the first hour."""
    proved = demo().evidence.sorties[sortie]
    library, steps, times = demo().library, proved.plan.steps, proved.timeline.times
    mine = {index for index in proved.plan.flows[person] if times[index].start < HOUR}
    things = {
        one.handling.thing
        for one in proved.custody.handled
        if one.handling.step in mine and one.chain and one.chain[0].kind != "people"
    }
    names = {capital(str(library.thing(thing).label_text)) for thing in things}  # type: ignore[union-attr]
    held = {hold.first for hold in proved.holds if hold.step in mine and person in hold.people}
    return names, {steps[index].key for index in held}


def test_every_way_of_every_reader_leads_to_a_page(site: Path) -> None:
    readers = readers_of(site)
    assert [name for _, name, _ in readers] == ["Heron", "Wren", "Desk", "Nest", "Instructor"]
    for _, _, ways in readers:
        assert [sortie for sortie, _, _ in ways] == ["sortie-1", "sortie-2"]
        for _, _, links in ways:
            assert {"Map", "Stop", "Late", "Learn"} < {words for words, _ in links}
            assert all((site / page).is_file() for _, page in links)


def test_without_a_script_one_page_has_the_same_links(site: Path, parsed: BuiltSite) -> None:
    listed = {str(link["href"]) for link in parsed.article("mine/index.html").find_all("a", href=True)}
    for _, _, ways in readers_of(site):
        for _, _, links in ways:
            for _, page in links:
                assert page.removeprefix("mine/") in listed or f"../{page}" in listed, page


@pytest.mark.parametrize("sortie", ["sortie-1", "sortie-2"])
@pytest.mark.parametrize("person", ["ev1", "ev2", "iv", "ground"])
def test_an_own_page_has_every_hold_and_all_that_is_fetched(parsed: BuiltSite, sortie: str, person: str) -> None:
    proved = demo().evidence.sorties[sortie]
    article = parsed.article(f"mine/{sortie}/{person}.html")
    held = [hold for hold in proved.holds if person in hold.people]
    assert len(article.select(".bg-hold")) == len(held)
    links = [str(link["href"]) for link in article.select(".bg-way-step > p > a:not(.bg-chip, .bg-mark)")]
    assert len(links) == len(set(links))
    mine = set(proved.plan.flows[person])
    fetched = {
        (proved.plan.steps[one.handling.step].key, one.handling.thing)
        for one in proved.custody.handled
        if one.handling.step in mine and one.chain and one.chain[0].kind != "people"
    }
    assert len(article.select(".bg-way-step > p > .bg-chip")) == 2 * len(fetched)


@pytest.mark.browser
@pytest.mark.parametrize("over", ["http", "folder"])
@pytest.mark.parametrize("width", [WIDE, NARROW])
def test_which_bag_and_which_hold_in_my_first_hour_is_one_click_away_and_stays_so(
    browser: Browser, site: Path, address: str, width: int, over: str
) -> None:
    base = address if over == "http" else f"{site.as_uri()}/"
    things, held = first_hour("sortie-1", "ev2")
    assert things
    assert held
    with opened(browser, f"{base}index.html", width=width) as (tab, seen):
        tab.locator(".bg-bar a", has_text="Wren").click()
        tab.wait_for_url("**/mine/sortie-1/ev2.html")
        _shows(tab, things, held)
        # Chosen once: from any page it is one click again, also in another tab.
        tab.goto(f"{base}tasks/swap-pump.html")
        tab.get_by_role("link", name="My sortie").click()
        tab.wait_for_url("**/mine/sortie-1/ev2.html")
        _shows(tab, things, held)
        assert seen.messages == []
        assert seen.outside(base if over == "http" else "file:") == []


def _shows(tab: Page, things: set[str], held: set[str]) -> None:
    hour = tab.locator("section", has=tab.locator("#_hour-1"))
    taken = set(hour.locator(".bg-way-step > p > .bg-chip").all_inner_texts())
    assert things <= taken
    ends = {str(link.get_attribute("href")) for link in hour.locator(".bg-hold__text > a:not(.bg-mark)").all()}
    assert {key.replace("/", ".html#") for key in held} == {end.rpartition("/")[2] for end in ends}


@pytest.mark.browser
def test_without_a_script_it_is_two_clicks(browser: Browser, site: Path) -> None:
    with opened(browser, (site / "index.html").as_uri(), scripts=False) as (tab, _):
        tab.get_by_role("navigation", name="Your sortie").get_by_role("link", name="Who are you?").click()
        tab.get_by_role("link", name="Wren: Sortie 1").click()
        tab.wait_for_url("**/mine/sortie-1/ev2.html")
        _shows(tab, *first_hour("sortie-1", "ev2"))
        assert tab.locator("article").get_by_role("link", name="Late", exact=True).is_visible()


@pytest.mark.browser
def test_another_sortie_opens_at_the_same_page_and_the_bar_follows(browser: Browser, site: Path) -> None:
    base = site.as_uri()
    with opened(browser, f"{base}/mine/index.html") as (tab, seen):
        tab.get_by_role("link", name="Heron: Sortie 1").click()
        tab.locator(".bg-bar__ways").get_by_role("link", name="Stop").click()
        tab.wait_for_url("**/stopping/sortie-1.html")
        tab.click(".bg-bar summary")
        tab.locator(".bg-bar__choice").get_by_role("link", name="Sortie 2").click()
        tab.wait_for_url("**/stopping/sortie-2.html")
        expect(tab.locator(".bg-bar__ways [aria-current=page]")).to_have_text("Stop")
        tab.locator(".bg-bar__ways").get_by_role("link", name="Learn").click()
        tab.wait_for_url("**/practice/sortie-2/ev1.html")
        tab.click(".bg-bar summary")
        tab.get_by_role("link", name="Somebody else").click()
        tab.get_by_role("link", name="Instructor: Sortie 1").click()
        tab.wait_for_url("**/instructing/sortie-1.html")
        tab.goto(f"{base}/index.html")
        expect(tab.locator(".bg-bar summary")).to_have_text("Instructor Sortie 1")
        assert seen.messages == []


@pytest.mark.browser
def test_whoever_has_chosen_opens_the_list_of_pages_on_demand(browser: Browser, site: Path) -> None:
    with opened(browser, f"{site.as_uri()}/mine/sortie-1/iv.html") as (tab, _):
        # An own page says who reads, though nothing was chosen: a link can be sent.
        expect(tab.locator(".bg-bar summary")).to_have_text("Desk Sortie 1")
        assert not tab.is_visible(".bg-nav")
        tab.locator("[data-opens=drawer]:visible").click()
        expect(tab.locator(".bg-nav")).to_be_visible()
        tab.keyboard.press("Escape")
        expect(tab.locator(".bg-nav")).to_be_hidden()
        tab.goto(f"{site.as_uri()}/tasks/open-cover.html")
        expect(tab.locator(".bg-nav")).to_be_visible()


@pytest.mark.browser
@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("width", [WIDE, NARROW])
def test_the_bar_by_keyboard_has_no_barrier_and_big_targets(
    browser: Browser, site: Path, width: int, scheme: Scheme
) -> None:
    with opened(browser, f"{site.as_uri()}/instructing/sortie-2.html", width=width, scheme=scheme) as (tab, _):
        summary = tab.locator(".bg-bar summary")
        summary.focus()
        tab.keyboard.press("Enter")
        expect(tab.locator(".bg-bar__choice")).to_be_visible()
        assert axe_violations(tab) == []
        tab.keyboard.press("Tab")
        assert tab.evaluate("document.activeElement.textContent") == "Sortie 1"
        tab.keyboard.press("Escape")
        expect(summary).to_be_focused()
        expect(tab.locator(".bg-bar__choice")).to_be_hidden()
        # WCAG 2.2, success criterion 2.5.8.
        boxes = [one.bounding_box() for one in tab.locator(".bg-bar a:visible, .bg-bar summary").all()]
        assert all(box and box["height"] >= 24 and box["width"] >= 24 for box in boxes)
        assert tab.evaluate("document.scrollingElement.scrollWidth <= innerWidth")
