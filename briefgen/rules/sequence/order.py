"""The order of steps: no circle, nothing waits for what never comes, and prerequisites are done before."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level, Related
from briefgen.model.tasks import Prerequisite
from briefgen.proof.deciding.variant import Variant
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.naming import step_words
from briefgen.proof.ordering.happens_before import Order
from briefgen.proof.plan import Plan, PlannedStep, step_key
from briefgen.proof.soundness import asking_steps, steps_by_task
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.races import after_line, left_out_words
from briefgen.rules.ways.travelled import once
from briefgen.source import Position, Ref

_TWO = """
tasks:
  look:
    title: Look
    purpose: To know.
    place: lock
    steps:
      - {id: see, who: ev1, do: Look at it., takes: 2 min, after: AFTER}
      - {id: say, who: ground, do: Say what it means., takes: 2 min, after: [look/see]}
sorties: {s: {title: S, flow: {ev1: [look], ground: [look]}, limits: {length: 1 h}}}
"""


@rule(
    "order-circle", Level.ERROR, Needs.REFERENCES, spoils=True,
    wrong=_TWO.replace("AFTER", "[▸look/say]"), right=_TWO.replace(", after: AFTER", ""),
)  # fmt: skip
def order_circle(evidence: Evidence) -> Iterator[Trouble]:
    """The orders of steps do not contradict each other.

    Where steps wait for each other in a circle, nobody can ever begin. The finding prints the circle: each step comes
    before the next one, by a person's flow or by an `after`, and the last before the first.
    """
    for proved in evidence.sorties.values():
        circle = proved.plan.circle
        if circle:
            names = " → ".join(step_words(evidence.library, step) for step in (*circle, circle[0]))
            spot = _link_in(proved.plan, [step.index for step in circle]) or circle[0].step.position
            yield Trouble(
                spot, f"In “{proved.sortie.title}” these steps wait for each other in a circle: {names}. Take out one "
                "“after”, or change the order of a flow.",
                tuple(Related(step.step.position, step_words(evidence.library, step)) for step in circle),
            )  # fmt: skip


def _link_in(plan: Plan, circle: list[int]) -> Position | None:
    """Where the first `after` on a circle stands: a circle without one is between two flows, at joint steps."""
    pairs = set(zip(circle, circle[1:] + circle[:1], strict=True))
    spots = [link.position for link in plan.links if (link.first, link.second) in pairs]
    return min(spots, default=None)


@rule(
    "after-elsewhere", Level.ERROR, Needs.REFERENCES,
    wrong="""
tasks:
  look: {title: Look, purpose: To know., place: lock, steps: [{who: ev1, do: Look., takes: 2 min, after: [▸wipe/go]}]}
  wipe: {title: Wipe, purpose: To see., place: lock, steps: [{id: go, who: ev1, do: Wipe it., takes: 1 min}]}
sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
""",
    right="""
tasks:
  look: {title: Look, purpose: To know., place: lock, steps: [{who: ev1, do: Look., takes: 2 min, after: [wipe/go]}]}
  wipe: {title: Wipe, purpose: To see., place: lock, steps: [{id: go, who: ev2, do: Wipe it., takes: 1 min}]}
sorties: {s: {title: S, flow: {ev1: [look], ev2: [wipe]}, limits: {length: 1 h}}}
""",
)  # fmt: skip
def after_elsewhere(evidence: Evidence) -> Iterator[Trouble]:
    """`after` names a step of the same sortie, or one of an earlier sortie (which is over).

    Whoever waits for a step that is not in the plan waits for ever.
    """
    over: set[str] = set()
    for proved in evidence.sorties.values():
        here = {step.key for step in proved.plan.steps}
        for step in proved.plan.steps:
            for ref in step.step.after:
                key = step_key(evidence.library, ref.task, ref.step)
                if key not in here and key not in over:
                    yield Trouble(
                        ref.position, f"{step_words(evidence.library, step)} waits for “{ref}”, which nobody does in "
                        f"“{proved.sortie.title}” or before. Put that task into a flow, or take this “after” out.",
                    )  # fmt: skip
        over |= here


@rule(
    "prerequisite-not-done", Level.ERROR, Needs.ORDER,
    wrong="""
tasks:
  shut: {title: Shut, purpose: Safety., place: lock, steps: [{id: go, who: ev2, do: Shut it., takes: 2 min}]}
  look: {title: Look, purpose: Know., place: lock, prerequisites: [▸shut], steps: [{who: ev1, do: Look., takes: 1 min}]}
sorties: {s: {title: S, flow: {ev1: [look], ev2: [shut]}, limits: {length: 1 h}}}
""",
    right="""
tasks:
  shut: {title: Shut, purpose: Safety., place: lock, steps: [{id: go, who: ev2, do: Shut it., takes: 2 min}]}
  look:
    title: Look
    purpose: To know.
    place: lock
    prerequisites: [shut]
    steps: [{who: ev1, do: Look., takes: 2 min, after: [shut/go]}]
sorties: {s: {title: S, flow: {ev1: [look], ev2: [shut]}, limits: {length: 1 h}}}
""",
)  # fmt: skip
def prerequisite_not_done(evidence: Evidence) -> Iterator[Trouble]:
    """A task's prerequisites are done before it, by the order of steps and not by the planned times.

    Every last step of the prerequisite must come before every last step of the task, or in an earlier sortie: a tool
    may be fetched meanwhile, but nobody is through with the task before the prerequisite is done. The check is repeated
    with each optional task left out, and with all of them left out. With `before`, it is asked of these steps alone.
    """
    over: set[str] = set()
    for proved in evidence.sorties.values():
        # What is wrong in the whole plan is not told again for its variants.
        yield from once(trouble for variant in proved.variants for trouble in _prerequisites(proved, variant, over))
        over |= {str(step.task.id) for step in proved.plan.steps}


def _prerequisites(proved: SortieEvidence, variant: Variant, over: set[str]) -> Iterator[Trouble]:
    by_task = steps_by_task(variant.plan)
    for mine in by_task.values():
        for need in mine[0].task.prerequisites:
            theirs = by_task.get(str(need.task), [])
            if theirs or str(need.task) not in over:
                yield from _prerequisite(proved, variant, need, mine, theirs)


def _prerequisite(
    proved: SortieEvidence, variant: Variant, need: Prerequisite, mine: list[PlannedStep], theirs: list[PlannedStep]
) -> Iterator[Trouble]:
    ref = need.task
    order, task, before = variant.plan.order, mine[0].task, proved.library.tasks[ref].title
    if ref == task.id:
        yield Trouble(ref.position, f"“{task.title}” needs itself first. Take this out.")
        return
    if not theirs:
        nowhere = f"in nobody's flow of “{proved.sortie.title}” or before"
        missing = f"not done{left_out_words(proved, variant)}" if ref in variant.left_out else nowhere
        yield Trouble(ref.position, f"“{task.title}” needs “{before}” first, which is {missing}.")
    for step in _last(order, theirs):
        early = [one for one in asking_steps(need, mine, _last(order, mine)) if not order.before(step.index, one.index)]
        if early:
            waiting = _can_wait(order, early if need.before else mine, early[0], step)
            yield _too_early(proved, variant, ref, step, early, waiting)


def _too_early(
    proved: SortieEvidence, variant: Variant, ref: Ref, step: PlannedStep, early: list[PlannedStep],
    waiting: PlannedStep | None,
) -> Trouble:  # fmt: skip
    one, other = step_words(proved.library, early[0]), step_words(proved.library, step)
    if waiting:
        reason, way_out = f"nothing orders {one} after {other}", ""
        line, spot = after_line(step, waiting)
    else:
        reason, way_out = f"{one} comes before {other}", " Change the order of a flow, or take out an “after”."
        line, spot = "", step.step.position
    return Trouble(
        ref.position,
        f"“{early[0].task.title}” needs “{step.task.title}” first, but {reason}{left_out_words(proved, variant)}."
        f"{way_out}",
        (
            Related(step.step.position, "this must be over before"),
            *(Related(one.step.position, "this may come too early") for one in early),
        ),
        line, spot,
    )  # fmt: skip


def _last(order: Order, steps: list[PlannedStep]) -> list[PlannedStep]:
    """The steps of a task after which, by order, no other of it comes."""
    seats: dict[str, int] = {}
    for step in steps:
        for person, seat in order.seat[step.index].items():
            seats[person] = max(seats.get(person, 0), seat)
    # Each is the last of all its people: few are left to be compared.
    ends = [step for step in steps if all(seats[one] == seat for one, seat in order.seat[step.index].items())]
    return [one for one in ends if not any(order.before(one.index, other.index) for other in ends)]


def _can_wait(order: Order, mine: list[PlannedStep], end: PlannedStep, step: PlannedStep) -> PlannedStep | None:
    """The first step of a task on the way to `end` that can wait for `step`; nothing where that would be a circle."""
    way = (one for one in mine if one is end or order.before(one.index, end.index))
    return next((one for one in way if not order.before(one.index, step.index)), None)
