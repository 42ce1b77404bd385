"""How long the told sortie takes to show the next scene or callout, how smoothly it moves, and what a scene weighs.

`python -m tests.benchmarks.telling SITE [SIZE …]` prints a row a sortie, screen (1280x900 if none is given) and
direction, at a processor four times slower: a change is to be there within 100 ms, and what moves has 60 frames a
second. Every sortie is told forward and back: `told`, with a moment between two keys as a speaker has one, and
`hurried`, each key as soon as the last one's scene is drawn. Beside the clock on the wall stands the main thread's own
processor time (slowed down as well): it does not count what else the machine does.
"""

from __future__ import annotations

import statistics
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import CDPSession, Page

from tests.browser_tools import WIDE, fresh_tab, launched

SLOWER, MOST, SMOOTH = 4, 0.1, 60
"""How much slower the processor is made, and the aims: seconds to a change, and frames a second."""
MOMENT = 500
"""Milliseconds between two keys of whoever hurries not at all."""

# A key, to the next drawn frame; in milliseconds, with the scene that is then seen.
_KEY = """async (which) => {
    const root = document.querySelector("[data-told]");
    const begin = performance.now();
    root.querySelector(`[data-told="${which}"]`).click();
    root.offsetHeight;
    await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
    return [performance.now() - begin, root.querySelector("[data-now]").id];
}"""
# How many keys of a clicker lead from the first scene to the last.
_KEYS = "document.querySelectorAll('.bg-scene, .bg-scene__pin:not([data-from]), .bg-scene video').length - 1"
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
class Change:
    """Seconds on the wall and of the processor until a scene or callout is there, and the scene."""

    wall: float
    processor: float
    scene: str


@dataclass(frozen=True)
class Still:
    """Frames a second and processor seconds for one, and bytes of the page and of each scene's pictures."""

    frames: dict[str, tuple[float, float]]
    page: int
    scenes: list[int]


def told(page: Path, size: tuple[int, int]) -> Iterator[tuple[str, list[Change]]]:
    """The changes of each direction, with a moment between two keys and without."""
    for name, moment in (("told", MOMENT), ("hurried", 0)):
        with _stage(page, size) as (tab, session):
            for which in ("on", "back"):
                keys: int = tab.evaluate(_KEYS)
                yield f"{name}, {which}", [_change(tab, session, which, moment) for _ in range(keys)]


def _change(tab: Page, session: CDPSession, which: str, moment: int) -> Change:
    if moment:
        tab.wait_for_timeout(moment)
    before = _busy(session)
    taken, scene = tab.evaluate(_KEY, which)
    return Change(taken / 1000, _busy(session) - before, scene)


def still(page: Path, size: tuple[int, int]) -> Still:
    """How smoothly a told sortie moves, and what it weighs."""
    with _stage(page, size) as (tab, session):
        files = tab.evaluate(_WEIGHTS)
        return Still(
            _frames(tab, session), page.stat().st_size,
            [sum(Path(file.removeprefix("file://")).stat().st_size for file in set(row)) for row in files],
        )  # fmt: skip


@contextmanager
def _stage(page: Path, size: tuple[int, int]) -> Iterator[tuple[Page, CDPSession]]:
    with launched() as browser, fresh_tab(browser, page.as_uri(), width=size[0], height=size[1]) as (tab, _):
        session = tab.context.new_cdp_session(tab)
        session.send("Performance.enable", {"timeDomain": "threadTicks"})
        session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
        tab.goto(page.as_uri())
        tab.get_by_role("button", name="Tell it on the whole screen").click()
        yield tab, session


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


def _say(name: str, changes: list[Change]) -> str:
    wall, work = ([getattr(one, key) for one in changes] for key in ("wall", "processor"))
    slowest = max(changes, key=lambda one: one.wall)
    return (f"{name:14} {len(changes)} changes  median {statistics.median(wall):.3f} s  longest {max(wall):.3f} s "
            f"({slowest.scene})  beyond {MOST} s: {sum(one > MOST for one in wall)}  processor: median "
            f"{statistics.median(work):.3f} s  longest {max(work):.3f} s")  # fmt: skip


if __name__ == "__main__":
    sizes = [tuple(map(int, words.split("x"))) for words in sys.argv[2:]] or [(WIDE, 900)]
    for page in sorted(Path(sys.argv[1], "telling").resolve().glob("*.html")):
        for wide, high in sizes:
            head = f"{page.stem} at {wide}x{high}"
            for name, changes in told(page, (wide, high)):
                print(f"{head}  {_say(name, changes)}", flush=True)
            its = still(page, (wide, high))
            for name, (rate, work) in its.frames.items():
                print(f"{head}  {name}: {rate:.0f} frames/s, aim {SMOOTH}; processor {1000 * work:.1f} ms a frame")
            print(f"{head}  page {its.page / 1000:.0f} kB  a scene's pictures: median "
                  f"{statistics.median(its.scenes) / 1000:.0f} kB, most {max(its.scenes) / 1000:.0f} kB")  # fmt: skip
