"""The timeline as JSON. `format` counts up whenever a key changes its meaning; new keys may come at any time."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

from briefgen.export.rows import CAUTION, rows_of
from briefgen.model.people import Person
from briefgen.proof.evidence import SortieEvidence

FORMAT = 1


def as_json(sorties: Iterable[SortieEvidence]) -> str:
    """The sorties with their limits, what the plan comes to, and their rows."""
    document = {"format": FORMAT, "caution": CAUTION, "sorties": [_sortie(proved) for proved in sorties]}
    return json.dumps(document, ensure_ascii=False, indent=2) + "\n"


def _sortie(proved: SortieEvidence) -> dict[str, Any]:
    sortie, timeline = proved.sortie, proved.timeline
    return {
        "id": str(sortie.id),
        "title": str(sortie.title),
        "revision": str(sortie.revision) if sortie.revision else None,
        "starts": str(sortie.starts) if sortie.starts else None,
        "length_s": sortie.limits.length.likely,
        "usable_s": sortie.limits.usable,
        "finish_s": round(timeline.finish, 3),
        "margin_s": round(timeline.margin, 3),
        "people": [_person(proved.library.people[name]) for name in proved.plan.flows],
        "timeline": list(rows_of(proved)),
    }


def _person(person: Person) -> dict[str, Any]:
    """Who the rows' people are, and what tells them apart."""
    mark = person.mark
    return {
        "id": str(person.id),
        "label": str(person.label),
        "callsign": str(person.callsign) if person.callsign else None,
        "post": person.post,
        "mark": {"pattern": mark.pattern, "word": str(mark.word), "colour": mark.colour} if mark else None,
    }
