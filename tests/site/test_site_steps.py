"""A step at a glance: how high a task's page may be, whose steps are shown, and that nobody misses what can hurt."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from briefgen.proof.evidence import Evidence
from tests.browser_tools import opened
from tests.demo import demo
from tests.pages.site_tools import BuiltSite

LONGEST = "tasks/swap-pump.html"


@pytest.mark.browser
@pytest.mark.parametrize(("width", "height", "screens"), [(1280, 800, 12), (390, 844, 20)])
def test_the_longest_task_keeps_to_its_screens_and_its_first_step_to_two(
    browser: Browser, site: Path, width: int, height: int, screens: int
) -> None:
    assert len(demo().library.tasks["swap-pump"].steps) == max(
        len(task.steps) for task in demo().library.tasks.values()
    )
    with opened(browser, (site / LONGEST).as_uri()) as (tab, _):
        tab.set_viewport_size({"width": width, "height": height})
        tab.wait_for_timeout(200)
        assert tab.evaluate("document.documentElement.scrollHeight") <= screens * height
        first = tab.evaluate("document.querySelector('.bg-step').getBoundingClientRect().top + scrollY")
        assert 0 < first < 2 * height


@pytest.mark.browser
def test_only_mine_is_one_touch_is_remembered_and_hides_no_hazard_of_mine(browser: Browser, site: Path) -> None:
    with opened(browser, (site / LONGEST).as_uri()) as (tab, seen):
        tab.locator(".bg-mine label", has_text="Wren").locator("input").check()
        for _ in range(2):
            shown = [row for row in tab.locator(".bg-steps > li").all() if row.is_visible()]
            assert 0 < len(shown) < tab.locator(".bg-steps > li").count()
            assert all("ev2" in (row.get_attribute("data-who") or "").split() for row in shown)
            signs = tab.locator(".bg-step:visible .bg-sign")
            assert signs.count() > 5
            for number in range(signs.count()):
                assert tab.locator(f"{signs.nth(number).get_attribute('href')}:visible").count() == 1
            tab.reload()
        other = next(step for step in demo().library.tasks["swap-pump"].steps if list(map(str, step.who)) == ["ev1"])
        tab.goto(f"{tab.url.partition('#')[0]}#{other.key}")
        expect(tab.locator(f"[id='{other.key}']")).to_be_visible()
        assert seen.messages == []


@pytest.mark.browser
def test_two_people_stand_side_by_side_in_time_and_under_each_other_on_a_phone(browser: Browser, site: Path) -> None:
    with opened(browser, (site / LONGEST).as_uri()) as (tab, _):
        tab.set_viewport_size({"width": 1280, "height": 800})
        left, right = (tab.locator(f".bg-step[data-lane='{lane}']").first.bounding_box() for lane in (1, 2))
        assert left
        assert right
        assert left["x"] + left["width"] < right["x"]
        tab.set_viewport_size({"width": 390, "height": 844})
        left, right = (tab.locator(f".bg-step[data-lane='{lane}']").first.bounding_box() for lane in (1, 2))
        assert left
        assert right
        assert left["x"] == right["x"]


def test_numbers_run_in_time_on_every_task(parsed: BuiltSite) -> None:
    seen = 0
    for name in demo().library.tasks:
        article = parsed.article(f"tasks/{name}.html")
        steps = article.select_one("ol.bg-steps")
        assert steps is not None
        numbers = [int(re.sub(r"\D", "", one.get_text())) for one in steps.select(".bg-step__num")]
        assert numbers == list(range(1, len(numbers) + 1)), name
        seen += len(numbers)
    assert seen > 250


def test_a_shared_hazard_is_stated_once_and_every_step_under_it_bears_its_sign(parsed: BuiltSite) -> None:
    article = parsed.article(LONGEST)
    steps = article.select_one("ol.bg-steps")
    assert steps is not None
    signs = [str(sign["href"]) for sign in steps.select(".bg-sign")]
    stated = steps.select("li.bg-steps__hazard")
    assert {f"#{row['id']}" for row in stated} == set(signs)
    assert len(stated) < len(signs)


def test_each_tool_in_hand_says_out_of_which_bag_it_comes(parsed: BuiltSite) -> None:
    """At the first step of sortie 1 that takes something out of a bag at its place."""
    proved = next(iter(Evidence(demo().library).sorties.values()))
    handled = next(one for one in proved.custody.handled if one.chain[0].kind == "bags")
    step = proved.plan.steps[handled.handling.step]
    heading = parsed.article(f"tasks/{step.task.id}.html").find(id=step.step.key)
    assert heading is not None
    bag = demo().library.bags[handled.chain[0].id].label_text
    assert f"from {bag}".lower() in " ".join(heading.find_parent("li").get_text(" ").split()).lower()  # type: ignore[union-attr]
