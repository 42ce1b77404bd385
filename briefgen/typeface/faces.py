"""Where the faces of the typeface lie, and how wide their letters are. Alone with `subset` knows fontTools."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path

import fontpkg_barlow
from fontTools.ttLib import TTFont

FAMILY = "Barlow"
WEIGHTS: Mapping[int, str] = {400: "Regular", 700: "Bold"}
"""The weights that the site uses, each with its name in the package."""
_ROOT = Path(fontpkg_barlow.__file__).parent


def face_file(weight: int) -> Path:
    """The face's file in the package."""
    return _ROOT / "files" / f"{FAMILY}-{WEIGHTS[weight]}.ttf"


def licence_text() -> str:
    """The licence that goes with every copy of the faces."""
    return (_ROOT / "LICENSE").read_text(encoding="utf-8")


@cache
def advances() -> Mapping[str, float]:
    """How wide each letter is in parts of the font's size: the widest of all weights, from the fonts' own `hmtx`.

    With the widest, words fit in their boxes whatever weight they are set in.
    """
    widest: dict[str, float] = {}
    for weight in WEIGHTS:
        with TTFont(face_file(weight), lazy=True) as font:
            units, widths = font["head"].unitsPerEm, font["hmtx"]
            for code, glyph in font.getBestCmap().items():
                letter = chr(code)
                widest[letter] = max(widest.get(letter, 0.0), widths[glyph][0] / units)
    return widest
