"""Marks as they are drawn: a colour is never without its pattern and a word, and stands out wherever it is.

WCAG 2.2, criteria 1.4.1 (never by colour alone) and 1.4.11 (3 to 1), the ratios by the package wcag-contrast-ratio.
"""

from __future__ import annotations

import re

import pytest
import wcag_contrast_ratio  # type: ignore[import-untyped]
from playwright.sync_api import Browser, Page

from tests.browser_tools import NARROW, WIDE, Scheme, opened
from tests.demo import demo
from tests.pages.site_tools import BuiltSite

PAGES = (
    "index.html", "people/ev1.html", "tasks/swap-pump.html", "cards/sortie-1.html", "telling/sortie-1.html",
    "underway/sortie-1.html", "plays/sortie-1.html", "timelines/sortie-1.html", "stopping/sortie-1.html",
)  # fmt: skip
MARKED = {
    (person.mark.pattern, person.mark.colour): person.mark.said
    for person in demo().library.people.values() if person.mark
}  # fmt: skip

# Of every visible band and of every sign in a chart: the colour of its stripes, and what is behind it.
_SEEN = """() => {
    const ground = (one) => {
        for (let up = one; up; up = up.parentElement) {
            const colour = getComputedStyle(up).backgroundColor;
            if (!/^rgba\\(.*, 0\\)$|transparent/.test(colour)) return colour;
        }
        return "rgb(255, 255, 255)";
    };
    const seen = (one) => one.checkVisibility() && one.getBoundingClientRect().width > 0;
    const bands = [...document.querySelectorAll(".bg-mark[data-colour]")].filter(seen).map((one) => {
        const drawn = getComputedStyle(one, "::after");
        return [drawn.backgroundColor, ground(one), drawn.maskImage !== "none"];
    });
    const signs = [...document.querySelectorAll("[class*=c-stripe-] > .c-token")].filter(seen)
        .map((one) => [getComputedStyle(one).fill, ground(one.closest("svg")), one.nextElementSibling !== null]);
    return [...bands, ...signs];
}"""


def ratio(one: str, other: str) -> float:
    colours = [tuple(int(part) / 255 for part in re.findall(r"\d+", text)[:3]) for text in (one, other)]
    return float(wcag_contrast_ratio.rgb(*colours))


def test_the_demo_has_two_colours() -> None:
    assert len({colour for _, colour in MARKED if colour}) == 2


def test_a_colour_is_never_without_its_pattern_and_a_word(parsed: BuiltSite) -> None:
    kinds = set()
    for name, page in parsed.pages.items():
        for one in page.select("[data-pattern], [data-colour]"):
            assert (one["data-pattern"], one["data-colour"]) in MARKED, name
        for mark in page.select(".bg-mark[data-pattern]:not([aria-hidden])"):
            word = mark.select_one(".bg-mark__word")
            assert word is not None, name
            assert word.text.endswith(MARKED[str(mark["data-pattern"]), str(mark["data-colour"])]), name
            kinds.add(name.partition("/")[0])
        for sign in page.select("[class*=c-stripe-] > .c-token"):
            assert sign.find_next_sibling() is not None, f"{name}: a sign of a colour has its pattern in it"
    assert {"index.html", "people", "tasks", "cards", "booklets", "telling", "underway", "stopping", "mine"} <= kinds


def looked_at(page: Page) -> list[tuple[str, str, bool]]:
    found: list[tuple[str, str, bool]] = page.evaluate(_SEEN)
    assert all(patterned for _, _, patterned in found)
    return found


@pytest.mark.browser
@pytest.mark.parametrize("path", PAGES)
def test_a_colour_stands_out_in_both_palettes_and_on_paper(browser: Browser, address: str, path: str) -> None:
    schemes: tuple[tuple[Scheme, int], ...] = (("light", WIDE), ("dark", WIDE), ("dark", NARROW))
    inks = {}
    for scheme, width in schemes:
        with opened(browser, address + path, scheme=scheme, width=width) as (page, _):
            found = looked_at(page)
            assert found
            assert min(ratio(ink, ground) for ink, ground, _ in found) >= 3
            inks[scheme] = {ink for ink, _, _ in found}
            page.emulate_media(media="print")
            printed = looked_at(page)
            assert printed or path.startswith("plays/"), "what moves is not printed"
            assert min((ratio(ink, "rgb(255, 255, 255)") for ink, _, _ in printed), default=21) >= 3
            page.emulate_media(media="screen", forced_colors="active")
            for ink, ground, _ in page.evaluate(_SEEN.replace("[...bands, ...signs]", "bands")):
                assert ratio(ink, ground) >= 4.5, "where the reader has colours of their own, the pattern is left"
                assert ink not in inks[scheme]
    if not path.startswith("cards/"):
        assert inks["light"].isdisjoint(inks["dark"])
