"""The questions of one person for one sortie: of every kind, none ambiguous, of many alike an even selection."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from briefgen.model.library import Library
from briefgen.practice.arranging import Arranged, arrange, leaves_choice
from briefgen.practice.chance import shuffled
from briefgen.practice.changed import asked_words, right_of
from briefgen.practice.question import Exercise
from briefgen.practice.registry import kinds
from briefgen.proof.evidence import SortieEvidence

MOST_OF_A_KIND = 8
MOST_ON_A_TEST = 20


def questions(proved: SortieEvidence) -> Mapping[str, tuple[Exercise, ...]]:
    """All that can be asked about a sortie, by kind. Raises CircleFound for one whose order runs in a circle."""
    made = {name: filter(leaves_choice, kind.make(proved)) for name, kind in kinds().items()}
    return {name: tuple(_unambiguous(list(rows))) for name, rows in made.items()}


def sheet(proved: SortieEvidence, person: str, every: Mapping[str, tuple[Exercise, ...]]) -> tuple[Arranged, ...]:
    """What one person practises, arranged; `every` are the sortie's `questions`."""
    chosen: list[Exercise] = []
    for name, made in every.items():
        mine = _of(person, made)
        chosen += spread(mine, MOST_OF_A_KIND) if kinds()[name].thinned else mine
    own = [replace(one, outcomes=_outcomes_of(proved.library, one, person)) for one in chosen]
    return arrange(own, f"{proved.sortie.id}/{person}")


def paper_test(proved: SortieEvidence, person: str, every: Mapping[str, tuple[Exercise, ...]]) -> tuple[Arranged, ...]:
    """What one person is tested on, on paper: of each kind about as many, in mixed order."""
    seed = f"{proved.sortie.id}/{person}/test"
    mine = {name: _of(person, made) for name, made in every.items()}
    counts = shares([len(rows) for rows in mine.values()], MOST_ON_A_TEST)
    chosen = [one for rows, count in zip(mine.values(), counts, strict=True) for one in spread(rows, count)]
    return arrange(shuffled(chosen, seed), seed)


def shares(sizes: Sequence[int], most: int) -> list[int]:
    """How many to take of groups of these sizes, as evenly as they allow, and no more than `most` together.

    >>> shares([1, 9, 9], 8), shares([2, 0, 1], 8)
    ([1, 4, 3], [2, 0, 1])
    """
    counts = [0] * len(sizes)
    while sum(counts) < min(most, sum(sizes)):
        counts[min((one for one in range(len(sizes)) if counts[one] < sizes[one]), key=counts.__getitem__)] += 1
    return counts


def _of(person: str, made: Sequence[Exercise]) -> list[Exercise]:
    return [one for one in made if person in one.people]


def spread(rows: Sequence[Exercise], most: int) -> list[Exercise]:
    """At most so many of the rows, evenly from first to last.

    >>> spread(list(range(9)), 3)
    [0, 4, 8]
    """
    if len(rows) <= most:
        return list(rows)
    if most < 2:
        return list(rows[:most])
    return [rows[round(number * (len(rows) - 1) / (most - 1))] for number in range(most)]


def _unambiguous(made: list[Exercise]) -> Iterator[Exercise]:
    """Without questions that read alike and have other answers; of those with the same answer, the first."""
    answers: dict[tuple[object, ...], set[object]] = {}
    for one in made:
        answers.setdefault(asked_words(one), set()).add(right_of(one))
    seen: set[tuple[object, ...]] = set()
    for one in made:
        if len(answers[asked_words(one)]) == 1 and asked_words(one) not in seen:
            seen.add(asked_words(one))
            yield one


def _outcomes_of(library: Library, question: Exercise, person: str) -> tuple[str, ...]:
    """The outcomes that are meant for this person."""
    known = [library.outcomes[one] for one in question.outcomes if one in library.outcomes]
    return tuple(str(one.id) for one in known if not one.audience or person in map(str, one.audience))
