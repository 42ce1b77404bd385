"""A record's fields as single values, each with words for where it stands, like `Limits, length`."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from pydantic import BaseModel

from briefgen.revision.pairing.normal import Normal
from briefgen.revision.telling import Telling

Path = tuple[str, ...]
"""Where a value stands in a record, in the new version's names."""
Leaf = tuple[str, Any, str]
"""What a value is called, itself in a form that can be compared, and in words."""

_LABELS = {
    "between": "Leads between", "home": "Is the home place", "anchor": "Takes a tether", "ends": "May end",
    "starts": "Begins", "one_way": "One way only", "control": "Keeps a hazard controlled", "file": "Picture",
    "alt": "Description", "hazard": "What can hurt", "consequence": "Otherwise", "avoid": "Stay clear by",
    "signal": "Signal word", "controls": "Controlled by", "does": "You can", "asks": "Question",
    "correct": "Right answer", "because": "Why", "get_aheads": "If time is left", "return_within": "Way home within",
    "tether": "Tether reach", "per_hour": "per hour", "per_megajoule": "per megajoule", "map": "On the map",
    "restraint": "Held by", "undo": "Way back from", "enter": "to get into", "leave": "to get out of",
}  # fmt: skip


def leaves(record: BaseModel, normal: Normal, telling: Telling, only: frozenset[str]) -> dict[Path, Leaf]:
    """Every single value in the fields named `only`, by where it stands."""
    found: dict[Path, Leaf] = {}
    for name in type(record).model_fields:
        if name in only:
            found |= _leaves((name,), (label_of(name),), getattr(record, name), normal, telling)
    return found


def _leaves(
    path: Path, labels: tuple[str, ...], value: Any, normal: Normal, telling: Telling
) -> Iterator[tuple[Path, Leaf]]:
    if isinstance(value, BaseModel):
        for name in type(value).model_fields:
            yield from _leaves((*path, name), (*labels, label_of(name)), getattr(value, name), normal, telling)
    elif isinstance(value, dict):
        for key, inner in value.items():
            at, named = (*path, normal.of(key)), (*labels, telling.value(key))
            found = tuple(_leaves(at, named, inner, normal, telling))
            # What nothing more is said of is there all the same.
            yield from found or [(at, (_words(named), True, "yes"))]
    elif titled(value):
        for one in value:
            title = (*labels, telling.value(one.title))
            yield (*path, normal.of(one.title)), (_words(title), normal.of(one), telling.value(_content(one)))
    elif path == ("undo",):
        for way in value:
            at, label = (*path, normal.of(way.of)), _words((*labels, telling.value(way.of)))
            yield at, (label, normal.of(way.steps), telling.sentences(way.steps))
    elif value not in (None, ()):
        unit = " items" if path[-1] == "items" else ""
        yield path, (_words(labels), normal.of(value), telling.value(value) + unit)


def _words(labels: tuple[str, ...]) -> str:
    if labels[0] == _LABELS["undo"]:
        return " ".join(labels)
    return ", ".join([labels[0], *(label[:1].lower() + label[1:] for label in labels[1:])])


def titled(value: Any) -> bool:
    """Whether a list is one of parts with titles, like scenes: these are compared one by one, by their titles."""
    return isinstance(value, tuple) and bool(value) and all("title" in getattr(one, "__dict__", ()) for one in value)


def _content(part: Any) -> Any:
    """What a titled part says: its words, or else all that it holds."""
    return getattr(part, "says", None) or part


def label_of(name: str) -> str:
    """What a field is called."""
    return _LABELS.get(name, name.replace("_", " ").capitalize())
