"""How long the page of the day as it goes takes to answer a change, at a processor four times slower.

`python -m tests.benchmarks.underway SITE` prints a row a sortie; the answer is to be there within 100 ms of a change.
"""

from __future__ import annotations

import statistics
import sys
from pathlib import Path

from tests.browser_tools import fresh_tab, launched

SLOWER, CHANGES, MOST = 4, 40, 0.1
"""How much slower the processor is made, how many changes are measured, and the aim in seconds."""

# A change as a reader makes it, to the next drawn frame; in milliseconds.
_CHANGES = """async (many) => {
    const root = document.querySelector("[data-day]"), next = root.querySelector("[data-day-next]"), found = [];
    for (let number = 0; number < many && !next.disabled; number += 1) {
        const begin = performance.now();
        next.click();
        root.offsetHeight;
        await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
        found.push(performance.now() - begin);
    }
    return found;
}"""


def seconds(page: Path) -> list[float]:
    """How long each change took until the frame with its answer was drawn."""
    with launched() as browser, fresh_tab(browser, page.as_uri()) as (tab, _):
        session = tab.context.new_cdp_session(tab)
        session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
        tab.goto(page.as_uri())
        tab.wait_for_selector("[data-day-next]:not([disabled])")
        found: list[float] = tab.evaluate(_CHANGES, CHANGES)
    return [one / 1000 for one in found]


if __name__ == "__main__":
    for page in sorted(Path(sys.argv[1], "underway").glob("*.html")):
        row = seconds(page)
        print(f"{page.stem:>12}  {len(row)} changes  median {statistics.median(row):.3f} s  longest {max(row):.3f} s  "
              f"aim {MOST} s")  # fmt: skip
