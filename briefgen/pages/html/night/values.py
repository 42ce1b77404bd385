"""The colours in attributes and styles of a drawing, each given a name that has a value by day and one by night."""

from __future__ import annotations

import re

from briefgen.pages.html.night.colours import Colour, read
from briefgen.pages.html.night.palette import by_night

COLOURED = frozenset({"fill", "stroke", "color", "stop-color"})
"""Attributes that are a colour."""
_PROPERTIES = COLOURED | {"background", "background-color", "text-decoration", "text-decoration-color"}
_PIECE = re.compile(r"url\([^)]*\)|#[0-9a-zA-Z]+|[a-zA-Z-]+\([^)]*\)|[a-zA-Z][-a-zA-Z0-9]*")
_COMMENT = re.compile(r"/\*(?:[^*]|\*(?!/))*\*/")
_BLENDED = re.compile(r"mix-blend-mode\s*:\s*(?!normal)")
_MOST = 512  # a drawing of more colours than this is a picture, painted and not drawn


class Unclear(Exception):
    """What stands here can't be said by night."""


class Colours:
    """The colours of one drawing, by the names that stand for them."""

    def __init__(self) -> None:
        self._names: dict[Colour, str] = {}

    def name(self, colour: Colour) -> str:
        """The word that stands for a colour. Raises Unclear where a drawing has too many."""
        if colour not in self._names:
            if len(self._names) >= _MOST:
                raise Unclear
            self._names[colour] = f"--n{len(self._names)}"
        return f"var({self._names[colour]})"

    def value(self, words: str) -> str:
        """A value with each of its colours named. Raises Unclear for a notation that is not read here."""
        return _PIECE.sub(self._piece, words)

    def _piece(self, found: re.Match[str]) -> str:
        words = found[0]
        colour = read(words)
        if colour:
            return self.name(colour)
        if words.startswith("#") or ("(" in words and not words.startswith("url(")):
            raise Unclear
        return words

    def declarations(self, words: str) -> str:
        """What a style attribute, or the inside of a rule, says. Raises Unclear where it blends."""
        if _BLENDED.search(words.lower()):
            raise Unclear
        return ";".join(self._declaration(one) for one in words.split(";"))

    def _declaration(self, words: str) -> str:
        key, colon, value = words.partition(":")
        return f"{key}:{self.value(value)}" if colon and key.strip().lower() in _PROPERTIES else words

    def sheet(self, words: str) -> str:
        """A style sheet of plain rules. Raises Unclear for nested rules, and where attributes choose."""
        *rules, rest = _COMMENT.sub("", words).split("}")
        if rest.strip() or "/*" in rest:
            raise Unclear
        return "".join(f"{self._rule(one)}}}" for one in rules)

    def _rule(self, words: str) -> str:
        selector, brace, inside = words.partition("{")
        if not brace or "{" in inside or "[" in selector or "/*" in words:
            raise Unclear
        return f"{selector}{{{self.declarations(inside)}"

    @property
    def by_day(self) -> str:
        """Every name with its value by day."""
        return ";".join(f"{name}:{colour.written}" for colour, name in self._names.items())

    @property
    def by_night(self) -> str:
        """Every name with its value by night."""
        return ";".join(f"{name}:{by_night(colour).written}" for colour, name in self._names.items())
