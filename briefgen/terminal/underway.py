"""The day as it goes, as text: what follows from the clock and the last finished step of each person."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any

from briefgen.language.wording import listing
from briefgen.proof.deciding.underway.day import Day
from briefgen.proof.deciding.underway.situation import Contradiction
from briefgen.proof.naming import people_words
from briefgen.tables.underway import underway_tables
from briefgen.terminal.table import draw
from briefgen.units import show_duration, show_elapsed

CAUTION = (
    "For training and rehearsal. Never the approved procedure: what is done is decided by the responsible authority."
)
ASSUMED = (
    "Assumed: everybody goes on at once and takes as long as is likely; where nobody noted when a step was over, what "
    "comes next counts whole from now on. Suits gave what the plan says up to the last finished step, and their mean "
    "rate for the time lost since; nobody read a gauge."
)


def contradiction_words(day: Day, one: Contradiction) -> str:
    """Why a situation can't be so, and what to say instead."""
    step, first = day.proved.plan.steps[one.step], day.proved.plan.steps[one.first]
    who, other = (people_words(day.proved.library, [name]) for name in (one.person, one.other))
    if one.together:
        return (
            f"“{step.step.told.rstrip('.')}” ({step.key}) is done together: it is finished for {who} and {other}, or "
            f"for neither. Give {other} at least that step too, or {who} an earlier one."
        )
    return (
        f"{who} can't have finished {step.key} before {other} has finished {first.key}, which it waits for. Give "
        f"{other} at least that step, or {who} an earlier one."
    )


def underway_text(day: Day, its: Mapping[str, Any], width: int) -> str:
    """The answer (see `document`) as sentences and tables."""
    return "\n".join(
        [CAUTION, "", *_sentences(day, its), ASSUMED, "", *(draw(one, width) for one in underway_tables(day, its))]
    )


def _sentences(day: Day, its: Mapping[str, Any]) -> Iterator[str]:
    late, spare = its["late_s"], its["spare_s"]
    side = "later" if late >= 0 else "earlier"
    yield f"{day.proved.sortie.title}, {show_elapsed(its['now_s'])} elapsed."
    yield (
        f"The end: {show_elapsed(its['finish_s'])}, {show_duration(abs(late))} {side} than planned; "
        + (f"{show_duration(spare)} to spare." if spare >= 0 else f"{show_duration(-spare)} too late.")
    )
    yield f"Critical now: {its['critical'][0] if its['critical'] else 'nothing'}."
    yield f"In work: {listing(its['in_work']) or 'nothing that is known'}."
    yield light_words(its["light"])
    if its["dark"]:
        yield f"Work that needs light and falls into the dark: {listing(its['dark'])}."
    home = its["home"]
    bare = (f"{_who(day, person)} {_duration(seconds)}" for person, seconds in home["bare_s"].items())
    yield f"Immediate return, leaving all as it is, at most: {listing([*bare]) or 'nobody is outside'}."
    yield f"Orderly stop, all closed and everybody home, at most: {_duration(home['all_s'])}."
    if not home["searched"]:
        yield "Too much is open at once to try every way of closing it: there may be a quicker one."


def light_words(light: Mapping[str, Any]) -> str:
    """Day or night, and until when."""
    if light["night"] is None:
        return "Light: not known."
    until = "with no change listed" if light["until_s"] is None else f"until {show_elapsed(light['until_s'])}"
    return f"Light: {'night' if light['night'] else 'day'} {until}."


def _duration(seconds: float | None) -> str:
    return "not computed: no way leads back" if seconds is None else show_duration(math.ceil(seconds))


def _who(day: Day, person: str) -> str:
    return people_words(day.proved.library, [person])
