"""The clock time at which a sortie starts. Pure: an author's words go in, a time in UTC comes out."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from briefgen.model.work import Sortie


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
    return time.astimezone(UTC) if time.utcoffset() == timedelta(0) else None
