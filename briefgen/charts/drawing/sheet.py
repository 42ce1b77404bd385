"""The widths for which stills are drawn, in pixels, and their smallest letters.

`charts.css` and `charts.js` change over from one still to the other at 690 of the stage's width, below which
the wide one's letters would be smaller than 11 pixels. Below 330 a still is scrolled sideways.
"""

WIDE = 720.0
"""For desks and paper."""
NARROW = 340.0
"""For phones: what is left of 360 to 390 pixels beside the page's edges."""
SMALL = 11.6
"""The size of the smallest letters on both sheets: 11 pixels and more wherever they are shown."""
