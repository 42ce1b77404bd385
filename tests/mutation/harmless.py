"""Slips that change nothing that can be proved, with the proof: the order is the same, or nothing depends on it.

Only slips about order, and limits made smaller, by which no finding arises are looked at here. `the same order`: in
every variant of every sortie the same people do the same steps in the same sequence, and exactly the same pairs of
steps are ordered; the slip is no slip. `nothing depends on it`: every step still finds everything that it relies on
(each state, each tool and bag with all bags around it, each anchor) where and as it was before, brought about by the
same step, and everything ends as before; what is lost or changed is an order on which no word of the content rests.
`a stricter limit is kept`: less is allowed than before, in the same order everything is found as before, and all
holds: whoever keeps to that keeps to the plan.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from briefgen.proof.deciding.variant import Variant
from briefgen.proof.evidence import Evidence
from briefgen.proof.moving.travel import Travel
from briefgen.proof.ordering.reliance import Found
from briefgen.proof.ordering.using import clashes
from briefgen.proof.plan import Plan

SAME_ORDER = "the same order"
NOTHING_DEPENDS = "nothing depends on it"
STRICTER = "a stricter limit is kept"
NARROWING = ("longest way home halved", "lot halved")
ABOUT_ORDER = ("link left out", "neighbours swapped", "neighbours in a flow swapped")


def reason(before: Evidence, after: Evidence, narrows: bool = False) -> str | None:
    """Why a slip about order, or one that `narrows` a limit, is harmless; None where it is not proved to be."""
    if [*map(_order, _plans(before))] == [*map(_order, _plans(after))]:
        if not narrows:
            return SAME_ORDER
        return None if differences(before, after) else STRICTER
    return None if differences(before, after) else NOTHING_DEPENDS


def differences(before: Evidence, after: Evidence) -> list[str]:
    """What is found otherwise than before, by the headings of `_found_in`."""
    pairs = list(zip(_found(before), _found(after), strict=True))
    return sorted({heading for one, other in pairs for heading in one if one[heading] != other[heading]})


def _plans(evidence: Evidence) -> Iterator[Plan]:
    for proved in evidence.sorties.values():
        yield from (variant.plan for variant in proved.variants)


def _order(plan: Plan) -> tuple[Any, ...]:
    """Everybody's sequence of steps, and for each step how far everybody must have got before it begins."""
    keys = [step.key for step in plan.steps]
    chains = sorted((person, tuple(keys[index] for index in flow)) for person, flow in plan.flows.items())
    columns = {person: column for column, person in enumerate(plan.order.chains)}
    reached = {
        key: {person: reached[column] for person, column in columns.items()}
        for key, reached in zip(keys, plan.order.reached, strict=True)
    }
    return chains, reached


def _found(evidence: Evidence) -> Iterator[Mapping[str, Any]]:
    for proved in evidence.sorties.values():
        for variant, (_, travel) in zip(proved.variants, proved.travels, strict=True):
            yield _found_in(variant, travel)


def _found_in(variant: Variant, travel: Travel) -> Mapping[str, Any]:
    """What every step finds, and how everything ends."""
    keys = [step.key for step in variant.plan.steps]

    def told(answer: Found[Any]) -> tuple[Any, str | None, bool]:
        return answer.value, None if answer.source is None else keys[answer.source], answer.certain

    return {
        "things": {
            (keys[one.handling.step], one.handling.act, one.handling.thing): (
                [(name, told(answer)) for name, answer in one.answers], one.reachable,
            )
            for one in variant.custody.handled
        },
        "states": {
            (keys[met.need.step], met.need.item, met.need.state): (told(met.answer), met.confirmed)
            for met in variant.states.met
        },
        "ends": {about: told(answer) for about, answer in variant.states.endings.items()},
        "ends of things": {about: told(answer) for about, answer in variant.custody.endings.items()},
        "spots": {
            (person, visit.step.key): (visit.place, visit.leads_to, visit.hung, visit.anchor)
            for person, trail in travel.trails.items()
            for visit in trail
        },
        "clashes": {(keys[one.step], keys[one.other], one.thing) for one in clashes(variant.plan)},
        "crowds": {(one.place, frozenset(step.key for step in one.steps)) for one in travel.crowds},
    }  # fmt: skip
