"""Clips in a real browser: from a folder too, with captions, callouts in their time, on paper and without a script."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import webvtt
from playwright.sync_api import Browser, Page, expect

from briefgen.telling.scenes import FigureShown, scenes_of
from tests.browser_tools import SCHEMES, Scheme, axe_violations, opened
from tests.demo import CONTENT, demo
from tests.site.conftest import Article

CASE = next(iter(demo().evidence.sorties.values()))
FIGURE = demo().library.figures["parting"]
SCENE = next(
    scene for scene in scenes_of(CASE) if isinstance(scene.shown, FigureShown) and scene.shown.figure == "parting"
)
PAGES = {"figure": "figures/parting.html", "told": f"telling/{CASE.sortie.id}.html#scene-{SCENE.number}"}
CAPTIONS = webvtt.read(CONTENT / "figures" / "parting.vtt")


def seconds(stamp: str) -> float:
    """`00:00:02.500` in seconds."""
    hours, minutes, rest = stamp.split(":")
    return int(hours) * 3600 + int(minutes) * 60 + float(rest)


@pytest.mark.parametrize("page", PAGES.values())
def test_a_clip_has_the_browsers_controls_and_does_not_play_by_itself(article: Article, page: str) -> None:
    (video,) = article(page.partition("#")[0]).select("video")
    assert video.has_attr("controls")
    assert not video.has_attr("autoplay")
    assert not video.has_attr("loop")
    assert video["preload"] in ("metadata", "none")
    assert len(str(video["aria-label"])) > 20
    assert (video["width"], video["height"]) == ("720", "360")
    (track,) = video.select("track")
    assert track["kind"] == "captions"


@pytest.mark.parametrize("page", PAGES.values())
def test_the_transcript_stands_beside_it(article: Article, page: str) -> None:
    (words,) = article(page.partition("#")[0]).select(".bg-clip__words")
    assert " ".join(str(FIGURE.says).split()) in " ".join(words.get_text().split())


def lit(tab: Page, scope: str) -> list[str]:
    """The numbers or letters of the callouts that are to be seen on the clip."""
    return tab.evaluate(
        f"[...document.querySelectorAll('{scope} :is(.bg-pin, .bg-scene__pin)')].filter(one => one.checkVisibility())"
        ".map(one => one.textContent.replace(/Callout |:.*/gs, '').trim())"
    )  # type: ignore[no-any-return]


def go(tab: Page, moment: float, scope: str) -> None:
    tab.evaluate(
        "([scope, moment]) => new Promise((done) => { const clip = document.querySelector(`${scope} video`);"
        "clip.addEventListener('seeked', () => requestAnimationFrame(done), { once: true });"
        "clip.currentTime = moment; })",
        [scope, moment],
    )


def loaded(tab: Page, scope: str) -> None:
    tab.wait_for_function("scope => document.querySelector(`${scope} video`).readyState >= 2", arg=scope)


@pytest.mark.browser
@pytest.mark.parametrize("base", ["http", "folder"])
@pytest.mark.parametrize(("name", "scope"), [("figure", ".bg-figure"), ("told", f"#scene-{SCENE.number}")])
def test_captions_and_callouts_follow_the_clip(
    browser: Browser, site: Path, address: str, base: str, name: str, scope: str
) -> None:
    start = address if base == "http" else f"{site.as_uri()}/"
    with opened(browser, f"{start}{PAGES[name]}") as (tab, seen):
        loaded(tab, scope)
        cues = tab.evaluate(
            "scope => [...document.querySelector(`${scope} video`).textTracks].flatMap("
            "(track) => [...track.cues].map((cue) => [cue.startTime, cue.text]))", scope)  # fmt: skip
        assert [tuple(cue) for cue in cues] == [(seconds(one.start), one.text) for one in CAPTIONS]
        callouts = list(FIGURE.callouts.values())
        # A server that gives no parts of a file lets nobody go to a moment: there it is the beginning.
        moments = [one / 2 + 0.25 for one in range(27)] if base == "folder" else [0.25]
        for moment in moments:
            go(tab, moment, scope)
            now = [
                place for place, one in enumerate(callouts)
                if one.begins <= moment < (one.until.likely if one.until else 99)
            ]  # fmt: skip
            assert lit(tab, scope) == ["1234"[place] if name == "figure" else "ABCD"[place] for place in now], moment
            shown = tab.evaluate(
                "scope => [...document.querySelector(`${scope} video`).textTracks[0].activeCues]"
                ".map((one) => one.text)", scope)  # fmt: skip
            assert shown == [one.text for one in CAPTIONS if seconds(one.start) <= moment < seconds(one.end)], moment
        assert seen.messages == []


@pytest.mark.browser
def test_who_asks_for_a_callout_is_shown_its_moment(browser: Browser, site: Path) -> None:
    with opened(browser, f"{site.as_uri()}/{PAGES['figure']}") as (tab, _):
        loaded(tab, ".bg-figure")
        tab.locator(".bg-callouts__pin").nth(2).click()
        tab.wait_for_function("() => document.querySelector('video').currentTime === 6")
        assert lit(tab, ".bg-figure") == ["3"]
        assert tab.evaluate("document.querySelector('video').paused")


@pytest.mark.browser
def test_a_clicker_plays_the_clip_and_goes_on_and_nothing_plays_on(browser: Browser, site: Path) -> None:
    clip = f"document.querySelector('#scene-{SCENE.number} video')"
    with opened(browser, f"{site.as_uri()}/{PAGES['told']}") as (tab, seen):
        loaded(tab, f"#scene-{SCENE.number}")
        tab.get_by_role("button", name="Tell it on the whole screen").click()
        assert tab.evaluate(f"{clip}.paused")
        tab.keyboard.press("PageDown")
        tab.wait_for_function(f"() => !{clip}.paused && {clip}.currentTime > 0.2")
        assert tab.evaluate("location.hash") == f"#scene-{SCENE.number}"
        tab.keyboard.press("PageDown")
        expect(tab).to_have_url(re.compile(f"#scene-{SCENE.number + 1}$"))
        tab.wait_for_function(f"() => {clip}.paused")
        tab.keyboard.press("PageUp")
        expect(tab).to_have_url(re.compile(f"#scene-{SCENE.number}$"))
        assert tab.evaluate(f"{clip}.paused"), "going back plays nothing"
        tab.keyboard.press("PageUp")
        tab.wait_for_function(f"() => {clip}.currentTime === 0")
        tab.keyboard.press("PageDown")
        tab.wait_for_function(f"() => !{clip}.paused")
        tab.keyboard.press("Escape")
        tab.wait_for_function(f"() => {clip}.paused")
        assert seen.messages == []


@pytest.mark.browser
def test_the_speakers_window_plays_the_clip_on_the_stage_and_not_its_own(browser: Browser, site: Path) -> None:
    clip = f"document.querySelector('#scene-{SCENE.number} video')"
    with opened(browser, f"{site.as_uri()}/{PAGES['told']}") as (tab, _):
        with tab.expect_popup() as popup:
            tab.get_by_role("button", name="Open the speaker's window").click()
        speaker = popup.value
        expect(speaker.locator(".bg-told")).to_have_attribute("data-mode", "speaker")
        speaker.keyboard.press("PageDown")
        tab.wait_for_function(f"() => !{clip}.paused && {clip}.currentTime > 0")
        assert speaker.evaluate(f"{clip}.paused")
        speaker.keyboard.press("PageDown")
        tab.wait_for_function(f"() => {clip}.paused && location.hash === '#scene-{SCENE.number + 1}'")
        speaker.close()


@pytest.mark.browser
def test_pictures_are_loaded_before_they_are_asked_for_the_nearest_first(browser: Browser, site: Path) -> None:
    """Who only scrolls, without a script, loads what is scrolled to."""
    page = f"{site.as_uri()}/telling/{CASE.sortie.id}.html"
    pictures, loading = ".bg-scene__frame > img:not(.bg-clip__still)", "all => all.map(one => one.loading)"
    with opened(browser, page, scripts=False) as (tab, _):
        assert {*tab.locator(pictures).evaluate_all(loading)} == {"lazy"}
    with opened(browser, f"{page}#scene-20") as (tab, seen):
        expect(tab.locator("[data-told][data-pictured]")).to_have_count(1, timeout=60_000)
        assert {*tab.locator(pictures).evaluate_all(loading)} == {"eager"}
        asked = [one.rsplit("/", 1)[1] for one in seen.requests if "/pictures/" in one]
        assert len(asked) > 5
        # What lies near the top of the page the browser loads by itself, before it goes to the scene.
        near, far = (str(tab.locator(f"#scene-{one} {pictures}").get_attribute("src")) for one in (21, 10))
        assert asked.index(near.rsplit("/", 1)[1]) < asked.index(far.rsplit("/", 1)[1])


@pytest.mark.browser
@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("page", PAGES.values())
def test_nothing_keeps_anybody_out(browser: Browser, site: Path, page: str, scheme: Scheme) -> None:
    with opened(browser, f"{site.as_uri()}/{page}", scheme=scheme) as (tab, _):
        assert axe_violations(tab) == []


@pytest.mark.browser
@pytest.mark.parametrize(("name", "scope"), [("figure", ".bg-figure"), ("told", f"#scene-{SCENE.number}")])
def test_on_paper_it_is_its_poster_with_all_callouts_and_the_transcript(
    browser: Browser, site: Path, name: str, scope: str
) -> None:
    with opened(browser, f"{site.as_uri()}/{PAGES[name]}") as (tab, _):
        tab.emulate_media(media="print")
        assert tab.locator(f"{scope} video").is_hidden()
        assert tab.locator(f"{scope} .bg-clip__still").is_visible()
        assert len(lit(tab, scope)) == len(FIGURE.callouts)
        assert tab.locator(f"{scope} .bg-clip__words").is_visible()
        tab.emulate_media(media="screen")
        assert tab.locator(f"{scope} .bg-clip__still").is_hidden()


@pytest.mark.browser
def test_without_a_script_there_are_player_transcript_and_all_callouts(browser: Browser, site: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    tab = context.new_page()
    tab.goto(f"{site.as_uri()}/{PAGES['figure']}")
    assert tab.locator("video[controls] > track[kind=captions]").count() == 1
    assert tab.locator(".bg-clip__words").is_visible()
    assert tab.locator(".bg-figure .bg-pin >> visible=true").count() == len(FIGURE.callouts)
    context.close()
