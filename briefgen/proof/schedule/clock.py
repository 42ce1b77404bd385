"""The clock time at which a sortie starts. Pure: an author's words go in, a time in UTC comes out."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from briefgen.model.work import Sortie

YEARS = (1900, 2999)
"""A start outside these years is a slip; and clocks end with the year 9999."""


def start_of(sortie: Sortie) -> datetime | None:
    """When a sortie starts, in UTC; None where it does not say, or not in a way that can be read (ISO 8601).

    >>> start_of(Sortie.model_validate({"title": "S", "flow": {}, "limits": {"length": "1 h"}})) is None
    True
    """
    if sortie.starts is None:
        return None
    try:
        time = datetime.fromisoformat(sortie.starts)
    except ValueError:
        return None
    fits = YEARS[0] <= time.year <= YEARS[1]
    return time.astimezone(UTC) if fits and time.utcoffset() == timedelta(0) else None
