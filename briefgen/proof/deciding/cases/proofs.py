"""Cases, each proved as a plan of its own, taken once: as planned, and with tasks left out that may be. Pure."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from briefgen.model.fields.limits import CASE_PLANS, CASE_PLANS_ADVISED, CASES
from briefgen.model.steps import PlannedCase
from briefgen.proof.deciding.cases.branch import Branch
from briefgen.proof.ordering.states import prove_states
from briefgen.proof.plan import Plan, PlannedStep
from briefgen.proof.schedule.network import ROUNDING, CircleFound
from briefgen.proof.schedule.timeline import Timeline, make_timeline
from briefgen.proof.soundness import Fault, FaultKind, plan_faults

if TYPE_CHECKING:  # evidence keeps what is found here
    from briefgen.proof.evidence import SortieEvidence


@dataclass(frozen=True)
class CaseProof:
    """A case of a sortie. `backwards`: it leads to no step that surely comes later; `unproved`: there are too many.

    `left_out` are the optional tasks without which it is so, as a case must hold with each of them, and all, left out.
    `absent` are people outside who are not out on this sortie; `skipped` the steps that are not done then; `later` by
    how many seconds the sortie ends later, at most, and `finish` when; `dark` the steps that then need light at night.
    """

    case: PlannedCase
    step: PlannedStep
    backwards: bool = False
    unproved: bool = False
    absent: tuple[str, ...] = ()
    fault: Fault | None = None
    skipped: tuple[PlannedStep, ...] = ()
    finish: float = 0.0
    later: float = 0.0
    dark: tuple[str, ...] = ()
    left_out: frozenset[str] = frozenset()

    @property
    def holds(self) -> bool:
        """Whether the plan holds with it."""
        return not (self.backwards or self.unproved or self.absent or self.fault)


def prove_cases(sortie: SortieEvidence) -> Iterator[CaseProof]:
    """Every case of the steps that are flown, in the order of the plan. A plan without circles."""
    plan = sortie.plan
    known = {left_out: _known(sortie, sortie.timeline_without(left_out)) for left_out in _omissions(sortie)}
    written = _written(plan)
    budget = CASE_PLANS if len(written) <= CASES else 0  # of too many none is proved: that is told, and soon
    for step, case in written:
        branch = Branch(plan, step, case)
        if branch.backwards or branch.absent:
            yield CaseProof(case, step, branch.backwards, absent=branch.absent)
            continue
        budget -= branch.many * (len(plan.steps) + len(case.steps)) * len(known)
        if budget < 0:
            yield CaseProof(case, step, unproved=True)
            continue
        proof = _judged(sortie, branch, known[frozenset()])
        yield proof if proof.fault else next(_failing(sortie, proof, known), proof)


def failing(sortie: SortieEvidence, plan: Plan, timeline: Timeline) -> Iterator[tuple[str, str]]:
    """The cases of a plan of this sortie that do not hold, or are too many, each by its step and what is seen."""
    if plan is sortie.plan:
        yield from ((one.step.key, str(one.case.when)) for one in sortie.cases if not (one.holds or one.left_out))
        return
    known: frozenset[Fault] | None = None
    budget = CASE_PLANS_ADVISED
    for step, case in _written(plan):
        branch = Branch(plan, step, case)
        if known is None:
            known = _known(sortie, timeline)
        budget -= branch.many * (len(plan.steps) + len(case.steps))
        if branch.backwards or branch.absent or budget < 0 or _tried(sortie, branch, known)[0]:
            yield step.key, str(case.when)


def made_good(sortie: SortieEvidence, proof: CaseProof) -> bool:
    """Whether a case that does not hold would hold if its step were done once more at its end."""
    timeline = sortie.timeline_without(proof.left_out)
    planned = timeline.plan.step(proof.step.key)
    if proof.fault is None or planned is None:
        return False
    step = planned.step
    again = step.made(step.origin, step.number, f"{step.key}/again", after=(), in_case=())
    case = proof.case.model_copy(update={"steps": (*proof.case.steps, again)})
    return _tried(sortie, Branch(timeline.plan, planned, case), _known(sortie, timeline))[0] is None


def _written(plan: Plan) -> list[tuple[PlannedStep, PlannedCase]]:
    """Every case with its step, in the order of the plan."""
    rows: dict[str, list[PlannedCase]] = defaultdict(list)
    for name, task in {str(step.task.id): step.task for step in plan.steps}.items():
        for case in task.cases:
            rows[f"{name}/{case.of.step}"].append(case)
    return [(step, case) for step in plan.steps for case in rows.get(step.key, ())]


def _omissions(sortie: SortieEvidence) -> list[frozenset[str]]:
    """No task left out, then those that may be, each alone and all together; nothing where there is no case."""
    some = any(step.task.cases for step in sortie.plan.steps)
    return sorted({one.left_out & sortie.tasks for one in sortie.variants} if some else (), key=sorted)


def _known(sortie: SortieEvidence, timeline: Timeline) -> frozenset[Fault]:
    """What does not hold of a plan if all goes as planned."""
    return frozenset(plan_faults(sortie, timeline.plan, timeline))


def _failing(
    sortie: SortieEvidence, proof: CaseProof, all_known: Mapping[frozenset[str], frozenset[Fault]]
) -> Iterator[CaseProof]:
    """The same case where it does not hold, without tasks that may be left out."""
    for left_out, known in all_known.items():
        plan = sortie.timeline_without(left_out).plan
        step = plan.step(proof.step.key)
        if step and left_out:
            branch = Branch(plan, step, proof.case)
            fault = None if branch.backwards or branch.absent else _tried(sortie, branch, known)[0]
            if branch.backwards or branch.absent or fault:
                yield replace(proof, backwards=branch.backwards, absent=branch.absent, fault=fault, left_out=left_out)


def _judged(sortie: SortieEvidence, branch: Branch, known: frozenset[Fault]) -> CaseProof:
    fault, finish, dark = _tried(sortie, branch, known)
    skipped = tuple(branch.plan.steps[index] for index in sorted(branch.dropped))
    later = max(0.0, finish - sortie.timeline.finish)
    return CaseProof(branch.case, branch.step, fault=fault, skipped=skipped, finish=finish, later=later, dark=dark)


def _tried(
    sortie: SortieEvidence, branch: Branch, known: frozenset[Fault]
) -> tuple[Fault | None, float, tuple[str, ...]]:
    """The first fault that is not `known` anyway, when the sortie ends at the latest, and what is done in the dark."""
    finish, dark = 0.0, dict[str, None]()
    fault: Fault | None = next(iter(branch.unprepared()), None)
    for plan in branch.plans():
        try:
            timeline = make_timeline(plan, sortie.evidence.routes)
        except CircleFound:  # no way through: a case whose steps wait for each other
            fault = fault or (FaultKind.CLASH, branch.step.key)
            continue
        finish = max(finish, timeline.finish)
        for one in plan_faults(sortie, plan, timeline):
            if one[0] == FaultKind.DARK:
                dark[one[1]] = None
            elif fault is None and one not in known and not _pardoned(sortie, plan, timeline.finish, one):
                fault = one
    return fault, finish, tuple(dark)


def _pardoned(sortie: SortieEvidence, plan: Plan, finish: float, fault: Fault) -> bool:
    """A case may use the time kept free at the end, and may leave what the sortie found as it found it."""
    if fault[0] == FaultKind.LIMIT:
        return finish <= sortie.sortie.limits.length.likely + ROUNDING
    if fault[0] not in (FaultKind.ENDS, FaultKind.CARRIED) or fault[1] not in plan.library.equipment:
        return False
    states = prove_states(plan, sortie.state_starts)
    kind, equipment, *names = fault
    items = [one for one in states.ends if one[0] == equipment and (kind == FaultKind.CARRIED or one[1] == (*names,))]
    return all(states.outcomes(item) == {sortie.state_starts[item].state} for item in items)
