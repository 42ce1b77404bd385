"""An author's Markdown as plain words, cut and wrapped to fit a drawing."""

from __future__ import annotations

import html
import re
from functools import cache, lru_cache

from briefgen.typeface.faces import advances

_LINK = re.compile(r"!?\[([^\]\[]*)\]\([^()\s]*(?:\s+\"[^\"]*\")?\)")
_CODE = re.compile(r"`+([^`]+)`+")
_STRONG = re.compile(r"(\*\*|__)(?=\S)(.+?)(?<=\S)\1")
_SLANT = re.compile(r"(?<![\w*])([*_])(?=\S)(.+?)(?<=\S)\1(?![\w*])")
_ESCAPE = re.compile(r"\\([\\`*_{}\[\]()#+.!<>-])")


@lru_cache(maxsize=1 << 16)
def plain(text: str) -> str:
    """Markdown's links, emphasis and code as the words alone.

    >>> plain("Close the **four** [valves](equipment:valves#a) with `care`.")
    'Close the four valves with care.'
    """
    words = _LINK.sub(r"\1", text)
    for mark in (_CODE, _STRONG, _SLANT):
        words = mark.sub(lambda found: found[found.lastindex or 0], words)
    return " ".join(_ESCAPE.sub(r"\1", words).split())


def for_plotly(text: str) -> str:
    """Plain words for a label that Plotly draws, which would read tags and entities in them."""
    return html.escape(plain(text), quote=False)


# A letter that the typeface lacks comes from another font: an em is wider than nearly all of them.
_UNKNOWN = 1.0


def width(text: str, size: float = 1.0) -> float:
    """How wide words are drawn at a font size, in the size's unit: at most, in any weight, kerning aside."""
    return _em(text) * size


@lru_cache(maxsize=1 << 16)
def _em(text: str) -> float:
    return sum(map(_letter, text))


@cache
def _letter(c: str) -> float:
    # Figures are set in equal widths here and there: each counts as the widest.
    return advances()["4"] if c.isdecimal() and c.isascii() else advances().get(c, _UNKNOWN)


def clip(text: str, room: float, size: float) -> str:
    """The words, cut with an ellipsis to `room`; nothing where not even three letters fit."""
    if width(text, size) <= room:
        return text
    kept = text
    while kept and width(kept + "…", size) > room:
        kept = kept[:-1]
    kept = kept.rstrip(" ,.;:–-")
    return kept + "…" if len(kept) >= 3 else ""


def fit(text: str, room: float, size: float, most: int) -> tuple[str, ...]:
    """The words in at most so many lines no wider than `room`; nothing where they would have to be cut.

    >>> fit("Close the four valves", 60, 10, 2), fit("Close the four valves", 60, 10, 1)
    (('Close the', 'four valves'), ())
    """
    lines = wrap(text, room, size)
    whole = " ".join(lines) == " ".join(text.split()) and all(width(line, size) <= room for line in lines)
    return lines if whole and len(lines) <= most else ()


def wrap(text: str, room: float, size: float, most: int = 99) -> tuple[str, ...]:
    """The words in lines no wider than `room`; what is beyond `most` lines is cut with an ellipsis.

    >>> wrap("Close the four valves", 60, 10)
    ('Close the', 'four valves')
    """
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width(longer, size) <= room:
            lines[-1] = longer
        else:
            lines.append(word)
    if len(lines) > most:
        rest = clip(" ".join(lines[most - 1 :]), room, size) or "…"
        lines = [*lines[: most - 1], rest]
    return tuple(line if width(line, size) <= room else clip(line, room, size) or line[:1] for line in lines)
