"""What `after` names, told in full: short names of the task, `previous`, whole blocks, and the same round's step."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.expansion.sheet import Draft, Rounds, Sheets, TaskSheet
from briefgen.findings import Finding, Level
from briefgen.model.fields.values import PREVIOUS
from briefgen.model.tasks import Block
from briefgen.source import StepRef


def name_waits(draft: Draft, sheets: Sheets) -> Iterator[Finding]:
    """Lets a step wait for what its `after` names. A name that leads nowhere stays, in full, for all to see."""
    for ref in draft.step.after:
        if ref == PREVIOUS:
            yield from _previous(draft, ref)
            continue
        sheet, name = _where(draft, ref, sheets)
        if _own_block(draft, sheet, name):
            yield _waits_for_itself(draft, ref)
            continue
        found = sheet.means(name, draft if sheet.task == draft.task else None) if sheet else None
        if found is None:
            full = name if sheet is None else f"{sheet.task}/{name}"
            draft.wait_for(ref if full == ref else StepRef(full, ref.position))
        for one in found or ():
            draft.wait_for(ref if one.name == ref else StepRef(one.name, ref.position))


def _where(draft: Draft, ref: StepRef, sheets: Sheets) -> tuple[TaskSheet | None, str]:
    """The task that is meant, and the name within it: its own first, where that has such a step or block."""
    own = sheets[draft.task]
    if not ref.step or ref.task in own.blocks:
        return own, str(ref)
    if ref.task in sheets:
        return sheets[ref.task], ref.step
    return None, str(ref)


def _previous(draft: Draft, ref: StepRef) -> Iterator[Finding]:
    above = draft.above
    if isinstance(above, Draft):
        draft.wait_for(StepRef(above.name, ref.position))
    elif isinstance(above, Rounds):
        for one in above.last:
            draft.wait_for(StepRef(one.name, ref.position))
    elif not draft.origin.again:
        yield Finding(
            "nothing-previous", Level.ERROR, ref.position,
            f"“{PREVIOUS}” names the step above, but this is the first of task “{draft.task}”. Name another step, "
            "or take it out.",
        )  # fmt: skip


def _own_block(draft: Draft, sheet: TaskSheet | None, name: str) -> bool:
    return sheet is not None and draft.rounds is not None and sheet.blocks.get(name) is draft.rounds


def _waits_for_itself(draft: Draft, ref: StepRef) -> Finding:
    assert draft.rounds is not None
    block: Block = draft.rounds.block
    return Finding(
        "waits-for-its-own-block", Level.ERROR, ref.position,
        f"This step stands in the block “{block.id}” and would wait until the whole block is over. Name the step of it "
        "that must be over.", write=f"after: [{draft.task}/{block.id}/…]", write_at=draft.step.spot("after"),
    )  # fmt: skip
