"""Finding many words in a text at once. Linear in the text's length, however many words are sought."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping

# Where a word may begin and end: not beside a letter, a digit or a hyphen.
_BEGIN = re.compile(r"(?<![\w-])\S")
_END = re.compile(r"(?![\w-])")
_HEAD = 2


class Spotter:
    """Words to be found in texts, each as it is spelt.

    >>> [*Spotter(["QD", "QD cap"]).spots("Both QDs, then a QD cap; no QDX.")]
    [(5, 8, 'QD'), (17, 23, 'QD cap')]
    """

    def __init__(self, words: Iterable[str], ending: str = "s?") -> None:
        """`ending`: what may stand behind a word and belongs to it, as a regular expression."""
        self._words = frozenset(words) - {""}
        self._lengths = _lengths_by_head(self._words)
        self._ending = re.compile(rf"(?:{ending})(?![\w-])")

    def spots(self, text: str) -> Iterator[tuple[int, int, str]]:
        """Start, end (with the ending) and word of each find, the longest first, none within another."""
        done = 0
        for begin in _BEGIN.finditer(text):
            if begin.start() >= done:
                found = next(self._at(text, begin.start()), None)
                if found:
                    done = found[1]
                    yield found

    def within(self, text: str) -> set[str]:
        """Every word that stands in a text, also inside a longer one."""
        return {word for begin in _BEGIN.finditer(text) for _, _, word in self._at(text, begin.start())}

    def _at(self, text: str, start: int) -> Iterator[tuple[int, int, str]]:
        for length in self._lengths.get(text[start : start + _HEAD], self._lengths.get(text[start], ())):
            word = text[start : start + length]
            ending = self._ending.match(text, start + length) if word in self._words else None
            if ending:
                yield start, ending.end(), word


def _lengths_by_head(words: Iterable[str]) -> Mapping[str, tuple[int, ...]]:
    """How long the words are that begin with two letters (or are the one letter), the longest first."""
    lengths: dict[str, set[int]] = defaultdict(set)
    single = {word for word in words if len(word) < _HEAD}
    for word in words:
        lengths[word[:_HEAD]].add(len(word))
    for head in lengths:
        if head[0] in single:
            lengths[head].add(1)
    return {head: tuple(sorted(found, reverse=True)) for head, found in lengths.items()}
