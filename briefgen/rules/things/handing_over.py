"""Who leaves or hands over something is where it goes, and with whom."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from briefgen.findings import Level
from briefgen.model.fields.limits import NESTED
from briefgen.model.things import Bag
from briefgen.proof.evidence import Evidence
from briefgen.proof.holding.custody import Spot, first_spots, loops_in
from briefgen.proof.naming import spot_words, step_words, thing_words
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.lines import list_line
from briefgen.rules.shared.samples import task_of

_TAKE = "id: take, who: ev1, do: Take the driver., takes: 1 min, picks: [driver]"
_BACK = "who: ev1, do: Put the driver back., takes: 1 min, leaves: {driver: lock}"


@rule("left-elsewhere", Level.ERROR, Needs.REFERENCES, wrong=task_of(_TAKE, _BACK.replace(": lock", ": ▸k2")),
      right=task_of(_TAKE, _BACK))  # fmt: skip
def left_elsewhere(evidence: Evidence) -> Iterator[Trouble]:
    """A place at which something is left is the place of the step.

    A person can leave things only where they are.
    """
    for proved in evidence.sorties.values():
        for step in proved.plan.steps:
            for thing, goal in step.step.leaves.items():
                if goal in proved.library.places and goal != step.place:
                    place = proved.library.places.get(step.place or "")
                    here = f"is done at {place.label_text}" if place else "has no place"
                    goal_words = spot_words(proved.library, Spot("places", str(goal)))
                    yield Trouble(
                        goal.position,
                        f"{step_words(proved.library, step)} leaves {thing_words(proved.library, thing)} {goal_words}, "
                        f"but {here}.",
                        write=f"at: {goal}",
                        write_at=step.step.position,
                    )


@rule(
    "handed-to-absent", Level.ERROR, Needs.REFERENCES,
    wrong=task_of(_TAKE, "who: ev1, do: Hand it over., takes: 1 min, hands: {driver: ▸ev2}",
                "who: ev2, do: Put it back., takes: 1 min, leaves: {driver: lock}, after: [work/2]",
                flow="ev1: [work], ev2: [work]"),
    right=task_of(_TAKE, "who: [ev1, ev2], do: Hand it over., takes: 1 min, hands: {driver: ev2}",
                "who: ev2, do: Put it back., takes: 1 min, leaves: {driver: lock}", flow="ev1: [work], ev2: [work]"),
)  # fmt: skip
def handed_to_absent(evidence: Evidence) -> Iterator[Trouble]:
    """A hand-over is a step of both: who gives and who takes are there together.

    Only a joint step makes sure that one waits for the other; nothing may float between two people.
    """
    for proved in evidence.sorties.values():
        for step in proved.plan.steps:
            for thing, receiver in step.step.hands.items():
                if receiver not in step.outside:
                    label = proved.library.people[receiver].label_text
                    yield Trouble(
                        receiver.position, f"{step_words(proved.library, step)} hands "
                        f"{thing_words(proved.library, thing)} to "
                        f"{label}, who does not do this step outside with them.",
                        write=list_line("who", step.people, str(receiver)), write_at=step.step.spot("who"),
                    )  # fmt: skip


@rule("bag-in-itself", Level.ERROR, Needs.REFERENCES,
      wrong="bags:\n  bag-a: {stowed: ▸pouch}", right="bags:\n  bag-a: {stowed: lock}")  # fmt: skip
def bag_in_itself(evidence: Evidence) -> Iterator[Trouble]:
    """No bag lies in itself, directly or in a bag that lies in it.

    What lies in a ring of bags is nowhere.
    """
    library = evidence.library
    for loop in loops_in(first_spots(library)):
        bag = library.bags[loop[0]]
        inside = " in ".join(thing_words(library, name) for name in (*loop, loop[0]))
        yield Trouble(bag.stowed.position, f"This stows {inside}. Stow one of them at a place.", write="stowed: …")
    for proved in evidence.sorties.values():
        for step in proved.plan.steps:
            bags = {str(thing): Spot("bags", str(goal)) for thing, goal in step.step.leaves.items()}
            for loop in loops_in(bags):
                goal = next(goal for thing, goal in step.step.leaves.items() if thing == loop[0])
                inside = " in ".join(thing_words(library, name) for name in (*loop, loop[0]))
                yield Trouble(
                    goal.position, f"{step_words(library, step)} leaves {inside}. Leave one of them elsewhere."
                )


@rule("bags-too-deep", Level.ERROR, Needs.RECORDS,
      wrong="bags:\n  b0: {stowed: lock}\n"
      + "".join(f"  b{one}: {{stowed: {'▸' * (one == NESTED)}b{one - 1}}}\n" for one in range(1, NESTED + 1)),
      right="bags:\n  bag-a: {stowed: lock}\n  bag-b: {stowed: bag-a}")  # fmt: skip
def bags_too_deep(evidence: Evidence) -> Iterator[Trouble]:
    """Bags lie in each other 20 deep at most.

    Nobody could tell where a thing is that has to be sought through so many; such a row of bags is a slip.
    """
    for name, depth in _depths(evidence.library.bags).items():
        if depth == NESTED + 1:
            bag = evidence.library.bags[name]
            sentence = f"{thing_words(evidence.library, name)} lies in {NESTED} other bags: stow it further out."
            yield Trouble(bag.stowed.position, sentence)


def _depths(bags: Mapping[str, Bag]) -> Mapping[str, int]:
    """How deep each bag lies, one at a place being 1; far below for bags that lie in themselves. Linear."""
    depths: dict[str, int] = {}
    for name in bags:
        trail: dict[str, None] = {}
        at = name
        while at in bags and at not in depths and at not in trail:
            trail[at] = None
            at = str(bags[at].stowed)
        depth = -2 * len(bags) if at in trail else depths.get(at, 0)
        for one in reversed(trail):
            depth += 1
            depths[one] = depth
    return depths
