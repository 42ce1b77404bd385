"""From which bag or place a tool is taken, as custody proves it."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.model.library import Library
from briefgen.practice.question import Choose, Exercise, QuestionKind
from briefgen.practice.words import deed, look_at
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.holding.custody import Act, Handled
from briefgen.proof.naming import people_called

_TAKEN = (Act.PICKS, Act.USES, Act.SPENDS)


def make(proved: SortieEvidence) -> Iterator[Exercise]:
    """One for each thing that a step takes, or uses out of a bag, once a task for the same thing from the same spot."""
    asked: set[tuple[str, str, str]] = set()
    by_step: dict[int, list[Handled]] = {}
    for handled in proved.custody.handled:
        by_step.setdefault(handled.handling.step, []).append(handled)
    for handled in proved.custody.handled:
        if handled.handling.act not in _TAKEN or handled.fails or not handled.chain:
            continue
        spot, task = handled.chain[0], str(proved.plan.steps[handled.handling.step].task.id)
        taken = spot.kind == "bags" or (spot.kind == "places" and handled.handling.act is Act.PICKS)
        if taken and (handled.handling.thing, spot.id, task) not in asked:
            asked.add((handled.handling.thing, spot.id, task))
            yield _question(proved, handled, by_step[handled.handling.step])


def _question(proved: SortieEvidence, handled: Handled, beside: list[Handled]) -> Exercise:
    library, step, thing = proved.library, proved.plan.steps[handled.handling.step], handled.handling.thing
    record = library.thing(thing)
    name = record.label_text if record else thing
    who = people_called(library, step.people)
    return Exercise(
        id=f"origins:{step.key}:{thing}",
        kind=KIND.name,
        asks=f"{step.task.label_text}: “{deed(step)}” ({who}). Where is this as the step begins: {name}?",
        answer=Choose((_spot(library, handled.chain[0].id),), tuple(_others(library, handled, beside))),
        because="The custody of the plan has it there.",
        look=look_at(step),
        people=step.people,
        outcomes=tuple(map(str, step.task.outcomes)),
    )


def _others(library: Library, handled: Handled, beside: list[Handled]) -> Iterator[str]:
    """Spots of the same kind, then of the other; none that the thing is in, however deep, at any time in the step."""
    around = {spot.id for spot in handled.chain} | {handled.handling.thing}
    for one in beside:
        if one.handling.thing in around:
            around |= {spot.id for spot in one.chain}
    same = library.bags if handled.chain[0].kind == "bags" else library.places
    others = [name for name in same if name not in around]
    if len(others) < 2:
        others += [name for name in (*library.bags, *library.places) if name not in around]
    yield from (_spot(library, name) for name in dict.fromkeys(others))


def _spot(library: Library, name: str) -> str:
    record = library.bags.get(name) or library.places.get(name)
    return record.label_text if record else name


KIND = QuestionKind("origins", "Out of which bag, from which place", make)
