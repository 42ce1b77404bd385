"""A question as data: what is asked, what is right, and what is never right. Texts are the author's Markdown."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from briefgen.proof.evidence import SortieEvidence


@dataclass(frozen=True)
class Choose:
    """Answers to choose from. `wrong` are all that could be offered beside `right`; none of them is true."""

    right: tuple[str, ...]
    wrong: tuple[str, ...]


@dataclass(frozen=True)
class Sequence:
    """Items to put in order, given in the right order."""

    items: tuple[str, ...]


@dataclass(frozen=True)
class Number:
    """A number with its unit: right from `low` to `high`, both in the units' SI value; `shown` says it in words."""

    low: float
    high: float
    units: Mapping[str, float]
    shown: str


@dataclass(frozen=True)
class ReadUp:
    """The record, and its step, where the answer is read up."""

    kind: str
    id: str
    part: str = ""


@dataclass(frozen=True, kw_only=True)
class Exercise:
    """`id` is the same as long as what is asked is; `people` should know the answer; `outcomes` are what it checks.

    With a `figure`, the answers to choose from are callouts of it, to be pointed at.
    """

    id: str
    kind: str
    asks: str
    answer: Choose | Sequence | Number
    because: str
    look: ReadUp | None
    people: tuple[str, ...]
    outcomes: tuple[str, ...] = ()
    figure: str = ""


@dataclass(frozen=True)
class QuestionKind:
    """A kind of question: its name, its heading for readers, what it makes, and whether only some are kept of many."""

    name: str
    title: str
    make: Callable[[SortieEvidence], Iterator[Exercise]]
    thinned: bool = True
