"""Hazards with controls: what carries one requires them, they are marked, and nobody passes one before they hold."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level, Related
from briefgen.model.inheritance import inherited
from briefgen.model.library import SINGULAR
from briefgen.proof.deciding.variant import Variant
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.naming import item_words, people_words, step_words
from briefgen.proof.ordering.passages import Fault, Passage, unsafe_passages
from briefgen.proof.ordering.states import Item
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.lines import list_line, map_line, step_line
from briefgen.rules.shared.races import left_out_words, name_for
from briefgen.rules.ways.travelled import each_variant, flight, place_spot, place_words

_PULL = """
tasks:
  work:
    title: Work
    purpose: To mend it.
    place: lock
    steps:
      - {id: isolate, who: ev2, do: Switch the feed off., takes: 2 min, sets: {feed: off}}
      - {id: confirm, who: ground, do: Confirm it off., takes: 1 min, verifies: {feed: off}, after: [work/isolate]}
      - {id: pull, who: ev1, do: Pull the plug., takes: 5 min, after: [work/confirm], KEYS}
      - {id: restore, who: ev2, do: Switch the feed on., takes: 2 min, sets: {feed: on}, after: [work/pull]}
sorties: {s: {title: S, flow: {ev1: [work], ev2: [work], ground: [work]}, limits: {length: 1 h}}}
"""


@rule("hazard-not-controlled", Level.ERROR, Needs.REFERENCES,
      wrong=_PULL.replace("KEYS", "hazards: [▸shock]"),
      right=_PULL.replace("KEYS", "hazards: [shock], requires: {feed: off}"))  # fmt: skip
def hazard_not_controlled(evidence: Evidence) -> Iterator[Trouble]:
    """A step that carries a hazard requires the states that keep the hazard controlled.

    Only what a step requires is proved to hold while hands are near.
    """
    for task in evidence.library.tasks.values():
        for step in task.every_step:
            for ref in step.hazards:
                hazard = evidence.library.hazards[ref]
                for name, state in hazard.controls.items():
                    if step.requires.get(name) != state:
                        label = evidence.library.equipment[name].label_text
                        yield Trouble(
                            ref.position,
                            f"Step “{step.key}” of “{task.title}” carries the hazard “{hazard.label_text}”, but does "
                            f"not require {label} to be “{state}”.",
                            (Related(hazard.spot("controls"), "what controls the hazard"),),
                            map_line("requires", step.requires.items(), name, state), step.spot("requires"),
                        )  # fmt: skip


_IN = "\nwho: ev1, at: lock, do: Go in., takes: 1 min"
_HOT = (
    "places: {k1: {name: K1, map: [6, 0], anchor: true, hazards: [hot]}}\n"
    "hazards: {hot: {signal: caution, hazard: It is hot., consequence: It burns., avoid: Keep off.}}\n"
)


@rule("hazard-repeated", Level.WARNING, Needs.REFERENCES,
      wrong=_HOT + flight("who: ev1, at: k1, do: Look., takes: 2 min, hazards: [▸hot]" + _IN),
      right=_HOT + flight("who: ev1, at: k1, do: Look., takes: 2 min" + _IN))  # fmt: skip
def hazard_repeated(evidence: Evidence) -> Iterator[Trouble]:
    """A step does not repeat a hazard that it inherits.

    The hazards of a place belong to every step that somebody outside does there, those of an equipment to every step
    that sets it, those of a tool to every step that uses it: with their statement and with their controls, which must
    hold. Written a second time they would be taken off in one place and forgotten in the other.
    """
    library = evidence.library
    for task in library.tasks.values():
        for step in task.every_step:
            twice = {str(one.hazard): one for one in inherited(library, task, step)}
            for ref in step.hazards:
                one = twice.get(str(ref))
                if one and ref in library.hazards:
                    source = library.of(SINGULAR[one.kind])[one.source]
                    yield Trouble(
                        ref.position,
                        f"The step has “{library.hazards[ref].label_text}” from {source.label_text} already: take it "
                        "out here.",
                        (Related(one.hazard.position, "it stands here"),),
                    )


_HAZARD = """
hazards:
  spring:
    signal: warning
    hazard: The open lid is held back by a spring.
    consequence: The lid can crush a hand.
    avoid: Work below the lid only while its latch is shut.
    controls: {cover: shut}
"""


@rule("control-not-marked", Level.ERROR, Needs.REFERENCES,
      wrong=_HAZARD.replace("{cover", "{▸cover"),
      right=_HAZARD.replace("cover: shut", "valve: closed"))  # fmt: skip
def control_not_marked(evidence: Evidence) -> Iterator[Trouble]:
    """Equipment that controls a hazard is marked with `control: true`.

    Only of a control is it proved that somebody other than who set it has confirmed it before anybody relies on it.
    """
    library = evidence.library
    told: set[str] = set()
    for hazard in library.hazards.values():
        for name in hazard.controls:
            record = library.equipment[name]
            if not record.control and name not in told:
                told.add(name)
                yield Trouble(
                    name.position,
                    f"{record.label_text} controls the hazard “{hazard.label_text}”, but is not marked as a control: "
                    "nobody would have to confirm its state.",
                    (Related(record.id.position, record.label_text),),
                    "control: true", record.spot("control"),
                )  # fmt: skip


_BEAM = """
hazards:
  beam: {signal: danger, hazard: It is live., consequence: It burns., avoid: Keep off., controls: {feed: off}}
routes:
  k1-k2: {between: [k1, k2], length: 3 m, hazards: [beam]}
tasks:
  silence:
    title: Silence the beam
    purpose: Safety.
    steps:
      - {id: off, who: desk, do: Switch the feed off., takes: 2 min, sets: {feed: off}}
      - {id: confirm, who: ground, do: Confirm that., takes: 1 min, verifies: {feed: off}, after: [silence/off]}
      - {id: on, who: desk, do: Switch the feed on., takes: 2 min, sets: {feed: on}, after: [look/in]}
  look:
    title: Look
    purpose: To know.
    place: k2
    steps: STEPS
      - {id: look, who: ev1, at: ▸k2, do: Look at the cover., takes: 2 min, after: [silence/confirm]}
      - {id: in, who: ev1, at: lock, do: Go in., takes: 2 min}
sorties: {s: {title: S, flow: {ev1: [look], desk: [silence], ground: [silence]}, limits: {length: 1 h}}}
"""
_HOLD = "\n      - {who: ev1, at: k1, do: Wait for the word of Ground., takes: 1 min, after: [silence/confirm]}"


@rule("hazard-on-the-way", Level.ERROR, Needs.ORDER,
      wrong=_BEAM.replace(" STEPS", ""), right=_BEAM.replace("▸", "").replace(" STEPS", _HOLD))  # fmt: skip
def hazard_on_the_way(evidence: Evidence) -> Iterator[Trouble]:
    """Who passes a route's hazard sets off only when its controls hold, and are confirmed.

    People move to their next step as soon as the one before is over, and wait there. So an `after` at the far end
    comes too late: they have passed the hazard by then. A step before it, on the near side, holds them back.
    """
    seen: set[tuple[str, str, str, Item]] = set()
    for proved, variant, travel in each_variant(evidence):
        for passage in unsafe_passages(variant.plan, variant.states, travel.trails):
            key = passage.visit.person, passage.visit.step.key, passage.hazard, passage.item
            if key not in seen:
                seen.add(key)
                yield _unsafe(proved, variant, passage)


def _unsafe(proved: SortieEvidence, variant: Variant, passage: Passage) -> Trouble:
    library, visit = proved.library, passage.visit
    person, item = people_words(library, [visit.person]), item_words(library, passage.item)
    hazard, route = library.hazards[passage.hazard], library.routes[passage.route]
    faults = {
        Fault.OTHERWISE: f"{item} is “{passage.answer.value}” then, not “{passage.state}”",
        Fault.TOO_LATE: f"nothing makes sure that {item} is “{passage.state}” before {person} sets off",
        Fault.UNCONFIRMED: f"nobody but who set {item} has confirmed “{passage.state}” before {person} sets off",
    }
    looks = variant.states.looks.confirming(passage.item, passage.answer)
    waits_for = [variant.plan.steps[index] for index in (next(looks, passage.answer.source),) if index is not None]
    return Trouble(
        place_spot(visit.step, visit.place),
        f"On the way to {step_words(library, visit.step)} {person} passes {route.label_text} with the hazard "
        f"“{hazard.label_text}”, but {faults[passage.fault]}{left_out_words(proved, variant)}. Hold {person} back at "
        f"{place_words(library, visit.origin)} with a step that requires it.",
        (
            Related(hazard.spot("controls"), "what controls the hazard"),
            *(Related(step.step.position, "this must be over before") for step in waits_for),
        ),
        step_line(
            [visit.person], visit.origin, "Wait for the word to go on.", "1 min",
            map_line("requires", (), passage.item[0], passage.state),
            *(list_line("after", (), name_for(step)) for step in waits_for),
        ),
        visit.step.step.position,
    )  # fmt: skip
