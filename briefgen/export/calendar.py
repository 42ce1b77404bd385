"""The timeline as an iCalendar object (RFC 5545): an event for every step, at its clock time.

The same plan gives the same bytes: UIDs come from sortie and step, and DTSTAMP is the sortie's start.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta
from uuid import UUID, uuid5

from briefgen import __version__
from briefgen.export.rows import CAUTION, case_lines
from briefgen.language.sentences import plain
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.naming import people_words
from briefgen.proof.schedule.clock import start_of
from briefgen.proof.schedule.timeline import StepTimes
from briefgen.refusals import CannotRun
from briefgen.units import show_elapsed

_OURS = UUID("6c0d5f0e-3d4b-5c55-9a3f-0c2f0c6f9f11")
_OCTETS = 75


class NoStart(CannotRun):
    """A sortie does not say when it starts, so its steps have no clock time; the message says what to write."""


def as_calendar(sorties: Iterable[SortieEvidence]) -> str:
    """One calendar with the steps of all sorties. Raises NoStart for a sortie without a time to start."""
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:-//briefgen//briefgen {__version__}//EN", "CALSCALE:GREGORIAN"]
    for proved in sorties:
        lines += _events(proved)
    return "".join(folded(line) for line in [*lines, "END:VCALENDAR"])


def _events(proved: SortieEvidence) -> Iterator[str]:
    begin = start_of(proved.sortie)
    if begin is None:
        raise NoStart(
            f"“{proved.sortie.title}” does not say when it starts, and a calendar needs clock times. "
            "Write “starts: 2031-05-12T08:30Z” in the sortie."
        )
    for times in proved.timeline.times:
        yield from _event(proved, times, begin)


def _event(proved: SortieEvidence, times: StepTimes, begin: datetime) -> Iterator[str]:
    step, start, end = times.step, _whole(begin, times.start), _whole(begin, times.end)
    place = proved.library.places.get(step.place or "")
    yield "BEGIN:VEVENT"
    yield f"UID:{uuid5(_OURS, f'{proved.sortie.id}/{step.key}')}"
    yield f"DTSTAMP:{_utc(begin)}"
    yield f"DTSTART:{_utc(start)}"
    if end > start:  # 3.6.1: an end must be later than the start
        yield f"DTEND:{_utc(end)}"
    yield f"SUMMARY:{_escaped(f'{people_words(proved.library, step.people)}: {plain(step.step.told)}')}"
    if place:
        yield f"LOCATION:{_escaped(place.label_text)}"
    yield f"CATEGORIES:{_escaped(str(step.task.title))}"
    yield f"DESCRIPTION:{_escaped(_description(proved, times))}"
    yield "END:VEVENT"


def _description(proved: SortieEvidence, times: StepTimes) -> str:
    lines = [
        f"{proved.sortie.title}, {times.step.task.title}, step {times.step.key}, "
        f"at {show_elapsed(times.start)} elapsed."
    ]
    lines += [
        f"To {people_words(proved.library, map(str, call.to))}: “{plain(call.say)}”" for call in times.step.step.calls
    ]
    return "\n".join([*lines, *case_lines(proved, times.step), CAUTION])


def _whole(begin: datetime, seconds: float) -> datetime:
    return begin + timedelta(seconds=round(seconds))


def _utc(time: datetime) -> str:
    """A date with UTC time (3.3.5, form 2)."""
    return time.strftime("%Y%m%dT%H%M%SZ")


def _escaped(text: str) -> str:
    """TEXT values (3.3.11); other control characters may not stand in one."""
    escaped = re.sub(r"([\\;,])", r"\\\1", text).replace("\r\n", "\n").replace("\n", r"\n")
    return re.sub(r"[\x00-\x08\x0b-\x1f\x7f]", " ", escaped)


def folded(line: str) -> str:
    """A content line with its CR LF, folded so that no line has more than 75 octets (3.1), and no letter is split.

    >>> folded("SUMMARY:" + "x" * 80).splitlines()[1]
    ' xxxxxxxxxxxxx'
    """
    pieces, room = [""], _OCTETS
    for letter in line:
        size = len(letter.encode())
        if size > room:
            pieces.append(" ")
            room = _OCTETS - 1
        pieces[-1] += letter
        room -= size
    return "".join(f"{piece}\r\n" for piece in pieces)
