"""Worksites: there is room for everybody who could be there at once, and what a step needs there is there."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level, Related
from briefgen.proof.deciding.variant import Variant
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.moving.room import Crowd
from briefgen.proof.naming import people_words, step_words
from briefgen.proof.plan import PlannedStep
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.races import after_line, escape_words, left_out_words
from briefgen.rules.ways.travelled import each_variant, flight, place_spot, place_words

_BOTH_IN = "who: ev1, at: lock, do: Go in., takes: 2 min\nwho: ev2, at: lock, do: Go in., takes: 2 min"


@rule(
    "room-too-small", Level.ERROR, Needs.ORDER,
    wrong=flight(f"who: [ev1, ▸ev2], at: k3, do: Look at the plates., takes: 2 min\n{_BOTH_IN}", "ev1 ev2"),
    right=flight(f"who: [ev1, ev2], at: k2, do: Look at the cover., takes: 2 min\n{_BOTH_IN}", "ev1 ev2"),
)  # fmt: skip
def room_too_small(evidence: Evidence) -> Iterator[Trouble]:
    """A place has room for all people outside who do a step there together.

    Two suits where one fits kick each other, and what is around them.
    """
    seen: set[str] = set()
    for proved, _, travel in each_variant(evidence):
        for crowd in travel.crowds:
            step = crowd.steps[0]
            if len(crowd.steps) > 1 or step.key in seen:
                continue
            seen.add(step.key)
            extra = next(name for name in step.step.who if name == step.outside[crowd.room])
            place = place_words(proved.library, crowd.place)
            yield Trouble(
                extra.position,
                f"{step_words(proved.library, step)} takes place at {place}, where there is room for {crowd.room}.",
                (Related(proved.library.places[crowd.place].position, place),),
            )


@rule(
    "crowded-place", Level.ERROR, Needs.ORDER,
    wrong=flight(f"""
        id: count, who: ev1, at: k3, do: Count the plates., takes: 2 min
        id: look, who: ev2, at: ▸k3, do: Look at the plates., takes: 2 min, after: [work/start]
        id: start, who: desk, do: Say when to start., takes: 1 min
        {_BOTH_IN}
    """, "ev1 ev2 desk"),
    right=flight(f"""
        id: count, who: ev1, at: k3, do: Count the plates., takes: 2 min
        id: look, who: ev2, at: k3, do: Look at the plates., takes: 2 min, after: [work/start, work/count]
        id: start, who: desk, do: Say when to start., takes: 1 min
        {_BOTH_IN}
    """, "ev1 ev2 desk"),
)  # fmt: skip
def crowded_place(evidence: Evidence) -> Iterator[Trouble]:
    """A place has room for all people outside whose steps there could run at the same time.

    That two people miss each other by the planned times is luck: one runs late, and both are there. Steps count that
    nothing orders: no flow, no joint step, no `after`; also those that bring somebody there (`to`). On the way past a
    place, and while they wait for their turn, people make room. The check is repeated with the optional tasks left out.
    The finding says by how many minutes the plan escapes it today and which line would settle it.
    """
    seen: set[tuple[str, frozenset[str]]] = set()
    for proved, variant, travel in each_variant(evidence):
        for crowd in travel.crowds:
            key = crowd.place, frozenset(str(step.task.id) for step in crowd.steps)
            if len(crowd.steps) > 1 and key not in seen:
                seen.add(key)
                yield _meeting(proved, variant, crowd)


def _meeting(proved: SortieEvidence, variant: Variant, crowd: Crowd) -> Trouble:
    *others, last = sorted(crowd.steps, key=lambda step: (_planned_start(proved, step), step.index))
    first, second = _in_turn(variant, crowd.place, others[-1], last)
    line, spot = after_line(first, second)
    names = " and ".join(step_words(proved.library, step) for step in (*others, last))
    return Trouble(
        place_spot(last, crowd.place),
        f"{names} could run at the same time{left_out_words(proved, variant)}, but at "
        f"{place_words(proved.library, crowd.place)} there is room for {crowd.room}, not for "
        f"{people_words(proved.library, crowd.people)}. {escape_words(proved, others[-1], last)}".rstrip(),
        tuple(Related(step.step.position, "this could run beside it") for step in others),
        line, spot,
    )  # fmt: skip


def _planned_start(proved: SortieEvidence, step: PlannedStep) -> float:
    base = proved.plan.step(step.key)
    return proved.timeline.times[base.index].start if base else 0.0


def _in_turn(variant: Variant, place: str, first: PlannedStep, second: PlannedStep) -> tuple[PlannedStep, PlannedStep]:
    """The two steps that one line can order so that the second waits for all of the first one's stay at the place.

    Only for the first step itself where the rest of the stay already waits for the second: else it would be a circle.
    """
    last, plan, person = first, variant.plan, first.outside[0]
    while last.leads_to == place and (beyond := plan.next_for(person, last)) is not None and beyond.place == place:
        last = beyond
    return (first if plan.order.before(second.index, last.index) else last), second


@rule(
    "place-not-said", Level.ERROR, Needs.REFERENCES,
    wrong=flight("who: ev1, do: ▸Look around., takes: 2 min").replace("    place: lock\n", ""),
    right=flight("who: ev1, do: Look around., takes: 2 min"),
)  # fmt: skip
def place_not_said(evidence: Evidence) -> Iterator[Trouble]:
    """Every step that somebody outside does says where: with `at`, or with its task's `place`.

    Without it no way there, no tether and no room can be proved.
    """
    for task in evidence.library.tasks.values():
        for step in task.every_step:
            outside = any(evidence.library.people[name].outside for name in step.who if name in evidence.library.people)
            if outside and not step.at and not task.place:
                yield Trouble(
                    step.do.position,
                    f"Nothing says where “{step.do.rstrip('.')}” is done: write “at” here, or “place” in the task.",
                    write="at: …", write_at=step.position,
                )  # fmt: skip


_OPEN = "who: ev1, at: k2, do: Open the cover., takes: 2 min, sets: {cover: open}"
_SHUT = "who: ev1, at: k2, do: Shut the cover., takes: 2 min, sets: {cover: shut}"


@rule(
    "changed-from-afar", Level.WARNING, Needs.REFERENCES,
    wrong=flight(f"{_OPEN.replace('{cover', '{▸cover').replace('at: k2', 'at: k1')}\n{_SHUT}\n{_BOTH_IN}", "ev1 ev2"),
    right=flight(f"{_OPEN}\n{_SHUT}\n{_BOTH_IN}", "ev1 ev2"),
)  # fmt: skip
def changed_from_afar(evidence: Evidence) -> Iterator[Trouble]:
    """What only people outside change is at the place of the step, or where the step brings them.

    Hands don't reach farther. Mostly the step's `at` is missing, or the equipment's `place` is another one.
    """
    library = evidence.library
    for task in library.tasks.values():
        for step in task.every_step:
            here = {str(name) for name in (step.at or task.place, step.to) if name is not None}
            if not here or not all(library.people[name].outside for name in step.who):
                continue
            for name in step.sets:
                record = library.equipment[name]
                if record.place is not None and record.place not in here:
                    there = place_words(library, record.place)
                    yield Trouble(
                        name.position,
                        f"Step “{step.key}” of “{task.title}” changes {record.label_text}, which is at {there}, but is "
                        f"done at {place_words(library, min(here))}.",
                        (Related(record.spot("place"), f"the place of {record.label_text}"),),
                        f"at: {record.place}", step.spot("at"),
                    )  # fmt: skip
