"""The sortie's limits, typed with their units: length, reserve, time home, tether."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.practice.kinds.durations import UNITS
from briefgen.practice.question import Exercise, Number, QuestionKind, ReadUp
from briefgen.proof.evidence import SortieEvidence
from briefgen.units import LENGTH, show_duration


def make(proved: SortieEvidence) -> Iterator[Exercise]:
    """One for each limit that is given."""
    limits = proved.sortie.limits
    everybody, outside = tuple(proved.plan.flows), proved.plan.outside
    spans = (
        ("length", "How long may the sortie last at most?", limits.length, everybody),
        ("reserve", "How much of the sortie's length is kept in reserve?", limits.reserve, everybody),
        ("return", "Within what time must you be able to be home from anywhere?", limits.return_within, outside),
    )
    for name, asks, span, people in spans:
        if span is not None:
            answer = Number(span.likely, span.likely, UNITS, show_duration(span.likely))
            yield _question(proved, name, asks, answer, people)
    if limits.tether is not None:
        metres = float(limits.tether)
        answer = Number(metres, metres, LENGTH.units, limits.tether.written)
        yield _question(proved, "tether", "How long is the safety tether?", answer, outside)


def _question(proved: SortieEvidence, name: str, asks: str, answer: Number, people: tuple[str, ...]) -> Exercise:
    return Exercise(
        id=f"limits:{proved.sortie.id}:{name}",
        kind=KIND.name,
        asks=asks,
        answer=answer,
        because="It is a limit of this sortie.",
        look=ReadUp("sortie", str(proved.sortie.id)),
        people=people,
    )


KIND = QuestionKind("limits", "Limits", make)
