"""The day as it goes, as tables: by when, what to leave out, supplies, what is open and the written way back."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from briefgen.language.wording import listing
from briefgen.proof.deciding.underway.answer import WhyKept
from briefgen.proof.deciding.underway.day import Day
from briefgen.proof.naming import people_words
from briefgen.tables.table import Cell, Column, Table, cells, numbers
from briefgen.units import MINUTE, show_duration, show_elapsed

_WHY: Mapping[str, str] = {
    WhyKept.BEGUN: "begun, or somebody may be on the way to it",
    WhyKept.DONE: "done",
    WhyKept.UNPROVED: "not proved together with those above",
    WhyKept.WORSE: "work would fall into the dark, a reserve be touched, or the end be later",
}


def underway_tables(day: Day, its: Mapping[str, Any]) -> tuple[Table, ...]:
    """The tables of an answer (see `document`)."""
    return (_due(day, its), _omissions(day, its), _supplies(day, its), _open(its), _closing(its))


def _due(day: Day, its: Mapping[str, Any]) -> Table:
    columns = (Column("Task", wide=True), *numbers("Would begin", "Begin by", "Fits"))
    fits = {True: "yes", False: "NO"}
    rows = tuple(
        cells(_label(day, one["task"]), show_elapsed(one["begins_s"]), _moment(one["latest_s"]), fits[one["fits"]])
        for one in its["due"]
    )
    title = "Until when each task may begin (what is optional and begins later left out)"
    return Table("due", title, columns, rows, "Every task is begun.")


def _moment(seconds: float) -> str:
    """Rounded down to the minute, so that it is never too late."""
    return show_elapsed(math.floor(seconds / MINUTE) * MINUTE) if seconds >= 0 else "never"


def _omissions(day: Day, its: Mapping[str, Any]) -> Table:
    columns = (Column("Leave out, in this order", wide=True), *numbers("Gains", "The end"))
    rows = tuple(_omission(day, one) for one in its["omissions"])
    return Table("omissions", "What to leave out, and what that gains", columns, rows, "Nothing can be left out.")


def _omission(day: Day, one: Mapping[str, Any]) -> tuple[Cell, ...]:
    tasks = listing([_label(day, task) for task in one["tasks"]])
    if one["why_not"]:
        return cells(f"{tasks}: no, {_WHY[one['why_not']]}", "", "")
    return cells(tasks, show_duration(one["gains_s"]), show_elapsed(one["finish_s"]))


def _supplies(day: Day, its: Mapping[str, Any]) -> Table:
    heads = ("Left now", "Left in the end", "Reserve", "Reserve touched")
    columns = (Column("Supply", wide=True), *numbers(*heads))
    rows = tuple(
        cells(
            f"{_who(day, one['person'])}, {one['supply'].replace('-', ' ')}",
            *(f"{one[name]:.2f} {one['unit']}" for name in ("now", "end", "keeps")),
            "never" if one["reserve_s"] is None else show_elapsed(one["reserve_s"]),
        )
        for one in its["supplies"]
    )
    return Table("supplies", "Supplies from here (computed, not read)", columns, rows)


def _open(its: Mapping[str, Any]) -> Table:
    columns = (Column("Open", wide=True), Column("How", wide=True), Column("Closed by", wide=True))
    home = its["home"]
    stuck = "no way back is written" if home["searched"] else "nothing that is shown"
    rows = tuple(cells(one["what"], one["how"], one["closed_by"] or stuck) for one in home["open"])
    return Table("open", "What is open now", columns, rows, "Nothing is open.")


def _closing(its: Mapping[str, Any]) -> Table:
    columns = (Column("The written way back", wide=True), *numbers("Begins", "Ends"))
    rows = tuple(cells(one["step"], _after(one["begins_s"]), _after(one["ends_s"])) for one in its["home"]["closing"])
    return Table(
        "closing", "Orderly stop: what is done, from the last finished steps on", columns, rows, "Nothing is to close."
    )


def _after(seconds: float | None) -> str:
    """A moment after the call."""
    return "never" if seconds is None else f"+{show_elapsed(seconds)}"


def _label(day: Day, task: str) -> str:
    return str(day.proved.library.tasks[task].label_text)


def _who(day: Day, person: str) -> str:
    return people_words(day.proved.library, [person])
