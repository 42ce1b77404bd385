"""The search in a real Chromium, over HTTP and from a folder: what comes first, how it is said, and by which keys."""

from __future__ import annotations

import json
import re
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from briefgen.language.wording import capital
from briefgen.model.steps import Step
from tests.browser_tools import NARROW, SCHEMES, WIDE, Scheme, axe_violations, opened
from tests.demo import demo
from tests.pages.site_tools import BuiltSite

FIELD, ONE = ".bg-find__field", ".bg-find__one"


def names_of(site: Path) -> Any:
    return json.loads((site / "briefgen/find-names.js").read_text(encoding="utf-8").partition("=")[2])


def said(step: Step) -> str:
    """What is done, without the addresses of links."""
    return re.sub(r"\[([^]]*)\]\([^)]*\)", r"\1", str(step.do))


def ask(tab: Page, words: str) -> list[str]:
    """The lines that are found, each with its kind and place."""
    if not tab.locator(FIELD).evaluate("field => field === document.activeElement"):
        tab.keyboard.press("/")
    tab.locator(FIELD).fill(words)
    expect(tab.locator(".bg-find__said")).to_contain_text("ound")
    return [" / ".join(line.split("\n")) for line in tab.locator(ONE).all_inner_texts()]


def test_names_are_stored_once_and_are_small(site: Path) -> None:
    held = [path for path in site.rglob("*.js*") if "quick-disconnect" in path.read_text(encoding="utf-8").lower()]
    assert [path.name for path in held] == ["find-names.js"]
    assert held[0].stat().st_size < 200_000
    assert not (site / "search").exists()


def test_every_record_and_step_is_found_those_of_ways_back_too(site: Path) -> None:
    names = names_of(site)
    rows, texts = names["rows"], {row[1] for row in names["rows"]}
    library = demo().library
    steps = [step for task in library.tasks.values() for step in task.every_step]
    assert {said(step) for step in steps} <= texts
    backs = {said(step) for task in library.tasks.values() for way in task.undo for step in way.steps}
    assert backs
    kinds = {row[1]: names["kinds"][row[0]][0] for row in rows}
    assert {kinds[back] for back in backs} == {"Step"}
    for kind in ("places", "tools", "bags", "equipment", "tasks", "sorties", "hazards"):
        assert {capital(record.label_text) for record in library.of(kind).values()} <= texts, kind
    assert max(Counter((row[0], row[1], row[2], tuple(row[3:4])) for row in rows).values()) == 1


def test_every_row_leads_to_a_part_that_is_there(site: Path, parsed: BuiltSite) -> None:
    names = names_of(site)
    for row in names["rows"]:
        page = parsed.pages[names["pages"][row[2]].replace("./", "index.html")]
        assert len(row) < 4 or not row[3] or page.find(id=row[3]) is not None, row


@pytest.mark.browser
@pytest.mark.parametrize("over", ["http", "folder"])
def test_what_bears_the_name_comes_first(browser: Browser, site: Path, address: str, over: str) -> None:
    base = address if over == "http" else f"{site.as_uri()}/"
    with opened(browser, f"{base}index.html") as (tab, seen):
        for words, first in {
            "wren": "Wren (EV2) / Person", "EV1": "Heron (EV1) / Person", "heron": "Heron (EV1) / Person",
            "QD3": "Quick-disconnect QD3 / In a figure · ", "P16": "Plug P16, behind the frame / In a figure · ",
            "torque driver": "Torque driver / Tool · K2 locker", "K3 bay": "K3 bay / Place",
            "swap the coolant pump": "Swap the coolant pump unit / Task",
        }.items():  # fmt: skip
            assert ask(tab, words)[0].startswith(first), words
        found = [line.partition(" / ")[2].partition(" · ")[0] for line in ask(tab, "arm")]
        assert found[0] in ("Place", "Equipment", "Tool", "In a figure")
        assert seen.outside(base if over == "http" else "file:") == []
        assert seen.messages == []


@pytest.mark.browser
def test_one_mistyped_letter_is_forgiven_but_not_in_a_code(browser: Browser, site: Path) -> None:
    with opened(browser, (site / "index.html").as_uri()) as (tab, _):
        for words in ("torqe driver", "torqque driver", "torqeu driver", "torpue driver"):
            assert ask(tab, words)[0].startswith("Torque driver / Tool"), words
        assert ask(tab, "wrne")[0].startswith("Wren (EV2)")
        assert ask(tab, "QD9") == []
        assert tab.inner_text(".bg-find__said") == "Nothing found"


@pytest.mark.browser
@pytest.mark.parametrize("width", [WIDE, NARROW])
def test_the_keys_of_a_combobox(browser: Browser, site: Path, width: int) -> None:
    with opened(browser, (site / "tasks/open-cover.html").as_uri(), width=width) as (tab, seen):
        tab.keyboard.press("/")
        field = tab.locator(FIELD)
        expect(field).to_be_focused()
        expect(field).to_have_attribute("aria-expanded", "false")
        tab.keyboard.type("torque driver")
        expect(field).to_have_attribute("aria-expanded", "true")
        assert field.get_attribute("aria-activedescendant") is None
        tab.keyboard.press("ArrowUp")
        last = tab.locator(ONE).last
        assert field.get_attribute("aria-activedescendant") == last.get_attribute("id")
        tab.keyboard.press("ArrowDown")
        expect(tab.locator(ONE).first).to_have_attribute("aria-selected", "true")
        expect(last).to_have_attribute("aria-selected", "false")
        tab.keyboard.press("Escape")
        expect(field).to_have_attribute("aria-expanded", "false")
        assert field.input_value() == ""
        tab.keyboard.type("torque driver")
        expect(field).to_have_attribute("aria-expanded", "true")
        tab.keyboard.press("Enter")
        tab.wait_for_url("**/tools/torque-driver.html")
        assert seen.messages == []


@pytest.mark.browser
@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("width", [WIDE, NARROW])
def test_the_open_search_has_no_barrier_and_big_targets(
    browser: Browser, site: Path, width: int, scheme: Scheme
) -> None:
    with opened(browser, (site / "index.html").as_uri(), width=width, scheme=scheme) as (tab, _):
        assert len(ask(tab, "hatch")) > 5
        tab.keyboard.press("ArrowDown")
        assert axe_violations(tab) == []
        # WCAG 2.2, success criterion 2.5.8.
        boxes = [one.bounding_box() for one in tab.locator(f"{ONE}, {FIELD}, .bg-find button:visible").all()]
        assert all(box and box["height"] >= 24 and box["width"] >= 24 for box in boxes)
        assert tab.evaluate("document.scrollingElement.scrollWidth <= innerWidth")


@pytest.mark.browser
def test_the_button_of_a_narrow_page_opens_and_escape_gives_the_focus_back(browser: Browser, site: Path) -> None:
    with opened(browser, (site / "index.html").as_uri(), width=NARROW) as (tab, _):
        assert not tab.is_visible(FIELD)
        opener = tab.locator("[data-opens=find]")
        opener.focus()
        tab.keyboard.press("Enter")
        expect(tab.locator(FIELD)).to_be_focused()
        expect(opener).to_have_attribute("aria-expanded", "true")
        tab.keyboard.press("Escape")
        expect(opener).to_be_focused()
        expect(opener).to_have_attribute("aria-expanded", "false")


@pytest.mark.browser
def test_without_a_script_one_page_lists_all_names(browser: Browser, site: Path) -> None:
    with opened(browser, (site / "tasks/open-cover.html").as_uri(), scripts=False) as (tab, _):
        tab.get_by_role("link", name="All names").first.click()
        tab.wait_for_url("**/names.html")
        text = tab.inner_text("article").replace("\N{NO-BREAK SPACE}", " ")
        for kind in ("places", "tools", "equipment", "tasks"):
            for record in demo().library.of(kind).values():
                assert capital(record.label_text) in text
        assert "Heron (EV1) First crew member outside, red rings" in text
        tab.click("article a:text-is('Torque driver')")
        tab.wait_for_url("**/tools/torque-driver.html")
