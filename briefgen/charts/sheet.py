"""The widths for which stills are drawn, in pixels. `charts.css` and `charts.js` change over at 640."""

from __future__ import annotations

WIDE = 800.0
"""For desks and paper: where a page is a little narrower, letters are still to be read."""
NARROW = 390.0
"""For phones."""
