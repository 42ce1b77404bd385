"""All that follows from a situation, as plain data with units in the names: what terminal, page and tests compare."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from briefgen.proof.deciding.underway.answer import answer
from briefgen.proof.deciding.underway.day import Day
from briefgen.proof.deciding.underway.forecast import Forecast
from briefgen.proof.deciding.underway.situation import Situation
from briefgen.proof.deciding.underway.supplies import Remaining
from briefgen.proof.deciding.underway.turning import by_the_clock, in_work, stop_after, turning
from briefgen.proof.holding.custody import Spot
from briefgen.proof.naming import item_words, spot_words, thing_words
from briefgen.proof.stopping.stops import Open, Stop


def document(day: Day, situation: Situation, *, stops: bool = True) -> dict[str, Any]:
    """The answer to a situation without contradictions. Times are seconds since the start, or after the call (`home`).

    What is infinite (no way leads there) is None. Without `stops` the search for the way back is left out, which takes
    longest.
    """
    its = answer(day, situation)
    keys = [step.key for step in day.steps]
    return {
        "now_s": situation.now,
        "late_s": its.late,
        "finish_s": its.ahead.finish,
        "spare_s": day.usable - its.ahead.finish,
        "in_work": [keys[index] for index in in_work(situation, its.ahead)],
        "critical": [keys[index] for index in its.ahead.critical],
        "steps": [
            {"step": keys[index], "begins_s": start, "ends_s": end}
            for index, (start, end) in sorted(its.ahead.times.items(), key=lambda one: (one[1][0], one[0]))
        ],
        "omissions": [
            {"tasks": [*one.tasks], "gains_s": one.gains, "finish_s": one.finish, "why_not": one.why and str(one.why)}
            for one in its.omissions
        ],
        "due": [
            {
                "task": one.task,
                "begins_s": one.begins,
                "latest_s": one.latest,
                "fits": one.fits,
                "left_out": sorted(one.left_out),
            }
            for one in its.due
        ],
        "dark": [keys[index] for index in its.ahead.dark],
        "light": _light(day, situation.now),
        "supplies": [_supply(one) for one in its.supplies],
        "home": _home(day, situation, its.ahead, stops),
    }


def _supply(one: Remaining) -> dict[str, Any]:
    """Amounts in the author's unit."""
    supply = one.supply
    return {
        "person": supply.person,
        "supply": supply.name,
        "unit": supply.unit,
        "now": one.now / supply.factor,
        "end": one.end / supply.factor,
        "keeps": supply.keeps / supply.factor,
        "reserve_s": one.reached,
        "short": one.short,
    }


def _light(day: Day, now: float) -> dict[str, Any]:
    """Whether it is night, and until when; None where day and night can't be told, or do not change any more."""
    if not day.nights:
        return {"night": None, "until_s": None}
    for dusk, dawn in day.nights:
        if now < dawn:
            return {"night": now >= dusk, "until_s": dawn if now >= dusk else dusk}
    return {"night": False, "until_s": None}


def _home(day: Day, situation: Situation, ahead: Forecast, stops: bool) -> dict[str, Any]:
    turns = turning(day, situation, ahead)
    found = {
        "cut": [*turns.cut],
        "wait_s": turns.wait,
        "back_s": _finite(turns.back),
        "bare_s": {person: _finite(seconds) for person, seconds in turns.bare.items()},
    }
    if not stops:
        return found
    stop = stop_after(day, turns.cut)
    if by_the_clock(day, turns.cut, stop) and math.isfinite(turns.back):
        stop = stop_after(day, turns.cut, situation.now + turns.wait + turns.back)
    return found | {"all_s": _finite(turns.seconds(stop)), **stop_data(day, stop)}


def stop_data(day: Day, stop: Stop) -> dict[str, Any]:
    """What a stop leaves open, what closes it, and when each is home if nobody has set off by then."""
    steps = day.proved.plan.all_steps
    return {
        "stop_s": _finite(stop.seconds),
        "homes_s": {person: _finite(seconds) for person, seconds in stop.homes.items()},
        "clean": stop.clean,
        "searched": stop.searched,
        "open": [*_open(day, stop)],
        "closing": [
            {"step": steps[index].key, "begins_s": _finite(start), "ends_s": _finite(end)}
            for index, start, end in stop.closing
        ],
    }


def _open(day: Day, stop: Stop) -> Iterator[dict[str, Any]]:
    for one in stop.open:
        yield {"what": _words(day, one), "how": _how(day, one), "closed_by": _key(day, one.closed_by)}


def _key(day: Day, index: int | None) -> str | None:
    """A step of the plan or of a way back, by its key."""
    return None if index is None else day.proved.plan.all_steps[index].key


def _words(day: Day, one: Open) -> str:
    library = day.proved.library
    return thing_words(library, one.matter) if isinstance(one.matter, str) else item_words(library, one.matter)


def _how(day: Day, one: Open) -> str:
    return spot_words(day.proved.library, one.value) if isinstance(one.value, Spot) else one.value


def _finite(seconds: float) -> float | None:
    return seconds if math.isfinite(seconds) else None
