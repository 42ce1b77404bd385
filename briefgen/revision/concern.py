"""Whom each record concerns: the people and sorties whose steps, ways or suits have to do with it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from briefgen.model.work import Step
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.plan import PlannedStep
from briefgen.revision.pairing.version import Version

Concern = Mapping[tuple[str, str], tuple[tuple[str, ...], tuple[str, ...]]]
"""People and sorties by a record's kind and id."""


def concerned(version: Version) -> Concern:
    """Who has to do with each record that the plan of some sortie names."""
    people: dict[tuple[str, str], dict[str, None]] = {}
    sorties: dict[tuple[str, str], dict[str, None]] = {}
    for name, proved in version.sorties.items():
        for record, who in _met(proved):
            people.setdefault(record, {}).update(dict.fromkeys(who))
            sorties.setdefault(record, {})[name] = None
    return {record: (tuple(people[record]), tuple(sorties[record])) for record in people}


def _met(proved: SortieEvidence) -> Iterator[tuple[tuple[str, str], tuple[str, ...]]]:
    library = proved.library
    yield ("sorties", str(proved.sortie.id)), tuple(proved.plan.flows)
    for step in proved.plan.steps:
        yield from (((kind, name), step.people) for kind, name in _named(step, library.tools, library.routes))
    for leg in proved.timeline.legs:
        for route in leg.way.routes if leg.way else ():
            yield ("routes", route), (leg.person,)
            yield from ((("hazards", str(name)), (leg.person,)) for name in library.routes[route].hazards)
    for person in proved.plan.flows:
        yield ("people", person), (person,)
        if library.people[person].suit:
            yield ("suits", str(library.people[person].suit)), (person,)


def _named(
    planned: PlannedStep, tools: Mapping[str, object], routes: Mapping[str, object]
) -> Iterator[tuple[str, str]]:
    """The records that a step names."""
    step: Step = planned.step
    things = (*(use.tool for use in step.uses), *step.picks, *step.leaves, *step.hands, *step.spends)
    yield from (("tools" if thing in tools else "bags", str(thing)) for thing in things)
    yield from (("equipment", str(name)) for name in (*step.requires, *step.sets, *step.verifies))
    yield from (("hazards", str(one.hazard)) for one in planned.hazards)
    yield from (("figures", str(name)) for name in step.figures)
    yield from (("places", str(name)) for name in (planned.place, step.to, step.anchors) if name)
    yield from (("routes" if name in routes else "places", str(name)) for name in step.keeps_out)
    yield "tasks", str(planned.task.id)
