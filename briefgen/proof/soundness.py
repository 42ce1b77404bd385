"""What does not hold of a plan: by order, like the rest of the proof, and with the likely durations where times matter.

The one judgement whether a plan is as sound as another: whatever a rule that looks at the plan calls an error is a
fault here, so nothing that is advised (to leave out, to take up, to turn round) brings one about. Pure. A fault is a
plain tuple of words, so that the faults of two plans of one sortie can be compared: what a change brings about is what
the one has and the other has not.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator
from enum import StrEnum
from typing import TYPE_CHECKING

from briefgen.model.tasks import Prerequisite
from briefgen.proof.holding.carrying import too_much
from briefgen.proof.holding.custody import CustodyProof, prove_custody
from briefgen.proof.holding.endings import around, lies_well, may_end, may_lie, owes
from briefgen.proof.holding.fitting import still_fitted
from briefgen.proof.moving.keeping import intrusions
from briefgen.proof.moving.occupied_places import meetings
from briefgen.proof.moving.restraints import slips
from briefgen.proof.moving.travel import Travel
from briefgen.proof.moving.whereabouts import whereabouts
from briefgen.proof.ordering.passages import unsafe_passages
from briefgen.proof.ordering.states import StateProof, prove_states
from briefgen.proof.ordering.taking_back import astray
from briefgen.proof.ordering.using import clashes
from briefgen.proof.plan import Plan, PlannedStep
from briefgen.proof.resources.light import prove_light
from briefgen.proof.resources.supplies import prove_supplies
from briefgen.proof.schedule.network import ROUNDING
from briefgen.proof.schedule.timeline import Timeline

if TYPE_CHECKING:  # evidence keeps what is found here
    from briefgen.proof.evidence import SortieEvidence


class FaultKind(StrEnum):
    """What can be wrong with a plan. Whoever says a fault in words has words for every kind."""

    WAY = "way"
    TETHER = "tether"
    HOME = "home"
    NO_HOME = "no home"
    LEFT_OUT = "left out"
    DARK = "dark"
    GATE = "gate"
    RESERVE = "reserve"
    LIMIT = "limit"
    CROWD = "crowd"
    TAKEN = "taken"
    CLASH = "clash"
    PREREQUISITE = "prerequisite"
    STATE = "state"
    CUSTODY = "custody"
    LOAD = "load"
    FITTED = "fitted"
    ENDS = "ends"
    CARRIED = "carried"
    SPENT = "spent"
    HAZARD = "hazard"
    HELD = "held"
    KEPT_FREE = "kept free"
    TAKEN_BACK = "taken back"
    CASE = "case"


Fault = tuple[str, ...]
"""Its kind, and of what it is: a step by its key, a thing, an item, a person."""


def step_faults(plan: Plan, states: StateProof, custody: CustodyProof) -> Iterator[Fault]:
    """What steps rely on and do not find for sure: states, confirmations, tools and bags. The step comes second."""
    for met in states.met:
        if met.wrong or not met.answer.certain or met.unconfirmed:
            yield FaultKind.STATE, plan.steps[met.need.step].key, *_item(met.need.item)
    for handled in custody.handled:
        if handled.fails:
            yield FaultKind.CUSTODY, plan.steps[handled.handling.step].key, handled.handling.thing
    for load in too_much(plan, custody):
        yield FaultKind.LOAD, load.step.key, load.person
    for stuck in still_fitted(plan, states):
        yield FaultKind.FITTED, stuck.step.key, str(stuck.words)


def all_faults(proved: SortieEvidence, plan: Plan, timeline: Timeline) -> Iterator[Fault]:
    """Everything that does not hold of a plan of this sortie without a circle, or of what is done in its cases."""
    yield from plan_faults(proved, plan, timeline)
    yield from ((FaultKind.CASE, key, when) for key, when in proved.failing_cases(plan, timeline))


def plan_faults(proved: SortieEvidence, plan: Plan, timeline: Timeline) -> Iterator[Fault]:
    """Everything that does not hold of a plan if all goes as planned; what is soon found comes first."""
    travel = proved.travel if plan is proved.plan else proved.travel_of(plan)
    yield from _reach(plan, travel)
    yield from _by_the_clock(proved, timeline, travel)
    yield from _together(proved, plan, travel)
    yield from _prerequisites(proved, plan)
    states, custody = prove_states(plan, proved.state_starts), prove_custody(plan, proved.spot_starts, proved.stock)
    yield from step_faults(plan, states, custody)
    yield from ((FaultKind.TAKEN_BACK, one.step.key, *_item(one.item)) for one in astray(plan, states))
    yield from _endings(plan, states, custody, proved.is_last)
    yield from _passing(plan, states, travel)


def _endings(plan: Plan, states: StateProof, custody: CustodyProof, last: bool) -> Iterator[Fault]:
    """Equipment in a state in which it may not stay, tools and bags where they may not lie, lots that run out."""
    for item in states.ends:
        if owes(plan, states, item, last) and not states.ends_well(item, may_end(plan, item[0]), last):
            yield FaultKind.ENDS, *_item(item)
    for thing, spot in custody.ends.items():
        if custody.left.get(thing, 1) <= 0:
            continue  # of a lot that is spent nothing is left to bring in
        answer = custody.endings.get(thing)
        lies = lies_well(around(custody.ends, thing, spot), may_lie(plan, thing))
        if not lies or (answer and not answer.certain):
            yield FaultKind.ENDS, thing
    yield from ((FaultKind.CARRIED, name) for name in _otherwise(plan, states, custody))
    yield from ((FaultKind.SPENT, thing) for thing, left in custody.left.items() if left < 0)


def _otherwise(plan: Plan, states: StateProof, custody: CustodyProof) -> Iterator[str]:
    """What the sortie says that it leaves over, and leaves otherwise."""
    for name, goal in plan.sortie.carries_over.items():
        spot, record = custody.ends.get(str(name)), plan.library.equipment.get(name)
        if record and all(states.ends[name, item].state != goal for item in record.items):
            yield str(name)
        if spot and all(one.id != goal for one in around(custody.ends, str(name), spot)):
            yield str(name)


def _prerequisites(proved: SortieEvidence, plan: Plan) -> Iterator[Fault]:
    """A prerequisite is over before the last steps of what needs it, or in an earlier sortie."""
    by_task, last = steps_by_task(plan), last_steps(plan)
    earlier = proved.before.tasks_so_far if proved.before else frozenset[str]()
    for task, mine in last.items():
        for need in proved.library.tasks[task].prerequisites:
            needed = str(need.task)
            theirs = last.get(needed, [])
            asking = asking_steps(need, by_task[task], mine)
            late = any(not plan.order.before(one.index, other.index) for one in theirs for other in asking)
            if late or (not theirs and needed not in earlier):
                yield FaultKind.PREREQUISITE, task, needed


def asking_steps(need: Prerequisite, steps: list[PlannedStep], last: list[PlannedStep]) -> list[PlannedStep]:
    """The steps of a task before which a prerequisite must be over: those that it names, else the last ones."""
    if not need.before:
        return last
    named = {found.key for name in need.before for found in steps[0].task.named(name)}
    return [one for one in steps if one.step.key in named]


def steps_by_task(plan: Plan) -> dict[str, list[PlannedStep]]:
    """The steps of each task that is flown, in the plan's order."""
    by_task: dict[str, list[PlannedStep]] = defaultdict(list)
    for step in plan.steps:
        by_task[str(step.task.id)].append(step)
    return dict(by_task)


def last_steps(plan: Plan) -> dict[str, list[PlannedStep]]:
    """For each task the steps that no other step of it comes after for sure."""
    before = plan.order.before
    return {
        # What comes after a step mostly stands behind it, the last of all first: so few pairs are looked at.
        task: [one for one in steps if not any(before(one.index, other.index) for other in reversed(steps))]
        for task, steps in steps_by_task(plan).items()
    }


def _together(proved: SortieEvidence, plan: Plan, travel: Travel) -> Iterator[Fault]:
    """Places too full, be it of people who work or of people who stay, and a tool in two hands."""
    yield from ((FaultKind.CROWD, crowd.place, *sorted(step.key for step in crowd.steps)) for crowd in travel.crowds)
    for stays in meetings(plan, proved.evidence.routes):
        yield FaultKind.TAKEN, stays[0].place, *sorted({f"{one.person} {one.first.task.id}" for one in stays})
    for clash in clashes(plan):
        yield FaultKind.CLASH, clash.thing, *sorted(plan.steps[one].key for one in (clash.step, clash.other))


def _reach(plan: Plan, travel: Travel) -> Iterator[Fault]:
    """Ways that lead nowhere, tethers that do not reach, ways home that are none or take too long, no end at home."""
    for trail in travel.trails.values():
        for visit in trail:
            if visit.way is None or not visit.anchor_in_reach:
                yield FaultKind.WAY, visit.step.key, visit.person
    for over in travel.overreaches:
        yield FaultKind.TETHER, over.first.visit.step.key, over.first.visit.person
    limit = math.inf if travel.return_within is None else travel.return_within
    for person, homes in travel.homewards.items():
        yield from ((FaultKind.HOME, home.visit.step.key, person) for home in homes if home.longest > limit + ROUNDING)
        yield from ((FaultKind.NO_HOME, home.visit.step.key, person) for home in homes if math.isinf(home.longest))
    for person, trail in travel.trails.items():
        if trail and plan.home not in (None, trail[-1].leads_to):
            yield FaultKind.LEFT_OUT, person


def _passing(plan: Plan, states: StateProof, travel: Travel) -> Iterator[Fault]:
    """Hazards on the way that are not controlled by then, and people where somebody else keeps a place free."""
    for passage in unsafe_passages(plan, states, travel.trails):
        yield FaultKind.HAZARD, passage.visit.step.key, passage.hazard, *_item(passage.item)
    for held in slips(plan.library, travel.trails):
        yield FaultKind.HELD, held.visit.step.key, held.visit.person, held.slip, held.word
    for one in intrusions(plan, travel.trails):
        yield FaultKind.KEPT_FREE, one.keeper.key, str(one.spot), one.presence.person


def _by_the_clock(proved: SortieEvidence, timeline: Timeline, travel: Travel) -> Iterator[Fault]:
    """Work in the dark, a sun that never comes, reserves touched, and an end beyond the limit less the reserve."""
    for need in prove_light(proved.sortie, timeline).in_the_dark:
        yield FaultKind.DARK, need.times.step.key
    for index, gate in timeline.gates.items():
        if gate.never_opened(timeline.times[index].start):
            yield FaultKind.GATE, timeline.plan.steps[index].key
    supplies = prove_supplies(proved.library, whereabouts(travel.trails, timeline))
    for person, runs in supplies.runs.items():
        yield from ((FaultKind.RESERVE, person, run.name) for run in runs if run.short)
    if timeline.finish > timeline.usable + ROUNDING:
        yield (FaultKind.LIMIT,)


def _item(item: tuple[str, tuple[str, ...]]) -> Fault:
    return item[0], *item[1]
