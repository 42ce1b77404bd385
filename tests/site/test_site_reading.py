"""What a reader does with the site, over HTTP and from a folder: charts, keyboard, marks, palette, paper."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from briefgen.proof.evidence import Evidence
from briefgen.units import show_elapsed
from tests.browser_tools import NARROW, WIDE, opened
from tests.demo import demo

pytestmark = pytest.mark.browser
CASE = next(iter(demo().evidence.sorties.values()))


@pytest.fixture(params=["http", "folder"])
def base(request: pytest.FixtureRequest, site: Path, address: str) -> str:
    """Where the site is read from, with a slash at the end."""
    return address if request.param == "http" else f"{site.as_uri()}/"


def outside(base: str) -> str:
    """What requests may begin with."""
    return base if base.startswith("http") else "file:"


def bar_of(tab: Page, chart: str, number: int) -> tuple[float, float]:
    """The middle of a step's bar in a live chart, on the screen."""
    x, y = tab.evaluate(
        """([chart, number]) => {
            const plot = document.querySelector(`#${chart} .bg-chart__live`);
            const trace = plot.data.findIndex(one => one.name === 'steps');
            const place = plot.data.filter((one, k) => one.type === 'bar' && k < trace).length;
            const bar = plot.querySelectorAll('.barlayer .trace')[place].querySelectorAll('.point path')[number];
            bar.scrollIntoView({ block: 'center', behavior: 'instant' });
            const box = bar.getBoundingClientRect();
            return [box.x + box.width / 2, box.y + box.height / 2];
        }""",
        [chart, number],
    )
    return x, y


@pytest.mark.parametrize("width", [WIDE, NARROW])
def test_a_click_in_the_live_timeline_lands_on_its_step(browser: Browser, base: str, width: int) -> None:
    times = CASE.timeline.times
    longest = max(times, key=lambda one: one.end - one.start)
    with opened(browser, f"{base}timelines/{CASE.sortie.id}.html", width=width) as (tab, seen):
        chart = f"timeline-{CASE.sortie.id}"
        tab.locator(f"#{chart} .bg-chart__ask").click()
        expect(tab.locator(f"#{chart}")).to_have_attribute("data-state", "live", timeout=30_000)
        hrefs = tab.evaluate(
            "chart => JSON.stringify(document.querySelector(`#${chart} .bg-chart__live`)"
            ".data.find(one => one.name === 'steps').customdata)",
            chart,
        )
        wanted = f"tasks/{longest.step.task.id}.html#{longest.step.step.key}"
        rows = re.findall(r"\[(?:[^\[\]]|\[[^\[\]]*\])*\]", hrefs[1:-1])
        number = next(k for k, row in enumerate(rows) if wanted in row)
        x, y = bar_of(tab, chart, number)
        tab.mouse.move(x, y)
        tab.wait_for_timeout(150)
        tab.mouse.click(x, y)
        tab.wait_for_url(f"**/{wanted}")
        heading = tab.locator(f"[id='{longest.step.step.key}']")
        assert heading.inner_text().strip() == str(longest.step.step.do)
        assert heading.is_visible()
        assert seen.outside(outside(base)) == []
        assert seen.messages == []


def test_the_keyboard_alone_goes_from_the_overview_to_a_step(browser: Browser, base: str) -> None:
    with opened(browser, f"{base}index.html") as (tab, seen):
        tab.keyboard.press("Tab")
        assert tab.evaluate("document.activeElement.textContent") == "Skip to the page"
        tab.keyboard.press("Enter")
        assert tab.evaluate("document.activeElement.id") == "bg-page"
        for _ in range(60):
            tab.keyboard.press("Tab")
            if "swap-pump" in (tab.evaluate("document.activeElement.getAttribute('href')") or ""):
                break
        tab.keyboard.press("Enter")
        tab.wait_for_url("**/tasks/swap-pump.html")
        number = tab.locator(".bg-step__num a").nth(4)
        number.focus()
        tab.keyboard.press("Enter")
        told = Evidence(demo().library).numbers
        assert told[f"swap-pump/{tab.url.rpartition('#')[2]}"] == 5
        assert seen.messages == []


def test_marks_are_kept_across_pages_counted_and_cleared(browser: Browser, base: str) -> None:
    task = demo().library.tasks["open-cover"]
    with opened(browser, f"{base}tasks/open-cover.html") as (tab, seen):
        for step in task.steps[:2]:
            tab.locator(f".bg-step:has([id='{step.key}']) summary").click()
            tab.check(f'[data-keep="task:open-cover#{step.key}"]')
        tab.check('[data-keep="page:tasks/open-cover.html"]')
        tab.goto(f"{base}index.html")
        assert tab.inner_text('[data-kept-by="task:open-cover"] + .bg-kept') == f"2 of {len(task.steps)} read"
        tab.goto(f"{base}tasks/open-cover.html")
        assert tab.inner_text(".bg-nav [aria-current=page]").endswith(", read")
        assert tab.inner_text("[data-keeper-count]") == f"2 of {len(task.steps)} read"
        tab.click("[data-keeper-clear]")
        assert tab.inner_text("[data-keeper-count]") == "Nothing read yet"
        tab.reload()
        assert not tab.is_checked(f'[data-keep="task:open-cover#{task.steps[0].key}"]')
        assert tab.is_checked('[data-keep="page:tasks/open-cover.html"]')
        assert seen.messages == []


def test_ticks_on_a_card_and_on_its_task_are_the_same(browser: Browser, base: str) -> None:
    with opened(browser, f"{base}cards/{CASE.sortie.id}/ev1.html") as (tab, _):
        tick = tab.locator(".bg-tick input").first
        key = tick.get_attribute("data-keep") or ""
        tick.check()
        task = key.removeprefix("task:").partition("#")[0]
        tab.goto(f"{base}tasks/{task}.html")
        assert tab.is_checked(f'[data-keep="{key}"]')


def test_the_chosen_palette_holds_from_page_to_page_and_charts_follow(browser: Browser, base: str) -> None:
    with opened(browser, f"{base}index.html") as (tab, seen):
        tab.locator("[data-palette]:not([hidden])").click()
        assert tab.get_attribute("body", "data-md-color-scheme") == "slate"
        tab.goto(f"{base}timelines/{CASE.sortie.id}.html")
        assert tab.get_attribute("body", "data-md-color-scheme") == "slate"
        chart = tab.locator(f"#timeline-{CASE.sortie.id}")
        chart.locator(".bg-chart__ask").click()
        expect(chart).to_have_attribute("data-state", "live", timeout=30_000)
        ink = "getComputedStyle(document.querySelector('.bg-chart__live .xtick text')).fill"
        night = tab.evaluate(ink)
        tab.locator("[data-palette]:not([hidden])").click()
        tab.wait_for_function(f"{ink} !== '{night}'")
        assert seen.messages == []


def test_the_sortie_is_played_by_keyboard(browser: Browser, base: str) -> None:
    with opened(browser, f"{base}plays/{CASE.sortie.id}.html") as (tab, seen):
        clock = tab.locator('[data-play="clock"]')
        clock.wait_for()
        assert clock.inner_text() == "0:00:00"
        play = tab.locator('[data-play="play"]')
        play.focus()
        tab.keyboard.press("ArrowRight")
        expect(clock).to_have_text("0:00:30")
        # On the slider itself the arrow is the browser's own: one step of ten seconds.
        tab.locator('[data-play="time"]').focus()
        tab.keyboard.press("ArrowRight")
        expect(clock).to_have_text("0:00:40")
        tab.keyboard.press("End")
        expect(clock).to_have_text(show_elapsed(CASE.timeline.finish))
        tab.keyboard.press("Home")
        expect(clock).to_have_text("0:00:00")
        play.focus()
        tab.keyboard.press("Enter")
        expect(clock).not_to_have_text("0:00:00")
        assert seen.outside(outside(base)) == []
        assert seen.messages == []


@pytest.mark.parametrize("page", ["index", "tasks/swap-pump", "timelines/sortie-1", "states/sortie-1", "people/ev1"])
def test_paper_carries_the_briefing_black_on_white_without_furniture(browser: Browser, site: Path, page: str) -> None:
    with opened(browser, (site / f"{page}.html").as_uri(), scheme="dark") as (tab, _):
        tab.emulate_media(media="print", color_scheme="dark")
        assert tab.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
        assert tab.evaluate("getComputedStyle(document.querySelector('.bg-page')).color") == "rgb(0, 0, 0)"
        for part in (".bg-top", ".bg-nav", ".bg-foot", ".bg-pagekeep"):
            assert tab.locator(part).first.is_hidden(), part
        assert tab.locator(".bg-caution").is_visible()
        for chart in tab.locator("figure.bg-chart:not(details.bg-part figure)").all():
            assert chart.locator(".bg-chart__still svg:visible").count() == 1
