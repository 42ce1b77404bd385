"""Safety tethers: hung only at anchors, long enough everywhere, and brought along."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level, Related
from briefgen.model.library import Library
from briefgen.proof.deciding.variant import Variant
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.moving.tether import Overreach, Reach, Tie, better_anchor
from briefgen.proof.naming import people_words, step_words
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.races import left_out_words
from briefgen.rules.ways.travelled import anchor_line, by_spot, each_variant, flight, once, place_spot, place_words
from briefgen.source import Position
from briefgen.units import show_number

_IN = "who: ev1, at: lock, do: Go in., takes: 2 min, anchors: lock"
_HANG = "who: ev1, at: k1, do: Move the safety tether to K1., takes: 2 min, anchors: k1"
_SEE = "who: ev1, at: k3, do: Look at the plates., takes: 2 min"
_SHORT = "length: 2 h, tether: 8 m"


@rule(
    "tether-too-short", Level.ERROR, Needs.ORDER,
    wrong=flight(f"{_SEE}\n{_IN}".replace("k3", "▸k3"), limits=_SHORT),
    right=flight(f"{_HANG}\n{_SEE}\n{_HANG.replace('K1', 'the lock').replace('k1', 'lock')}\n{_IN}", limits=_SHORT),
)  # fmt: skip
def tether_too_short(evidence: Evidence) -> Iterator[Trouble]:
    """The safety tether reaches from the anchor in use to wherever the person goes and works.

    A tether that runs out stops the person in the middle of a route, or tempts them to unhook. It lies along the
    routes: what counts is the shortest length along them from the anchor to the farthest point of the way and of the
    place of work, at most `limits.tether`. It hangs at home until a step `anchors` it elsewhere. The check is repeated
    with the optional tasks left out.
    """
    yield from once(_too_short(evidence))


def _too_short(evidence: Evidence) -> Iterator[Trouble]:
    for proved, variant, travel in each_variant(evidence):
        limit = proved.sortie.limits.tether
        overs = (over for over in travel.overreaches if over.first.tie is Tie.FIXED)
        for spot, people, over in by_spot((_spot(over.first), over.first.visit.person, over) for over in overs):
            if limit is None:
                continue
            better = better_anchor(proved.library, evidence.lengths, over, float(limit))
            name = place_words(proved.library, better) if better else ""
            way_out = f"Move it to {name} before" if better else "No single anchor reaches all of it: write one more"
            anchor, metres = place_words(proved.library, over.first.anchor), show_number(over.worst.metres or 0, 2)
            yield Trouble(
                spot,
                f"The safety tether of {people_words(proved.library, people)} hangs at {anchor} and must reach "
                f"{metres} m along the routes, {_point(proved.library, over.worst)}, for "
                f"{step_words(proved.library, over.worst.visit.step)}{left_out_words(proved, variant)}; it is "
                f"{limit.written} long. {way_out}.",
                (Related(proved.sortie.limits.spot("tether"), "the tether's length"),),
                anchor_line(proved.library, people, better) if better else "",
                over.first.visit.step.step.position if better else None,
            )


def _spot(reach: Reach) -> Position:
    """The word that takes the person there: the step's `to` where the ride does, else its place."""
    visit = reach.visit
    to = visit.step.step.to
    if to is not None and visit.moved and reach.spot == (visit.leads_to,):
        return to.position
    return place_spot(visit.step, visit.place)


def _point(library: Library, reach: Reach) -> str:
    names = [place_words(library, place) for place in reach.spot]
    return f"to {names[0]}" if len(names) == 1 else f"to a point between {names[0]} and {names[1]}"


@rule(
    "tether-left-behind", Level.ERROR, Needs.ORDER,
    wrong=flight(f"""
        who: ev1, at: k1, do: Move the safety tether to K1., takes: 2 min, anchors: k1
        who: ev1, at: k1, to: plate, do: Step onto the plate., takes: 1 min
        who: ev1, at: plate, to: ▸tip, do: Ride to the tip., takes: 4 min
        who: ev1, at: tip, to: k1, do: Ride back., takes: 4 min
        {_IN}
    """),
    right=flight(f"""
        who: ev1, at: k1, to: plate, do: Step onto the plate., takes: 1 min
        who: ev1, at: plate, do: Move the safety tether to the plate., takes: 2 min, anchors: plate
        who: ev1, at: plate, to: tip, do: Ride to the tip., takes: 4 min
        who: ev1, at: tip, to: k1, do: Ride back., takes: 4 min
        who: ev1, at: k1, do: Move the safety tether to K1., takes: 2 min, anchors: k1
        {_IN}
    """),
)  # fmt: skip
def tether_left_behind(evidence: Evidence) -> Iterator[Trouble]:
    """Whoever rides has the safety tether on what moves, and whoever steps off takes it along.

    A ride away from a fixed anchor pulls the tether tight, a walk away from an arm leaves it on something that will
    move. An anchor at a place that no route touches is a moving one: the tether hung there reaches wherever `to` steps
    bring its rider, until they go on by a route. A fixed anchor reaches only along the routes; from it a person may
    step over to a moving anchor, but not ride away.
    """
    yield from once(_left_behind(evidence))


def _left_behind(evidence: Evidence) -> Iterator[Trouble]:
    for proved, variant, travel in each_variant(evidence):
        overs = (over for over in travel.overreaches if over.first.tie in (Tie.TORN, Tie.LEFT))
        for spot, people, over in by_spot((_spot(over.first), over.first.visit.person, over) for over in overs):
            yield _behind(proved, variant, people, over, spot)


def _behind(proved: SortieEvidence, variant: Variant, people: list[str], over: Overreach, spot: Position) -> Trouble:
    library, visit = proved.library, over.first.visit
    who, anchor = people_words(library, people), place_words(library, over.first.anchor)
    step = f"{step_words(library, visit.step)}{left_out_words(proved, variant)}"
    goal = place_words(library, over.first.spot[0])
    if over.first.tie is Tie.LEFT:
        start = visit.origin
        sentence = f"{who} goes on to {goal} for {step} while the safety tether still hangs at {anchor}, which moves."
    else:
        start = visit.place
        sentence = (
            f"The safety tether of {who} hangs at {anchor} while {step} takes them to {goal}: no route tells how far "
            "that is."
        )
    fits = start in library.places and library.places[start].anchor and start != over.first.anchor
    way_out = f" Move it to {place_words(library, start)} before." if fits else " Move it to an anchor there before."
    return Trouble(
        spot, sentence + way_out, (Related(library.places[over.first.anchor].position, "the anchor in use"),),
        anchor_line(library, people, start) if fits else "", visit.step.step.position if fits else None,
    )  # fmt: skip


@rule(
    "not-an-anchor", Level.ERROR, Needs.REFERENCES,
    wrong=flight(f"who: ev1, at: k2, do: Move the safety tether to K2., takes: 2 min, anchors: ▸k2\n{_IN}"),
    right=flight(f"{_HANG}\n{_IN}"),
)  # fmt: skip
def not_an_anchor(evidence: Evidence) -> Iterator[Trouble]:
    """A safety tether is moved only to a place with `anchor: true`.

    A hand rail is made for hands; a tether must hold a body that drifts off at speed.
    """
    library = evidence.library
    for task in library.tasks.values():
        for anchor in (step.anchors for step in task.steps if step.anchors is not None):
            if not library.places[anchor].anchor:
                yield Trouble(
                    anchor.position,
                    f"{place_words(library, anchor)} is no anchor, so no safety tether can hang there. Name one, or "
                    "write “anchor: true” at the place if it is.",
                    (Related(library.places[anchor].position, "this place"),),
                )


@rule(
    "anchor-elsewhere", Level.ERROR, Needs.ORDER,
    wrong=flight(f"who: ev1, at: k2, do: Move the safety tether to K1., takes: 2 min, anchors: ▸k1\n{_IN}"),
    right=flight(f"{_HANG}\n{_IN}"),
)  # fmt: skip
def anchor_elsewhere(evidence: Evidence) -> Iterator[Trouble]:
    """Whoever moves a safety tether to an anchor is there, when the step begins or when it is over.

    Nobody can hook a tether to an anchor out of reach.
    """
    yield from once(_elsewhere(evidence))


def _elsewhere(evidence: Evidence) -> Iterator[Trouble]:
    for proved, _, travel in each_variant(evidence):
        for visit in (visit for trail in travel.trails.values() for visit in trail if not visit.anchor_in_reach):
            anchor = visit.step.step.anchors
            if anchor is not None:
                name = place_words(proved.library, anchor)
                yield Trouble(
                    anchor.position,
                    f"{step_words(proved.library, visit.step)} moves the safety tether to {name}, but takes place at "
                    f"{place_words(proved.library, visit.place)}. Write “at: {anchor}”, or "
                    f"name an anchor that is there.",
                )


@rule(
    "tether-left-out", Level.WARNING, Needs.ORDER,
    wrong=flight(f"{_HANG}\n{_IN.replace(', anchors: lock', '')}").replace("ev1: [work]", "ev1: [▸work]"),
    right=flight(f"{_HANG}\n{_IN}"),
)  # fmt: skip
def tether_left_out(evidence: Evidence) -> Iterator[Trouble]:
    """In the end everybody's safety tether hangs at home again.

    A hatch does not shut over a tether that still hangs outside. The last `anchors` of each person must name home,
    where home is an anchor; a person who never moves the tether has it there from the beginning.
    """
    yield from once(_left_out(evidence))


def _left_out(evidence: Evidence) -> Iterator[Trouble]:
    for proved, variant, travel in each_variant(evidence):
        home = variant.plan.home
        for person, trail in travel.trails.items():
            if home is None or not trail or trail[-1].anchor == home or not proved.library.places[home].anchor:
                continue
            entry = next(refs[-1] for key, refs in proved.sortie.flow.items() if key == person)
            yield Trouble(
                entry.position,
                f"The safety tether of {people_words(proved.library, [person])} still hangs at "
                f"{place_words(proved.library, trail[-1].anchor)} in the end{left_out_words(proved, variant)}. Move it "
                f"to {place_words(proved.library, home)} in the last step there.",
                (Related(trail[-1].step.step.position, "the last step"),),
                f"anchors: {home}", trail[-1].step.step.position,
            )  # fmt: skip
