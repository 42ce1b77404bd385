"""A block of steps for every item, written out: round after round, each done from its first step to its last."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from briefgen.expansion.sheet import Draft, Rounds
from briefgen.model.fields.values import PREVIOUS
from briefgen.model.library import Library
from briefgen.model.steps import Each, Origin, Step
from briefgen.model.tasks import Block
from briefgen.model.things import Equipment
from briefgen.source import Text

Item = tuple[str, ...]
Row = tuple[Step, int, str, int | None]
"""A step of a block as written, its number in the task, its id or number, and the row of the step that it confirms."""


def names_of(items: Sequence[Item]) -> list[str]:
    """A short name for each item, fit for an address; a number where the parts' names make none, or the same twice.

    >>> names_of([("1", "a"), ("1", "b")]), names_of([("+x",), ("-x",)])
    (['1-a', '1-b'], ['1', '2'])
    """
    names = ["-".join(re.findall("[a-z0-9]+", " ".join(item).lower())) for item in items]
    if len(set(names)) < len(names) or not all(names):
        return [str(number) for number in range(1, len(items) + 1)]
    return names


def lay_out(task: str, block: Block, rows: Sequence[Row], equipment: Equipment | None, items: Sequence[Item]) -> Rounds:
    """Every round of a block. Without items that can be told there is one, for whatever the block says."""
    laid = Rounds(block)
    rounds = [
        (item, name, list(_done(block, rows, equipment, item)))
        for item, name in zip(items, names_of(items), strict=True)
    ]
    rounds = [one for one in rounds if one[2]]
    words = equipment.item_words if equipment and items != ((),) else lambda _: ""
    done = set[int]()
    for number, (item, name, steps) in enumerate(rounds, start=1):
        round_: list[Draft] = []
        for row, step in steps:
            _, told, local, confirms = rows[row]
            origin = Origin(
                str(block.id), str(block.each.equipment), item, words(item), number, len(rounds), local, row in done
            )
            draft = Draft(task, step, told, f"{block.id}/{name}/{local}", origin, rounds=laid, row=row)
            draft.confirms = next((one for one in round_ if one.row == confirms), None)
            round_.append(draft)
            done.add(row)
        laid.rounds.append(round_)
    return laid


def _done(block: Block, rows: Sequence[Row], equipment: Equipment | None, item: Item) -> Iterator[tuple[int, Step]]:
    """The rows of a block that are done for an item, each as it is done."""
    for row, (step, *_) in enumerate(rows):
        each = each_of(block, step, equipment, item)
        if each is not None:
            yield row, step.model_copy(update={"each": each})


def each_of(block: Block, step: Step, equipment: Equipment | None, item: Item) -> Each | None:
    """For which items a step is done in the round of an item; None where for none."""
    if equipment is None or not item:
        return step.each or block.each.model_copy(update={"where": dict(block.chosen)})
    mine = {part: Text(name, block.position) for part, name in zip(equipment.parts, item, strict=True)}
    own = step.each
    if own is None:
        return block.each.model_copy(update={"where": {part: (name,) for part, name in mine.items()}})
    shared = {part: (name,) for part, name in mine.items()}
    if any(part in shared and shared[part][0] not in names for part, names in own.where.items()):
        return None
    return own.model_copy(update={"where": {**own.where, **shared}})


def picked_apart(library: Library) -> dict[tuple[str, str], frozenset[str]]:
    """By task and block: whose flow names steps of the block by themselves, so that it says nothing of the rounds."""
    found: dict[tuple[str, str], frozenset[str]] = {}
    for sortie in library.sorties.values():
        for person, refs in sortie.flow.items():
            for ref in refs:
                block, _, step = ref.step.partition("/")
                if step:
                    found[ref.task, block] = found.get((ref.task, block), frozenset()) | {str(person)}
    return found


def order_rounds(laid: Rounds, flows: frozenset[str]) -> Iterator[tuple[Draft, Draft]]:
    """Who waits for whom between the rounds (first, second), beyond what people's flows and `after` say.

    A round begins when the one before it is over, whoever does its steps. `flows` are people who do one thing after
    another, and the block as it is listed. Also finds the block's ends.
    """
    known: dict[tuple[int, ...], tuple[list[int], list[int]]] = {}
    before: list[Draft] = []
    for round_ in laid.rounds:
        rows = tuple(one.row for one in round_)
        if rows not in known:
            known[rows] = _begins_and_ends(round_, flows)
        begins, ends = known[rows]
        for first in before:
            for second in (round_[number] for number in begins):
                if not first.people & second.people & flows:
                    yield first, second
        before = [round_[number] for number in ends]
        laid.ends = tuple(ends)


def _begins_and_ends(round_: Sequence[Draft], flows: frozenset[str]) -> tuple[list[int], list[int]]:
    """The steps of a round that nothing in it comes before, and those that nothing comes after."""
    index = {one.name: number for number, one in enumerate(round_)}
    begins, followed = [], set[int]()
    latest: dict[str, int] = {}
    for number, one in enumerate(round_):
        earlier = {latest[person] for person in one.people & flows if person in latest}
        earlier |= {index[ref] for ref in (*map(str, one.after), *_named(one)) if ref in index}
        latest |= dict.fromkeys(one.people & flows, number)
        followed |= earlier
        begins += [] if earlier else [number]
    return begins, [number for number in range(len(round_)) if number not in followed]


def _named(draft: Draft) -> Iterator[str]:
    """The steps of its own round for which a step waits, as written."""
    assert draft.rounds is not None
    block = str(draft.rounds.block.id)
    for ref in draft.step.after:
        *before, name = ref.split("/")
        if ref == PREVIOUS and isinstance(draft.above, Draft):
            yield draft.above.name
        elif before in ([], [block], [draft.task, block]) and (found := draft.rounds.beside(draft, name)):
            yield found.name
