"""Charts in a real Chromium, from a folder: first the still, then the live chart, and nothing from outside."""

from __future__ import annotations

import html
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from briefgen.charts.chart import Chart
from briefgen.charts.interactive.embed import chart_html
from briefgen.charts.kinds.timeline import timeline_rows
from briefgen.proof.evidence import SortieEvidence
from tests.browser_tools import NARROW, WIDE, Seen, axe_violations, contrast, nu_errors
from tests.charts.charts import LIVE_MAKERS, MAKERS, made
from tests.charts.conftest import href
from tests.charts.looking import LIVE, live, opened

pytestmark = pytest.mark.browser
PageOf = Callable[..., str]


def quiet(seen: Seen) -> None:
    assert seen.messages == []
    assert seen.outside() == []


@pytest.fixture(scope="module")
def timeline(first_sortie: SortieEvidence) -> Chart:
    return made("timeline", first_sortie)


@pytest.fixture(scope="module")
def timeline_page(page_of: PageOf, timeline: Chart, script_name: str) -> str:
    return page_of("timeline.html", chart_html(timeline, script_name))


@pytest.mark.parametrize("width", [WIDE, NARROW])
@pytest.mark.parametrize("scheme", ["default", "slate"])
def test_every_chart_becomes_live_in_silence(
    browser: Browser, page_of: PageOf, first_sortie: SortieEvidence, script_name: str, scheme: str, width: int
) -> None:
    charts = [make(first_sortie) for make in LIVE_MAKERS.values()]
    url = page_of(f"every-{scheme}.html", *(chart_html(chart, script_name) for chart in charts), scheme=scheme)
    with opened(browser, url, width=width) as (page, seen):
        for chart in charts:
            live(page, chart.id)
            assert page.locator(f"#{chart.id} .bg-chart__live .main-svg").first.is_visible()
            assert not page.locator(f"#{chart.id} .bg-chart__still").first.is_visible()
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        assert axe_violations(page) == []
        quiet(seen)


def test_a_chart_that_never_becomes_live_asks_for_no_script(
    browser: Browser, page_of: PageOf, first_sortie: SortieEvidence, script_name: str
) -> None:
    with opened(browser, page_of("states.html", chart_html(made("states", first_sortie), script_name))) as (page, seen):
        page.locator(".bg-chart").hover()
        page.wait_for_timeout(300)
        assert page.locator(".bg-chart__still").first.is_visible()
        assert page.locator("[data-wide] .c-state").first.locator("xpath=..").locator("title").count() == 1
        assert not any("plotly" in asked for asked in seen.requests)
        assert axe_violations(page) == []
        quiet(seen)


@pytest.mark.parametrize("width", [WIDE, NARROW])
def test_only_who_asks_gets_the_live_chart_and_may_give_it_back(
    browser: Browser, timeline_page: str, width: int
) -> None:
    with opened(browser, timeline_page, width=width) as (page, seen):
        chart = page.locator("#timeline-sortie-1")
        chart.hover()
        page.wait_for_timeout(300)
        assert not any("plotly" in asked for asked in seen.requests)
        ask = page.get_by_role("button", name="Move about in it")
        assert ask.get_attribute("aria-pressed") == "false"
        ask.focus()
        page.keyboard.press("Enter")
        expect(chart).to_have_attribute("data-state", "live", timeout=LIVE)
        expect(page.locator(".bg-chart__voice")).to_contain_text("can be moved about")
        assert ask.get_attribute("aria-pressed") == "true"
        assert page.evaluate("document.activeElement.className").startswith("bg-chart__live")
        ask.click()
        expect(chart).to_have_attribute("data-state", "still")
        expect(page.locator(".bg-chart__voice")).to_contain_text("stands here again")
        assert page.locator(".bg-chart__still:visible").count() == 1
        assert page.locator(".bg-chart__tools :is(button, select):visible").count() == 1
        ask.click()
        expect(chart).to_have_attribute("data-state", "live")
        assert page.locator(".bg-chart__live .main-svg").first.is_visible()
        quiet(seen)


def test_the_still_is_there_before_any_script(browser: Browser, timeline_page: str, timeline: Chart) -> None:
    with opened(browser, timeline_page, scripts=False) as (page, seen):
        assert page.locator("[data-wide]").is_visible()
        assert not page.locator("[data-narrow]").is_visible()
        assert not page.locator(".bg-chart__tools").is_visible()
        assert not any("plotly" in url for url in seen.requests)
        page.set_viewport_size({"width": NARROW, "height": 900})
        assert page.locator("[data-narrow]").is_visible()
        assert not page.locator("[data-wide]").is_visible()


def test_the_script_is_asked_for_once_and_only_when_a_chart_comes_near(
    browser: Browser, page_of: PageOf, first_sortie: SortieEvidence, script_name: str
) -> None:
    charts = [MAKERS[name](first_sortie) for name in ("map", "homeward")]
    far = '<p style="height:4000px">Far above.</p>'
    url = page_of("far.html", *(chart_html(chart, script_name) for chart in charts), above=far)
    with opened(browser, url) as (page, seen):
        page.wait_for_timeout(500)
        assert not any("plotly" in asked for asked in seen.requests)
        assert page.locator("#map").get_attribute("data-state") == "still"
        for chart in charts:
            live(page, chart.id)
        assert sum("plotly" in asked for asked in seen.requests) == 1
        quiet(seen)


def test_a_page_without_a_chart_asks_for_nothing(browser: Browser, page_of: PageOf) -> None:
    with opened(browser, page_of("none.html", "<p>No chart.</p>")) as (page, seen):
        page.wait_for_timeout(200)
        assert not any("plotly" in asked for asked in seen.requests)
        quiet(seen)


def test_the_still_stays_where_the_script_is_missing(browser: Browser, page_of: PageOf, timeline: Chart) -> None:
    url = page_of("missing.html", chart_html(timeline, "no-such-script.js"))
    with opened(browser, url) as (page, _):
        page.locator(".bg-chart__ask").click()
        expect(page.locator("#timeline-sortie-1")).to_have_attribute("data-state", "failed", timeout=LIVE)
        assert page.locator("[data-wide]").is_visible()


def test_nothing_jumps_when_the_chart_becomes_live(browser: Browser, timeline_page: str) -> None:
    high = "document.querySelector('.bg-chart__stage').getBoundingClientRect().height"
    with opened(browser, timeline_page) as (page, _):
        live(page, "timeline-sortie-1")
        after = page.evaluate(high)
    with opened(browser, timeline_page, scripts=False) as (page, _):
        before = page.locator(".bg-chart__stage").bounding_box()
    assert before is not None
    assert after == pytest.approx(before["height"], abs=3)


def bar(page: Page, number: int) -> tuple[float, float]:
    """The middle of a step's bar as it is drawn on the screen, by the number of its point."""
    box = page.evaluate(
        """number => {
            const plot = document.querySelector('.bg-chart__live');
            const trace = plot.data.findIndex(one => one.name === 'steps');
            const bars = plot.querySelectorAll('.barlayer .trace')[plot.data.filter(
                (one, k) => one.type === 'bar' && k < trace).length].querySelectorAll('.point path');
            const box = bars[number].getBoundingClientRect();
            return [box.x + box.width / 2, box.y + box.height / 2];
        }""",
        number,
    )
    return box[0], box[1]


def longest(evidence: SortieEvidence) -> tuple[int, str]:
    """The number and the address of the longest step."""
    bars = [one for one in timeline_rows(evidence, href).bars if one.kind == "step"]
    number = max(range(len(bars)), key=lambda k: bars[k].seconds)
    return number, bars[number].href


@pytest.mark.parametrize("width", [WIDE, NARROW])
def test_a_click_on_a_bar_opens_its_step(
    browser: Browser, timeline_page: str, first_sortie: SortieEvidence, site: Path, width: int
) -> None:
    number, address = longest(first_sortie)
    (site / address.partition("#")[0]).write_text("<!doctype html><title>A task</title>", encoding="utf-8")
    with opened(browser, timeline_page, width=width) as (page, seen):
        live(page, "timeline-sortie-1")
        x, y = bar(page, number)
        page.mouse.wheel(0, max(0, y - 400))
        page.wait_for_timeout(200)
        x, y = bar(page, number)
        page.mouse.move(x, y)
        page.wait_for_timeout(150)
        page.mouse.click(x, y)
        page.wait_for_url(f"**/{address}")
        quiet(seen)


def test_a_click_in_the_still_opens_the_step_too(
    browser: Browser, timeline_page: str, first_sortie: SortieEvidence, site: Path
) -> None:
    _, address = longest(first_sortie)
    (site / address.partition("#")[0]).write_text("<!doctype html><title>A task</title>", encoding="utf-8")
    with opened(browser, timeline_page, scripts=False) as (page, _):
        page.locator(f"[data-wide] a[href='{address}']").first.click()
        page.wait_for_url(f"**/{address}")


def test_the_keyboard_walks_along_the_steps_and_opens_one(
    browser: Browser, timeline_page: str, first_sortie: SortieEvidence, site: Path
) -> None:
    rows = timeline_rows(first_sortie, href)
    first, second, *_ = rows.of(0, "step")
    (site / second.href.partition("#")[0]).write_text("<!doctype html><title>A task</title>", encoding="utf-8")
    with opened(browser, timeline_page) as (page, seen):
        live(page, "timeline-sortie-1")
        page.locator(".bg-chart__live").focus()
        page.keyboard.press("ArrowRight")
        expect(page.locator(".bg-chart__voice")).to_contain_text(first.title)
        page.keyboard.press("ArrowRight")
        expect(page.locator(".bg-chart__voice")).to_contain_text(second.title)
        assert page.locator(".hoverlayer .hovertext").count() == 1
        page.keyboard.press("Enter")
        page.wait_for_url(f"**/{second.href}")
        quiet(seen)


def time_range(page: Page) -> list[float]:
    """The seconds that the live timeline shows."""
    found: list[float] = page.evaluate(
        """document.querySelector('.bg-chart__live').layout.xaxis.range.map(
            one => (typeof one === 'number' ? one : Date.parse(one.replace(' ', 'T') + 'Z')) / 1000)"""
    )
    return found


def test_one_can_zoom_to_a_task_and_back(browser: Browser, timeline_page: str, first_sortie: SortieEvidence) -> None:
    rows = timeline_rows(first_sortie, href)
    own = [one for one in rows.stretches if one.task == "swap-pump"]
    start, end = min(one.start for one in own), max(one.end for one in own)
    with opened(browser, timeline_page) as (page, seen):
        live(page, "timeline-sortie-1")
        page.get_by_label("Zoom to").select_option(label=own[0].words)
        page.wait_for_timeout(300)
        shown = time_range(page)
        assert shown[0] <= start < end <= shown[1]
        assert shown[1] - shown[0] < (end - start) * 1.2
        # Closer up, the bars have room for words.
        assert page.locator(".bg-chart__live .bartext").filter(has_text="valves").count() > 0
        page.get_by_label("Zoom to").select_option(label="Whole sortie")
        page.wait_for_timeout(300)
        assert time_range(page) == pytest.approx([0, rows.until], abs=1)
        quiet(seen)


def test_one_can_show_one_person_only(browser: Browser, timeline_page: str, first_sortie: SortieEvidence) -> None:
    rows = timeline_rows(first_sortie, href)
    with opened(browser, timeline_page) as (page, seen):
        live(page, "timeline-sortie-1")
        page.get_by_role("button", name="EV2").click()
        page.wait_for_timeout(300)
        shown = page.evaluate(
            "document.querySelector('.bg-chart__live').data.find(one => one.name === 'steps')"
            ".customdata.map(one => one[0])"
        )
        lane = next(lane for lane in rows.lanes if lane.person.label_text == "EV2")
        assert shown == [one.href for one in rows.of(lane.number, "step")]
        assert page.get_by_role("button", name="EV2").get_attribute("aria-pressed") == "true"
        page.get_by_role("button", name="Everyone").click()
        page.wait_for_timeout(300)
        count = page.evaluate(
            "document.querySelector('.bg-chart__live').data.find(one => one.name === 'steps').x.length"
        )
        assert count == sum(one.kind == "step" for one in rows.bars)
        quiet(seen)


@pytest.mark.parametrize("width", [WIDE, NARROW])
def test_an_address_leads_to_a_step(browser: Browser, timeline_page: str, width: int) -> None:
    with opened(browser, f"{timeline_page}#timeline-sortie-1.swap-pump.close-valves", width=width) as (page, seen):
        expect(page.locator("#timeline-sortie-1")).to_have_attribute("data-state", "live", timeout=LIVE)
        expect(page.locator(".bg-chart__voice")).not_to_be_empty()
        assert page.locator(".hoverlayer .hovertext").count() == 1
        quiet(seen)


def test_an_address_leads_to_a_step_of_the_still_without_a_script(browser: Browser, timeline_page: str) -> None:
    with opened(browser, f"{timeline_page}#timeline-sortie-1.swap-pump.close-valves", scripts=False) as (page, _):
        assert page.evaluate("document.querySelectorAll(':target').length") == 1


def colour_of(page: Page) -> str:
    found: str = page.evaluate("document.querySelector('.bg-chart__live').layout.font.color")
    return found


def test_a_change_of_palette_repaints_it(browser: Browser, timeline_page: str) -> None:
    with opened(browser, timeline_page) as (page, seen):
        live(page, "timeline-sortie-1")
        day = colour_of(page)
        page.evaluate("document.body.dataset.mdColorScheme = 'slate'")
        page.wait_for_function("day => document.querySelector('.bg-chart__live').layout.font.color !== day", arg=day)
        night = colour_of(page)
        paper = page.evaluate("getComputedStyle(document.body).getPropertyValue('--bg-paper').trim()")
        assert contrast(night, paper) >= 4.5
        assert contrast(day, paper) < 4.5
        quiet(seen)


def test_it_turns_round_when_the_window_becomes_narrow(browser: Browser, timeline_page: str) -> None:
    turned = "() => document.querySelector('.bg-chart__live').data.find(one => one.name === 'steps').orientation"
    with opened(browser, timeline_page) as (page, seen):
        live(page, "timeline-sortie-1")
        assert page.evaluate(turned) == "h"
        page.set_viewport_size({"width": NARROW, "height": 800})
        page.wait_for_function(f"({turned})() === 'v'")
        assert page.evaluate("document.documentElement.scrollWidth") <= NARROW
        page.set_viewport_size({"width": WIDE, "height": 800})
        page.wait_for_function(f"({turned})() === 'h'")
        quiet(seen)


def test_paper_shows_the_still_in_black_on_white(
    browser: Browser, page_of: PageOf, timeline: Chart, script_name: str
) -> None:
    url = page_of("print.html", chart_html(timeline, script_name), scheme="slate")
    with opened(browser, url) as (page, _):
        live(page, "timeline-sortie-1")
        page.emulate_media(media="print")
        assert page.locator("[data-wide]").is_visible()
        assert not page.locator(".bg-chart__live").is_visible()
        assert not page.locator(".bg-chart__tools").is_visible()
        ink = page.evaluate("getComputedStyle(document.querySelector('[data-wide] text')).fill")
        assert max(int(part) for part in ink[4:-1].split(",")) < 60
        # Drawn as lines: SVG patterns made this 17 MB, and 20 seconds of a printer's time.
        assert len(page.pdf(format="A4", print_background=True)) < 1_000_000


@pytest.mark.parametrize(("scheme", "width"), [("default", WIDE), ("slate", NARROW)])
def test_axe_finds_nothing_in_the_stills(
    browser: Browser, page_of: PageOf, first_sortie: SortieEvidence, script_name: str, scheme: str, width: int
) -> None:
    charts = [make(first_sortie) for make in LIVE_MAKERS.values()]
    url = page_of(f"axe-{scheme}.html", *(chart_html(chart, "none.js") for chart in charts), scheme=scheme)
    with opened(browser, url, width=width) as (page, _):
        assert page.locator(".bg-chart__ask").count() == len(charts)
        assert axe_violations(page) == []
        page.locator(f"#{charts[0].id} .bg-chart__ask").click()
        expect(page.locator(f"#{charts[0].id}")).to_have_attribute("data-state", "failed", timeout=LIVE)
        expect(page.locator(f"#{charts[0].id} .bg-chart__voice")).to_contain_text("could not be made")
        assert page.locator(f"#{charts[0].id} .bg-chart__still:visible").count() == 1
        assert axe_violations(page) == []


def test_the_html_checker_finds_nothing(
    page_of: PageOf, first_sortie: SortieEvidence, script_name: str, site: Path
) -> None:
    page_of("nu.html", *(chart_html(make(first_sortie), script_name) for make in MAKERS.values()))
    assert nu_errors([site / "nu.html"]) == []


@pytest.mark.parametrize("width", [WIDE, NARROW])
def test_no_word_of_a_diagram_runs_out_of_its_box(
    browser: Browser, page_of: PageOf, first_sortie: SortieEvidence, script_name: str, width: int
) -> None:
    chart = MAKERS["steps"](first_sortie)
    with opened(browser, page_of("fits.html", chart_html(chart, script_name)), width=width, scripts=False) as (page, _):
        beyond = page.evaluate(
            """() => [...document.querySelectorAll('.bg-chart__still')].filter(one => one.offsetParent)
                .flatMap(still => [...still.querySelectorAll('a')]).filter(one => one.querySelector('.c-box'))
                .flatMap(link => [...link.querySelectorAll('g')].filter(one => one.querySelector(':scope > .c-box')))
                .flatMap(group => {
                    const box = group.querySelector('.c-box').getBoundingClientRect();
                    return [...group.querySelectorAll('text')].filter(text => {
                        const own = text.getBoundingClientRect();
                        return own.right > box.right + 1 || own.bottom > box.bottom + 2;
                    }).map(text => text.textContent);
                })"""
        )
        assert beyond == []


# Pixels: what is smaller can't be read at arm's length on a tablet (common practice, no source).
LEAST = 11
SIZES = """[...document.querySelectorAll('figure text')]
    .filter(one => one.getClientRects().length && one.textContent.trim())
    .map(one => [one, one.getScreenCTM()])
    .map(([one, {c, d}]) => [parseFloat(getComputedStyle(one).fontSize) * Math.hypot(c, d), one.textContent])"""
LIVE_NAMES = (
    "document.querySelector('.bg-chart__live').data.filter(one => one.name === 'tasks').flatMap(one => one.text)"
)


@pytest.mark.parametrize("width", [360, 390, 600, 735, 820, 1280])
def test_no_letters_of_a_chart_are_too_small_to_read(
    browser: Browser, page_of: PageOf, first_sortie: SortieEvidence, script_name: str, width: int
) -> None:
    charts = [make(first_sortie) for make in MAKERS.values()]
    url = page_of("sizes.html", *(chart_html(chart, script_name) for chart in charts))
    with opened(browser, url, width=width, scripts=False) as (page, _):
        sizes = page.evaluate(SIZES)
        assert len(sizes) > 100
        assert [one for one in sizes if one[0] < LEAST - 0.01] == []
    with opened(browser, url, width=width) as (page, _):
        for chart in charts:
            if chart.figure:
                live(page, chart.id)
        assert [one for one in page.evaluate(SIZES) if one[0] < LEAST - 0.01] == []


@pytest.mark.parametrize("width", [WIDE, NARROW])
def test_a_live_name_is_told_in_full_or_by_its_letter_and_slack_on_request(
    browser: Browser, timeline_page: str, first_sortie: SortieEvidence, width: int
) -> None:
    tasks = timeline_rows(first_sortie, href).tasks
    with opened(browser, timeline_page, width=width) as (page, seen):
        live(page, "timeline-sortie-1")
        texts = page.evaluate(LIVE_NAMES)
        told = [re.sub("<br>", " ", re.sub("</?b>", "", text)) for text in texts]
        assert {html.unescape(text) for text in told} <= {"", *tasks, *tasks.values()}
        assert sum(map(bool, told)) > 0.8 * len(told)
        names = "document.querySelector('.bg-chart__live').data.map(one => one.name)"
        assert "slack" not in page.evaluate(names)
        button = page.get_by_role("button", name="Slack")
        assert button.is_visible() == (width == WIDE)
        if width == WIDE:
            button.click()
            page.wait_for_function(f"({names}).includes('slack')")
            assert button.get_attribute("aria-pressed") == "true"
        quiet(seen)
