"""Who stays at a place between two steps there, or rides on an anchor, keeps it taken."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level, Related
from briefgen.proof.deciding.variant import Variant
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.moving.occupied_places import Presence, meetings
from briefgen.proof.naming import people_words, step_words
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.races import after_line, left_out_words, starts_today
from briefgen.rules.ways.travelled import each_variant, flight, place_spot, place_words

_STAY = """
    id: count, who: ev1, at: k3, do: Count the plates., takes: 2 min
    id: look, who: ev2, at: ▸k3, do: Look at the plates., takes: 2 min, after: [work/count]
    id: again, who: ev1, at: k3, do: Count them again., takes: 2 min, after: [work/look]
    who: ev1, at: lock, do: Go in., takes: 2 min
    who: ev2, at: lock, do: Go in., takes: 2 min
"""
_ASIDE = "    who: ev1, at: k2, do: Make room at K2., takes: 1 min\n    id: again"


@rule("place-still-taken", Level.ERROR, Needs.ORDER,
      wrong=flight(_STAY, "ev1 ev2"),
      right=flight(_STAY.replace("▸", "").replace("    id: again", _ASIDE), "ev1 ev2"))  # fmt: skip
def place_still_taken(evidence: Evidence) -> Iterator[Trouble]:
    """Nobody comes to a place that is full because somebody stays there between two of their steps.

    Who has their next step where they are does not go away meanwhile: with their feet in the only foot plate, nobody
    else can work there. In the same way who hangs their tether on a moving anchor (the plate on an arm) keeps it until
    the tether hangs elsewhere. What counts is the order of steps, not the planned times. The check is repeated with the
    optional tasks left out.
    """
    seen: set[tuple[str, frozenset[str], frozenset[str]]] = set()
    for proved, variant, travel in each_variant(evidence):
        told = {(crowd.place, frozenset(str(step.task.id) for step in crowd.steps)) for crowd in travel.crowds}
        for stays in meetings(variant.plan, evidence.routes):
            # One finding for the people and tasks that meet: other tasks are other authors', who accept for themselves.
            tasks = frozenset(str(one.first.task.id) for one in stays)
            key = stays[0].place, frozenset(one.person for one in stays), tasks
            if key not in seen and (key[0], tasks) not in told:
                seen.add(key)
                yield _taken(proved, variant, stays)


def _taken(proved: SortieEvidence, variant: Variant, stays: tuple[Presence, ...]) -> Trouble:
    *others, last = sorted(stays, key=lambda one: starts_today(proved, one.first))
    stay, library, before = others[-1], proved.library, variant.plan.order.before
    place = library.places[last.place]
    words = " and ".join(people_words(library, [one.person]) for one in others)
    line, spot = after_line(stay.last, last.first)
    circle = before(last.first.index, stay.last.index)
    return Trouble(
        place_spot(last.first, last.place),
        f"{people_words(library, [last.person])} comes to {place_words(library, last.place)} for "
        f"{step_words(library, last.first)}{left_out_words(proved, variant)}, but there is room for {place.room}, and "
        f"{words} may still be there: from {step_words(library, stay.first)} to {step_words(library, stay.last)}.",
        tuple(Related(one.first.step.position, "this stay begins here") for one in others),
        "" if circle else line, None if circle else spot,
    )  # fmt: skip
