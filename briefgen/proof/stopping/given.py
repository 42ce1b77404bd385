"""What a sortie's stops are computed from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from briefgen.proof.holding.custody import CustodyProof
from briefgen.proof.moving.homeward import HomeLine, WaysHome
from briefgen.proof.moving.lengths import Lengths
from briefgen.proof.moving.routes import Routes
from briefgen.proof.moving.travel import Travel
from briefgen.proof.moving.whereabouts import Whereabouts
from briefgen.proof.ordering.states import StateProof
from briefgen.proof.schedule.timeline import Timeline


@dataclass(frozen=True)
class Given:
    """The proofs of a sortie, and the library's routes and lengths."""

    timeline: Timeline
    states: StateProof
    custody: CustodyProof
    travel: Travel
    places: Whereabouts
    time_home: Mapping[str, HomeLine]
    routes: Routes
    ways: WaysHome
    lengths: Lengths
