"""What is done if a step does not go as planned, laid out like a task of its own beside its step.

A step of a case is called after the step that has it: `step/case-1/name`, in a block `block/item/step/case-1/name`.
"""

from __future__ import annotations

from briefgen.expansion.sheet import Draft, Sheets, TaskSheet
from briefgen.findings import Finding, Level
from briefgen.model.fields.limits import ROUNDS
from briefgen.model.fields.values import GO_ON, LEAVE
from briefgen.model.steps import Case, PlannedCase, Step
from briefgen.source import StepRef, Text


def name_in_case(laid: TaskSheet, target: Draft, number: int) -> None:
    """Calls the steps of a case after the step that did not go as planned."""
    for draft in laid.drafts:
        draft.key = f"{target.key}/case-{number}/{draft.key}"
        draft.case = target.key


def planned_case(case: Case, target: Draft, number: int, laid: TaskSheet, sheets: Sheets) -> PlannedCase:
    """The case as planned."""
    made = PlannedCase.model_construct(
        of=StepRef(target.name, case.position), number=number, when=case.when, then=_then(case.then, target, sheets),
        steps=tuple(one.planned() for one in laid.drafts),
    )  # fmt: skip
    made._position, made._keys = case._position, case._keys
    return made


def _then(then: Text, target: Draft, sheets: Sheets) -> Text:
    """Where the plan goes on, in full; a name that leads nowhere stays for all to see."""
    if then in (GO_ON, LEAVE):
        return then
    task, _, step = str(then).partition("/")
    own = sheets[target.task]
    if not step or task in own.blocks:
        task, step = target.task, str(then)
    sheet = sheets.get(task)
    near = target if task == target.task else None
    found = sheet.means(step, near) if sheet and step not in sheet.blocks else None
    return StepRef(found[0].name if found else f"{task}/{step}", then.position)


def waits_beside(draft: Draft, ref: StepRef) -> Finding:
    """A step of a case that would wait for what does not stand above it there."""
    return Finding(
        "case-waits", Level.ERROR, ref.position,
        f"“{draft.step.do}” is done if “{draft.case}” does not go as planned, and would wait for “{ref}”, which does "
        "not stand above it there. Name a step above it, or what must hold as “requires”.", write="requires: {…}",
        write_at=draft.step.spot("after"),
    )  # fmt: skip


def case_within(step: Step) -> Finding:
    """A step of a case or a way back that has a case of its own."""
    return Finding(
        "case-in-a-case", Level.ERROR, step.spot("in_case"),
        f"“{step.do}” is itself done only if something does not go as planned or is taken back, and nobody could "
        "follow cases in cases. Write a second case beside the first.",
    )  # fmt: skip


def too_many(case: Case) -> Finding:
    """Where the cases of all items together make too many steps."""
    return Finding(
        "too-many-cases", Level.ERROR, case.when.position,
        f"The cases of all items together make more than {ROUNDS:,} steps. Write the case at a step outside the block, "
        "or choose fewer items with “where”.", write="where: {…}",
    )  # fmt: skip
