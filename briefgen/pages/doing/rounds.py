"""A block of steps for every item, told once: for what it is done, and a tick for each step of each round."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from briefgen.language.wording import capital, count, steps_words
from briefgen.model.steps import Origin
from briefgen.model.tasks import Block
from briefgen.model.work import Step, Task
from briefgen.pages.context import PageContext
from briefgen.pages.doing.ticks import Tick
from briefgen.pages.links import step_anchor
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.plan import PlannedStep, chosen_items
from briefgen.proof.schedule.timeline import Leg
from briefgen.units import show_elapsed


@dataclass(frozen=True)
class Round:
    """A round: its item with what is to be said of it, and for each of its steps what there is to tick."""

    words: str
    steps: tuple[tuple[Tick, ...], ...]


@dataclass(frozen=True)
class RoundsRow:
    """A block: its heading, how often it is done, which of its steps for what, and its note; then all its rounds to
    tick, `name` of what they are, and `left` ticks in all.
    """

    head: str
    total: str
    covers: str
    note: str
    name: str
    left: int
    rounds: tuple[Round, ...]


def rounds_row(context: PageContext, task: Task, steps: Sequence[Step], said: Mapping[int, str]) -> RoundsRow:
    """Steps of one block of a task, all their rounds; what is `said` stands at the head of a round, by its number."""
    rounds: dict[int, list[Step]] = {}
    for step in steps:
        rounds.setdefault(step.origin.round, []).append(step)
    origin = steps[0].origin
    block = next((one for one in task.entries if isinstance(one, Block) and one.id == origin.block), None)
    name = context.label("equipment", origin.equipment)
    rows = tuple(_round(context, task, row, said.get(number, "")) for number, row in rounds.items())
    total = count(len(rows), "round")
    return RoundsRow(
        context.texts.plain(str(block.title)) if block and block.title else name,
        total,
        _covers({context.number(task, step) for step in steps}, [row[0].origin for row in rounds.values()]),
        str(block.note or "") if block else "",
        name,
        sum(len(ticks) for row in rows for ticks in row.steps),
        rows,
    )


def remarks(
    context: PageContext, sorties: Sequence[SortieEvidence], steps: Sequence[PlannedStep], person: str = ""
) -> dict[int, str]:
    """By the number of a round, when it begins and which ways in it the first round does not have.

    Nothing where several sorties fly the block, as there is no one time. With `person`, the ways of that person.
    """
    if len(sorties) != 1:
        return {}
    timeline = sorties[0].timeline
    first: dict[int, set[str]] = {}
    found: dict[int, list[str]] = {}
    for step in steps:
        legs = [leg for who in step.outside if (leg := timeline.leg_to.get((who, step.index))) and person in ("", who)]
        been = first.setdefault(step.step.number, {leg.person for leg in legs})
        words = found.setdefault(step.step.origin.round, [show_elapsed(timeline.times[step.index].start)])
        words += (_way(context, leg, person) for leg in legs if leg.person not in been)
    return {number: ", ".join(words) for number, words in found.items()}


def _way(context: PageContext, leg: Leg, person: str) -> str:
    """`go to K3 bay first`, `Heron goes to K3 bay first`."""
    goes = "go" if person else f"{context.callsign(leg.person)} goes"
    return f"{goes} to {context.label('place', leg.goal)} first"


def _covers(numbers: set[int], rounds: Sequence[Origin]) -> str:
    """`Steps 4 to 7 for rack 1, then for the next, up to rack 3`."""
    said = f"{capital(steps_words(numbers))} for {rounds[0].words}"
    if len(rounds) == 1:
        return said
    return (
        f"{said}, then for {rounds[1].words}"
        if len(rounds) == 2
        else f"{said}, then the next, up to {rounds[-1].words}"
    )


def _round(context: PageContext, task: Task, steps: Sequence[Step], remark: str) -> Round:
    words = capital(", ".join(filter(None, [steps[0].origin.words, remark])))
    return Round(words, tuple(tuple(_ticks(context, task, step)) for step in steps))


def _ticks(context: PageContext, task: Task, step: Step) -> Iterator[Tick]:
    """A tick for a step of a round, or for each of its items."""
    number, keep = context.number(task, step), f"task:{task.id}#{step_anchor(step)}"
    equipment = context.library.equipment[step.each.equipment] if step.each else None
    items = chosen_items(equipment, step) if equipment else ()
    if equipment is None or len(items) < 2:
        yield Tick(f"{keep}/done", f"step {number}")
        return
    names = list(zip(*items, strict=True))
    telling = [place for place, column in enumerate(names) if len(set(column)) > 1]
    for item in items:
        yield Tick(f"{keep}/{'-'.join(item)}", f"{number}: {' '.join(item[place] for place in telling)}")
