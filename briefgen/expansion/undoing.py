"""Ways back of a task's steps, laid out like tasks of their own: what they take back, for which items, in what order.

A way back is called after the step that it takes back: `step/undo/name`, in a block `block/item/step/undo/name`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from briefgen.expansion.rounds import each_of
from briefgen.expansion.sheet import Draft, Rounds, TaskSheet
from briefgen.findings import Finding, Level
from briefgen.model.fields.values import PREVIOUS
from briefgen.model.library import Library
from briefgen.model.steps import Case, Step, WayBack
from briefgen.model.tasks import Block, Undo
from briefgen.source import StepRef

UNDO = "undo"
"""What stands between the step that is taken back and a step of the way back."""


def taken_back(undo: Undo, sheet: TaskSheet) -> list[Draft | None]:
    """The steps that are taken back: one, or a block's step in every round. None where no step is called so."""
    name = str(undo.of).removeprefix(f"{sheet.task}/")
    if name in sheet.steps:
        return [sheet.steps[name]]
    block, _, step = name.partition("/")
    rounds = sheet.blocks.get(block)
    found = (rounds.named(round_, step) for round_ in rounds.rounds) if rounds and step else ()
    return [one for one in found if one] or [None]


def done_back(undo: Undo | Case, target: Draft | None, library: Library) -> Iterator[Step | Block]:
    """What is done to take a step back: for the same items, where it does not say otherwise."""
    for entry in undo.steps:
        if isinstance(entry, Block) or target is None:
            yield entry
        elif target.rounds is not None:
            block = target.rounds.block
            each = each_of(block, entry, library.equipment.get(block.each.equipment), target.origin.item)
            if each is not None:
                yield entry.model_copy(update={"each": each})
        else:
            each = target.step.each
            same = each is not None and entry.each is None and each.equipment in entry.sets
            yield entry.model_copy(update={"each": each}) if same else entry


def name_after(laid: TaskSheet, target: Draft | None) -> None:
    """Calls the steps of a way back after the step that is taken back, whatever they are called within it."""
    undone = target.key if target else ""
    for draft in laid.drafts:
        draft.key = f"{undone}/{UNDO}/{draft.key}"
        draft.undoes = undone


def waits_within(laid: TaskSheet, outside: Callable[[Draft, StepRef], Finding]) -> Iterator[Finding]:
    """Lets the steps of a way back or a case wait for those above them; waiting for anything else is a finding."""
    above: set[str] = set()
    for draft in laid.drafts:
        for ref in draft.step.after:
            found = _meant(laid, draft, ref)
            if found and all(one.name in above for one in found):
                for one in found:
                    draft.wait_for(StepRef(one.name, ref.position))
            else:
                yield outside(draft, ref)
        above.add(draft.name)


def _meant(laid: TaskSheet, draft: Draft, ref: StepRef) -> list[Draft]:
    if ref != PREVIOUS:
        return laid.means(str(ref), draft) or []
    if isinstance(draft.above, Rounds):
        return draft.above.last
    return [draft.above] if draft.above else []


def waits_outside(draft: Draft, ref: StepRef) -> Finding:
    """A step of a way back that would wait for what does not stand above it there."""
    return Finding(
        "way-back-waits", Level.ERROR, ref.position,
        f"“{draft.step.do}” belongs to a way back and would wait for “{ref}”, which does not stand above it there. A "
        "way back begins when the step that it takes back is over. Name a step above it, or what must hold as "
        "“requires”.", write="requires: {…}", write_at=draft.step.spot("after"),
    )  # fmt: skip


def way_back(undo: Undo, target: Draft | None, laid: TaskSheet) -> WayBack:
    """The way back as planned. Where it takes back nothing that is there, `of` still says what was written."""
    of = StepRef(f"{laid.task}/{target.key}" if target else f"{laid.task}/{undo.of}", undo.of.position)
    made = WayBack.model_construct(of=of, steps=tuple(one.planned() for one in laid.drafts))
    made._position, made._keys = undo._position, undo._keys
    return made
