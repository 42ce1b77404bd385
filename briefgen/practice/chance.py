"""Numbers that look random and are always the same: drawn from SHA-256 (FIPS 180-4) of a text."""

from __future__ import annotations

from collections.abc import Iterable
from hashlib import sha256
from typing import TypeVar

T = TypeVar("T")


def draw(*seed: object) -> int:
    """A number below 2^64 for a seed."""
    return int.from_bytes(sha256("\x1f".join(map(str, seed)).encode()).digest()[:8], "big")


def shuffled(rows: Iterable[T], *seed: object) -> list[T]:
    """The rows in an order that follows from the seed and from how many there are.

    >>> sorted(shuffled("abcd", 1)) == list("abcd")
    True
    """
    return [row for _, row in sorted(enumerate(rows), key=lambda pair: draw(*seed, pair[0]))]
