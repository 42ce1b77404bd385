"""The eye that looks at one page of each kind in `test_site_kinds.py` is tried on made pages.

Each fault is on one, and what is exempt on another. And on the played sortie nothing that can hurt is out of sight.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.browser_tools import fresh_tab, opened
from tests.site.eye import hurts
from tests.site.site_build import ROOT

pytestmark = pytest.mark.browser


PAGE = """<!DOCTYPE html><html lang="en"><meta charset="utf-8"><title>Made</title>
<style>body {{ margin: 0; font: 16px/1.5 sans-serif; width: 600px }} {style}</style><body><main>{body}</main></html>"""
TEXT = "Open the latch of the cover until its red line shows, then swing it up to the stop and let go of it"

DRAWN = sorted(path.name for path in (ROOT / "content_demo" / "figures").glob("*.svg"))


def hurts_within(browser: Browser, drawing: str) -> list[tuple[str, str]]:
    """What hurts inside a drawing as wide as on a notebook; its words may be small, as it opens larger."""
    with fresh_tab(browser, "about:blank", width=1000) as (tab, _):
        tab.set_content(PAGE.format(style="main { width: 785px } svg { width: 100%; height: auto }", body=drawing))
        return [(kind, words) for kind, words in hurts(tab) if kind != "tiny"]


@pytest.mark.parametrize("name", DRAWN)
def test_nothing_inside_an_authors_drawing_hurts_the_eye(browser: Browser, site: Path, name: str) -> None:
    assert hurts_within(browser, (site / "pictures" / "figures" / name).read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    ("drawing", "kind"),
    [
        ('<text x="9" y="200">EV1 holds</text><text x="30" y="203">EV2</text>', "overlap"),
        ('<text x="900" y="200">Open the latch of the cover</text>', "clipped"),
    ],
)  # fmt: skip
def test_the_eye_sees_a_fault_inside_a_drawing(browser: Browser, drawing: str, kind: str) -> None:
    assert [one for one, _ in hurts_within(browser, f'<svg viewBox="0 0 960 600">{drawing}</svg>')] == [kind]


FAULTS = {
    "a word goes on in the next line": (
        "broken word", "p { width: 4em; overflow-wrap: anywhere }", "<p>Disconnecting</p>",
    ),
    "a box cuts off the end of a line": (
        "clipped", "p { width: 5em; overflow: hidden; white-space: nowrap }", f"<p>{TEXT}</p>",
    ),
    "a box cuts off lines": ("clipped", "p { height: 2em; overflow: hidden }", f"<p>{TEXT} {TEXT}</p>"),
    "a line runs out of the window": ("clipped", "p { white-space: nowrap }", f"<p>{TEXT} {TEXT} {TEXT}</p>"),
    "a drawing is smaller than its words": (
        "clipped", "", '<svg width="80" height="30"><text x="9" y="20">Open the latch of the cover</text></svg>',
    ),
    "no key scrolls a box": ("clipped", "div { width: 9em; height: 4em; overflow: auto }", f"<div>{TEXT}</div>"),
    "two texts lie over each other": ("overlap", "#two { margin-top: -2.2em }", f"<p>{TEXT}</p><p id=two>{TEXT}</p>"),
    "two labels of a drawing lie over each other": (
        "overlap", "", '<svg width="300"><text x="9" y="20">EV1 holds</text><text x="30" y="23">EV2</text></svg>',
    ),
    "a button covers words": (
        "overlap", "button { position: absolute; left: 20px; top: 12px }", f"<p>{TEXT}</p><button>Move about</button>",
    ),
    "a column has room beside it": ("squeezed", "p { width: 150px }", f"<p>{TEXT}</p>"),
    "a cell has a word a line": (
        "squeezed", "td { width: 40px } b { white-space: nowrap }", f"<table><tr><td>{TEXT}<td><b>Close it</b></table>",
    ),
    "letters are small": ("tiny", "small { font-size: 10px }", "<p>Open <small>the latch</small></p>"),
    "letters become small in a drawing": (
        "tiny", "", '<svg width="100" viewBox="0 0 200 300"><text x="9" y="40" font-size="16">EV1</text></svg>',
    ),
    "two small things to point at are close": (
        "small target", "a { display: block; line-height: 18px }", "<a href='#a'>Overview</a><a href='#b'>Guide</a>",
    ),
    "a small box to tick stands by a link": (
        "small target", "input { width: 12px; height: 12px; margin: 0 }",
        "<p><input type=checkbox aria-label=Read><a href='#a'>Guide</a>",
    ),
}  # fmt: skip
EXEMPT = {
    "a word breaks at its hyphens and at marks": (
        "p { width: 6em; overflow-wrap: anywhere }", "<p>quick-connect</p><p>dis&shy;connecting</p><p>12/inlets</p>",
    ),
    "a box that scrolls is reached by keyboard": (
        "div { width: 12em; overflow: auto; white-space: nowrap }", f"<div tabindex=0>{TEXT}</div>",
    ),
    "text is for who listens": (
        "b { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%) }",
        f"<p>{TEXT}<b>{TEXT}</b></p>",
    ),
    "a fold is closed": ("b { font-size: 5px }", f"<details><summary>More</summary><b>{TEXT}</b></details>"),
    "a drawer waits beside the window": ("nav { position: fixed; left: -300px; width: 250px }", f"<nav>{TEXT}</nav>"),
    "a heading stays while the page moves under it": (
        "h1 { position: sticky; top: 0; margin: 0 } p { margin-top: -1em }", f"<h1>Open the bay</h1><p>{TEXT}</p>",
    ),
    "a narrow column has something beside it": (
        "div { display: flex } p { width: 200px; margin: 0 9px }", f"<div><p>{TEXT}</p><p>{TEXT}</p></div>",
    ),
    "a small link stands in a sentence": (
        "p { line-height: 1.1 }", "<p>See <a href='#a'>this</a> or <a href='#b'>that</a> page.</p>",
    ),
    "small things to point at are far from each other": (
        "a { display: block; line-height: 18px; margin: 9px }", "<a href='#a'>Overview</a><a href='#b'>Guide</a>",
    ),
    "a bar of a chart is as long as it takes": (
        "rect { width: 4px; height: 9px }", "<svg><a href='#a'><rect /></a><a href='#b'><rect x='5'/></a></svg>",
    ),
}  # fmt: skip


def seen_on(browser: Browser, style: str, body: str) -> list[str]:
    """The kinds of faults on a made page of 800 px."""
    with fresh_tab(browser, "about:blank", width=800) as (tab, _):
        tab.set_content(PAGE.format(style=style, body=body))
        return [kind for kind, _ in hurts(tab)]


@pytest.mark.parametrize("fault", FAULTS)
def test_the_eye_sees_each_fault_and_no_other(browser: Browser, fault: str) -> None:
    kind, style, body = FAULTS[fault]
    assert set(seen_on(browser, style, body)) == {kind}


@pytest.mark.parametrize("exempt", EXEMPT)
def test_the_eye_lets_pass_what_is_exempt(browser: Browser, exempt: str) -> None:
    assert seen_on(browser, *EXEMPT[exempt]) == []


HIDDEN_HAZARDS = """async () => {
    const player = document.querySelector("[data-player]"), on = player.querySelector("[data-play=on]"), hidden = [];
    let told = 0;
    for (let before = ""; before !== player.querySelector("[data-play=clock]").textContent;) {
        before = player.querySelector("[data-play=clock]").textContent;
        for (const what of player.querySelectorAll(".bg-now .bg-hazard__what")) {
            const panel = what.closest(".bg-now__person").getBoundingClientRect(), own = what.getBoundingClientRect();
            const map = player.querySelector(".bg-player__map .bg-chart__stage").getBoundingClientRect();
            const beside = map.right <= own.left || map.left >= own.right;
            const covered = !beside && map.bottom > own.top && map.top < own.bottom;
            told += 1;
            if (own.bottom > panel.bottom || covered) hidden.push(`${before} ${what.textContent}`);
        }
        on.click();
        await new Promise(done => requestAnimationFrame(done));
    }
    return [told, hidden];
}"""


@pytest.mark.parametrize(("width", "height"), [(390, 844), (1024, 768), (1280, 800), (1920, 1080)])
def test_what_can_hurt_is_never_below_the_edge_of_a_panel_nor_under_the_map(
    browser: Browser, address: str, width: int, height: int
) -> None:
    with opened(browser, f"{address}plays/sortie-2.html", width=width, height=height) as (tab, _):
        told, hidden = tab.evaluate(HIDDEN_HAZARDS)
        assert told > 50
        assert hidden == []


# At each moment: how far the screen reaches beyond the window, and whose panel is shorter than what stands in it.
CUT_MOMENTS = """async ([height]) => {
    const player = briefgenPlayers.of(document.querySelector("[data-player]")), cut = [], over = [];
    player.begin();
    for (const moment of player.data.moments) {
        player.seek(moment, false);
        player.intoView();
        const end = document.querySelector(".bg-player__screen").getBoundingClientRect().bottom;
        if (end > height + 1) over.push([moment, Math.round(end - height)]);
        for (const panel of document.querySelectorAll(".bg-now__person")) {
            const ends = [...panel.querySelectorAll("p")].map(one => one.getBoundingClientRect().bottom);
            const end = panel.getBoundingClientRect().bottom;
            const scrolls = getComputedStyle(panel).overflowY !== "visible";
            if (scrolls || Math.max(...ends) > end) cut.push([moment, panel.innerText]);
        }
    }
    return [player.data.moments.length, cut, over];
}"""


@pytest.mark.parametrize(("width", "height"), [(390, 844), (820, 1180), (1024, 768), (1280, 800), (1920, 1080)])
@pytest.mark.parametrize("sortie", ["sortie-1", "sortie-2"])
def test_at_no_moment_is_anything_cut_on_a_played_sortie(
    browser: Browser, address: str, sortie: str, width: int, height: int
) -> None:
    with opened(browser, f"{address}plays/{sortie}.html", width=width, height=height) as (tab, _):
        moments, cut, over = tab.evaluate(CUT_MOMENTS, [height])
        assert moments > 100
        assert cut == []
        # On a phone a hazard for each of two, or two for one, may be longer than a screen: then it is scrolled.
        assert over == [] or (width < 480 and len(over) < moments / 7), over
        assert [one for one in hurts(tab) if one[0] in {"overlap", "squeezed", "broken word"}] == []
