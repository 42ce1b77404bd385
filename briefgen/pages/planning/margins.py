"""What one person outside has to spare."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.language.wording import capital, metres
from briefgen.proof.evidence import SortieEvidence
from briefgen.units import show_duration, show_elapsed


def of_person(proved: SortieEvidence, person: str) -> Iterator[tuple[str, str]]:
    """What one person outside has to spare, as headings and words."""
    line, first, limits = proved.time_home.get(person), proved.supplies.first(person), proved.sortie.limits
    if line:
        moment, _ = line.worst
        allowed = f", allowed {show_duration(limits.return_within.likely)}" if limits.return_within else ""
        yield "Longest way home", capital(f"{line.longest}, at {show_elapsed(moment)} elapsed{allowed}")
        yield "Distance travelled", metres(proved.travel.metres(person))
    if first and first.reserve_reached is not None:
        name = capital(first.name.replace("-", " "))
        yield "First supply to reach its reserve", f"{name}, at {show_elapsed(first.reserve_reached)} elapsed"
