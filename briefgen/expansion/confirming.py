"""Steps that confirm what another step set, made from its `confirmed_by`; and who waits for them."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from briefgen.expansion.sheet import Draft, Rounds, TaskSheet
from briefgen.findings import Finding, Level
from briefgen.model.inheritance import needed_states
from briefgen.model.library import Library
from briefgen.model.steps import Confirmation, Step
from briefgen.model.tasks import WrittenTask
from briefgen.source import StepRef

_SAME = ("id", "who", "do", "why", "takes", "effort", "sight", "restraint", "calls", "figures", "note", "after")


def confirming_step(step: Step, outside: Collection[str]) -> Step:
    """The step of its own that a step's `confirmed_by` stands for."""
    told = step.confirmed_by
    assert told is not None
    made = Step.model_construct(**{key: getattr(told, key) for key in _SAME}, verifies=step.sets, each=step.each)
    at = told.at or (step.at if not set(told.who).isdisjoint(outside) else None)
    made = made.model_copy(update={"at": at})
    made._position, made._keys = told._position, told._keys
    return made


def name_of(step: Step, number: int) -> str:
    """The id of the step that confirms, or its number."""
    told = step.confirmed_by
    assert told is not None
    return str(told.id or (f"{step.id}-confirmed" if step.id else number))


def wrongly_confirmed(task: str, step: Step, told: Confirmation) -> Iterator[Finding]:
    """Why a `confirmed_by` confirms nothing."""
    if not step.sets:
        yield Finding(
            "nothing-to-confirm", Level.ERROR, step.spot("confirmed_by"),
            f"“{step.do}” sets nothing, so there is nothing to confirm. Say what it sets, or write what is looked at "
            "as a step with “verifies”.", write="sets: {…}", write_at=step.position,
        )  # fmt: skip
    elif step.who and set(told.who) <= set(step.who):
        yield Finding(
            "confirmed-by-the-doer", Level.ERROR, told.who[0].position,
            f"Whoever does “{step.do}” in task “{task}” confirms it alone. Name somebody else, who sees what the doer "
            "overlooks.",
        )  # fmt: skip


def who_waits(
    sheet: TaskSheet, library: Library, task: WrittenTask, flows: frozenset[str]
) -> Iterator[tuple[Draft, Draft]]:
    """What is set, its confirmation, and every step of the task that relies on that next: each pair (first, second).

    Of people who do one thing after another (`flows`), the first step that relies on it; of all others each one, until
    somebody sets it again.
    """
    looks = [(index, one) for index, one in enumerate(sheet.drafts) if one.confirms]
    uses = _Uses(sheet.drafts, library, task) if looks else None
    last: dict[tuple[Draft, Rounds | None, int], Draft] = {}
    for index, look in looks:
        assert look.confirms is not None
        assert uses is not None
        yield look.confirms, look
        for later in uses.next_after(look.confirms, index, flows):
            # Who is no part of the block need not wait for a round and for a later one.
            alone = look.rounds is later.rounds
            last[later, None if alone else look.rounds, index if alone else look.row] = look
    yield from ((look, later) for (later, *_), look in last.items())


Item = tuple[str, tuple[str, ...]]


class _Uses:
    """Where in a task each item is relied on or set, in the order listed."""

    def __init__(self, drafts: Sequence[Draft], library: Library, task: WrittenTask) -> None:
        self._drafts, self._equipment = drafts, library.equipment
        self._rows: dict[Item, list[tuple[int, str, bool]]] = {}
        for index, draft in enumerate(drafts):
            needed = needed_states(library, task, draft.step)
            for named, sets in ((needed, False), (draft.step.sets, True)):
                for name, state in named.items():
                    for item in self.items(draft, str(name)):
                        self._rows.setdefault((str(name), item), []).append((index, str(state), sets))

    def items(self, draft: Draft, name: str) -> tuple[tuple[str, ...], ...]:
        """The items of an equipment that a step means."""
        record, each = self._equipment.get(name), draft.step.each
        if record is None:
            return ()
        if each and each.equipment == name:
            return record.chosen(each.where)
        return (draft.origin.item,) if draft.origin.equipment == name else record.items

    def next_after(self, setter: Draft, index: int, flows: frozenset[str]) -> Iterator[Draft]:
        """The steps behind a place that rely next on what a step set."""
        waiting = set[str]()
        for name, state in setter.step.sets.items():
            for item in self.items(setter, str(name)):
                for later in self.relying((str(name), item), str(state), index):
                    bound = later.people & flows
                    if not bound or not bound <= waiting:
                        waiting |= bound
                        yield later

    def relying(self, item: Item, state: str, after: int) -> Iterator[Draft]:
        """The steps behind that place which rely on the item's state, until somebody sets it anew."""
        for index, value, sets in self._rows.get(item, ()):
            if index > after:
                if sets:
                    return
                if value == state:
                    yield self._drafts[index]


def let_wait(pairs: Iterator[tuple[Draft, Draft]]) -> None:
    """Orders each second step after the first; the words for it stand where the first one does."""
    for first, second in pairs:
        second.wait_for(StepRef(first.name, first.step.position))
