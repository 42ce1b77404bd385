"""Computed values as JSON and back: numbers, words, tuples, mappings, sets and the data classes that are named.

Nothing else goes in, and nothing else comes out: reading makes plain values and these classes only.
"""

from __future__ import annotations

from array import array
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from typing import Any

from briefgen.cache.digests import Unknown

_BARE = (type(None), bool, int, float, str)


class Plain:
    """Writes and reads values that hold objects of these classes: data classes, and enumerations of words."""

    def __init__(self, *classes: type) -> None:
        self._classes = {one.__name__: one for one in classes}

    def written(self, value: Any) -> Any:
        """As JSON takes it: a tuple is a list, all else an object with its kind as the one key.

        Raises Unknown for what it can't be read again as.

        >>> Plain().written((1, "a", {("b", 2): frozenset({3})}))
        [1, 'a', {'map': [[['b', 2], {'set': [3]}]]}]
        """
        kind = type(value)
        if kind in _BARE:
            return value
        if kind is tuple:
            return [self.written(one) for one in value]
        if kind is frozenset:
            return {"set": [self.written(one) for one in sorted(value)]}
        if kind is array:
            return {value.typecode: list(value)}
        if isinstance(value, Mapping):
            return {"map": [[self.written(key), self.written(one)] for key, one in value.items()]}
        if self._classes.get(kind.__name__) is kind:
            if isinstance(value, Enum):
                return {kind.__name__: value.value}
            if is_dataclass(value):
                return {kind.__name__: [self.written(getattr(value, one.name)) for one in fields(value)]}
        raise Unknown(kind.__name__)

    def read(self, plain: Any) -> Any:
        """The value. Raises ValueError, TypeError or KeyError where it was not written here."""
        if isinstance(plain, list):
            return tuple(self.read(one) for one in plain)
        if not isinstance(plain, dict):
            return plain
        ((kind, inner),) = plain.items()
        if kind == "map":
            return {self.read(key): self.read(one) for key, one in inner}
        if kind == "set":
            return frozenset(self.read(one) for one in inner)
        if kind == "d":
            return array(kind, inner)
        made = self._classes[kind]
        return made(inner) if issubclass(made, Enum) else made(*(self.read(one) for one in inner))
