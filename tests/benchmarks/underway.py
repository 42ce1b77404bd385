"""How long the page of the day as it goes takes to answer a change, at a processor four times slower.

`python -m tests.benchmarks.underway SITE` prints a row a sortie and situation; the answer is to be there within 100 ms
of a change. Beside the clock on the wall stands the main thread's own processor time (slowed down as well): it does not
count what else the machine does.
"""

from __future__ import annotations

import statistics
import sys
from collections.abc import Iterator
from pathlib import Path

from playwright.sync_api import CDPSession, Page

from tests.browser_tools import fresh_tab, launched

SLOWER, MOST = 4, 0.1
"""How much slower the processor is made, and the aim in seconds."""

# A change as a reader makes it, to the next drawn frame; in milliseconds.
_CHANGE = """async (name) => {
    const button = document.querySelector(`[data-day-${name}]`);
    if (button.disabled) return null;
    const begin = performance.now();
    button.click();
    document.body.offsetHeight;
    await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
    return performance.now() - begin;
}"""
# As much of a run as is kept, so that the list of it is as long as it can be.
_LONG = """() => {
    const delay = document.querySelector("[data-day-inject=delay]");
    document.querySelector("[data-day-minutes]").value = "0";
    for (let number = 0; number < 1000; number += 1) delay.click();
}"""
# Every row of the answer is open, so that all of it is written and laid out.
_OPEN = "() => document.querySelectorAll('details').forEach((one) => { one.open = true; })"
# What was opened or entered is drawn, and the run is kept, before the first change is made.
_QUIET = "() => new Promise((done) => setTimeout(() => requestIdleCallback(done), 600))"


def rows(page: Path) -> Iterator[tuple[str, list[tuple[float, float]]]]:
    """Each situation with its changes: seconds on the wall, and of the processor."""
    with launched() as browser:
        for name, before in (("step after step", ""), ("all open", _OPEN), ("after 1,000 entries", _LONG)):
            with fresh_tab(browser, page.as_uri()) as (tab, _):
                session = tab.context.new_cdp_session(tab)
                session.send("Performance.enable", {"timeDomain": "threadTicks"})
                tab.goto(page.as_uri())
                tab.wait_for_selector("[data-day-next]:not([disabled])")
                if before:
                    tab.evaluate(before)
                tab.evaluate(_QUIET)
                session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
                yield name, list(_changes(tab, session))


def _changes(tab: Page, session: CDPSession) -> Iterator[tuple[float, float]]:
    while True:
        before = _busy(session)
        taken = tab.evaluate(_CHANGE, "next")
        if taken is None:
            return
        yield taken / 1000, _busy(session) - before


def _busy(session: CDPSession) -> float:
    metrics = session.send("Performance.getMetrics")["metrics"]
    return next(float(one["value"]) for one in metrics if one["name"] == "TaskDuration")


if __name__ == "__main__":
    for page in sorted(Path(sys.argv[1], "underway").resolve().glob("*.html")):
        for name, found in rows(page):
            wall, work = zip(*found, strict=True)
            print(f"{page.stem:>12}  {name:20} {len(found)} changes  median {statistics.median(wall):.3f} s  longest "
                  f"{max(wall):.3f} s  processor: median {statistics.median(work):.3f} s  longest {max(work):.3f} s  "
                  f"aim {MOST} s")  # fmt: skip
