"""A step with all that it needs, as a row for the templates."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from briefgen.language.wording import capital, listing, takes
from briefgen.model.inheritance import hazard_names, needed_states
from briefgen.model.work import Step, Task
from briefgen.pages.context import PageContext
from briefgen.pages.doing import moments
from briefgen.pages.doing.moments import HoldLine, Pause, Run, TravelLine, each_once
from briefgen.pages.doing.statements import Statement, statement, statements
from briefgen.pages.doing.ticks import TickGrid, tick_grid
from briefgen.pages.doing.tools import InHand, tools_of
from briefgen.pages.links import step_anchor
from briefgen.pages.planning.revisions import Was, step_mark
from briefgen.pages.rows import Badge, Chip, Fact, Link, MarkChip
from briefgen.pages.things.crops import Sight, sights
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.plan import PlannedStep, chosen_items
from briefgen.proof.schedule.gates import clock_words
from briefgen.units import show_duration, show_number

_EFFORTS = {"rest": "Rest", "light": "Light", "moderate": "Moderate", "hard": "Hard"}


Placed = tuple[SortieEvidence, PlannedStep]
"""A step in a sortie."""


@dataclass(frozen=True)
class CallRow:
    """Something said on the loop; `say` is the author's text."""

    who: str
    say: str


@dataclass(frozen=True)
class StepRow:
    """A step. `do`, `why` and `note` are the author's texts; what stands ahead of it comes first.

    `again` are the anchors of its later rounds in a block. `place` is named where it is not the task's own; `takes` are
    three points, where the author gave three; `tools` are what is in hand and from which bag or place it comes, if it
    is not in hand already.
    """

    anchor: str
    again: tuple[str, ...]
    number: int
    keep: str
    statements: tuple[Statement, ...]
    travels: tuple[TravelLine, ...]
    holds: tuple[HoldLine, ...]
    pauses: tuple[Pause, ...]
    marks: tuple[MarkChip, ...]
    place: Link | None
    likely: str
    takes: str
    total: str
    runs: tuple[Run, ...]
    critical: bool
    badges: tuple[Badge, ...]
    was: tuple[Was, ...]
    do: str
    why: str
    note: str
    tools: tuple[InHand, ...]
    facts: tuple[Fact, ...]
    calls: tuple[CallRow, ...]
    sights: tuple[Sight, ...]
    ticks: TickGrid | None
    onward: tuple[tuple[MarkChip, Link], ...]


def step_row(context: PageContext, task: Task, step: Step) -> StepRow:
    """Everything about a step, from the record and from every sortie that has it."""
    key = f"{task.id}/{step.key}"
    return context.once(("step", key), lambda: _step_row(context, task, step, key))


def _step_row(context: PageContext, task: Task, step: Step, key: str) -> StepRow:
    # Done only if a stop is called, or something does not go as planned.
    aside = bool(step.origin.undoes or step.origin.case)
    placed = _planned(context, task, (step,))
    travels = tuple(row for proved, found in placed for row in moments.travels(context, proved, found))
    rounds = (step,) if step.origin.again else moments.rounds_of(task, step)
    every = _planned(context, task, rounds)
    runs = moments.runs(context, [f"{task.id}/{one.key}" for one in rounds])
    holds = each_once(row for proved, found in every for row in moments.holds(context, proved, found))
    place = _place(context, task, step)
    mark = None if aside else step_mark(context, str(task.id), step.key)
    keep = "" if aside else f"task:{task.id}#{step_anchor(step)}"
    return StepRow(
        anchor=step_anchor(step),
        again=tuple(map(step_anchor, rounds[1:])),
        number=context.number(task, step),
        keep=keep,
        statements=_stated(context, task, step, _ways(context, every)),
        travels=travels,
        holds=holds,
        pauses=_pauses(context, placed),
        marks=context.marks(step.who),
        place=place,
        likely=show_duration(step.takes.likely),
        takes=takes(step.takes) if step.takes.three_points else "",
        total=_total(context, step),
        runs=runs,
        critical=any(run.critical for run in runs),
        badges=(*([mark.badge] if mark else []), *_badges(step)),
        was=mark.lines if mark else (),
        do=str(step.do),
        why=str(step.why or ""),
        note=str(step.note or ""),
        facts=tuple(fact for fact in _all_facts(context, task, step, holds) if fact.chips or fact.words),
        tools=tools_of(context, task, step),
        calls=tuple(_calls(context, step)),
        sights=sights(context, step_anchor(step), step.figures),
        ticks=_ticks(context, step, keep) if not step.origin.block else None,
        onward=_onward(context, placed),
    )


def _all_facts(context: PageContext, task: Task, step: Step, holds: tuple[HoldLine, ...]) -> Iterator[Fact]:
    """What stands below the instruction, in this order."""
    yield _in_case(context, task, step)
    yield from _facts(context, task, step)
    yield _after(context, step, holds)


def _stated(context: PageContext, task: Task, step: Step, travels: tuple[TravelLine, ...]) -> tuple[Statement, ...]:
    """What can hurt at a step: on the way to it first."""
    own = statements(context, hazard_names(context.library, task, step))
    return (*_on_the_way(context, task, step, travels), *own)


def _on_the_way(context: PageContext, task: Task, step: Step, travels: tuple[TravelLine, ...]) -> Iterator[Statement]:
    """The hazards of the routes that lead to the step, unless the step carries them itself."""
    own = hazard_names(context.library, task, step)
    names = dict.fromkeys(name for row in travels for name in row.hazards if name not in own)
    for name in names:
        who = listing([row.mark.name for row in travels if name in row.hazards])
        yield statement(context, name, f"On {who}'s way here")


def _planned(context: PageContext, task: Task, steps: Sequence[Step]) -> list[Placed]:
    """Steps of a task in every sortie that has them."""
    keys = [(proved, f"{task.id}/{step.key}") for step in steps for proved in context.sorties_of(str(task.id))]
    return [(proved, found) for proved, key in keys if (found := proved.plan.step(key))]


def _pauses(context: PageContext, placed: Sequence[Placed]) -> tuple[Pause, ...]:
    return tuple(dict.fromkeys(row for proved, step in placed for row in moments.pauses(context, proved, step)))


def _onward(context: PageContext, placed: Sequence[Placed]) -> tuple[tuple[MarkChip, Link], ...]:
    return tuple(dict.fromkeys(row for proved, step in placed for row in moments.next_elsewhere(context, proved, step)))


def _ways(context: PageContext, placed: Sequence[Placed]) -> tuple[TravelLine, ...]:
    """The ways of those who come to any of these steps."""
    return tuple(row for proved, step in placed for row in moments.travels(context, proved, step))


def _place(context: PageContext, task: Task, step: Step) -> Link | None:
    outside = any(context.library.people[person].outside for person in step.who)
    place = step.at or task.place
    return context.link("place", str(place)) if outside and place and place != task.place else None


def _total(context: PageContext, step: Step) -> str:
    """For a step with `each`: how often, and how long all of it is likely to take."""
    if not step.each:
        return ""
    times = len(chosen_items(context.library.equipment[step.each.equipment], step))
    return f"each, {times} times: {show_duration(step.takes.likely * times)}" if times > 1 else ""


def _badges(step: Step) -> Iterator[Badge]:
    if step.not_before is not None:
        yield Badge(f"Not before {clock_words(step.not_before)}", "clock", "gate")
    if step.sight != "clear":
        yield Badge(capital(step.sight), "sight", step.sight.replace(" ", "-"))
    if step.needs_light:
        yield Badge("Needs light", "light", "needed")


def _facts(context: PageContext, task: Task, step: Step) -> Iterator[Fact]:
    yield Fact("needs", "Needs", _states(context, needed_states(context.library, task, step), "needs"))
    yield Fact("sets", "Sets", _states(context, step.sets, "sets"))
    yield Fact("verifies", "Verifies", _states(context, step.verifies, "verifies"))
    spent = (context.thing(name, f"{number} piece{'s' * (number != 1)}" + (" each" if step.each else ""))
             for name, number in step.spends.items())  # fmt: skip
    yield Fact("spends", "Spends", tuple(spent))
    yield Fact("fits", "Fit", tuple(_fitted(context, step)))
    yield Fact("leaves", "Leave", tuple(_left(context, step)))
    handed = (context.thing(name, f"to {context.callsign(str(to))}") for name, to in step.hands.items())
    yield Fact("hands", "Hand over", tuple(handed))
    yield Fact("anchor", "Tether to", (context.chip("place", str(step.anchors)),) if step.anchors else ())
    yield Fact("restraint", "Held by", words=capital(step.restraint or ""))
    yield Fact("enters", "Get into", words=capital(step.enters or ""))
    yield Fact("exits", "Get out of", words=capital(step.exits or ""))
    kept = (context.chip("route" if name in context.library.routes else "place", str(name)) for name in step.keeps_out)
    yield Fact("keeps", "Nobody else at", tuple(kept))
    yield Fact("to", "Leads to", (context.chip("place", str(step.to)),) if step.to else ())
    yield Fact("effort", "Effort", words=_effort(context, step))


def _in_case(context: PageContext, task: Task, step: Step) -> Fact:
    """The step's cases, each leading to what is done then."""
    cases = [case for case in task.cases if case.of.step == step.key]
    chips = (Chip("task", str(case.when), f"#_case-{step.key.replace('/', '-')}-{case.number}") for case in cases)
    return Fact("case", "If not as planned", tuple(chips) if not step.origin.again else ())


def _states(context: PageContext, states: Mapping[Any, Any], verb: str) -> tuple[Chip, ...]:
    return tuple(context.chip("equipment", str(name), str(state), verb) for name, state in states.items())


def _left(context: PageContext, step: Step) -> Iterator[Chip]:
    for name, spot in step.leaves.items():
        tool = context.library.tools.get(name)
        fitted = tool.fitted_as.items() if tool else ()
        if any(step.sets.get(one) == state for one, state in fitted):
            continue
        kind = "place" if spot in context.library.places else "bag"
        where = f"at {context.label(kind, str(spot))}" if kind == "place" else f"in {context.label(kind, str(spot))}"
        yield context.thing(name, where)


def _fitted(context: PageContext, step: Step) -> Iterator[Chip]:
    """The tools that the step fits, each with what it is then part of."""
    for name in step.leaves:
        tool = context.library.tools.get(name)
        for equipment, state in tool.fitted_as.items() if tool else ():
            if step.sets.get(equipment) == state:
                yield context.thing(name, f"{context.label('equipment', str(equipment))} {state}")


def _effort(context: PageContext, step: Step) -> str:
    """The word, and the metabolic rate where somebody outside does it and the programme states rates."""
    if not any(context.library.people[person].outside for person in step.who):
        return ""
    programme = context.library.programme
    if programme is None or programme.effort is None:
        return _EFFORTS[step.effort]
    return f"{_EFFORTS[step.effort]}, {show_number(getattr(programme.effort, step.effort), 0)} W"


def _after(context: PageContext, step: Step, holds: tuple[HoldLine, ...]) -> Fact:
    """The steps that must have ended before, but for those that stand as holds: earlier sorties', and one's own."""
    links = (context.link("task", ref.task, ref.step) for ref in step.after)
    held = {hold.step for hold in holds}
    return Fact("after", "After", tuple(Chip("task", link.words, link.target) for link in links if link not in held))


def _calls(context: PageContext, step: Step) -> Iterator[CallRow]:
    for call in step.calls:
        # Who of the step is not spoken to speaks; the first, where several are left.
        speaker = next((person for person in step.who if person not in call.to), step.who[0])
        hearers = listing([context.callsign(str(person)) for person in call.to])
        yield CallRow(f"{context.callsign(str(speaker))} to {hearers}", str(call.say))


def _ticks(context: PageContext, step: Step, keep: str) -> TickGrid | None:
    return tick_grid(context.library.equipment[step.each.equipment], step, keep) if step.each else None
