"""What the styles of a drawing may say. No escapes, no rules that begin with “@”, and only listed functions.

Without an escape (CSS Syntax Module Level 3, 4.3.7) every function stands in a style letter by letter, wherever strings
and comments begin or end; so looking for its bracket finds each one.
"""

from __future__ import annotations

import re

_NAMES = """
    url rgb rgba hsl hsla hwb lab lch oklab oklch calc min max clamp matrix translate translatex translatey scale scalex
    scaley rotate skewx skewy not is where nth-child nth-of-type
"""
FUNCTIONS = frozenset(_NAMES.split())
_FUNCTION = re.compile(r"((?:[-\w]|[^\x00-\x7f]){0,60})\(")
_WITHIN = re.compile(r"\s{0,20}(?:'\s{0,20}#|\"\s{0,20}#|#)")
_LONGEST = 500_000


def style_problem(style: str) -> str:
    """What is wrong with a style, in words that follow “the picture …”; nothing where nothing is. Linear.

    >>> style_problem("fill: url(#dots); transform: rotate(4deg)"), style_problem("fill: u\\\\72l(a.svg)")[:10]
    ('', 'escapes a ')
    """
    if len(style) > _LONGEST:
        return f"has a style of more than {_LONGEST:,} letters"
    if "\\" in style:
        return "escapes a letter in a style (“\\”), which is not allowed: write the letter itself"
    if "@" in style:
        return "has a style with “@”, which is not allowed: write plain rules only"
    for found in _FUNCTION.finditer(style):
        name = found[1].lower()
        if name and name not in FUNCTIONS:
            return f"calls “{found[1]}(…)” in a style. Allowed are: {', '.join(sorted(FUNCTIONS))}"
        if name == "url" and not _WITHIN.match(style, found.end()):
            return "loads something from elsewhere in a style: only “url(#id)” within the same drawing is allowed"
    return ""
