"""Which wrong answers are offered, and in which order all of them stand.

Neither place nor length tells: over one sheet the right answers' places differ in number by one at most, and of as many
longer and shorter wrong answers as there are, so many are taken that the right one is not mostly the longest.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from briefgen.practice.chance import draw, shuffled
from briefgen.practice.question import Choose, Exercise, Sequence

MOST_ANSWERS = 4


@dataclass(frozen=True)
class Arranged:
    """A question as it is shown: `answers` in their order there, and which of them are right, counted from 0.

    Of items to put in order, `right` says which item comes first, second, and so on. Both are empty for a number.
    """

    question: Exercise
    answers: tuple[str, ...] = ()
    right: tuple[int, ...] = ()


def arrange(questions: Iterable[Exercise], seed: str) -> tuple[Arranged, ...]:
    """The questions of one sheet in their order, but for those that leave no choice."""
    rows = [one for one in questions if leaves_choice(one)]
    offered = _offers(rows, seed)
    single = {one.id: offered[one.id] for one in rows if isinstance(one.answer, Choose) and len(one.answer.right) == 1}
    places = _places(single, seed)
    return tuple(_arranged(one, offered.get(one.id, ()), places.get(one.id, -1), seed) for one in rows)


def leaves_choice(question: Exercise) -> bool:
    """Whether there is a wrong answer to offer, where one has to choose."""
    return not isinstance(question.answer, Choose) or bool(_wrong(question.answer))


def _wrong(answer: Choose) -> list[str]:
    """The wrong answers, each once, without any that reads like a right one."""
    right = {words.casefold() for words in answer.right}
    return list({words.casefold(): words for words in answer.wrong if words.casefold() not in right}.values())


def _offers(rows: Iterable[Exercise], seed: str) -> Mapping[str, tuple[str, ...]]:
    """The wrong answers offered with each question; one of several right answers keeps all that are written."""
    offers: dict[str, tuple[str, ...]] = {}
    ranks: Counter[tuple[int, int]] = Counter()
    choices = [(one.id, one.answer) for one in rows if isinstance(one.answer, Choose)]
    for name, answer in sorted(choices, key=lambda pair: (_freedom(pair[1]), draw(seed, pair[0]))):
        wrong = shuffled(_wrong(answer), seed, name)
        if len(answer.right) > 1 or len(wrong) < MOST_ANSWERS:
            offers[name] = tuple(wrong)
            ranks[len(wrong) + 1, sum(len(one) > len(answer.right[0]) for one in wrong)] += 1
            continue
        longer = [one for one in wrong if len(one) > len(answer.right[0])]
        shorter = [one for one in wrong if len(one) <= len(answer.right[0])]
        wanted = MOST_ANSWERS - 1
        could = range(max(0, wanted - len(shorter)), min(wanted, len(longer)) + 1)
        rank = min(could, key=lambda many: (ranks[MOST_ANSWERS, many], draw(seed, name, many)))
        ranks[MOST_ANSWERS, rank] += 1
        offers[name] = (*longer[:rank], *shorter[: wanted - rank])
    return offers


def _freedom(answer: Choose) -> int:
    """How many ranks by length the right answer could have: whatever has no choice comes first."""
    wrong = _wrong(answer)
    longer = sum(len(one) > len(answer.right[0]) for one in wrong)
    return min(longer, len(wrong) - longer)


def _places(offers: Mapping[str, tuple[str, ...]], seed: str) -> Mapping[str, int]:
    """Where the right answer stands: as often here as there, among questions of equally many answers."""
    sizes: dict[int, list[str]] = {}
    for name, wrong in offers.items():
        sizes.setdefault(len(wrong) + 1, []).append(name)
    places: dict[str, int] = {}
    for size, names in sizes.items():
        for number, name in enumerate(shuffled(sorted(names), seed, size)):
            block, within = divmod(number, size)
            places[name] = shuffled(range(size), seed, size, block)[within]
    return places


def _arranged(question: Exercise, wrong: tuple[str, ...], place: int, seed: str) -> Arranged:
    answer = question.answer
    if isinstance(answer, Sequence):
        seats = _disorder(len(answer.items), f"{seed}/{question.id}")
        return Arranged(question, tuple(answer.items[seat] for seat in seats), tuple(map(seats.index, sorted(seats))))
    if not isinstance(answer, Choose):
        return Arranged(question)
    if len(answer.right) == 1:
        shown = [*wrong[:place], answer.right[0], *wrong[place:]]
        return Arranged(question, tuple(shown), (place,))
    shown = shuffled([*answer.right, *wrong], seed, question.id)
    return Arranged(question, tuple(shown), tuple(place for place, one in enumerate(shown) if one in answer.right))


def _disorder(count: int, seed: str) -> list[int]:
    """An order of 0, 1, … that is not that of the numbers."""
    return next(row for row in _orders(count, seed) if row != list(range(count)))


def _orders(count: int, seed: str) -> Iterator[list[int]]:
    turn = 0
    while count > 1:
        yield shuffled(range(count), seed, turn)
        turn += 1
