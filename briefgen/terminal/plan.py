"""A sortie's tables: who does what when, who holds for what, and what there is to spare."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from briefgen.language.sentences import plain
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.holding.carrying import loads
from briefgen.proof.naming import hold_words, people_words, step_words
from briefgen.proof.plan import PlannedStep
from briefgen.proof.resources.supplies import SupplyRun
from briefgen.proof.schedule.agenda import Entry, Kind, agenda
from briefgen.terminal import deciding
from briefgen.terminal.stops import stops_table
from briefgen.terminal.table import Column, Table, draw
from briefgen.units import show_duration, show_elapsed, show_number

CAUTION = "A training aid. Outside, the approved procedure and the calls from the ground decide."

_START, _END, _SLACK = Column("Start", right=True), Column("End", right=True), Column("Slack", right=True)


def plan_text(case: SortieEvidence, tables: tuple[str, ...], width: int) -> str:
    """The named tables of one sortie under its heading. Raises KeyError for a table that does not exist."""
    drawn = [draw(TABLES[name](case), width) for name in tables or TABLES]
    return "\n".join([_heading(case), *drawn])


def _heading(case: SortieEvidence) -> str:
    sortie, timeline = case.sortie, case.timeline
    revision = f", revision {sortie.revision}" if sortie.revision else ""
    starts = f", starts {sortie.starts}" if sortie.starts else ""
    reserve = show_duration(sortie.limits.length.likely - sortie.limits.usable)
    return (
        f"{sortie.title}{revision}{starts}\n"
        f"Over at {show_elapsed(timeline.finish)} elapsed; allowed {show_duration(sortie.limits.length.likely)} with "
        f"{reserve} in reserve; {_margin(timeline.margin)}.\n{CAUTION}\n"
    )


def _margin(seconds: float) -> str:
    return f"{show_duration(seconds)} to spare" if seconds >= 0 else f"{show_duration(-seconds)} too long"


def timeline_table(case: SortieEvidence) -> Table:
    """Every step, way and wait by the clock; `*` marks the steps on the critical chain."""
    rows = tuple(_entry(case, entry) for entry in agenda(case.timeline))
    columns = (_START, _END, Column("Who"), Column("What", wide=True), Column("Where", wide=True), _SLACK)
    return Table("Timeline (elapsed h:mm:ss; * cannot slip without ending later)", columns, rows)


def _entry(case: SortieEvidence, entry: Entry) -> tuple[str, ...]:
    step = entry.kind is Kind.STEP
    critical = step and entry.times.critical
    return (
        show_elapsed(entry.start),
        show_elapsed(entry.end),
        people_words(case.library, entry.people),
        _what(case, entry),
        _place(case, entry.place),
        (f"{show_duration(entry.times.slack)}{' *' if critical else '  '}") if step else "",
    )


def _what(case: SortieEvidence, entry: Entry) -> str:
    if entry.kind is Kind.STEP:
        planned = entry.times.step
        many = f" ({planned.times} times)" if planned.times > 1 else ""
        return f"{plain(planned.step.do)}{many}{_grip(planned)} [{planned.key}]"
    if entry.kind is Kind.WAY:
        far = f", {show_number(entry.metres)} m" if entry.metres is not None else ""
        return f"→ {_place(case, entry.goal)}{far}"
    assert entry.cause is not None  # every wait has one
    if entry.cause is entry.times.step:
        others = [name for name in entry.cause.people if name not in entry.people]
        return f"waits until {people_words(case.library, others)} is there"
    return f"waits for {hold_words(case.library, entry.cause)}"


def _grip(planned: PlannedStep) -> str:
    """What the step gets somebody into, or out of."""
    step = planned.step
    return f" (into {step.enters})" if step.enters else f" (out of {step.exits})" if step.exits else ""


def _place(case: SortieEvidence, name: str | None) -> str:
    place = case.library.places.get(name) if name else None
    return place.label_text if place else ""


def holds_table(case: SortieEvidence) -> Table:
    """Who may not go on before somebody else is done."""
    steps = case.plan.steps
    rows = tuple(
        (
            people_words(case.library, hold.people),
            step_words(case.library, steps[hold.step]),
            hold_words(case.library, steps[hold.first]),
            show_duration(hold.seconds) if hold.seconds else "none planned",
        )
        for hold in case.holds
    )
    columns = (Column("Who"), Column("Holds before", wide=True), Column("Until", wide=True), Column("Wait", right=True))
    return Table("Holds", columns, rows, "Nobody has to hold for anybody.")


def margins_table(case: SortieEvidence) -> Table:
    """For each person: how the time goes, the longest way home, how far the tether reaches."""
    rows = tuple(_person(case, person) for person in case.plan.flows)
    heads = ("Work", "Way", "Waiting", "After", "Way home at most", "Tether at most", "Carries at most")
    limits = case.sortie.limits
    home = f"way home within {show_duration(limits.return_within.likely)}" if limits.return_within else ""
    tether = f"tether {limits.tether.written}" if limits.tether is not None else ""
    allowed = ", ".join(filter(None, [home, tether])) or "no limit set"
    columns = (Column("Who"), *(Column(head, right=True) for head in heads))
    return Table(f"Margins (allowed: {allowed})", columns, rows)


def _person(case: SortieEvidence, person: str) -> tuple[str, ...]:
    sums, line = case.timeline.sums(person), case.time_home.get(person)
    reach = max((one.metres or 0.0 for one in case.travel.reaches.get(person, ())), default=None)
    times = [show_duration(sums[key]) for key in ("work", "way", "waiting", "after")]
    home = line.longest if line else ""
    tether = f"{show_number(reach)} m" if reach is not None and line else ""
    return (people_words(case.library, [person]), *times, home, tether, _carries(case, person))


def _carries(case: SortieEvidence, person: str) -> str:
    """The most items and mass that somebody with a limit has with them."""
    mine = [load for load in loads(case.plan, case.custody) if load.person == person]
    if not mine:
        return ""
    items, mass = max(len(load.items) for load in mine), max(load.mass for load in mine)
    return f"{items} items, {show_number(mass)} kg"


def supplies_table(case: SortieEvidence) -> Table:
    """What each suit holds, must keep, uses and has left, and when its reserve would be reached."""
    runs = [run for row in case.supplies.runs.values() for run in row]
    heads = ("Holds", "Reserve", "Used", "Left", "Reserve reached at")
    columns = (Column("Who"), Column("Supply"), *(Column(head, right=True) for head in heads))
    return Table(
        "Supplies (* ends the sortie first)",
        columns,
        tuple(_supply(case, run) for run in runs),
        "No suit has supplies.",
    )


def _supply(case: SortieEvidence, run: SupplyRun) -> tuple[str, ...]:
    amounts = (float(run.supply.holds), float(run.supply.keeps), run.used, run.left)
    reached = show_elapsed(run.reserve_reached) if run.reserve_reached is not None else "never"
    ends = " *" if run is case.supplies.ends else "  "
    return (
        people_words(case.library, [run.person]),
        run.name.replace("-", " "),
        *(f"{_digits(amount / run.factor)} {run.unit}" for amount in amounts),
        reached + ends,
    )


def _digits(amount: float) -> str:
    """Three digits that count, at least the units."""
    size = abs(amount)
    return show_number(amount, 0 if size >= 100 else 1 if size >= 10 else 2 if size >= 1 else 3)


def light_table(case: SortieEvidence) -> Table:
    """Nights, and the steps that need light."""
    columns = (
        Column("What", wide=True),
        Column("From", right=True),
        Column("To", right=True),
        Column("Spare", right=True),
    )
    return Table(
        "Light", columns, tuple(sorted(_lit(case), key=lambda row: row[1].zfill(9))), "No day and night are given."
    )


def _lit(case: SortieEvidence) -> Iterator[tuple[str, ...]]:
    for start, end in case.light.nights:
        yield ("night", show_elapsed(start), show_elapsed(end), "")
    for need in case.light.needs:
        spare = "no night comes" if need.spare is None else show_duration(need.spare)
        words = step_words(case.library, need.times.step)
        yield (words, show_elapsed(need.times.start), show_elapsed(need.times.end), spare)


def kept_free_table(case: SortieEvidence) -> Table:
    """The steps that keep a place or route free of everybody else outside."""
    columns = (_START, _END, Column("What", wide=True), Column("Nobody else at", wide=True))
    times = sorted((one for one in case.timeline.times if one.step.step.keeps_out), key=lambda one: one.start)
    rows = tuple(
        (show_elapsed(one.start), show_elapsed(one.end), step_words(case.library, one.step), _kept(case, one.step))
        for one in times
    )
    return Table("Kept free", columns, rows, "No step keeps a place free.")


def _kept(case: SortieEvidence, planned: PlannedStep) -> str:
    places, routes = case.library.places, case.library.routes
    return ", ".join((places.get(name) or routes[name]).label_text for name in planned.step.keeps_out)


TABLES: Mapping[str, Callable[[SortieEvidence], Table]] = {
    "timeline": timeline_table,
    "holds": holds_table,
    "margins": margins_table,
    "supplies": supplies_table,
    "light": light_table,
    "kept-free": kept_free_table,
    **deciding.TABLES,
    "stops": stops_table,
}
"""The tables by the name under which they are asked for."""
