"""Colour for terminals: whether to use it, and which. Knows no finding.

The codes are the SGR parameters of ECMA-48 (5th edition), 8.3.117. Nothing is told by colour alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TextIO

BOLD, DIM, RED, YELLOW, CYAN, GREEN = "1", "2", "31", "33", "36", "32"


def wants_colour(stream: TextIO, environment: Mapping[str, str]) -> bool:
    """Whether the stream is a terminal that can show colour, and nobody asked for none (`NO_COLOR`)."""
    return stream.isatty() and not environment.get("NO_COLOR") and environment.get("TERM") != "dumb"


class Paint:
    """Paints words, or leaves them as they are.

    >>> Paint(False)("stop", BOLD, RED), Paint(True)("stop", BOLD, RED)
    ('stop', '\\x1b[1;31mstop\\x1b[0m')
    """

    def __init__(self, colour: bool) -> None:
        self.colour = colour

    def __call__(self, words: str, *codes: str) -> str:
        """The words in these colours, where colours are wanted."""
        return f"\x1b[{';'.join(codes)}m{words}\x1b[0m" if self.colour and codes and words else words
