"""The arm sheet: every move of the arm, with who rides, what must hold, what is said, and what is done if it fails.

A move is a step that leads people outside from one place to another while somebody who is not outside drives.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.language.wording import capital, listing, span
from briefgen.model.inheritance import needed_states
from briefgen.pages.carrying.asides import told_cases
from briefgen.pages.carrying.clock import clock_time
from briefgen.pages.carrying.reading import SaidRow, StayRow, said, stays
from briefgen.pages.carrying.rows import CardCase
from briefgen.pages.context import PageContext
from briefgen.pages.doing.statements import Statement, statements
from briefgen.pages.rows import Link, MarkChip
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.ordering.rides import is_ride, stop_word
from briefgen.proof.plan import PlannedStep
from briefgen.units import show_duration, show_elapsed


@dataclass(frozen=True)
class ArmMove:
    """A move of the arm. `do` and `why` are the author's texts; `facts` are what must hold, by its heading."""

    number: int
    step: Link
    do: str
    why: str
    riders: tuple[MarkChip, ...]
    drivers: tuple[MarkChip, ...]
    origin: str
    goal: str
    elapsed: str
    clock: str
    takes: str
    statements: tuple[Statement, ...]
    facts: tuple[tuple[str, str], ...]
    stays: tuple[StayRow, ...]
    calls: tuple[SaidRow, ...]
    cases: tuple[CardCase, ...]


def moves(context: PageContext, proved: SortieEvidence) -> tuple[ArmMove, ...]:
    """Every move of a sortie in the order of time; none where nobody drives anybody."""
    times = proved.timeline.times
    found = sorted(
        (one for one in proved.plan.steps if is_ride(one)), key=lambda one: (times[one.index].start, one.index)
    )
    return tuple(_move(context, proved, step, number) for number, step in enumerate(found, start=1))


def _move(context: PageContext, proved: SortieEvidence, step: PlannedStep, number: int) -> ArmMove:
    times = proved.timeline.times[step.index]
    return ArmMove(
        number,
        context.step_link(step.task, step.step),
        step.step.told,
        str(step.step.why or ""),
        context.marks(step.outside),
        context.marks(person for person in step.people if person not in step.outside),
        capital(context.label("place", step.place or "")),
        capital(context.label("place", step.leads_to or "")),
        show_elapsed(times.start),
        clock_time(proved, times.start),
        show_duration(times.end - times.start),
        statements(context, [str(one.hazard) for one in step.hazards]),
        tuple(_facts(context, proved, step)),
        tuple(stays(context, proved, step)),
        tuple(said(context, step)),
        tuple(told_cases(context, proved, step)),
    )


def _facts(context: PageContext, proved: SortieEvidence, step: PlannedStep) -> Iterator[tuple[str, str]]:
    yield "Stops at the word", _stops(context, proved, step)
    needs = needed_states(context.library, step.task, step.step)
    states = [f"{capital(context.label('equipment', str(name)))}: {state}" for name, state in needs.items()]
    if states:
        yield "Must hold", "; ".join(states)
    if step.step.restraint:
        yield "Held by", str(step.step.restraint)
    tethers = [_tether(context, proved, person, step) for person in step.outside]
    yield "Tether on", listing(list(dict.fromkeys(tethers)))
    kept = [
        context.label("route" if name in context.library.routes else "place", str(name)) for name in step.step.keeps_out
    ]
    if kept:
        yield "Nobody else at", listing(kept)
    if proved.light.known:
        yield "Light", _light(proved, step)


def _stops(context: PageContext, proved: SortieEvidence, step: PlannedStep) -> str:
    """The word that stops the move, and who has said it to whom."""
    found = stop_word(proved.plan, step)
    if found is None:
        return "none is said between those two up to here: agree on one"
    hearers = listing([context.callsign(person) for person in found.hearers])
    begins = show_elapsed(proved.timeline.times[found.step.index].start)
    return f"“{found.word}”, {context.callsign(found.speaker)} to {hearers} at {begins}"


def _tether(context: PageContext, proved: SortieEvidence, person: str, step: PlannedStep) -> str:
    """The anchor on which the person's safety tether hangs by then; at the start that of home."""
    anchor = proved.plan.home or ""
    for index in proved.plan.flows.get(person, ()):
        if index == step.index:
            break
        anchor = str(proved.plan.steps[index].step.anchors or anchor)
    return capital(context.label("place", anchor)) if anchor else "no anchor"


def _light(proved: SortieEvidence, step: PlannedStep) -> str:
    """Whether it is planned by day or in the night, or which night it meets."""
    times = proved.timeline.times[step.index]
    met = [(dusk, dawn) for dusk, dawn in proved.light.nights if dusk < times.end and times.start < dawn]
    if not met:
        return "by day, as planned"
    whole = any(dusk <= times.start and times.end <= dawn for dusk, dawn in met)
    nights = listing([span(dusk, dawn) for dusk, dawn in met])
    return f"in the night {nights}, as planned" if whole else f"meets the night {nights}, as planned"
