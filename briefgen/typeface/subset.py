"""The faces as a browser loads them: WOFF2 (W3C Recommendation), with the letters that briefings need."""

from __future__ import annotations

from functools import cache
from hashlib import sha256
from importlib.metadata import version
from io import BytesIO
from pathlib import Path

from briefgen.compiled import keep, recall
from briefgen.typeface.faces import face_file

# Latin with its supplements, general punctuation, super- and subscripts, currency, arrows, mathematical signs: what a
# browser does not find here it takes from another font of the reader's.
_RANGES = ((0x20, 0x7E), (0xA0, 0x17F), (0x2000, 0x206F), (0x2070, 0x209F), (0x20AC, 0x20AC), (0x2190, 0x2195),
           (0x2200, 0x22FF), (0x25A0, 0x25FF), (0x2713, 0x2713))  # fmt: skip


@cache
def face_bytes(weight: int) -> bytes:
    """A face as WOFF2, kerning and figures of equal widths kept: made once for each version of font and tools."""
    versions = (version("fonttools"), version("brotli"), Path(__file__).read_bytes())
    words = sha256(b"".join((face_file(weight).read_bytes(), repr(versions).encode()))).hexdigest()
    found = recall(f"face-{weight}-{words}")
    if found is None:
        found = cut(weight)
        keep(f"face-{weight}-{words}", found)
    return found


def cut(weight: int) -> bytes:
    """The same made anew. The same input gives the same bytes."""
    # To import it takes long, and is needed once.
    from fontTools.subset import Options, Subsetter
    from fontTools.ttLib import TTFont

    options = Options()
    options.flavor = "woff2"
    options.layout_features = ["kern", "liga", "tnum", "mark", "mkmk", "ccmp", "locl"]
    options.hinting = False
    options.name_IDs = [0, 13, 14]  # copyright and licence; the family is named by the style sheet
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=[code for first, last in _RANGES for code in range(first, last + 1)])
    with TTFont(face_file(weight), recalcTimestamp=False) as font:
        subsetter.subset(font)
        font.flavor = "woff2"
        out = BytesIO()
        font.save(out)
        return out.getvalue()
