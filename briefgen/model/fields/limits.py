"""How long and how deep a value may be: far beyond what anybody would brief, and far below what keeps a reader busy.

Every check is linear in the text's length.
"""

from __future__ import annotations

import re

NAME = 250
"""Letters of a name, a title, or any single word."""
TEXT = 5000
"""Letters of a text."""
QUANTITY = 200
"""Letters of a duration or another number with its unit."""
ID = 100
"""Letters of an id: with what is put before and behind it, a page's file name stays below 255 bytes."""
LEVELS = 50
"""Levels of a content file: mappings and lists in each other."""
NESTED = 20
"""Levels of a text (lists, quotations, brackets in each other), and of bags in each other."""
LINES = 200
"""Lines of a text: Markdown's lists take time that grows with the square of their length."""
CALLOUTS = 1_000
"""Callouts of a figure."""
STEPS = 500
"""Steps of a task."""
ROUNDS = 10_000
"""Steps that all blocks together make, every item counted."""
CASES = 60
"""Cases of a sortie, every item of a block counted: each is a whole plan to be proved."""
CASE_PLANS = 40_000
"""Steps of all the plans that a sortie's cases make: one for everything that a helper may be busy with."""
CASE_PLANS_ADVISED = 6_000
"""The same for a plan that is only thought of, to be advised or not: there are many of these."""
GET_AHEADS = 100
"""Get-aheads of a sortie."""
_WORD = 500

_LONG_WORD = re.compile(rf"\S{{{_WORD + 1}}}")
_INDENT = re.compile(r"^(?:[ \t]|[>*+-](?=[ \t>]|$)|[0-9]{1,9}[.)](?=[ \t]))+", re.MULTILINE)


def too_much(text: str, most: int) -> str:
    """What is wrong with a text's length, as the end of a sentence; nothing where nothing is.

    >>> too_much("abcdef", 5)
    '6 letters stand here, and 5 are the most: write less'
    """
    if len(text) > most:
        return f"{len(text):,} letters stand here, and {most:,} are the most: write less"
    if text.count("\n") > LINES:
        return f"{text.count(chr(10)) + 1} lines stand here, and {LINES} are the most: write less"
    return too_long_word(text)


def too_long_word(text: str) -> str:
    """What is wrong with a text's longest word, as the end of a sentence; nothing where nothing is."""
    if len(text) > _WORD and _LONG_WORD.search(text):
        return f"a word of more than {_WORD} letters stands here: write words that can be read"
    return ""


def too_deep(text: str) -> str:
    """What is wrong with a text's nesting, as the end of a sentence; nothing where nothing is.

    >>> too_deep("[the driver](tool:driver)"), too_deep("[" * 21)[:30]
    ('', '21 brackets stand open at once')
    """
    opened = _most_open(text) if text.count("[") > NESTED else 0
    if opened > NESTED:
        return f"{opened} brackets stand open at once: write “\\[” where a bracket is meant, or close them"
    deep = max((_depth(found[0]) for found in _INDENT.finditer(text)), default=0)
    if deep > NESTED:
        return f"lists or quotations stand {deep} deep in each other here, and {NESTED} are the most: set them flush"
    return ""


def _most_open(text: str) -> int:
    """How many square brackets stand open at once. A closing one closes the latest."""
    depth = deepest = 0
    for sign in re.findall(r"\\.|[\[\]]", text, re.DOTALL):
        if sign == "[":
            depth += 1
            deepest = max(deepest, depth)
        elif sign == "]":
            depth = max(0, depth - 1)
    return deepest


def _depth(indent: str) -> int:
    """How many levels a line's beginning may stand for: four blanks or a tab each, and each mark."""
    blanks = indent.count(" ") + 4 * indent.count("\t")
    return blanks // 4 + sum(indent.count(sign) for sign in ">*+-.)")
