"""Deciding, as tables: by when each task must begin, what to drop when late, what to add when early."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from briefgen.language.wording import capital, listing
from briefgen.pages.desk import Desk
from briefgen.pages.rows import Cell, Link, Table
from briefgen.proof.chance.spread import Spread
from briefgen.proof.deciding.drops import Drop, Kept
from briefgen.proof.deciding.extras import MOST_LOOKED_AT, Between, Extra, Unfit, Why
from briefgen.proof.deciding.latest import Latest
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.soundness import Kind
from briefgen.units import MINUTE, show_duration, show_elapsed

FAULTS: Mapping[str, str] = {
    Kind.WAY: "no way leads there and on",
    Kind.TETHER: "the tether does not reach",
    Kind.HOME: "the way home would be too long",
    Kind.NO_HOME: "no way would lead home",
    Kind.LEFT_OUT: "somebody would not be home in the end",
    Kind.DARK: "work that needs light would fall into the night",
    Kind.RESERVE: "a suit's reserve would be touched",
    Kind.LIMIT: "the sortie would end too late",
    Kind.CROWD: "there would not be room for everybody",
    Kind.TAKEN: "somebody would stay where others need the room",
    Kind.CLASH: "a tool would be needed in two places at once",
    Kind.PREREQUISITE: "something would not be done before what needs it",
    Kind.STATE: "equipment would not be in the state that a step needs",
    Kind.CUSTODY: "a tool or a bag would not be where a step needs it",
    Kind.LOAD: "somebody would carry more than they can",
    Kind.FITTED: "something would be taken away while it is fitted",
    Kind.ENDS: "something would be left as it may not stay",
    Kind.CARRIED: "something would be left otherwise than the sortie says",
    Kind.SPENT: "too little of something is left",
    Kind.HAZARD: "a hazard on the way would not be controlled",
    Kind.HELD: "somebody would not be in the restraint that the work needs, or would go on from it without getting out",
    Kind.KEPT_FREE: "somebody would be where others must keep away",
    Kind.TAKEN_BACK: "a way back would not lead to how things were",
}
"""What is said of each kind of fault."""


@dataclass(frozen=True)
class Left:
    """A get-ahead that does not fit, and why."""

    task: Link
    words: str


def by_minute(seconds: float) -> str:
    """A latest moment, rounded down to the whole minute so that it is never too late; never, where nothing fits.

    >>> by_minute(15_959), by_minute(-1)
    ('4:25:00', 'never in time')
    """
    return "never in time" if seconds < 0 else show_elapsed(math.floor(seconds / MINUTE) * MINUTE)


def spread_words(spread: Spread) -> str:
    """A mean and a standard deviation, in minutes; below two minutes in seconds.

    >>> spread_words(Spread(1538.9, 141.1)), spread_words(Spread(100.0, 9.6)), spread_words(Spread(60.0, 0.0))
    ('25.6 min ± 2.4 min', '100 s ± 10 s', '60 s')
    """
    unit, size, places = ("min", MINUTE, 1) if spread.mean >= 2 * MINUTE else ("s", 1.0, 0)
    mean = f"{spread.mean / size:.{places}f} {unit}"
    return f"{mean} ± {spread.deviation / size:.{places}f} {unit}" if spread.deviation >= 0.5 else mean


def spare_words(latest: Latest) -> str:
    """How much later than planned a task may begin; that it can't even begin as planned, where it can't."""
    return show_duration(latest.spare) if latest.spare >= 0 else f"too late by {show_duration(-latest.spare)}"


def latest_table(desk: Desk, case: SortieEvidence) -> Table:
    """Every task by its planned beginning."""
    head = ("Task", "Who", "Planned", "Begin by", "To spare", "Lasts")
    rows = tuple(_latest(desk, case, one) for one in case.latest)
    caption = "By when each task must begin, in elapsed time (hours:minutes:seconds)"
    return Table("_latest", caption, (Cell(head[0]), Cell(head[1]), *_numbers(*head[2:])), rows)


def _latest(desk: Desk, case: SortieEvidence, one: Latest) -> tuple[Cell, ...]:
    link = desk.link("task", one.task)
    lasts = spread_words(case.chance.tasks[one.task].lasts)
    return (
        Cell(link.words, link.target),
        Cell(_people(desk, one.people)),
        *_numbers(show_elapsed(one.begins), by_minute(one.latest), spare_words(one), lasts),
    )


def drops_table(desk: Desk, case: SortieEvidence) -> Iterator[Table]:
    """What to leave out, in order; nothing where nothing can be."""
    drops = case.dropping.drops
    if drops:
        head = ("Leave out", "Priority", "Earlier at the end", "With those above", "Frees", "Reached")
        rows = tuple(_drop(desk, case, number, one) for number, one in enumerate(drops, start=1))
        cells = (*map(Cell, head[:2]), *_numbers(*head[2:]))
        yield Table("_drops", "What to leave out first, in this order", cells, rows)


def _drop(desk: Desk, case: SortieEvidence, number: int, one: Drop) -> tuple[Cell, ...]:
    link = desk.link("task", one.task)
    along = "".join(f", and with it {desk.label('task', task)}" for task in one.takes_along)
    frees = listing([f"{desk.mark(person).name} {show_duration(seconds)}" for person, seconds in one.frees])
    reached = case.chance.tasks[one.task].reached
    return (
        Cell(f"{number}. {link.words}{along}", link.target),
        Cell(desk.priority(desk.library.tasks[one.task]).words),
        *_numbers(gained(one.gives_back), gained(one.in_all), frees or "nobody", reached.words if reached else ""),
    )


def gained(seconds: float) -> str:
    """How much earlier the sortie ends; that it ends no earlier, where it does not."""
    return show_duration(seconds) if seconds >= 0.5 else "no earlier"


def kept_lines(desk: Desk, case: SortieEvidence) -> tuple[Left, ...]:
    """Optional tasks that others need."""
    return tuple(Left(desk.link("task", one.task), _why_kept(desk, one)) for one in case.dropping.kept)


def extras_table(desk: Desk, case: SortieEvidence) -> Iterator[Table]:
    """The get-aheads that fit, in the order in which they are done."""
    fitting = case.extras.fitting
    if fitting:
        head = ("Take up", "Where it stands", "Begins", "Ends", "Work and ways", "Alone, later by")
        rows = tuple(_extra(desk, number, one) for number, one in enumerate(fitting, start=1))
        cells = (Cell(head[0]), Cell(head[1]), *_numbers(*head[2:]))
        yield Table("_extras", "What fits into what is left, in this order", cells, rows)


def _extra(desk: Desk, number: int, one: Extra) -> tuple[Cell, ...]:
    link = desk.link("task", one.task)
    busy = listing([f"{desk.mark(person).name} {show_duration(seconds)}" for person, seconds in one.busy])
    where = "; ".join(_between(desk, between) for between in one.between)
    later = show_duration(one.later) if one.later >= 0.5 else "nothing"
    return (
        Cell(f"{number}. {link.words}", link.target),
        Cell(where),
        *_numbers(show_elapsed(one.begins), show_elapsed(one.ends), busy, later),
    )


def _between(desk: Desk, one: Between) -> str:
    after = f"after “{desk.label('task', one.after)}”" if one.after else "first of all"
    before = f", before “{desk.label('task', one.before)}”" if one.before else ""
    return f"{desk.mark(one.person).name} {after}{before}"


def unfit_lines(desk: Desk, case: SortieEvidence) -> tuple[Left, ...]:
    """The get-aheads that do not fit, each with the reason."""
    return tuple(Left(desk.link("task", one.task), _why(desk, one)) for one in case.extras.unfit)


def _why(desk: Desk, one: Unfit) -> str:
    match one.why:
        case Why.TOO_LONG:
            return f"fits once the crew is at least {show_duration(math.ceil(one.missing / MINUTE) * MINUTE)} early"
        case Why.BESIDE:
            return "fits, but not beside those above"
        case Why.NOT_HELD:
            return f"there is time, but {listing([FAULTS[kind] for kind in one.faults], 'or')}"
        case Why.NOT_READY:
            return f"needs {listing([desk.label('task', task) for task in one.needs])} first, which is not done"
        case Why.NO_PLACE:
            return "nobody has a gap for it to which ways lead"
        case Why.UNTRIED:
            return f"not looked at: only the first {MOST_LOOKED_AT} listed are"


def latest_of(case: SortieEvidence, task: str) -> Latest:
    """By when a task of the sortie must begin."""
    return next(one for one in case.latest if one.task == task)


def drop_of(case: SortieEvidence, task: str) -> Drop | None:
    """What leaving a task out gives back, if it can be left out on its own account."""
    return next((one for one in case.dropping.drops if one.task == task), None)


def _people(desk: Desk, people: tuple[str, ...]) -> str:
    return listing([desk.mark(person).name for person in people])


def _numbers(*words: str) -> tuple[Cell, ...]:
    return tuple(Cell(capital(word), number=True) for word in words)


def _why_kept(desk: Desk, kept: Kept) -> str:
    """Why a task can't be left out."""
    if not kept.needed_by:
        return "not together with those above: something would not hold then"
    return f"needed by {listing([desk.label('task', task) for task in kept.needed_by])}"
