"""An eye that looks at a page in Chromium as it stands, and says what hurts it.

It sees the page's own text, letters in drawings made by us among them, at the size at which they stand on the screen.

- `broken word`: a word goes on in the next line, and nothing says so. Exempt: a break after a hyphen, a soft hyphen or
  a mark that is no letter, as in an address.
- `clipped`: text is cut off by a box or by the window. Exempt: what lies beyond the edge of a box that scrolls and is
  reached by keyboard; a drawer that waits beside the window.
- `overlap`: two pieces of text, or text and a control, lie over each other. Exempt: what stays while the page moves
  under it (fixed, sticky).
- `squeezed`: running text of three lines or more in a column narrower than 22 letters' heights and than half of its
  section, beside nothing; or four lines or more of less than nine letters each, whatever stands beside.
- `tiny`: letters smaller than 11 px.
- `small target`: less than 24 x 24 px to point at, and another target within a circle of 24 px about its middle (WCAG
  2.2, success criterion 2.5.8). Exempt, as there: a link in a sentence; the bars of a chart, whose place is what they
  say and whose links stand in its table, too.

Never looked at: what is not shown (closed folds, text for who listens). An author's drawing is looked at by itself.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from playwright.sync_api import Page

from tests.browser_tools import SCHEMES, resize

WIDTHS = (390, 820, 1280, 1920)
"""CSS pixels: a phone, a tablet, a notebook, a desk."""
TINY, TARGET = 11, 24
"""The least size of letters, and of what is pointed at, in CSS pixels."""
_LOOK = (Path(__file__).parent / "eye.js").read_text(encoding="utf-8")
_OPEN = "document.querySelectorAll('article details').forEach(fold => { fold.open = true })"


def hurts(page: Page) -> list[tuple[str, str]]:
    """What hurts on a page as it stands: each fault's kind, and the words at which it is."""
    return [(kind, words) for kind, words in page.evaluate(_LOOK, {"tiny": TINY, "target": TARGET})]


def looked_at(page: Page) -> Iterator[str]:
    """What hurts on a page with its folds open, at every width and in both palettes, as lines to read."""
    page.evaluate(_OPEN)
    schemes = list(SCHEMES)
    for width in WIDTHS:
        resize(page, width, 844 if width < 700 else 900)
        for scheme in schemes:
            page.emulate_media(color_scheme=scheme)
            for kind, words in hurts(page):
                yield f"{width} {scheme}, {kind}: {words}"
        schemes.reverse()  # the next width begins in the palette that is there
