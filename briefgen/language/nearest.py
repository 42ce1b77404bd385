"""The known word that was probably meant."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from difflib import get_close_matches

MOST_COMPARED = 40_000
"""So many words are compared with each other in one examination; where mistakes are that many, hints don't help."""
_LONGEST = 120

_left: ContextVar[list[int] | None] = ContextVar("words that may still be compared", default=None)


@contextmanager
def few_guesses(most: int = MOST_COMPARED) -> Iterator[None]:
    """Within it, `most` words are compared; from then on nothing is near to anything."""
    token = _left.set([most])
    try:
        yield
    finally:
        _left.reset(token)


def nearest(word: str, known: Iterable[str]) -> str:
    """The known word most like this one, or nothing.

    >>> nearest("drivr", ["driver", "socket"]), nearest("Driver", ["driver"]), nearest("x", ["driver"])
    ('driver', 'driver', '')
    """
    left = _left.get()
    if len(word) > _LONGEST or (left and left[0] <= 0):
        return ""
    names = sorted({name for name in map(str, known) if _could_be(len(word), len(name))})
    if left:
        left[0] -= len(names)
    found = get_close_matches(word, names, n=1, cutoff=0.5)
    return found[0] if found else ""


def _could_be(length: int, other: int) -> bool:
    """Whether words of these lengths can have half of their letters in common."""
    return 3 * min(length, other) >= max(length, other)


def hint(word: str, known: Iterable[str]) -> str:
    """The end of a sentence: the nearest known word, or all of them where there are few.

    >>> hint("drivr", ["driver", "socket"]), hint("x", ["driver", "socket"])
    (' Did you mean “driver”?', ' Known: driver, socket.')
    """
    close = nearest(word, known := list(known))
    if close:
        return f" Did you mean “{close}”?"
    names = sorted(set(map(str, known))) if len(known) <= 100 else []
    return f" Known: {', '.join(names)}." if 0 < len(names) <= 8 else ""
