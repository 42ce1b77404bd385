"""What a plan is known by, whatever it is called: all that a library says, but for the words that are only shown.

A long search of the proof that is kept from build to build is found again by this digest. That none of them reads such
a word is a test.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from typing import TYPE_CHECKING, Any, get_type_hints

from pydantic import BaseModel

from briefgen.cache.digests import Unknown, digest
from briefgen.model.fields.base import Part
from briefgen.model.fields.values import Name, Words
from briefgen.source import Position, Text
from briefgen.units import Quantity

if TYPE_CHECKING:
    from briefgen.model.library import Library

_PLACES = frozenset({"_position", "_keys"})
_SHOWN = (Words, Words | None, Name, Name | None)


@cache
def only_shown(model: type[BaseModel]) -> frozenset[str]:
    """The fields of a model whose words are for readers: names, titles, instructions, reasons, notes."""
    hints = get_type_hints(model, include_extras=True)
    return frozenset(name for name in model.model_fields if hints[name] in _SHOWN)


def library_digest(library: Library) -> str:
    """The digest of all that a library says, in its order, but for words that are only shown and where they stand.

    Raises Unknown where something in it can't be told exactly.
    """
    return digest(library.records, _parts)


def _parts(value: Any) -> Iterable[Any]:
    if isinstance(value, Part):
        return _of_part(value)
    if isinstance(value, Text | Quantity):
        # What the copy of one is made from.
        return (one for one in value.__reduce__()[1] if not isinstance(one, Position))
    raise Unknown(type(value).__name__)


def _of_part(part: Part) -> Iterator[Any]:
    shown = only_shown(type(part))
    for name in type(part).model_fields:
        yield getattr(part, name) if name not in shown else getattr(part, name) is None
    for name, value in (part.__pydantic_private__ or {}).items():
        if name not in _PLACES:
            yield name
            yield value
