"""Restraints: there at the place, got into for the work, and got out of before anybody goes on."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from briefgen.findings import Level, Related
from briefgen.model.work import Step, Task
from briefgen.model.world import Place
from briefgen.proof.deciding.variant import Variant
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.moving.restraints import RestraintSlip, Slip, slips
from briefgen.proof.naming import people_words, step_words
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.lines import step_line
from briefgen.rules.shared.races import left_out_words
from briefgen.rules.ways.travelled import each_variant, flight, place_spot, place_words
from briefgen.source import Position, Text
from briefgen.units import show_duration

_Teller = Callable[[SortieEvidence, Variant, RestraintSlip], Trouble]
_PLATE = "places: {k2: {name: K2, map: [9, 0], restraint: {foot plate: {enter: 3 min, leave: 2 min}, hand rail: {}}}}\n"
_WORK = """
    who: ev1, at: k2, do: Step into the plate., takes: 3 min, enters: foot plate
    who: ev1, at: k2, do: Turn the bolt., takes: 5 min, restraint: foot plate
    who: ev1, at: k2, do: Step out of the plate., takes: 2 min, exits: foot plate
    who: ev1, at: lock, do: Go in., takes: 2 min
"""
_IN, _TURN, _OUT, _HOME = _WORK.strip().splitlines()


@rule(
    "restraint-not-there", Level.ERROR, Needs.REFERENCES,
    wrong=flight("""
        who: ev1, at: k1, do: Look at the feed., takes: 2 min, restraint: ▸foot plate
        who: ev1, at: lock, do: Go in., takes: 2 min
    """),
    right=flight("""
        who: ev1, at: k2, do: Look at the cover., takes: 2 min, restraint: foot plate
        who: ev1, at: lock, do: Go in., takes: 2 min
    """),
)  # fmt: skip
def restraint_not_there(evidence: Evidence) -> Iterator[Trouble]:
    """What should hold a person is one of the things that can hold a person at that place.

    Whoever is not held is pushed away by every turn of a bolt. The place lists its `restraint`; what a step's
    `restraint`, `enters` and `exits` say must be one of its words.
    """
    library = evidence.library
    for place, _, _, word in _named(evidence):
        if word not in place.restraint:
            offered = ", ".join(f"“{one}”" for one in place.restraint)
            yield Trouble(
                word.position,
                f"{place.label_text} has no “{word}” to hold a person"
                + (f". Use {offered}." if offered else ": write its “restraint”."),
                (Related(place.position, place_words(library, str(place.id))),),
            )


def _named(evidence: Evidence) -> Iterator[tuple[Place, Task, Step, Text]]:
    """Every restraint that a step names, with its place."""
    library = evidence.library
    for task in library.tasks.values():
        for step in task.every_step:
            name = step.at or task.place
            words = (step.restraint, step.enters, step.exits)
            if name is not None:
                yield from ((library.places[name], task, step, word) for word in words if word is not None)


@rule("nothing-to-enter", Level.WARNING, Needs.REFERENCES,
      wrong=flight("\n".join([_IN.replace("enters: ", "enters: ▸"), _TURN, _HOME])),
      right=_PLATE + flight(_WORK))  # fmt: skip
def nothing_to_enter(evidence: Evidence) -> Iterator[Trouble]:
    """What a step enters or exits takes time to get into or out of.

    Without times a place's `restraint` is a label, and nothing is proved of who is in it: nobody would be told to get
    out before going on. The place says `enter`, `leave` or both.
    """
    for place, task, step, word in _named(evidence):
        if word not in place.restraint or place.grip(word) or word is step.restraint:
            continue
        yield Trouble(
            word.position,
            f"Step “{step.key}” of “{task.title}” gets into or out of the {word}, but {place.label_text} does not say "
            "how long that takes.",
            (Related(place.spot("restraint"), "what can hold a person there"),),
            f"restraint: {{{word}: {{enter: 3 min, leave: 2 min}}}}", place.spot("restraint"),
        )  # fmt: skip


@rule("restraint-too-quick", Level.WARNING, Needs.REFERENCES,
      wrong=_PLATE + flight("\n".join([_IN.replace("takes: 3", "▸takes: 1"), _TURN, _OUT, _HOME])),
      right=_PLATE + flight(_WORK))  # fmt: skip
def restraint_too_quick(evidence: Evidence) -> Iterator[Trouble]:
    """A step that gets somebody into or out of a restraint takes as long as the place says that takes.

    A plan that is shorter than getting in is late before the work begins. The likely times are compared.
    """
    for place, task, step, word in _named(evidence):
        grip = place.grip(word)
        span = grip.enter if grip and word is step.enters else grip.leave if grip and word is step.exits else None
        if span is not None and step.takes.likely < span.likely:
            yield Trouble(
                step.spot("takes"),
                f"Step “{step.key}” of “{task.title}” takes {show_duration(step.takes.likely)}, but "
                f"{place.label_text} says that getting {'into' if word is step.enters else 'out of'} the {word} takes "
                f"{show_duration(span.likely)}.",
                (Related(place.spot("restraint"), "the time stands here"),),
            )


@rule("restraint-not-entered", Level.ERROR, Needs.ORDER,
      wrong=_PLATE + flight("\n".join([_TURN.replace("restraint: ", "restraint: ▸"), _HOME])),
      right=_PLATE + flight(_WORK))  # fmt: skip
def restraint_not_entered(evidence: Evidence) -> Iterator[Trouble]:
    """Work in a restraint that takes time to get into is done by somebody who is in it.

    Who is not in the foot plate is turned by the bolt instead. A step before it, of the same person at the same place,
    `enters` it; a step that `exits` it needs somebody in it, too. The check is repeated with the optional tasks left
    out.
    """
    yield from _once(evidence, frozenset({Slip.NOT_IN}), _not_in)


@rule("restraint-not-left", Level.ERROR, Needs.ORDER,
      wrong=_PLATE + flight("\n".join([_IN, _TURN, _HOME.replace("at: ", "at: ▸")])),
      right=_PLATE + flight(_WORK))  # fmt: skip
def restraint_not_left(evidence: Evidence) -> Iterator[Trouble]:
    """Nobody goes anywhere, rides on, or gets into another restraint while one still holds them.

    A boot that is locked in keeps its wearer where they are, and the time to get out belongs to the way home. A step
    `exits` the restraint before. The check is repeated with the optional tasks left out.
    """
    yield from _once(evidence, frozenset(Slip) - {Slip.NOT_IN}, _not_out)


def _once(evidence: Evidence, kinds: frozenset[Slip], tell: _Teller) -> Iterator[Trouble]:
    """One finding for a person's step and restraint: what is wrong in the whole plan is not told for its variants."""
    seen: set[tuple[str, str, Slip, str]] = set()
    for proved, variant, travel in each_variant(evidence):
        for one in slips(proved.library, travel.trails):
            key = one.visit.person, one.visit.step.key, one.slip, one.word
            if one.slip in kinds and key not in seen:
                seen.add(key)
                yield tell(proved, variant, one)


def _not_in(proved: SortieEvidence, variant: Variant, one: RestraintSlip) -> Trouble:
    library, visit = proved.library, one.visit
    step, person = visit.step.step, people_words(library, [visit.person])
    word = step.exits if step.exits == one.word else step.restraint
    does = "gets out of" if word is step.exits else "is done in"
    grip = library.places[one.place].grip(one.word)
    takes = show_duration(grip.enter.likely) if grip and grip.enter else "1 min"
    more = f"enters: {one.word}"
    return Trouble(
        word.position if word is not None else step.position,
        f"{step_words(library, visit.step)} {does} the {one.word} at {place_words(library, one.place)}, but {person} "
        f"is not in it{left_out_words(proved, variant)}.",
        (Related(library.places[one.place].spot("restraint"), "what can hold a person there"),),
        step_line([visit.person], one.place, f"Get into the {one.word}.", takes, more), step.position,
    )  # fmt: skip


def _not_out(proved: SortieEvidence, variant: Variant, one: RestraintSlip) -> Trouble:
    library, visit = proved.library, one.visit
    step, person = step_words(library, visit.step), people_words(library, [visit.person])
    what = {
        Slip.TRAVELS: f"sets off to {step}",
        Slip.RIDES: f"is taken away by {step}",
        Slip.STILL_IN: f"gets into the {visit.step.step.enters} by {step}",
        Slip.STAYS: "has no more steps",
    }[one.slip]
    grip = library.places[one.place].grip(one.word)
    takes = show_duration(grip.leave.likely) if grip and grip.leave else "1 min"
    more = f"exits: {one.word}"
    since = (Related(one.since.step.step.spot("enters"), "entered here"),) if one.since else ()
    return Trouble(
        _spot(one),
        f"{person} {what}, but is still in the {one.word} at {place_words(library, one.place)}"
        f"{left_out_words(proved, variant)}.",
        since,
        step_line([visit.person], one.place, f"Get out of the {one.word}.", takes, more), visit.step.step.position,
    )  # fmt: skip


def _spot(one: RestraintSlip) -> Position:
    step = one.visit.step.step
    if one.slip is Slip.TRAVELS:
        return place_spot(one.visit.step, one.visit.place)
    words = {Slip.RIDES: step.to, Slip.STILL_IN: step.enters}.get(one.slip)
    if one.slip is Slip.STAYS and one.since:
        return one.since.step.step.spot("enters")
    return words.position if words is not None else step.position
