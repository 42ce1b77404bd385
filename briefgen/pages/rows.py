"""The small things that every page is made of, ready to print. A `target` is a link from the site's root, or empty."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Link:
    """Words that lead somewhere."""

    words: str
    target: str = ""


@dataclass(frozen=True)
class MarkChip:
    """A person, told apart by words and a pattern, which may have a colour; without a mark both are empty."""

    name: str
    word: str
    pattern: str
    colour: str
    target: str


@dataclass(frozen=True)
class Chip:
    """A thing with its state, and what is done with it (`verb`: needs, sets, verifies, or nothing)."""

    kind: str
    words: str
    target: str
    state: str = ""
    verb: str = ""


@dataclass(frozen=True)
class Badge:
    """A word that stands out; `data` is the attribute that decides its looks, `value` the attribute's value."""

    words: str
    data: str = ""
    value: str = ""


@dataclass(frozen=True)
class Key:
    """One of a page's main values: a number and its unit, or words, or chips, or people."""

    name: str
    words: str = ""
    unit: str = ""
    chips: tuple[Chip, ...] = ()
    marks: tuple[MarkChip, ...] = ()
    target: str = ""


@dataclass(frozen=True)
class Fact:
    """A line of a step: what kind of fact (`name`), its heading, and chips or words."""

    name: str
    head: str
    chips: tuple[Chip, ...] = ()
    words: str = ""


@dataclass(frozen=True)
class Item:
    """A row of a list of records; `note` is an author's text."""

    link: Link
    note: str = ""
    icon: str = ""
    marks: tuple[MarkChip, ...] = ()
    badges: tuple[Badge, ...] = ()
    meta: tuple[str, ...] = ()
    chips: tuple[Chip, ...] = ()


@dataclass(frozen=True)
class Group:
    """Items below a heading; without words the items stand alone."""

    words: str
    anchor: str
    items: tuple[Item, ...]
