"""A sortie's tables for deciding: chances, latest begins, what to drop, which get-aheads fit, what steps last."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping

from briefgen.proof.chance.share import RUNS, SEED
from briefgen.proof.chance.spread import spread
from briefgen.proof.deciding.extras import MOST_LOOKED_AT, Extra, Unfit, Why
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.naming import people_words, step_words
from briefgen.terminal.table import Column, Table
from briefgen.units import show_duration, show_elapsed

_WHY: Mapping[Why, str] = {
    Why.TOO_LONG: "no time: at least {missing} too long",
    Why.BESIDE: "fits, but not beside those above",
    Why.NOT_HELD: "there is time, but the plan would not hold: {faults}",
    Why.NOT_READY: "needs first: {needs}",
    Why.NO_PLACE: "nobody has a gap for it to which ways lead",
    Why.UNTRIED: f"not looked at: only the first {MOST_LOOKED_AT} listed are",
}


def chance_table(case: SortieEvidence) -> Table:
    """How likely the sortie ends in time."""
    return Table(
        f"Chance ({RUNS} runs, seed {SEED})", (Column("What", wide=True), Column("Value", right=True)),
        tuple(_chances(case)),
    )  # fmt: skip


def _chances(case: SortieEvidence) -> Iterator[tuple[str, str]]:
    chance, finish = case.chance, case.chance.finish
    if chance.usable < chance.length:
        yield f"ends by {show_elapsed(chance.usable)}, the reserve kept", finish.within(chance.usable).words
    yield f"ends by {show_elapsed(chance.length)}, the limit", finish.within(chance.length).words
    if chance.bare:
        yield f"ends by {show_elapsed(chance.usable)} without optional tasks", chance.bare.within(chance.usable).words
    yield "mean of the finish", show_elapsed(finish.spread.mean)
    yield "spread of the finish (standard deviation)", show_duration(finish.spread.deviation)
    for share in (0.05, 0.5, 0.95):
        yield f"{share:.0%} of the runs end by".replace("%", " %"), show_elapsed(finish.by(share))


def latest_table(case: SortieEvidence) -> Table:
    """By when each task must begin."""
    columns = (
        Column("Task", wide=True),
        Column("Who"),
        *_right("Planned", "No later than", "To spare", "Lasts", "Spread"),
    )
    return Table("By when each task must begin (what is optional and not begun by then left out)", columns,
                 tuple(_latest(case)))  # fmt: skip


def _latest(case: SortieEvidence) -> Iterator[tuple[str, ...]]:
    for one in case.latest:
        lasts = case.chance.tasks[one.task].lasts
        yield (
            _task(case, one.task), people_words(case.library, one.people), show_elapsed(one.begins),
            _moment(one.latest), show_duration(one.spare), show_duration(lasts.mean),
            show_duration(lasts.deviation),
        )  # fmt: skip


def _moment(seconds: float) -> str:
    return show_elapsed(math.floor(seconds)) if seconds >= 0 else "never"


def drops_table(case: SortieEvidence) -> Table:
    """What to leave out when late, in order."""
    columns = (
        Column("Leave out", wide=True), Column("With it", wide=True), *_right("Ends earlier by", "In all", "Reached"),
    )  # fmt: skip
    return Table("Leave out first when late", columns, tuple(_drops(case)), "No task can be left out.")


def _drops(case: SortieEvidence) -> Iterator[tuple[str, ...]]:
    for one in case.dropping.drops:
        reached = case.chance.tasks[one.task].reached
        along = ", ".join(_task(case, task) for task in one.takes_along)
        back, in_all = show_duration(one.gives_back), show_duration(one.in_all)
        yield _task(case, one.task), along, back, in_all, reached.words if reached else ""
    for kept in case.dropping.kept:
        needed = ", ".join(_task(case, task) for task in kept.needed_by)
        why = f"needed by {needed}" if needed else "something would not hold together with those above"
        yield f"not {_task(case, kept.task)}: {why}", "", "", "", ""


def extras_table(case: SortieEvidence) -> Table:
    """Which get-aheads fit, and why the others do not."""
    columns = (Column("Get-ahead", wide=True), Column("Where or why not", wide=True), *_right("Begins", "Ends"))
    rows = (*(_extra(case, one) for one in case.extras.fitting), *(_unfit(case, one) for one in case.extras.unfit))
    tried = "every order tried, each at its cheapest place by then" if case.extras.exact else "not every order tried"
    title = f"If time is left (over at {show_elapsed(case.extras.finish)} with all that fits; {tried})"
    return Table(title, columns, rows, "The sortie has no get-aheads.")


def _extra(case: SortieEvidence, one: Extra) -> tuple[str, ...]:
    where = "; ".join(
        f"{people_words(case.library, [gap.person])} after {_task(case, gap.after) if gap.after else 'nothing'}"
        for gap in one.between
    )
    return _task(case, one.task), where, show_elapsed(one.begins), show_elapsed(one.ends)


def _unfit(case: SortieEvidence, one: Unfit) -> tuple[str, ...]:
    needs = ", ".join(_task(case, task) for task in one.needs)
    missing = show_duration(math.ceil(one.missing))
    why = _WHY[one.why].format(missing=missing, needs=needs, faults=", ".join(one.faults))
    return _task(case, one.task), why, "", ""


def steps_table(case: SortieEvidence) -> Table:
    """How long each step lasts, and how often it decides the end."""
    columns = (Column("Step", wide=True), *_right("Shortest", "Likely", "Longest", "Mean", "Spread", "Critical in"))
    return Table("Steps: durations, and the share of runs in which they are critical", columns, tuple(_steps(case)))


def _steps(case: SortieEvidence) -> Iterator[tuple[str, ...]]:
    for step, share in zip(case.plan.steps, case.chance.critical, strict=True):
        span, its = step.duration, spread(step.duration)
        times = (span.low, span.likely, span.high, its.mean, its.deviation)
        yield step_words(case.library, step), *map(show_duration, times), share.words


def _task(case: SortieEvidence, task: str) -> str:
    return str(case.library.tasks[task].label_text)


def _right(*heads: str) -> Iterator[Column]:
    return (Column(head, right=True) for head in heads)


TABLES: Mapping[str, Callable[[SortieEvidence], Table]] = {
    "chance": chance_table,
    "latest": latest_table,
    "drops": drops_table,
    "get-aheads": extras_table,
    "steps": steps_table,
}
"""The tables by the name under which they are asked for."""
