"""Times of day on paper."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from briefgen.proof.evidence import SortieEvidence


def starts(proved: SortieEvidence) -> datetime | None:
    """When the sortie starts (UTC), if it says so in the form of ISO 8601."""
    try:
        moment = datetime.fromisoformat(str(proved.sortie.starts or ""))
    except ValueError:
        return None
    return moment.astimezone(UTC) if moment.tzinfo else moment.replace(tzinfo=UTC)


def clock_time(proved: SortieEvidence, seconds: float) -> str:
    """The time of day `seconds` after the start, `08:51 UTC` to the nearest minute; nothing without a start."""
    begin = starts(proved)
    if begin is None:
        return ""
    moment = begin + timedelta(seconds=seconds + 30)
    return f"{moment:%H:%M} UTC"
