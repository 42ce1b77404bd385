"""The day as it goes, as text: what follows from the clock and the last finished step of each person."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any

from briefgen.language.wording import listing
from briefgen.proof.deciding.underway.answer import Why
from briefgen.proof.deciding.underway.day import Day
from briefgen.proof.deciding.underway.situation import Contradiction
from briefgen.proof.naming import people_words
from briefgen.terminal.table import Column, Table, draw
from briefgen.units import MINUTE, show_duration, show_elapsed

CAUTION = (
    "For training and rehearsal. Never the approved procedure: what is done is decided by the responsible authority."
)
ASSUMED = (
    "Assumed: everybody goes on at once and takes as long as is likely; where nobody noted when a step was over, what "
    "comes next counts whole from now on. Suits gave what the plan says up to the last finished step, and their mean "
    "rate for the time lost since; nobody read a gauge."
)
_WHY: Mapping[str, str] = {
    Why.BEGUN: "begun, or somebody may be on the way to it",
    Why.DONE: "done",
    Why.UNPROVED: "not proved together with those above",
    Why.WORSE: "work would fall into the dark, a reserve be touched, or the end be later",
}


def contradiction_words(day: Day, one: Contradiction) -> str:
    """Why a situation can't be so, and what to say instead."""
    step, first = day.case.plan.steps[one.step], day.case.plan.steps[one.first]
    who, other = (people_words(day.case.library, [name]) for name in (one.person, one.other))
    if one.together:
        return (
            f"“{step.step.do.rstrip('.')}” ({step.key}) is done together: it is finished for {who} and {other}, or for "
            f"neither. Give {other} at least that step too, or {who} an earlier one."
        )
    return (
        f"{who} can't have finished {step.key} before {other} has finished {first.key}, which it waits for. Give "
        f"{other} at least that step, or {who} an earlier one."
    )


def underway_text(day: Day, its: Mapping[str, Any], width: int) -> str:
    """The answer (see `document`) as sentences and tables."""
    tables = (_due(day, its), _omissions(day, its), _supplies(day, its), _open(its), _closing(its))
    return "\n".join([CAUTION, "", *_sentences(day, its), ASSUMED, "", *(draw(one, width) for one in tables)])


def _sentences(day: Day, its: Mapping[str, Any]) -> Iterator[str]:
    late, spare = its["late_s"], its["spare_s"]
    side = "later" if late >= 0 else "earlier"
    yield f"{day.case.sortie.title}, {show_elapsed(its['now_s'])} elapsed."
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


def light_words(light: Mapping[str, Any]) -> str:
    """Day or night, and until when."""
    if light["night"] is None:
        return "Light: not known."
    until = "with no change listed" if light["until_s"] is None else f"until {show_elapsed(light['until_s'])}"
    return f"Light: {'night' if light['night'] else 'day'} {until}."


def _due(day: Day, its: Mapping[str, Any]) -> Table:
    columns = (Column("Task", wide=True), *(Column(head, right=True) for head in ("Would begin", "Begin by", "Fits")))
    fits = {True: "yes", False: "NO"}
    rows = tuple(
        (_task(day, one["task"]), show_elapsed(one["begins_s"]), _moment(one["latest_s"]), fits[one["fits"]])
        for one in its["due"]
    )
    title = "Until when each task may begin (what is optional and begins later left out)"
    return Table(title, columns, rows, "Every task is begun.")


def _moment(seconds: float) -> str:
    """Rounded down to the minute, so that it is never too late."""
    return show_elapsed(math.floor(seconds / MINUTE) * MINUTE) if seconds >= 0 else "never"


def _omissions(day: Day, its: Mapping[str, Any]) -> Table:
    columns = (
        Column("Leave out, in this order", wide=True),
        Column("Gains", right=True),
        Column("The end", right=True),
    )
    rows = tuple(_omission(day, one) for one in its["omissions"])
    return Table("What to leave out, and what that gains", columns, rows, "Nothing can be left out.")


def _omission(day: Day, one: Mapping[str, Any]) -> tuple[str, str, str]:
    tasks = listing([_task(day, task) for task in one["tasks"]])
    if one["why_not"]:
        return f"{tasks}: no, {_WHY[one['why_not']]}", "", ""
    return tasks, show_duration(one["gains_s"]), show_elapsed(one["finish_s"])


def _supplies(day: Day, its: Mapping[str, Any]) -> Table:
    heads = ("Left now", "Left in the end", "Reserve", "Reserve touched")
    columns = (Column("Supply", wide=True), *(Column(head, right=True) for head in heads))
    rows = tuple(
        (
            f"{_who(day, one['person'])}, {one['supply'].replace('-', ' ')}",
            *(f"{one[name]:.2f} {one['unit']}" for name in ("now", "end", "keeps")),
            "never" if one["reserve_s"] is None else show_elapsed(one["reserve_s"]),
        )
        for one in its["supplies"]
    )
    return Table("Supplies from here (computed, not read)", columns, rows)


def _open(its: Mapping[str, Any]) -> Table:
    columns = (Column("Open", wide=True), Column("How", wide=True), Column("Closed by", wide=True))
    rows = tuple((one["what"], one["how"], one["closed_by"] or "no way back is written") for one in its["home"]["open"])
    return Table("What is open now", columns, rows, "Nothing is open.")


def _closing(its: Mapping[str, Any]) -> Table:
    columns = (Column("The written way back", wide=True), Column("Begins", right=True), Column("Ends", right=True))
    rows = tuple((one["step"], _after(one["begins_s"]), _after(one["ends_s"])) for one in its["home"]["closing"])
    return Table("Orderly stop: what is done, from the last finished steps on", columns, rows, "Nothing is to close.")


def _after(seconds: float | None) -> str:
    """A moment after the call."""
    return "never" if seconds is None else f"+{show_elapsed(seconds)}"


def _duration(seconds: float | None) -> str:
    return "not computed: no way leads back" if seconds is None else show_duration(math.ceil(seconds))


def _task(day: Day, task: str) -> str:
    return str(day.case.library.tasks[task].label_text)


def _who(day: Day, person: str) -> str:
    return people_words(day.case.library, [person])
