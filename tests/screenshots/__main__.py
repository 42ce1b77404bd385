"""Makes README's picture from the demo: `python -m tests.screenshots` after `mkdocs build`."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import sync_playwright

ROOT = Path(__file__).parent.parent.parent
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update"]


def main() -> None:
    page_file = ROOT / "site" / "timelines" / "sortie-1.html"
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=FLAGS)
        page = browser.new_page(viewport={"width": 1280, "height": 960}, color_scheme="light")
        page.goto(page_file.as_uri())
        page.wait_for_timeout(2500)
        page.screenshot(path=Path(__file__).parent / "timeline.png")
        browser.close()


if __name__ == "__main__":
    main()
