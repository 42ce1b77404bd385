"""Figures by night, as Chromium shows them: by day as drawn, in the dark with the same contrasts, on paper by day."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Mapping
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from briefgen.pages.html.night.colours import read
from briefgen.pages.html.night.names import NAMED
from tests.browser_tools import fresh_tab, opened
from tests.site.site_build import ROOT

pytestmark = pytest.mark.browser
DRAWN = sorted((ROOT / "content_demo" / "figures").glob("*.svg"))

# Of a drawing that is open by itself: each word's contrast with what it stands on, and each line's with the sheet.
CONTRASTS = """() => {
    const light = (words) => words.match(/[0-9.]+/g).slice(0, 3).map((part) => part / 255)
        .map((part) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4));
    const shine = (words) => { const [r, g, b] = light(words); return 0.2126 * r + 0.7152 * g + 0.0722 * b + 0.05 };
    const contrast = (one, other) => Math.max(shine(one) / shine(other), shine(other) / shine(one));
    const colour = (words) => (/^rgb/.test(words) ? words : "");
    const sheet = getComputedStyle(document.querySelector("rect")).fill;
    const words = [...document.querySelectorAll("text")].map((text) => {
        const box = text.getBoundingClientRect();
        const under = document.elementsFromPoint(box.x + box.width / 2, box.y + box.height / 2)
            .filter((one) => !one.closest("text") && one !== document.documentElement)
            .map((one) => colour(getComputedStyle(one).fill)).find(Boolean);
        return [text.textContent, contrast(getComputedStyle(text).fill, under)];
    });
    return { words, lines: [...document.querySelectorAll("path, rect, circle, ellipse, line")]
        .map((one) => colour(getComputedStyle(one).stroke)).filter(Boolean).map((line) => contrast(line, sheet)) };
}"""


def measured(page: Page, site: Path, name: str, scheme: str) -> Mapping[str, list[float]]:
    page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
    page.goto((site / "pictures" / "figures" / name).as_uri())
    found = page.evaluate(CONTRASTS)
    return {"words": [ratio for _, ratio in found["words"]], "lines": found["lines"]}


@pytest.mark.parametrize("name", [path.name for path in DRAWN])
def test_words_and_lines_of_a_figure_keep_their_contrast_in_the_dark(browser: Browser, site: Path, name: str) -> None:
    with fresh_tab(browser, "about:blank") as (page, _):
        day, night = (measured(page, site, name, scheme) for scheme in ("light", "dark"))
    assert day["lines"]
    assert min(night["words"], default=9) >= 4.5
    assert min(night["words"], default=9) >= 0.96 * min(day["words"], default=9)
    assert night["lines"] == pytest.approx(day["lines"], rel=0.04)
    assert max(night["lines"]) >= 7


def test_by_day_a_figure_is_what_its_author_drew(browser: Browser, site: Path) -> None:
    with fresh_tab(browser, "about:blank", width=980, height=620) as (page, _):
        for path in DRAWN:
            page.goto(path.as_uri())
            drawn = page.screenshot()
            page.goto((site / "pictures" / "figures" / path.name).as_uri())
            assert page.screenshot() == drawn, path.name


# Red light of a picture's first point, 0 to 255.
_BRIGHT = """async (address) => {
    const image = new Image();
    image.src = address;
    await image.decode();
    const sheet = document.createElement("canvas").getContext("2d");
    sheet.drawImage(image, 0, 0, 1, 1);
    return sheet.getImageData(0, 0, 1, 1).data[0];
}"""


def brightness(page: Page) -> int:
    """Of the sheet of the first figure as it stands on the page: red light, 0 to 255."""
    picture = page.locator(".bg-figure__picture img").first
    picture.scroll_into_view_if_needed()
    shot = page.screenshot(clip={**_corner(page), "width": 4, "height": 4})
    with fresh_tab(page.context.browser or pytest.fail("no browser"), "about:blank") as (other, _):
        red: int = other.evaluate(_BRIGHT, f"data:image/png;base64,{b64encode(shot).decode()}")
    return red


def _corner(page: Page) -> dict[str, float]:
    box = page.locator(".bg-figure__picture img").first.bounding_box()
    assert box is not None
    return {"x": box["x"] + box["width"] / 2, "y": box["y"] + 12}


@pytest.mark.parametrize("system", ["light", "dark"])
def test_the_palette_of_the_page_decides_and_not_the_system(browser: Browser, address: str, system: str) -> None:
    with opened(browser, f"{address}figures/pump-front.html", scheme=system) as (page, _):  # type: ignore[arg-type]
        first = brightness(page)
        page.locator("[data-palette]:visible").click()
        page.wait_for_timeout(300)
        other = brightness(page)
    assert (first > 230, first < 60) == (system == "light", system == "dark")
    assert (other > 230, other < 60) == (system == "dark", system == "light")


def test_on_paper_a_figure_is_as_drawn(browser: Browser, address: str) -> None:
    with opened(browser, f"{address}figures/pump-front.html", scheme="dark") as (page, _):
        page.emulate_media(media="print")
        assert brightness(page) > 230


def test_names_of_colours_are_what_a_browser_takes_them_for(browser: Browser) -> None:
    with fresh_tab(browser, "about:blank") as (page, _):
        known = page.evaluate(
            """names => names.map(name => { const sheet = document.createElement("canvas").getContext("2d");
               sheet.fillStyle = name; return sheet.fillStyle })""",
            list(NAMED),
        )
    assert known == [f"#{digits}" for digits in NAMED.values()]
    assert len(known) == 148


@pytest.mark.parametrize(
    "words", ["hsl(200, 30%, 40%)", "hsl(20deg 90% 60%)", "rgb(10% 20% 30%)", "rgb(300,0,12)", "#abc"]
)
def test_notations_are_read_as_a_browser_reads_them(browser: Browser, words: str) -> None:
    with fresh_tab(browser, "about:blank") as (page, _):
        shown = page.evaluate(
            """words => { const sheet = document.createElement("canvas").getContext("2d");
               sheet.fillStyle = words; return sheet.fillStyle }""",
            words,
        )
    colour = read(words)
    assert colour is not None
    assert read(shown) == read(colour.written)
