"""Ways back take back what their step changed, all of it, and nothing else waits for them."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level, Related
from briefgen.model.steps import Step, WayBack
from briefgen.model.tasks import Task
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.ordering.taking_back import Astray, astray
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
    for proved in evidence.sorties.values():
        for one in astray(proved.plan, proved.states):
            written = next(way for way in one.step.task.undo if way.of.step == one.step.step.key)
            if written.of.position not in seen:
                seen.add(written.of.position)
                yield _elsewhere(proved, one, written)


@rule("way-back-waits-for-the-clock", Level.ERROR, Needs.RECORDS,
      wrong=_RIGHT.replace("takes: 1 min, sets", "takes: 1 min, ▸not_before: 2 h, sets"), right=_RIGHT)  # fmt: skip
def way_back_waits_for_the_clock(evidence: Evidence) -> Iterator[Trouble]:
    """No step of a way back waits for a moment or for the sun.

    A way back is gone when a stop is called: nobody then waits out there for the clock.
    """
    for task in evidence.library.tasks.values():
        for way in task.undo:
            for step in way.steps:
                if step.not_before is not None:
                    yield Trouble(
                        step.spot("not_before"),
                        f"“{step.do.rstrip('.')}” takes something back, and waits for the clock: a stop does not. "
                        "Take this out.",
                    )


def _elsewhere(proved: SortieEvidence, one: Astray, written: WayBack) -> Trouble:
    record, step = proved.library.equipment[one.item[0]], one.step.step
    name = ", ".join(filter(None, [record.label_text, record.item_words(one.item[1])]))
    last = one.way.steps[-1].step
    return Trouble(
        written.of.position,
        f"The way back of “{step.do.rstrip('.')}” leaves {name} “{one.now}”, and it was “{one.was}” before. Let one of "
        "its steps set it.",
        (Related(step.spot("sets"), f"this sets it “{one.sets}”"),),
        map_line("sets", last.sets.items(), one.item[0], one.was), last.spot("sets"),
    )  # fmt: skip
