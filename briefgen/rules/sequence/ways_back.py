"""Ways back take back what their step changed, all of it, and nothing else waits for them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from briefgen.findings import Level, Related
from briefgen.model.steps import Step
from briefgen.model.tasks import Task, WayBack
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.ordering.states import Item, items_named
from briefgen.proof.plan import PlannedBack, PlannedStep
from briefgen.rules.registry import Needs, Trouble, described, rule
from briefgen.rules.shared.lines import map_line
from briefgen.source import Position

_TASK = """
tasks:
  open:
    title: Open the cover
    purpose: To see inside.
    place: k1
    steps:
      - {id: open, who: ev1, do: Open the cover., takes: 2 min, sets: {cover: open}}
      - {id: look, who: ev1, do: Look inside., takes: 2 min}
      - {id: shut, who: ev1, do: Shut the cover., takes: 2 min, sets: {cover: shut}}
      - {who: ev1, at: lock, do: Come in., takes: 1 min}
    undo: UNDO
sorties: {s: {title: S, flow: {ev1: [open]}, limits: {length: 1 h}}}
"""
_SHUT = "[{id: back, who: ev1, do: Shut the cover., takes: 1 min, sets: {cover: shut}}]"
_RIGHT = _TASK.replace("UNDO", f"[{{of: open, steps: {_SHUT}}}]")

described(
    "way-back-waits", __name__,
    """In a way back, `after` names only steps that stand above in the same way back.

    A way back begins when the step that it takes back is over, whatever else is done or left out by then. What must
    hold for it, its steps require. So nobody waits for a word that is never spoken, and no way back leads in a circle.
    """,
    wrong=_TASK.replace("UNDO", f"[{{of: open, steps: {_SHUT.replace('takes', 'after: [▸look], takes')}}}]"),
    right=_RIGHT,
)  # fmt: skip


@rule(
    "way-back-of-nothing", Level.ERROR, Needs.RECORDS,
    wrong=_TASK.replace("UNDO", f"[{{of: ▸look, steps: {_SHUT}}}]"), right=_RIGHT,
)  # fmt: skip
def way_back_of_nothing(evidence: Evidence) -> Iterator[Trouble]:
    """A way back takes back one step, and that step changes something: a state, or where a tool or bag is.

    Where nothing was changed there is nothing to take back, and mostly another step was meant. Of a block, name the
    step of it: its way back is then written once and holds for every item.
    """
    for task in evidence.library.tasks.values():
        for way in _each_once(task):
            step = task.step(way.of.step)
            if step is None and task.named(way.of.step):
                inner = next((one.origin.local for one in task.named(way.of.step) if _changes(one)), "…")
                yield Trouble(
                    way.of.position, f"“{way.of.step}” is a whole block. Name the step of it that is taken back.",
                    write=f"of: {way.of.step}/{inner}", write_at=way.spot("of"),
                )  # fmt: skip
            elif step is not None and not _changes(step):
                best = next((one.key for one in task.steps if one.sets), None)
                yield Trouble(
                    way.of.position,
                    f"“{step.do.rstrip('.')}” changes nothing, so there is nothing to take back. Name a step that sets "
                    "a state, or write here what this one sets.",
                    (Related(step.position, "this step"),), f"of: {best}" if best else "", way.spot("of"),
                )  # fmt: skip


def _changes(step: Step) -> bool:
    return bool(step.sets or step.picks or step.leaves or step.hands)


def _each_once(task: Task) -> Iterator[WayBack]:
    """The ways back as written: that of a block's step once."""
    seen: set[Position] = set()
    for way in task.undo:
        if way.position not in seen:
            seen.add(way.position)
            yield way


@rule(
    "way-back-twice", Level.ERROR, Needs.RECORDS,
    wrong=_TASK.replace("UNDO", f"[{{of: open, steps: {_SHUT}}}, {{of: ▸open, steps: {_SHUT}}}]"), right=_RIGHT,
)  # fmt: skip
def way_back_twice(evidence: Evidence) -> Iterator[Trouble]:
    """A step has one way back.

    Of two, nobody could say which one counts while the clock runs.
    """
    for task in evidence.library.tasks.values():
        first: dict[str, WayBack] = {}
        for way in task.undo:
            other = first.setdefault(str(way.of), way)
            if other is not way:
                yield Trouble(
                    way.of.position,
                    f"There is a way back of “{way.of.step}” already: make one of the two.",
                    (Related(other.of.position, "the other one"),),
                )


@rule(
    "way-back-leads-elsewhere", Level.ERROR, Needs.ORDER,
    wrong=_TASK.replace("UNDO", f"[{{of: ▸open, steps: {_SHUT.replace('cover: shut', 'lid: open')}}}]")
    + "equipment: {lid: {name: Lid, states: [shut, open], starts: shut, ends: any}, "
    "cover: {name: Cover, states: [shut, open], starts: shut}}",
    right=_RIGHT,
)  # fmt: skip
def way_back_leads_elsewhere(evidence: Evidence) -> Iterator[Trouble]:
    """A way back sets everything that its step set to what it was before.

    Else a stop that relies on it would leave something open that everybody believes to be closed.
    """
    seen: set[Position] = set()
    for case in evidence.sorties.values():
        for way in case.plan.ways_back:
            step = case.plan.steps[way.of]
            written = next(one for one in step.task.undo if one.of.step == step.step.key)
            wrong = next(_not_taken_back(case, step, way), None)
            if wrong is not None and written.of.position not in seen:
                seen.add(written.of.position)
                yield _elsewhere(case, step, written, *wrong)


def _not_taken_back(case: SortieEvidence, step: PlannedStep, way: PlannedBack) -> Iterator[tuple[Item, str, str]]:
    """Items that the step set, with how it found them and how the way back leaves them."""
    after = _set_by(case, step)
    finals = dict(after)
    for one in way.steps:
        finals |= _set_by(case, one)
    for item in after:
        before = case.states.reliance.at(item, step.index)
        if before.certain and finals[item] != before.value:
            yield item, before.value, finals[item]


def _set_by(case: SortieEvidence, step: PlannedStep) -> Mapping[Item, str]:
    named = step.step.sets.items()
    return {item: str(state) for name, state in named for item in items_named(case.plan, step, str(name))}


def _elsewhere(case: SortieEvidence, step: PlannedStep, way: WayBack, item: Item, was: str, now: str) -> Trouble:
    record = case.library.equipment[item[0]]
    name = ", ".join(filter(None, [record.label_text, record.item_words(item[1])]))
    last = way.steps[-1]
    return Trouble(
        way.of.position,
        f"The way back of “{step.step.do.rstrip('.')}” leaves {name} “{now}”, and it was “{was}” before. Let one of "
        "its steps set it.",
        (Related(step.step.spot("sets"), f"this sets it “{_set_by(case, step)[item]}”"),),
        map_line("sets", last.sets.items(), item[0], was), last.spot("sets"),
    )  # fmt: skip
