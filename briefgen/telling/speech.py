"""How long words take to say at the programme's speaking rate: words over rate."""

from __future__ import annotations

import re

from briefgen.language.sentences import plain
from briefgen.model.library import Library
from briefgen.units import MINUTE

_WORD = re.compile(r"\w+(?:[-–’'./]\w+)*")


def spoken_words(text: str) -> int:
    """How many words a Markdown text has when it is said; a link counts by what it shows.

    >>> spoken_words("Take **the** [torque driver](tool:torque-driver) first.")
    5
    """
    return sum(1 for _ in _WORD.finditer(plain(text)))


def speaking_seconds(library: Library, text: str) -> float:
    """Seconds to say a text; 0 where the programme gives no speaking rate."""
    programme = library.programme
    rate = programme.speaking_rate if programme else None
    return spoken_words(text) / float(rate) * MINUTE if rate else 0.0
