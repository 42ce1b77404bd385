"""What there is exactly once: the programme, and the home."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level
from briefgen.model.work import Sortie
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.source import Position


@rule(
    "one-programme", Level.ERROR, Needs.RECORDS,
    wrong="""
    programme:
      ▸second: {title: Two, sorties: [s], paces: {outside: 9 m/min, loaded: 5 m/min}}
    """,
    right="""
    tasks: {look: {title: Look, purpose: To know., place: lock, steps: [{who: ev1, do: Look., takes: 2 min}]}}
    sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}
    """,
)  # fmt: skip
def one_programme(evidence: Evidence) -> Iterator[Trouble]:
    """A library has one programme: it says which sorties are run, and in which order.

    Each sortie begins with the world as the one before left it, so there must be one order.
    """
    programmes = list(evidence.library.of("programme").values())
    for extra in programmes[1:]:
        yield Trouble(
            extra.id.position, f"“{extra.id}” is a second programme; “{programmes[0].id}” is the first. Keep one."
        )
    broken = any(kind == "programme" for kind, _ in evidence.broken)
    if not programmes and not broken:
        first: Sortie | None = next(iter(evidence.library.sorties.values()), None)
        spot = first.position if first else Position(next(iter(evidence.sources), ""), 1, 1)
        yield Trouble(
            spot,
            "There is no programme: it says which sorties are run, in which order, and how fast people move.",
            write="programme: {name: {title: …, sorties: […], paces: {…}}}",
        )


@rule(
    "one-home", Level.ERROR, Needs.RECORDS,
    wrong="""
    places:
      ▸k8: {home: true}
    """,
    right="""
    places:
      k8: {home: false}
    """,
)  # fmt: skip
def one_home(evidence: Evidence) -> Iterator[Trouble]:
    """Exactly one place is home: there every sortie starts and ends.

    All ways home, and the tethers, are counted from it.
    """
    homes = [place for place in evidence.library.places.values() if place.home]
    for extra in homes[1:]:
        yield Trouble(
            extra.id.position, f"{extra.label_text} is a second home; {homes[0].label_text} is the first. Keep one."
        )
    if not homes and evidence.library.places and not any(kind == "places" for kind, _ in evidence.broken):
        first = next(iter(evidence.library.places.values()))
        yield Trouble(
            first.id.position, "No place is home: mark the one where sorties start and end.", write="home: true"
        )
