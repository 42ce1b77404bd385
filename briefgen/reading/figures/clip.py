"""A clip as far as its file says what it is: how long, and how wide and high its picture is."""

from __future__ import annotations

from dataclasses import dataclass


class NoClip(Exception):
    """A file is no clip; the message says why, as the end of a sentence."""


@dataclass(frozen=True)
class Clip:
    """Its length in seconds (None where the file does not say), its picture in pixels."""

    seconds: float | None
    width: int
    height: int


_WIDEST = 16_384
_LONGEST = 24 * 3600.0


def clip_of(seconds: float, width: int, height: int) -> Clip:
    """A clip of these; 0 seconds are an unknown length. Raises NoClip where there is no picture."""
    if not (0 < width <= _WIDEST and 0 < height <= _WIDEST):
        raise NoClip("there is no moving picture in it")
    return Clip(seconds if 0 < seconds <= _LONGEST else None, width, height)
