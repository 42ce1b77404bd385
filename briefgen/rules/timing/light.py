"""Light: day and night are known, and what needs light is not done in the dark."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise

from briefgen.findings import Level, Related
from briefgen.model.work import Orbit, Sortie
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.naming import step_words
from briefgen.proof.resources.light import Light, LightNeed, LightSource
from briefgen.proof.resources.orbit import period
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.races import left_out_words
from briefgen.rules.ways.travelled import flight, once
from briefgen.units import show_duration, show_elapsed

_PHOTO = """
    who: ev1, do: Take the photograph., takes: 10 min, ▸needs_light: true
"""
_QUIET = "who: ev1, do: Look around., takes: 2 min"


def _lit(light: str, steps: str = _PHOTO) -> str:
    return f"{flight(steps)}\n    {light}"


@rule(
    "work-in-the-dark", Level.ERROR, Needs.ORDER,
    wrong=_lit("light: [[5 min, 60 min]]"),
    right=_lit("light: [[0 min, 60 min]]").replace("▸", ""),
)  # fmt: skip
def work_in_the_dark(evidence: Evidence) -> Iterator[Trouble]:
    """A step that needs light lies in one day, from its beginning to its end.

    A picture or an inspection in the dark has to be done again, or misses what it was for. Day and night come from the
    orbit's altitude and beta angle (a circular orbit and a shadow with parallel sides), or from the listed times. The
    finding names the shortest shift that would help, by the likely durations. The check is repeated with each optional
    task left out, and with all of them left out: what then begins earlier may begin before dawn.
    """
    for proved in evidence.sorties.values():
        if any(step.step.needs_light for step in proved.plan.steps):
            yield from once(_in_the_dark(proved))


def _in_the_dark(proved: SortieEvidence) -> Iterator[Trouble]:
    source = "orbit" if proved.light.source is LightSource.ORBIT else "light"
    for variant in proved.variants:
        light = proved.light_of(variant)
        for need in light.in_the_dark:
            step = need.times.step
            yield Trouble(
                step.step.spot("needs_light"),
                f"{step_words(proved.library, step)} needs light, but {show_duration(need.seconds_dark)} of its "
                f"{show_duration(need.times.end - need.times.start)} lie in the night from "
                f"{_night_words(light, need)}{left_out_words(proved, variant)}. {_shift_words(need)}",
                (Related(proved.sortie.spot(source), "day and night come from here"),),
            )  # fmt: skip


def _night_words(light: Light, need: LightNeed) -> str:
    start, end = need.dark[0]
    dusk, dawn = next(night for night in light.nights if night[0] <= start + 1 and night[1] >= end - 1)
    return f"{show_elapsed(dusk)} to {show_elapsed(dawn)}"


def _shift_words(need: LightNeed) -> str:
    ways = [
        f"{show_duration(shift)} {word}" for shift, word in ((need.later, "later"), (need.earlier, "earlier")) if shift
    ]
    if not ways:
        return "No day in this sortie is long enough for it: split it, or bring lamps."
    return f"Let it begin {' or '.join(ways)}."


@rule(
    "light-unknown", Level.ERROR, Needs.ORDER,
    wrong=flight(_PHOTO),
    right=_lit("light: [[0 min, 60 min]]").replace("▸", ""),
)  # fmt: skip
def light_unknown(evidence: Evidence) -> Iterator[Trouble]:
    """Where a step needs light, the sortie says when there is any: by its `orbit`, or by listed times of `light`.

    Else nobody can tell whether the step falls into the night.
    """
    for proved in evidence.sorties.values():
        if proved.light.source is not LightSource.UNKNOWN:
            continue
        for step in proved.plan.steps:
            if step.step.needs_light:
                yield Trouble(
                    step.step.spot("needs_light"),
                    f"{step_words(proved.library, step)} needs light, but nothing says when there is any in "
                    f"“{proved.sortie.title}”.",
                    write="orbit: {altitude: … km, beta: …°, first_sunset: … min}", write_at=proved.sortie.id.position,
                )  # fmt: skip


@rule(
    "light-twice", Level.WARNING, Needs.RECORDS,
    wrong=_lit("light: [[0 min, 60 min]]\n    ▸orbit: {altitude: 410 km, beta: 28°, first_sunset: 60 min}", _QUIET),
    right=_lit("orbit: {altitude: 410 km, beta: 28°, first_sunset: 60 min}", _QUIET),
)  # fmt: skip
def light_twice(evidence: Evidence) -> Iterator[Trouble]:
    """A sortie takes day and night from its `orbit` or from listed times of `light`, not from both.

    Two sources can contradict each other; the listed times are the ones that count.
    """
    for sortie in evidence.library.sorties.values():
        if sortie.orbit and sortie.light:
            yield Trouble(
                sortie.spot("orbit"),
                f"“{sortie.title}” has an orbit and listed times of light. The listed times count: take one out.",
                (Related(sortie.spot("light"), "the listed times"),),
            )


@rule(
    "light-out-of-order", Level.ERROR, Needs.RECORDS, spoils=False,
    wrong=_lit("▸light: [[0 min, 60 min], [50 min, 90 min]]", _QUIET),
    right=_lit("light: [[0 min, 60 min], [96 min, 150 min]]", _QUIET),
)  # fmt: skip
def light_out_of_order(evidence: Evidence) -> Iterator[Trouble]:
    """Listed times of light run on: each sunset after its sunrise, each sunrise after the sunset before.

    Elsewise one moment would be day and night at once.
    """
    for sortie in evidence.library.sorties.values():
        times = [span.likely for pair in sortie.light for span in pair]
        for number, (first, second) in enumerate(pairwise(times)):
            if first < second or (first == second and number % 2):
                continue
            earlier, later = ("sunset", "sunrise") if number % 2 else ("sunrise", "sunset")
            yield Trouble(
                sortie.spot("light"),
                f"The {later} at {show_elapsed(second)} does not come after the {earlier} at {show_elapsed(first)}. "
                "Write pairs of sunrise and sunset in order.",
            )
            break


@rule(
    "orbit-out-of-range", Level.ERROR, Needs.RECORDS, spoils=False,
    wrong=_lit("orbit: {altitude: 410 km, ▸beta: 128°, first_sunset: 60 min}", _QUIET),
    right=_lit("orbit: {altitude: 410 km, beta: 28°, first_sunset: 60 min}", _QUIET),
)  # fmt: skip
def orbit_out_of_range(evidence: Evidence) -> Iterator[Trouble]:
    """An orbit's altitude is above the ground, and its beta angle lies between −90° and 90°.

    Beta is the angle between the Sun's direction and the orbit's plane, so it can't be more than a right angle. Out of
    these ranges there is no night to compute.
    """
    for _, orbit in _orbits(evidence.library.sorties.values()):
        if not -90 <= orbit.beta <= 90:
            yield Trouble(orbit.spot("beta"), f"A beta angle of {orbit.beta.written} is not between −90° and 90°.")
        if orbit.altitude <= 0:
            yield Trouble(orbit.spot("altitude"), f"An altitude of {orbit.altitude.written} is not above the ground.")


@rule(
    "sunset-not-first", Level.WARNING, Needs.RECORDS,
    wrong=_lit("orbit: {altitude: 410 km, beta: 28°, ▸first_sunset: 2 h}", _QUIET),
    right=_lit("orbit: {altitude: 410 km, beta: 28°, first_sunset: 60 min}", _QUIET),
)  # fmt: skip
def sunset_not_first(evidence: Evidence) -> Iterator[Trouble]:
    """The first sunset comes within one turn of the orbit.

    A sunset comes round every turn, so one later than that can't be the first. The nights come out right all the same,
    but the figure is likely a slip.
    """
    for sortie, orbit in _orbits(evidence.library.sorties.values()):
        turn = period(orbit.altitude) if orbit.altitude > 0 else float("inf")
        if orbit.first_sunset.likely >= turn:
            earlier = orbit.first_sunset.likely % turn
            yield Trouble(
                orbit.spot("first_sunset"),
                f"A sunset at {show_elapsed(orbit.first_sunset.likely)} is not the first of “{sortie.title}”: at this "
                f"altitude the sun sets every {show_duration(turn)}, so there is one at {show_elapsed(earlier)}.",
            )


def _orbits(sorties: Iterable[Sortie]) -> Iterator[tuple[Sortie, Orbit]]:
    for sortie in sorties:
        if sortie.orbit is not None:
            yield sortie, sortie.orbit
