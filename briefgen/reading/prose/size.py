"""How long and how deep an author's page may be: far beyond what is read, far below what keeps a builder busy.

The builder's Markdown takes time that grows with the square of what stands open: brackets, or a `<` without its end.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from briefgen.findings import Finding, Level
from briefgen.model.fields.limits import NESTED, too_deep, too_long_word
from briefgen.source import Lines, Position

LETTERS = 60_000
LINES = 2_000
BLOCK = 10_000
"""Letters between two empty lines."""

_FENCED = re.compile(r"^(?P<fence>```+|~~~+).*?^(?P=fence)[`~]*\s*$", re.DOTALL | re.MULTILINE)
_BLOCK = re.compile(r"(?:[^\n]*\S[^\n]*\n?)+")
_PAIRS = (("[", "]"), ("(", ")"), ("<", ">"))


def size_findings(text: str, file: str) -> Iterator[Finding]:
    """The first thing that is too much in a page, if anything is. Such a page is not read any further."""
    for at, rule, sentence in _too_much(text):
        yield Finding(rule, Level.ERROR, Lines(text, Position(file))[at], sentence)
        return


def _too_much(text: str) -> Iterator[tuple[int, str, str]]:
    lines = text.count("\n")
    if len(text) > LETTERS:
        yield 0, "too-long", f"This page has {len(text):,} letters, and {LETTERS:,} are the most: make several of it."
    if lines > LINES:
        yield 0, "too-long", f"This page has {lines:,} lines, and {LINES:,} are the most: make several of it."
    reason = too_long_word(text)
    if reason:
        yield 0, "too-long", f"In this page {reason}."
    shown = _FENCED.sub(lambda found: re.sub(r"\S", " ", found[0]), text)
    for block in _BLOCK.finditer(shown):
        if len(block[0]) > BLOCK:
            yield block.start(), "too-long", f"More than {BLOCK:,} letters stand here without an empty line: set some."
        reason = too_deep(block[0]) or _open(block[0])
        if reason:
            yield block.start(), "too-deep", f"In this paragraph {reason}."


def _open(block: str) -> str:
    """Whether more signs stand open in a paragraph than anybody could follow, as the end of a sentence."""
    for opening, closing in _PAIRS:
        depth = deepest = 0
        for sign in re.findall(rf"\\.|[{re.escape(opening + closing)}]", block, re.DOTALL):
            depth = depth + 1 if sign == opening else max(0, depth - 1) if sign == closing else depth
            deepest = max(deepest, depth)
        if deepest > NESTED:
            return f"{deepest} “{opening}” stand open at once: close them, or write “\\{opening}” where one is meant"
    return ""
