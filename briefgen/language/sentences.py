"""English texts as sentences and words, counted after ASD-STE100 Issue 9, section 8. Pure; knows no record.

The counting rules: a number with its unit is one word (8.6), so is an abbreviation or an identifier (8.6), quoted text
(8.6), text in parentheses (8.5) and a hyphenated word (8.7); a colon before a vertical list ends a sentence (8.4).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise

_LINK = re.compile(r"!?\[([^\]]*)\]\([^)]*\)")
_EMPHASIS = re.compile(r"(\*\*|__|(?<!\w)[*_](?=\w)|(?<=[\w.,:!?])[*_](?!\w))")
_ABBREVIATIONS = r"No|Nos|Fig|Figs|approx|max|min|e\.g|i\.e|vs|etc|a\.m|p\.m|St"
_END = re.compile(r"([.!?]+[)”’\"']*)(?=\s+[A-Z0-9“‘\"'(\[]|\s*$)|:\s*\n|\n\s*(?:[-*•]|\d+[.)])\s+|\n\s*\n")
_NOT_AN_END = re.compile(rf"\b(?:{_ABBREVIATIONS})\.$")
_UNITS = (
    r"(?:°\s?[CF]?|degrees?(?:\s+Celsius)?|%|percent|mm|cm|km|m|kg|g|mg|s|ms|min|h|minutes?|seconds?|hours?|days?"
    r"|N·m|N\*m|N|kPa|Pa|MPa|V|mV|A|mA|Ah|Wh|kWh|W|kW|J|kJ|MJ|Hz|kHz|MHz|GHz|L|mL|Ω|ohms?|turns?|bar"
    r"|met(?:re|er)s?|kilograms?|grams?|volts?|amperes?|watts?|a\.m\.|p\.m\.|m/min|m/s|words/min)"
)
_ONE_WORD = re.compile(
    rf"""
      \([^()]*\)                                   # parentheses (8.5)
    | “[^”]*” | ‘[^’]*’ | "[^"]*" | `[^`]*`        # quoted text (8.6)
    | \bNos?\.\s*\d+                               # identifiers with a number (8.6)
    | [-+±−]?\d+(?:[.,:/]\d+)*\s*{_UNITS}(?![\w])  # a number with its unit (8.6)
    | \w+(?:[-–’'./·&]\w+)*[%°]?                   # a word, hyphens and all (8.7)
    """,
    re.VERBOSE,
)  # fmt: skip
_CAPITALS = re.compile(r"[A-Z]{2}[A-Z-]*")


@dataclass(frozen=True)
class Sentence:
    """A sentence without its Markdown, and the words with which it begins in the author's text."""

    words: str
    opening: str

    @cached_property
    def length(self) -> int:
        """How many words it has, as the standard counts them."""
        return count_words(self.words)

    @property
    def first(self) -> str:
        """Its first word, in lower case."""
        found = re.search(r"[A-Za-z][\w’'-]*", self.words)
        return found[0].lower() if found else ""


def plain(text: str) -> str:
    """The words of a Markdown text: links by what they show, emphasis and code marks gone.

    >>> plain("Take **the** [driver](tool:torque-driver).")
    'Take the driver.'
    """
    return _EMPHASIS.sub("", _LINK.sub(r"\1", text))


@lru_cache(maxsize=4096)
def sentences(text: str) -> tuple[Sentence, ...]:
    """The sentences of a text, in order. A sentence in parentheses stands inside the one that holds it.

    >>> [one.words for one in sentences("Set it to 9.5 V, see No. 3. Then wait.")]
    ['Set it to 9.5 V, see No. 3.', 'Then wait.']
    """
    return tuple(Sentence(words, _opening(words)) for words in _split(plain(text)))


def _split(text: str) -> Iterator[str]:
    start = 0
    for end in _END.finditer(text):
        if _NOT_AN_END.search(text[: end.end()].rstrip("\"'”’)")) and end.end() < len(text.rstrip()):
            continue
        piece = text[start : end.end()].strip().lstrip("-*• \t")
        start = end.end()
        if re.search(r"\w", piece):
            yield " ".join(piece.split())
    rest = text[start:].strip().lstrip("-*• \t")
    if re.search(r"\w", rest):
        yield " ".join(rest.split())


def _opening(words: str) -> str:
    return " ".join(words.split()[:2])


def count_words(sentence: str) -> int:
    """How many words a sentence has. Linear in its length.

    >>> count_words("Make sure that the temperature in the room is 10 °C.")
    10
    """
    tokens = [(found[0], found.start(), found.end()) for found in _ONE_WORD.finditer(sentence)]
    shouted = not re.search(r"[a-z]", re.sub(r"\([^()]*\)", "", sentence))
    if shouted:
        return len(tokens)
    merged = sum(
        1
        for (one, _, end), (other, start, _) in pairwise(tokens)
        if sentence[end:start].isspace() and _CAPITALS.fullmatch(one) and _CAPITALS.fullmatch(other)
    )
    return len(tokens) - merged
