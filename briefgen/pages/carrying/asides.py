"""What a person does only if something happens: cases right after their step, written ways back below their task."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from briefgen.language.wording import capital
from briefgen.model.steps import PlannedCase
from briefgen.model.work import Step, Task
from briefgen.pages.carrying.rows import CardCase, CardPiece, pieces, unplanned_row
from briefgen.pages.context import PageContext
from briefgen.pages.doing.cases import cases_of, goal_link, then_sentence
from briefgen.pages.rows import Link
from briefgen.proof.deciding.cases.proofs import CaseProof
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.plan import PlannedStep
from briefgen.tables.case_words import cost_words, ends_words


def backs(context: PageContext, task: Task, person: str) -> tuple[CardPiece, ...]:
    """The written ways back in which the person has a part, the last step's first; each bears that step's number."""
    ways = [(found, way) for way in task.undo for found in task.named(way.of.step)[:1] if not found.origin.again]
    ways.sort(key=lambda one: -task.seat(one[0]))
    return pieces(
        [
            replace(unplanned_row(context, task, step, person), number=context.number(task, of))
            for of, way in ways
            if any(person in step.who for step in way.steps)
            for step in way.steps
        ],
        "Taking back ",
    )


def carriers(proved: SortieEvidence) -> tuple[str, ...]:
    """Everybody who has a card: whoever has steps, then who is only called if something does not go as planned."""
    called = (str(person) for proof in proved.cases for step in proof.case.steps for person in step.who)
    return tuple(dict.fromkeys((*proved.plan.flows, *(who for who in called if who in proved.library.people))))


def cases_beside(context: PageContext, task: Task, step: Step, person: str) -> tuple[CardCase, ...]:
    """The cases of a person's step that has no place in time."""
    return tuple(_case(context, task, person, one, None, None) for one in cases_of(task, step))


def told_cases(context: PageContext, proved: SortieEvidence, step: PlannedStep) -> tuple[CardCase, ...]:
    """The cases of a planned step as anybody reads them; of a block of steps, those of its first round."""
    proofs = (proof for proof in proved.cases if proof.step is step and not step.step.origin.again)
    return tuple(_case(context, step.task, "", proof.case, proof, None) for proof in proofs)


def planned_cases(context: PageContext, proved: SortieEvidence, person: str) -> Mapping[int, tuple[CardCase, ...]]:
    """The cases that a person must know, by the index of the step of theirs after which each stands.

    Those of the person's own steps; and those in which they help, after the last step that they have begun by then.
    Of a block of steps, those of its first round. Under -1 what calls somebody who has no step.
    """
    found: dict[int, tuple[CardCase, ...]] = {}
    flow = proved.plan.flows.get(person, ())
    for proof in proved.cases:
        own = person in proof.step.people
        helps = any(person in step.who for step in proof.case.steps)
        if not proof.step.step.origin.again and (own or helps):
            seat = proof.step.index if own else _called_at(proved, flow, proof)
            at = None if own else context.step_link(proof.step.task, proof.step.step)
            row = _case(context, proof.step.task, person, proof.case, proof, at)
            found[seat] = (*found.get(seat, ()), row)
    return found


def _called_at(proved: SortieEvidence, flow: tuple[int, ...], proof: CaseProof) -> int:
    times = proved.timeline.times
    begun = [index for index in flow if times[index].start <= times[proof.step.index].start]
    return begun[-1] if begun else flow[0] if flow else -1


def _case(
    context: PageContext, task: Task, person: str, case: PlannedCase, proof: CaseProof | None, at: Link | None
) -> CardCase:
    rows = [unplanned_row(context, task, step, person) for step in case.steps]
    ends = f"The sortie then ends {ends_words(proof)}." if proof and proof.finish else ""
    costs = f"{capital(cost_words(proof))}." if proof and cost_words(proof) else ""
    then, goal = then_sentence(context, case), goal_link(context, case)
    return CardCase(at, str(case.when), pieces(rows, "In this case "), then, goal, f"{ends} {costs}".strip())
