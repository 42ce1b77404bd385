"""Day and night along a sortie, and the steps that must not be done in the dark.

Pure: a sortie's `orbit` or listed `light` and a timeline go in. Times are seconds since the sortie's start, with the
likely durations. The shift that would help is the shortest one after which the whole step lies in one day.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

from briefgen.model.work import Sortie
from briefgen.proof.resources.orbit import Interval, days_between, nights_from_light, nights_from_orbit, period
from briefgen.proof.schedule.network import ROUNDING
from briefgen.proof.schedule.timeline import StepTimes, Timeline


class LightSource(StrEnum):
    """What day and night come from."""

    ORBIT = "orbit"
    LISTED = "listed"
    UNKNOWN = "unknown"


@dataclass(frozen=True)
class LightNeed:
    """A step that needs light. `dark` are the parts of it at night, as (start, end).

    `later` and `earlier` are the shortest shifts (seconds) into one day, None where there is none in the hours
    looked at. `spare` is how far the step may slip before night reaches it: 0 where it already does, None where no
    night comes.
    """

    times: StepTimes
    dark: tuple[Interval, ...]
    later: float | None
    earlier: float | None
    spare: float | None

    @property
    def seconds_dark(self) -> float:
        """How much of the step lies in the dark."""
        return sum(end - start for start, end in self.dark)


@dataclass(frozen=True)
class Light:
    """Nights and days from 0 to `length` seconds, and what becomes of the steps that need light.

    `trouble` says why day and night can't be told, where the sortie names a source that makes no sense.
    """

    source: LightSource
    nights: tuple[Interval, ...]
    days: tuple[Interval, ...]
    length: float
    needs: tuple[LightNeed, ...]
    trouble: str = ""

    @property
    def known(self) -> bool:
        """Whether day and night can be told at all."""
        return self.source is not LightSource.UNKNOWN and not self.trouble

    @cached_property
    def in_the_dark(self) -> tuple[LightNeed, ...]:
        """The steps that need light and are, in part, done without."""
        return tuple(need for need in self.needs if need.dark)


def prove_light(sortie: Sortie, timeline: Timeline) -> Light:
    """Day and night over the sortie's length (or the plan's, if longer), checked for every step that needs light.

    Where both sources are given, the listed times count.
    """
    length = max(timeline.finish, sortie.limits.length.likely)
    source = LightSource.LISTED if sortie.light else LightSource.ORBIT if sortie.orbit else LightSource.UNKNOWN
    try:
        nights, far_nights, far = _nights(sortie, length)
    except ValueError as reason:
        return Light(source, (), (), length, (), str(reason))
    if source is LightSource.UNKNOWN:
        return Light(source, (), (), length, ())
    days = days_between(far_nights, far)
    lit = [times for times in timeline.times if times.step.step.needs_light]
    needs = tuple(_need(times, far_nights, days) for times in lit)
    return Light(source, nights, days_between(nights, length), length, needs)


def nights_until(sortie: Sortie, until: float) -> tuple[Interval, ...]:
    """The nights from 0 to `until` seconds; none where day and night can't be told.

    Listed times end with the last sunset: what comes after it counts as night, since no sunrise is listed.
    """
    try:
        if sortie.light:
            return nights_from_light([tuple(span.likely for span in pair) for pair in sortie.light], until)
        return _nights(sortie, until)[0]
    except ValueError:
        return ()


def _nights(sortie: Sortie, length: float) -> tuple[tuple[Interval, ...], tuple[Interval, ...], float]:
    """The nights within the length, and those up to two turns beyond, for shifts that lead there."""
    if sortie.light:
        listed = [tuple(span.likely for span in pair) for pair in sortie.light]
        far = max(length, *(sunset for _, sunset in listed)) + 1.0
        return nights_from_light(listed, length), nights_from_light(listed, far), far
    if sortie.orbit:
        altitude, beta = float(sortie.orbit.altitude), float(sortie.orbit.beta)
        far = length + 2 * period(altitude)
        sunset = sortie.orbit.first_sunset.likely
        return (
            nights_from_orbit(altitude, beta, sunset, length),
            nights_from_orbit(altitude, beta, sunset, far),
            far,
        )
    return (), (), length


def _need(times: StepTimes, nights: Sequence[Interval], days: Sequence[Interval]) -> LightNeed:
    start, end = times.start, times.end
    overlaps = ((max(start, dusk), min(end, dawn)) for dusk, dawn in nights)
    dark = tuple((first, last) for first, last in overlaps if last - first > ROUNDING)
    if not dark:
        sunset = next((dusk for dusk, _ in nights if dusk >= end - ROUNDING), None)
        return LightNeed(times, (), 0.0, 0.0, None if sunset is None else max(0.0, sunset - end))
    later = [dawn - start for dawn, dusk in days if dawn >= start and dusk - dawn >= end - start - ROUNDING]
    earlier = [end - dusk for dawn, dusk in days if dusk <= end and dusk - dawn >= end - start - ROUNDING]
    return LightNeed(times, dark, min(later, default=None), min(earlier, default=None), 0.0)
