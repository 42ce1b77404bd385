"""How long the told sortie takes to show the next scene or callout, how smoothly it moves, and what a scene weighs.

`python -m tests.benchmarks.telling SITE` prints a row a sortie, at a processor four times slower: a change is to be
there within 100 ms, and what moves has 60 frames a second. Beside the clock on the wall stands the main thread's own
processor time (slowed down as well): it does not count what else the machine does.
"""

from __future__ import annotations

import statistics
import sys
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import CDPSession, Page

from tests.browser_tools import fresh_tab, launched

SLOWER, MOST, SMOOTH = 4, 0.1, 60
"""How much slower the processor is made, and the aims: seconds to a change, and frames a second."""

# Every key of a clicker from the first scene to the last, each to the next drawn frame; in milliseconds.
_TELL = """async () => {
    const root = document.querySelector("[data-told]"), next = root.querySelector('[data-told="on"]'), found = [];
    const keys = document.querySelectorAll(".bg-scene, .bg-scene__pin:not([data-from]), .bg-scene video").length - 1;
    for (let key = 0; key < keys; key += 1) {
        const begin = performance.now();
        next.click();
        root.offsetHeight;
        await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
        found.push(performance.now() - begin);
    }
    return found;
}"""
# How many frames are drawn in two seconds.
_FRAMES = """async () => {
    let count = 0;
    const begin = performance.now();
    while (performance.now() - begin < 2000) {
        await new Promise(requestAnimationFrame);
        count += 1;
    }
    return 1000 * count / (performance.now() - begin);
}"""
# What each scene loads: a picture that several scenes show counts in each.
_WEIGHTS = """() => [...document.querySelectorAll(".bg-scene")].map((scene) =>
    [...scene.querySelectorAll("img, video")].map((one) => one.src))"""


@dataclass(frozen=True)
class Telling:
    """Seconds to each change, processor seconds a change, frames a second and processor seconds for one, and bytes."""

    changes: list[float]
    processor: float
    frames: dict[str, tuple[float, float]]
    page: int
    scenes: list[int]


def measured(page: Path) -> Telling:
    """A told sortie as it is told."""
    with launched() as browser, fresh_tab(browser, page.as_uri()) as (tab, _):
        session = tab.context.new_cdp_session(tab)
        session.send("Performance.enable", {"timeDomain": "threadTicks"})
        session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
        tab.goto(page.as_uri())
        tab.get_by_role("button", name="Tell it on the whole screen").click()
        before = _busy(session)
        changes: list[float] = tab.evaluate(_TELL)
        processor = (_busy(session) - before) / len(changes)
        files = tab.evaluate(_WEIGHTS)
        return Telling(
            [one / 1000 for one in changes], processor, _frames(tab, session), page.stat().st_size,
            [sum(Path(file.removeprefix("file://")).stat().st_size for file in set(row)) for row in files],
        )  # fmt: skip


def _busy(session: CDPSession) -> float:
    metrics = session.send("Performance.getMetrics")["metrics"]
    return next(float(one["value"]) for one in metrics if one["name"] == "TaskDuration")


def _frames(tab: Page, session: CDPSession) -> dict[str, tuple[float, float]]:
    """Frames a second and the thread's time for one, at rest, while ways are drawn on the map, while a clip plays."""
    found = {}
    for name, shows in (("at rest", "img"), ("ways", ".bg-scene__way"), ("clip", "video")):
        tab.keyboard.press("Home")
        if tab.locator(f".bg-scene {shows}").count():
            tab.evaluate("shows => { location.hash = document.querySelector(`.bg-scene:has(${shows})`).id; }", shows)
            if name == "clip":
                tab.keyboard.press("PageDown")
            before = _busy(session)
            rate = float(tab.evaluate(_FRAMES))
            found[name] = rate, (_busy(session) - before) / (2 * rate)
    return found


if __name__ == "__main__":
    for page in sorted(Path(sys.argv[1], "telling").resolve().glob("*.html")):
        its = measured(page)
        print(f"{page.stem:>12}  {len(its.changes)} changes  median {statistics.median(its.changes):.3f} s  "
              f"longest {max(its.changes):.3f} s  aim {MOST} s  processor {its.processor:.3f} s a change")  # fmt: skip
        for name, (rate, work) in its.frames.items():
            print(f"{'':>12}  {name}: {rate:.0f} frames/s, aim {SMOOTH}; processor {1000 * work:.1f} ms a frame")
        print(f"{'':>12}  page {its.page / 1000:.0f} kB  a scene's pictures: median "
              f"{statistics.median(its.scenes) / 1000:.0f} kB, most {max(its.scenes) / 1000:.0f} kB")  # fmt: skip
