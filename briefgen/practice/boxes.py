"""When a question comes again: the boxes of a learner's card index.

Source: S. Leitner, "So lernt man lernen" (1972), from memory: a right answer moves a card one box on, a wrong one back
to the first, and each box is looked at less often than the one before. The days, doubling from box to box, are common
practice, no source. `assets/practice.js` does the same in the browser.
"""

from __future__ import annotations

DAYS = (1, 2, 4, 8, 16)
"""Days until a question in box 1, 2, … is due again."""


def next_box(box: int, right: bool) -> int:
    """The box after an answer; a question that was never asked stands in box 1.

    >>> [next_box(box, True) for box in (1, 4, 5)], next_box(5, False)
    ([2, 5, 5], 1)
    """
    return min(box + 1, len(DAYS)) if right else 1
