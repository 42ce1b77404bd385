"""Helpers for tests in a real browser: Chromium, what a page asks for and says, axe-core, the Nu HTML checker.

Everything comes from package registries at test time and lies in a cache folder, never in the repository.
Without Chromium (or npm, or Java) a test is skipped, unless `BRIEFGEN_REQUIRE_BROWSER=1`: then it fails.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any, Literal
from urllib.parse import urlsplit
from weakref import WeakKeyDictionary

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Request, sync_playwright

# Versions are pinned, so that a new rule of a checker is met in a change of its own.
AXE = "axe-core@4.14.1"
NU = "vnu-jar@26.9.27"
# The rules of axe-core that a palette decides about.
COLOURS = ("color-contrast", "link-in-text-block")
WIDE, NARROW = 1280, 390
Scheme = Literal["light", "dark"]
SCHEMES: tuple[Scheme, Scheme] = ("light", "dark")
LOCAL = ("file:", "data:", "blob:", "about:")
# Seconds without anything asked for or answered until a page counts as quiet, and how long it may take to become so.
SILENCE, PATIENCE = 0.12, 60
_FLAGS = (
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
)  # fmt: skip

# Whether charts are being made. The answer comes when a frame was drawn, after what the page does for a frame.
_AT_WORK = """() => new Promise(done => requestAnimationFrame(() => setTimeout(() =>
    done(document.querySelector('.bg-chart[data-state="loading"]') !== null))))"""


def missing(what: str) -> None:
    """Skip the test, or fail it where a browser is required."""
    if os.environ.get("BRIEFGEN_REQUIRE_BROWSER") == "1":
        pytest.fail(f"{what} is required (BRIEFGEN_REQUIRE_BROWSER=1) and missing")
    pytest.skip(f"{what} is missing")


@cache
def chromium() -> str | None:
    """The path of an installed Chromium, or none."""
    return next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)


@contextmanager
def launched() -> Iterator[Browser]:
    """A headless Chromium; the test is skipped (or fails) without one."""
    path = chromium()
    if path is None:
        missing("Chromium")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=list(_FLAGS))
        try:
            yield browser
        finally:
            browser.close()


@dataclass
class Seen:
    """What a page asked for and said since it was opened."""

    requests: list[str] = field(default_factory=list)
    messages: list[str] = field(default_factory=list)
    under_way: set[Request] = field(default_factory=set)
    last: float = field(default_factory=time.monotonic)

    def outside(self, base: str = "file:") -> list[str]:
        """Requests that went neither to `base` nor stayed inside the page."""
        return [url for url in self.requests if not url.startswith((base, *LOCAL[1:]))]

    def watch(self, page: Page) -> None:
        """Note the page's requests, console messages and uncaught errors from now on."""
        page.on("request", self._begun)
        page.on("requestfinished", self._over)
        page.on("requestfailed", self._over)
        page.on("console", lambda message: self.messages.append(f"{message.type}: {message.text}"))
        page.on("pageerror", lambda error: self.messages.append(f"uncaught: {error}"))

    def _begun(self, request: Request) -> None:
        self.requests.append(request.url)
        self.under_way.add(request)
        self.last = time.monotonic()

    def _over(self, request: Request) -> None:
        self.under_way.discard(request)
        self.last = time.monotonic()

    def wait_until_quiet(self, page: Page, scripts: bool = True) -> None:
        """Waits until nothing is under way, nothing has been for a moment, and no chart is being made by scripts.

        The moment is shorter than Playwright's own for an idle network, and as good: a page of ours asks for what
        it needs while it loads, or as soon as what it asked for is there.
        """
        end = time.monotonic() + PATIENCE
        while self.under_way or time.monotonic() < self.last + SILENCE or (scripts and page.evaluate(_AT_WORK)):
            assert time.monotonic() < end, f"never quiet: {[one.url for one in self.under_way]}"
            page.wait_for_timeout(20)  # lets Playwright tell what has happened


@contextmanager
def opened(
    browser: Browser, url: str, *, width: int = WIDE, height: int = 900, scheme: Scheme = "light", scripts: bool = True
) -> Iterator[tuple[Page, Seen]]:
    """A page at a width (CSS pixels) in a palette, settled, in a tab of its own; and what it has asked for."""
    with fresh_tab(browser, url, width=width, height=height, scheme=scheme, scripts=scripts) as (page, seen):
        page.goto(url)
        seen.wait_until_quiet(page, scripts)
        yield page, seen


def resize(page: Page, width: int, height: int = 900) -> None:
    """Another size (CSS pixels); the page has had a frame to fit itself to it."""
    page.set_viewport_size({"width": width, "height": height})
    page.wait_for_function(f"innerWidth === {width}")
    page.evaluate(_AT_WORK)


@contextmanager
def fresh_tab(
    browser: Browser,
    url: str,
    *,
    width: int = WIDE,
    height: int = 900,
    scheme: Scheme = "light",
    scripts: bool = True,
    motion: Literal["no-preference", "reduce"] = "no-preference",
) -> Iterator[tuple[Page, Seen]]:
    """An empty tab, for whose address nothing is remembered; and what will be asked for and said in it."""
    context = _context(browser, scripts)
    page, seen = context.new_page(), Seen()
    seen.watch(page)
    try:
        page.set_viewport_size({"width": width, "height": height})
        page.emulate_media(color_scheme=scheme, reduced_motion=motion)
        parts = urlsplit(url)
        forget = {"origin": f"{parts.scheme}://{parts.netloc}", "storageTypes": "all"}
        context.new_cdp_session(page).send("Storage.clearDataForOrigin", forget)
        yield page, seen
    finally:
        page.close()


_CONTEXTS: WeakKeyDictionary[Browser, dict[bool, BrowserContext]] = WeakKeyDictionary()


def _context(browser: Browser, scripts: bool) -> BrowserContext:
    """Where tabs are opened, one for all tests of a process: a new one for each costs more than what it is for."""
    contexts = _CONTEXTS.setdefault(browser, {})
    if scripts not in contexts:
        contexts[scripts] = browser.new_context(java_script_enabled=scripts)
        # One empty tab stays, and with it the process that draws the others: to start it anew takes half of a test.
        contexts[scripts].new_page()
    return contexts[scripts]


def _npm_folder() -> Path:
    root = os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache"
    return Path(root) / "briefgen-tests"


@cache
def npm_package(spec: str) -> Path:
    """The folder of an npm package, installed once into the cache folder; `spec` is `name@version`."""
    target = _npm_folder() / spec.replace("/", "-")
    name = spec.rpartition("@")[0]
    if not (target / "node_modules" / name).is_dir():
        if shutil.which("npm") is None:
            missing("npm")
        target.parent.mkdir(parents=True, exist_ok=True)
        # Installed beside and then renamed, as several test processes may come at once.
        fresh = Path(tempfile.mkdtemp(dir=target.parent))
        command = ["npm", "install", "--prefix", str(fresh), "--no-audit", "--no-fund", "--ignore-scripts", spec]
        done = subprocess.run(command, capture_output=True, text=True, timeout=300, check=False)
        if done.returncode != 0:
            shutil.rmtree(fresh, ignore_errors=True)
            missing(f"{spec} from npm ({done.stderr.strip().splitlines()[-1:]})")
        try:
            fresh.rename(target)
        except OSError:
            shutil.rmtree(fresh, ignore_errors=True)
    return target / "node_modules" / name


def axe_violations(page: Page, exclude: Sequence[str] = (), rules: Sequence[str] = ()) -> list[str]:
    """What axe-core finds on the page as it stands, all of its rules, one line a rule with the first elements.

    `rules` are the only ones to be tried, where what the others look at is as it was when they were.
    """
    if not page.evaluate("() => 'axe' in window"):
        page.evaluate((npm_package(AXE) / "axe.min.js").read_text(encoding="utf-8"))
    # Each rule is tried on every element; of what is in order, only less is told.
    options = {"preload": False, "resultTypes": ["violations"]} | ({"runOnly": list(rules)} if rules else {})
    found: list[dict[str, Any]] = page.evaluate(
        "([exclude, options]) => axe.run({ include: [['html']], exclude: exclude.map(s => [s]) }, options)"
        ".then(result => result.violations)",
        [list(exclude), options],
    )
    return [_violation(one) for one in found]


def _violation(one: dict[str, Any]) -> str:
    places = "; ".join(" ".join(map(str, node["target"])) for node in one["nodes"][:4])
    reason = (one["nodes"][0].get("failureSummary") or "").replace("\n", " ")
    return f"{one['id']} ({len(one['nodes'])}): {one['help']}: {places} [{reason}]"


def nu_errors(files: Sequence[Path]) -> list[str]:
    """What the Nu HTML checker calls an error, as `file:line: message`."""
    java = shutil.which("java")
    if java is None:
        missing("Java")
    jar = npm_package(NU) / "build" / "dist" / "vnu.jar"
    # A run is short: code that is compiled quickly serves it better than code that runs quickly.
    swift = ["-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC", "-Xss4m"]
    command = [str(java), *swift, "-jar", str(jar), "--format", "json", "--errors-only", "--stdout", *map(str, files)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=300, check=False)
    messages = json.loads(done.stdout)["messages"]
    return [f"{Path(m.get('url', '')).name}:{m.get('lastLine')}: {m['message']}" for m in messages]


def contrast(first: str, second: str) -> float:
    """The contrast ratio of two `#rrggbb` colours: WCAG 2.2, success criterion 1.4.3, definition of relative luminance.

    >>> round(contrast("#ffffff", "#000000"), 1)
    21.0
    """
    light, dark = sorted((_luminance(first), _luminance(second)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
