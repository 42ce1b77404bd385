"""Who keeps a place or route free has it to themselves, whatever the durations turn out to be."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level, Related
from briefgen.proof.deciding.variant import Variant
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.moving.keeping import Intrusion, Occupancy, intrusions
from briefgen.proof.naming import people_words, step_words
from briefgen.proof.plan import PlannedStep
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.lines import list_line, step_line
from briefgen.rules.shared.races import after_line, escape_words, left_out_words, name_for, starts_today
from briefgen.rules.ways.travelled import each_variant, flight
from briefgen.source import Position

_VENT = """
    id: vent, who: desk, do: Vent the line at K2., takes: 2 min, keeps_out: [▸k2]AFTER
    id: look, who: ev1, at: k2, do: Look at the cover., takes: 2 min
    who: ev1, at: lock, do: Go in., takes: 2 min
"""


@rule("keep-out-entered", Level.ERROR, Needs.ORDER,
      wrong=flight(_VENT.replace("AFTER", ""), "ev1 desk"),
      right=flight(_VENT.replace("▸", "").replace("AFTER", ", after: [work/look]"), "ev1 desk"))  # fmt: skip
def keep_out_entered(evidence: Evidence) -> Iterator[Trouble]:
    """While a step keeps a place or route free, nobody else outside is there, passes, or waits there.

    People move as soon as their last step is over, and wait at the place of the next. So whoever comes later sets off
    only when the step that keeps the place free is over, and whoever was there before has done their last step there.
    The finding says who could be there, by how many minutes the plan escapes it today, and the line that settles it.
    The check is repeated with the optional tasks left out.
    """
    seen: set[tuple[str, str, str]] = set()
    for proved, variant, travel in each_variant(evidence):
        for one in intrusions(variant.plan, travel.trails):
            # Of a person's stays at one place the first is told: the others come to light as it is settled.
            key = one.keeper.key, str(one.spot), one.presence.person
            if key not in seen:
                seen.add(key)
                yield _entered(proved, variant, one)


def _entered(proved: SortieEvidence, variant: Variant, one: Intrusion) -> Trouble:
    library, presence = proved.library, one.presence
    person = people_words(library, [presence.person])
    spot = library.places.get(one.spot) or library.routes[one.spot]
    line, place, wait = _settle(proved, variant, one)
    met = presence.coming.step if presence.coming else None
    related = (Related(met.step.position, f"this brings {person} there"),) if met else ()
    words = [
        f"{step_words(library, one.keeper)} keeps {spot.label_text} free of others, but {person} may be there "
        f"meanwhile{left_out_words(proved, variant)}: {_when(proved, variant, presence)}.",
        escape_words(proved, one.keeper, met) if met else "",
        wait,
    ]
    return Trouble(one.spot.position, " ".join(filter(None, words)), related, line, place)


def _when(proved: SortieEvidence, variant: Variant, presence: Occupancy) -> str:
    """From when to when the person may be there."""
    library, steps = proved.library, variant.plan.steps
    last = steps[presence.until] if presence.until is not None else None
    until = f"until {step_words(library, last)} is over" if last else "until the sortie ends"
    if presence.coming is None:
        return f"from the start {until}"
    step = presence.coming.step
    if presence.rides:
        return f"from {step_words(library, step)} {until}"
    return f"from the way to {step_words(library, step)} {until}" if last is not step else (
        f"from the way to {step_words(library, step)} until that is over"
    )  # fmt: skip


def _settle(proved: SortieEvidence, variant: Variant, one: Intrusion) -> tuple[str, Position | None, str]:
    """The line that keeps the two apart, where it goes, and what it does, in the order that is planned today."""
    plan, presence, keeper = variant.plan, one.presence, one.keeper
    last = plan.steps[presence.until] if presence.until is not None else None
    coming = presence.coming
    first_leaves = last is not None and not plan.order.before(keeper.index, last.index)
    may_wait = coming is not None and not plan.order.before(coming.step.index, keeper.index)
    if may_wait and coming and (not first_leaves or starts_today(proved, keeper) < starts_today(proved, coming.step)):
        if presence.rides:
            return (*after_line(keeper, coming.step), "")
        return *_hold(presence.person, coming.origin, keeper, coming.step), _held_words(proved, presence)
    if first_leaves and last:
        return (*after_line(last, keeper), "")
    return "", None, ""


def _hold(person: str, origin: str, keeper: PlannedStep, step: PlannedStep) -> tuple[str, Position]:
    """A step that holds a person back on the near side; `after` at the far end comes too late."""
    more = list_line("after", (), name_for(keeper))
    return step_line([person], origin, "Wait for the word to go on.", "1 min", more), step.step.position


def _held_words(proved: SortieEvidence, presence: Occupancy) -> str:
    library = proved.library
    assert presence.coming is not None  # only who comes can be held back
    place = library.places.get(presence.coming.origin)
    return f"Hold {people_words(library, [presence.person])} back at {place.label_text if place else 'the start'}."


_SWING = "    id: swing, who: ev1, at: k2, do: Swing the cover by hand., takes: 2 min, keeps_out: "
_IN = "\n    who: ev1, at: lock, do: Go in., takes: 2 min\n"


@rule("keeps-out-its-own-people", Level.WARNING, Needs.REFERENCES,
      wrong=flight(f"{_SWING}[▸k2]{_IN}"), right=flight(f"{_SWING}[k3]{_IN}"))  # fmt: skip
def keeps_out_its_own_people(evidence: Evidence) -> Iterator[Trouble]:
    """A step keeps other places free than the one at which its own people are.

    A place is kept free because somebody there could be hurt, and whoever does the step is not spared. Where there is
    only no room for a second person, the place's `room` says so, for every step.
    """
    for task in evidence.library.tasks.values():
        for step in task.steps:
            own = {step.at or task.place, step.to}
            if any(one in evidence.library.people and evidence.library.people[one].outside for one in step.who):
                for spot in (one for one in step.keeps_out if one in own):
                    place = evidence.library.places[spot]
                    others = [one for one in step.keeps_out if one not in own]
                    line = list_line("keeps_out", others) if others else "room: 1  # of the place"
                    yield Trouble(
                        spot.position,
                        f"The step keeps {place.label_text} free, and that is where its own people are: what could "
                        "hurt others there could hurt them. Let it be done from elsewhere, or take this out.",
                        (),
                        line,
                        None if others else place.id.position,
                    )
