"""What a reader waits for: `python -m tests.benchmarks.reading`. The demo is built, served compressed, and opened.

Everything is measured in one run on one machine; each time is the best of `ROUNDS`, as other work only ever adds to it.
"""

from __future__ import annotations

import gzip
import tempfile
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache, partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page

from tests.browser_tools import launched
from tests.site.site_build import ROOT, build_strictly

ROUNDS = 5
# One page of each kind that a crew reads, the fullest of its kind.
KINDS = (
    "index", "sorties/sortie-1", "tasks/swap-pump", "people/ev2", "mine/sortie-1/ev1", "timelines/sortie-1",
    "plays/sortie-1", "places/index", "underway/sortie-1", "stopping/sortie-1", "practice/sortie-1/ev1",
)  # fmt: skip
TASK, TIMELINE, PLAY = "tasks/swap-pump.html", "timelines/sortie-1.html", "plays/sortie-1.html"

# What happens when, in milliseconds since the address was entered.
_WATCH = """
window.seen = { live: {}, shift: 0, task: 0 };
const watch = (type, take) =>
    new PerformanceObserver(list => list.getEntries().forEach(take)).observe({ type, buffered: true });
watch("layout-shift", one => { if (!one.hadRecentInput) window.seen.shift += one.value });
watch("longtask", one => { window.seen.task = Math.max(window.seen.task, one.duration) });
watch("paint", one => { window.seen[one.name] = one.startTime });
document.addEventListener("bg:live", event => { window.seen.live[event.target.id] = performance.now() }, true);
(function look() {
    const still = document.querySelector(".bg-chart__still svg");
    if (still && still.getBoundingClientRect().height > 0) window.seen.still = performance.now();
    else requestAnimationFrame(look);
})();
"""
# The script alone in an empty page, up to an empty plot: what any page with this library must wait for.
_BARE = """address => new Promise(done => {
    const box = document.body.appendChild(document.createElement("div"));
    const script = document.createElement("script");
    const began = performance.now();
    script.src = address;
    script.onload = () => window.Plotly.newPlot(box, []).then(() => done(performance.now() - began));
    document.head.append(script);
})"""
_WAKE = """() => new Promise(done => {
    const chart = document.querySelector("figure.bg-chart[data-plotly]");
    const began = performance.now();
    document.addEventListener("bg:live", () => done(performance.now() - began), { once: true });
    window.briefgenCharts.of(chart).wake();
})"""
_FRAMES = """() => new Promise(done => {
    const at = [];
    const count = now => { at.push(now); if (now - at[0] < 3000) requestAnimationFrame(count); else done(at) };
    requestAnimationFrame(count);
})"""


@cache
def _squeezed(path: Path) -> bytes:
    return gzip.compress(path.read_bytes(), 9, mtime=0)


class _Compressing(SimpleHTTPRequestHandler):
    """Sends files as ordinary servers do: compressed, but for pictures."""

    def do_GET(self) -> None:
        path = Path(self.translate_path(self.path))
        if not path.is_file():
            self.send_error(404)
            return
        body = _squeezed(path)
        self.send_response(200)
        self.send_header("Content-Type", self.guess_type(str(path)))
        self.send_header("Content-Encoding", "gzip")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, format: str, *args: Any) -> None:
        pass


@contextmanager
def _served(folder: Path) -> Iterator[str]:
    with ThreadingHTTPServer(("127.0.0.1", 0), partial(_Compressing, directory=str(folder))) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}/"
        server.shutdown()


@contextmanager
def _fresh(browser: Browser, url: str, width: int = 1280, slower: int = 1) -> Iterator[Page]:
    """A page in a context of its own, so that nothing is cached; the processor is `slower`, so many times."""
    context = browser.new_context(viewport={"width": width, "height": 900})
    page = context.new_page()
    page.add_init_script(_WATCH)
    context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": slower})
    try:
        page.goto(url)
        page.wait_for_load_state("networkidle")
        yield page
    finally:
        context.close()


def _kilobytes(page: Page) -> float:
    """Compressed bytes of the page and of all that it has loaded, in kB (1000 bytes)."""
    names = "[location.href, ...performance.getEntriesByType('resource').map(one => one.name)]"
    addresses = {url.partition("#")[0] for url in page.evaluate(names) if url.startswith("http")}
    return sum(_sent(page, url) for url in addresses) / 1000


def _sent(page: Page, url: str) -> int:
    return int(page.request.get(url).headers["content-length"])


def _weights(browser: Browser, base: str) -> Iterator[tuple[str, float, str]]:
    with _fresh(browser, base + TASK) as page:
        yield "task page, compressed, before a chart is asked for", _kilobytes(page), "kB"
        page.evaluate(_WAKE)
        yield "task page, compressed, with its chart live", _kilobytes(page), "kB"
    with _fresh(browser, base + TIMELINE) as page:
        yield "timeline page, compressed, before a chart is asked for", _kilobytes(page), "kB"


def _waits(browser: Browser, base: str, script: str) -> Iterator[tuple[str, float, str]]:
    paint, still, first, live, bare = [], [], [], [], []
    for _ in range(ROUNDS):
        with _fresh(browser, base + TASK) as page:
            seen = page.evaluate("window.seen")
            paint.append(seen["first-contentful-paint"])
            still.append(seen["still"])
            live.append(page.evaluate(_WAKE))
        with _fresh(browser, base + TIMELINE) as page:
            seen = page.evaluate("window.seen")
            first.append(seen["still"] - seen["first-contentful-paint"])
        with _fresh(browser, base + "404.html") as page:
            bare.append(page.evaluate(_BARE, base + script))
    yield "task page, first contentful paint", min(paint), "ms"
    yield "task page, first frame with the still", min(still), "ms"
    yield "timeline page, still later than the first contentful paint", min(first), "ms"
    yield "bare script up to an empty plot", min(bare), "ms"
    yield "chart live after it was asked for", min(live), "ms"
    yield "chart live later than the bare script", min(live) - min(bare), "ms"


def _steady(browser: Browser, base: str) -> Iterator[tuple[str, float, str]]:
    """Layout shift (Layout Instability, W3C) and the longest task (Long Tasks, W3C); a processor 4 times slower."""
    for name, address in (("task page", TASK), ("timeline page", TIMELINE), ("played sortie", PLAY)):
        tasks = []
        for width in (390, 1280):
            shifts = []
            for _ in range(ROUNDS):
                with _fresh(browser, base + address, width, slower=4) as page:
                    page.mouse.wheel(0, 2000)
                    page.wait_for_timeout(500)
                    shifts.append(page.evaluate("window.seen.shift"))
                    tasks.append(page.evaluate("window.seen.task"))
            yield f"{name}, layout shift at {width} px", max(shifts), ""
        yield f"{name}, longest task, processor 4 times slower", min(tasks), "ms"
    tasks = []
    for _ in range(ROUNDS):
        with _fresh(browser, base + TIMELINE, slower=4) as page:
            page.evaluate("window.seen.task = 0")
            page.evaluate(_WAKE)
            page.wait_for_timeout(500)
            tasks.append(page.evaluate("window.seen.task"))
    yield "timeline page, longest task as its chart becomes live", min(tasks), "ms"


def _smooth(browser: Browser, base: str) -> tuple[str, float, str]:
    with _fresh(browser, base + PLAY) as page:
        page.click(".bg-chart__ask")
        page.wait_for_selector("figure.bg-chart[data-state=live]")
        page.click("[data-play=play]")
        at = page.evaluate(_FRAMES)
        return "frames while playing", (len(at) - 1) / (at[-1] - at[0]) * 1000, "1/s"


def _heights(browser: Browser, base: str) -> Iterator[str]:
    """How high each kind of page is, in screens of 1280 x 900 and 390 x 844 px, and its words; folds as they come."""
    for kind in KINDS:
        screens = []
        for width, height in ((1280, 900), (390, 844)):
            with _fresh(browser, f"{base}{kind}.html", width) as page:
                screens.append(page.evaluate("document.documentElement.scrollHeight") / height)
                words = page.evaluate("document.querySelector('article').innerText.split(/\\s+/).length")
        yield f"| {kind} | {screens[0]:.1f} | {screens[1]:.1f} | {words:,} |"


def main() -> None:
    """Prints the table."""
    with tempfile.TemporaryDirectory() as name, launched() as browser:
        site = Path(name) / "site"
        done = build_strictly(ROOT, site)
        if done.returncode:
            raise SystemExit(done.stdout + done.stderr)
        script = next(site.rglob("plotly-*.min.js")).relative_to(site).as_posix()
        files = [path.stat().st_size for path in site.rglob("*") if path.is_file()]
        print(f"| {'what':<58} | value |\n|---|---|")
        with _served(site) as base:
            rows = [
                *_weights(browser, base),
                *_waits(browser, base, script),
                *_steady(browser, base),
                _smooth(browser, base),
            ]
            heights = list(_heights(browser, base))
        for what, value, unit in [*rows, ("whole site", sum(files) / 1e6, "MB")]:
            print(f"| {what:<58} | {value:.{ {'MB': 1, '': 3}.get(unit, 0) }f} {unit} |")
        print("\n| page | screens at 1280 px | screens at 390 px | words |\n|---|---:|---:|---:|", *heights, sep="\n")


if __name__ == "__main__":
    main()
