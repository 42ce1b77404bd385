"""The told sortie in a real browser: by keys, in the speaker's window, on paper, and without a script."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from bs4 import Tag
from playwright.sync_api import Browser, Page, expect

from briefgen.telling.scenes import FigureShown, scenes_of
from tests.browser_tools import NARROW, WIDE, opened
from tests.demo import demo
from tests.site.conftest import Article

CASE = next(iter(demo().evidence.sorties.values()))
SCENES = scenes_of(CASE)
PAGE = f"telling/{CASE.sortie.id}.html"


def test_every_scene_stands_on_the_page_in_order_with_its_words(article: Article) -> None:
    found = article(PAGE).select(".bg-scene")
    assert [str(scene["id"]) for scene in found] == [f"scene-{number}" for number in range(1, len(SCENES) + 1)]
    for scene, row in zip(SCENES, found, strict=True):
        words = re.sub(r"\W+", " ", row.get_text(" "))
        assert re.sub(r"\W+", " ", scene.title) in words
        assert re.sub(r"\W+", " ", scene.says).strip() in words


def test_every_picture_has_words_for_who_does_not_see_it(article: Article) -> None:
    for picture in article(PAGE).select(".bg-scene__frame > img"):
        assert len(str(picture["alt"])) > 20


def test_the_end_of_a_scene_is_the_sum_of_all_up_to_it(article: Article) -> None:
    ends = [int(str(row["data-until"])) for row in article(PAGE).select(".bg-scene")]
    sums = [round(sum(scene.seconds for scene in SCENES[: number + 1])) for number in range(len(SCENES))]
    assert ends == sums


def test_every_callout_that_is_spoken_of_has_its_ring_and_its_line(article: Article) -> None:
    for scene, row in zip(SCENES, article(PAGE).select(".bg-scene"), strict=True):
        look = scene.shown.look if isinstance(scene.shown, FigureShown) else ()
        assert len(row.select(".bg-scene__pin")) == len(row.select(".bg-scene__look > li")) == len(look)


def lit(tab: Page) -> list[str]:
    return tab.evaluate(
        "[...document.querySelectorAll('[data-now] .bg-scene__look > [data-lit]')].map(one => one.textContent.trim())"
    )  # type: ignore[no-any-return]


def now(tab: Page) -> list[str]:
    return tab.evaluate(
        "[...document.querySelectorAll('.bg-scene')].filter(one => one.checkVisibility()).map(one => one.id)"
    )  # type: ignore[no-any-return]


@pytest.mark.browser
@pytest.mark.parametrize("base", ["http", "folder"])
def test_keys_of_a_clicker_tell_it_callout_by_callout(browser: Browser, site: Path, address: str, base: str) -> None:
    start = address if base == "http" else f"{site.as_uri()}/"
    with opened(browser, f"{start}{PAGE}#scene-2") as (tab, seen):
        tab.get_by_role("button", name="Tell it on the whole screen").click()
        assert now(tab) == ["scene-2"]
        look = len(SCENES[1].shown.look) if isinstance(SCENES[1].shown, FigureShown) else 0
        assert look > 1
        for _ in range(look):
            tab.keyboard.press("PageDown")
            assert now(tab) == ["scene-2"]
            assert len(lit(tab)) == 1
        tab.keyboard.press("PageDown")
        assert now(tab) == ["scene-3"]
        tab.keyboard.press("PageUp")
        assert now(tab) == ["scene-2"]
        assert len(lit(tab)) == 1
        tab.keyboard.press("End")
        assert now(tab) == [f"scene-{len(SCENES)}"]
        expect(tab).to_have_url(re.compile(f"#scene-{len(SCENES)}$"))
        tab.keyboard.press("Escape")
        assert len(now(tab)) == len(SCENES)
        assert [said for said in seen.messages if "Blocked" not in said] == []


@pytest.mark.browser
@pytest.mark.parametrize("base", ["http", "folder"])
def test_the_speakers_window_goes_along_both_ways(browser: Browser, site: Path, address: str, base: str) -> None:
    start = address if base == "http" else f"{site.as_uri()}/"
    with opened(browser, f"{start}{PAGE}") as (tab, _):
        with tab.expect_popup() as popup:
            tab.get_by_role("button", name="Open the speaker's window").click()
        speaker = popup.value
        expect(speaker.locator(".bg-told")).to_have_attribute("data-mode", "speaker")
        expect(speaker.locator("[data-told=next]")).to_have_text(SCENES[1].title)
        # The words stand there anyway: nothing is offered that would change nothing.
        expect(speaker.get_by_role("button", name="Words")).to_be_hidden()
        expect(speaker.locator("[data-now] .bg-scene__says")).to_be_visible()
        speaker.get_by_role("button", name="Next", exact=True).click()
        expect(tab.locator("[data-now]")).to_have_id("scene-2")
        tab.keyboard.press("End")
        expect(speaker.locator("[data-now]")).to_have_id(f"scene-{len(SCENES)}")
        expect(speaker.locator("[data-told=next]")).to_have_text("the end")
        speaker.close()


@pytest.mark.browser
def test_a_late_speaker_is_told_what_to_shorten(browser: Browser, site: Path) -> None:
    with opened(browser, f"{site.as_uri()}/{PAGE}?speaker") as (tab, _):
        tab.evaluate(
            "{ const real = performance.now.bind(performance); window.__add = 0;"
            " performance.now = () => real() + window.__add }"
        )
        tab.get_by_role("button", name="Next", exact=True).click()
        tab.evaluate("window.__add = 200_000")
        late = tab.locator("[data-told=late]")
        expect(late).to_contain_text("late. Shorten first: ")
        optional = next(scene for scene in SCENES if scene.tasks == ("run-water-line",))
        expect(late).to_contain_text(optional.title)


@pytest.mark.browser
@pytest.mark.parametrize("width", [1920, 1024, NARROW])
def test_the_picture_and_its_way_on_are_on_the_screen_in_every_scene(browser: Browser, site: Path, width: int) -> None:
    height = {1920: 1080, 1024: 768}.get(width, 844)
    with opened(browser, f"{site.as_uri()}/{PAGE}", width=width, height=height) as (tab, _):
        tab.get_by_role("button", name="Tell it on the whole screen").click()
        for _ in SCENES:
            seen = tab.evaluate(
                """() => {
                    const box = document.querySelector('[data-now] .bg-scene__frame').getBoundingClientRect();
                    const steer = document.querySelector('[data-told-steer]').getBoundingClientRect();
                    return [box.left >= 0, box.right <= innerWidth, box.top >= 0, box.bottom <= steer.top,
                            box.width > innerWidth * 0.4, document.documentElement.scrollWidth <= innerWidth,
                            ...[...document.querySelectorAll('[data-now] .bg-scene__side *')].map((one) => {
                                const its = one.getBoundingClientRect();
                                return !its.width || (its.left >= 8 && its.right <= innerWidth - 8);
                            })];
                }"""
            )
            assert all(seen), tab.evaluate("location.hash")
            before = tab.evaluate("document.querySelector('[data-now]').id")
            while tab.evaluate("document.querySelector('[data-now]').id") == before:
                if before == f"scene-{len(SCENES)}":
                    return
                tab.keyboard.press("ArrowRight")


def spoken(tab: Page) -> list[tuple[str, str]]:
    """What Chromium hands to what reads a page aloud, in its order: role and name."""
    nodes = tab.context.new_cdp_session(tab).send("Accessibility.getFullAXTree")["nodes"]
    by_id = {one["nodeId"]: one for one in nodes}
    waiting, found = [nodes[0]], []
    while waiting:
        node = waiting.pop()
        if not node["ignored"]:
            found.append((str(node["role"]["value"]), str(node.get("name", {}).get("value", ""))))
        waiting += [by_id[one] for one in reversed(node.get("childIds", [])) if one in by_id]
    return found


@pytest.mark.browser
def test_keys_and_readers_stay_on_the_whole_screen_until_it_is_left(browser: Browser, site: Path) -> None:
    """WCAG 2.2, success criteria 2.4.3 (focus order) and 2.4.11 (focus not obscured)."""
    with opened(browser, f"{site.as_uri()}/{PAGE}#scene-9") as (tab, _):
        told = tab.locator("[data-told]")
        assert "navigation" in [role for role, _ in spoken(tab)]
        tab.get_by_role("button", name="Tell it on the whole screen").click()
        said = spoken(tab)
        assert "navigation" not in [role for role, _ in said]
        order = [
            said.index(one)
            for one in (("heading", SCENES[8].title), ("link", "Open the bay cover"), ("button", "Next"))
        ]
        assert order == sorted(order)
        for _ in range(40):
            tab.keyboard.press("Tab")
            assert tab.evaluate("document.activeElement === document.body") or told.locator(":focus").count() == 1
        tab.keyboard.press("Escape")
        assert tab.locator("[inert]").count() == 0
        assert "navigation" in [role for role, _ in spoken(tab)]


@pytest.mark.browser
def test_words_of_the_stage_grow_with_the_screen(browser: Browser, site: Path) -> None:
    """From memory, no source: what a room reads is as high as one fiftieth of the screen or higher; here a sixtieth."""
    words = ".bg-scene__doing, .bg-scene__hazard, .bg-scene__look, .bg-scene__facts"
    with opened(browser, f"{site.as_uri()}/{PAGE}", width=1920, height=1080) as (tab, _):
        sizes = f"[...document.querySelectorAll('{words}')].map(one => parseFloat(getComputedStyle(one).fontSize))"
        before = tab.evaluate(sizes)
        tab.get_by_role("button", name="Tell it on the whole screen").click()
        assert min(tab.evaluate(sizes)) >= 1080 / 60 > max(before)


def test_no_two_ways_of_a_scene_are_drawn_on_one_another(article: Article) -> None:
    lines = [[str(way["d"]) for way in row.select(".bg-scene__way")] for row in article(PAGE).select(".bg-scene")]
    assert max(map(len, lines)) == 2
    assert all(len(row) == len({*row}) for row in lines)


@pytest.mark.browser
def test_every_picture_is_read_in_before_its_scene_is_asked_for(browser: Browser, site: Path) -> None:
    with opened(browser, f"{site.as_uri()}/{PAGE}", height=300) as (tab, _):
        lazy = "[...document.querySelectorAll('.bg-scene img')].filter(one => !one.complete || !one.naturalWidth)"
        assert tab.evaluate("document.querySelectorAll('.bg-scene img').length") > len(SCENES) / 3
        expect(tab.locator("[data-told][data-pictured]")).to_have_count(1, timeout=60_000)
        assert tab.evaluate(f"{lazy}.map(one => one.src)") == []


@pytest.mark.browser
def test_without_a_script_the_scenes_are_a_page_to_scroll(browser: Browser, site: Path) -> None:
    with opened(browser, f"{site.as_uri()}/{PAGE}", scripts=False) as (tab, _):
        assert len(now(tab)) == len(SCENES)
        assert tab.get_by_role("button", name="Tell it on the whole screen").count() == 0


@pytest.mark.browser
def test_a_message_from_another_window_moves_nothing(browser: Browser, site: Path) -> None:
    with opened(browser, f"{site.as_uri()}/{PAGE}") as (tab, _):
        tab.get_by_role("button", name="Tell it on the whole screen").click()
        tab.evaluate("window.postMessage({ briefgen: 'scene', scene: 5, pin: -1 }, '*')")
        tab.wait_for_timeout(200)
        assert now(tab) == ["scene-1"]


@pytest.mark.browser
def test_on_paper_two_scenes_share_a_sheet(browser: Browser, site: Path) -> None:
    with opened(browser, f"{site.as_uri()}/{PAGE}", width=WIDE) as (tab, _):
        expect(tab.locator("[data-told][data-pictured]")).to_have_count(1, timeout=60_000)
        paper = tab.pdf(format="A4")
        sheets = len(re.findall(rb"/Type\s*/Page\b", paper))
        assert len(SCENES) / 2 <= sheets <= len(SCENES) / 2 + 1


def boxes(row: Tag) -> int:
    return len(row.select(".bg-scene__notes"))


def test_every_scene_has_room_for_notes_on_paper(article: Article) -> None:
    assert all(boxes(row) == 1 for row in article(PAGE).select(".bg-scene"))
