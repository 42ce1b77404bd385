"""Which questions about a sortie a revision has changed: those that are asked or answered otherwise, and new ones."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from enum import Enum

from briefgen.practice.chance import draw
from briefgen.practice.question import Choose, Exercise
from briefgen.practice.question import Sequence as InOrder

Made = Mapping[str, tuple[Exercise, ...]]


class Asked(Enum):
    """How a question differs from what was asked before."""

    CHANGED = "changed"
    NEW = "new"


def asked_words(question: Exercise) -> tuple[object, ...]:
    """What is asked; items to put in order are part of it."""
    answer = question.answer
    return (question.asks, *sorted(answer.items)) if isinstance(answer, InOrder) else (question.asks,)


def right_of(question: Exercise) -> object:
    """What is right."""
    answer = question.answer
    if isinstance(answer, Choose):
        return frozenset(answer.right)
    return answer.items if isinstance(answer, InOrder) else (answer.low, answer.high)


def fingerprint(question: Exercise) -> str:
    """Some letters that are the same as long as what is asked and what is right is, as in `differing`."""
    right = right_of(question)
    told = sorted(right) if isinstance(right, frozenset) else right
    return f"{draw(repr(asked_words(question)), repr(told)):016x}"


def differing(now: Made, before: Made) -> Mapping[str, Asked]:
    """The questions of a sortie that differ from those about it before, by what they are called.

    A question that is asked and answered as one before is the same, whatever it is called now; other wrong answers do
    not make it another.
    """
    return {name: how for kind, made in now.items() for name, how in _of_kind(made, before.get(kind, ()))}


def _of_kind(now: tuple[Exercise, ...], before: tuple[Exercise, ...]) -> Iterator[tuple[str, Asked]]:
    same = {(asked_words(one), right_of(one)) for one in before}
    names = {one.id for one in before}
    words = {asked_words(one) for one in before}
    for one in now:
        if (asked_words(one), right_of(one)) not in same:
            yield one.id, Asked.CHANGED if one.id in names or asked_words(one) in words else Asked.NEW
