"""The known word that was probably meant."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches


def nearest(word: str, known: Iterable[str]) -> str:
    """The known word most like this one, or nothing.

    >>> nearest("drivr", ["driver", "socket"]), nearest("Driver", ["driver"]), nearest("x", ["driver"])
    ('driver', 'driver', '')
    """
    found = get_close_matches(word, sorted(set(map(str, known))), n=1, cutoff=0.5)
    return found[0] if found else ""


def hint(word: str, known: Iterable[str]) -> str:
    """The end of a sentence: the nearest known word, or all of them where there are few.

    >>> hint("drivr", ["driver", "socket"]), hint("x", ["driver", "socket"])
    (' Did you mean “driver”?', ' Known: driver, socket.')
    """
    names = sorted(set(map(str, known)))
    close = nearest(word, names)
    if close:
        return f" Did you mean “{close}”?"
    return f" Known: {', '.join(names)}." if 0 < len(names) <= 8 else ""
