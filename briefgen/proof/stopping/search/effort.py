"""How much is looked at in search of the quickest way to close up: enough for any plan, and never for hours.

Pure. Where very much is open at once, the search for every moment would grow with its square. A moment may take its
share of what its sortie has left; what early moments leave over is for later ones. Counted, not timed: the same plan
always gives the same answer.
"""

from __future__ import annotations

MOST_LOOKS = 60_000
"""Looks for all moments of a sortie: a way tried, or a step put in its time. The demo's longer
sortie takes under half of them; they grow with the square of the steps."""


class TooMuchOpenError(Exception):
    """A moment has taken its share."""


class Effort:
    """What a sortie's search has left, over a number of moments."""

    def __init__(self, moments: int, most: int = MOST_LOOKS) -> None:
        self._left, self._moments, self._share = most, moments, 0

    def next_moment(self) -> None:
        """Another moment is searched: it has its share."""
        self._share = max(0, self._left) // max(1, self._moments)
        self._moments -= 1

    def spend(self, looks: int = 1) -> None:
        """Takes looks from the moment's share; raises TooMuchOpenError where none are left."""
        self._left -= looks
        self._share -= looks
        if self._share < 0:
            raise TooMuchOpenError
