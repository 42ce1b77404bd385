"""How everybody's time goes, the longest way home, how far the tether reaches, what is carried."""

from __future__ import annotations

from briefgen.language.wording import metres
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.holding.carrying import loads
from briefgen.tables.kind import TableKind
from briefgen.tables.naming import person_cell
from briefgen.tables.table import Cell, Column, Table, cells, numbers
from briefgen.units import show_duration, show_elapsed, show_number


def margins_tables(proved: SortieEvidence) -> tuple[Table, ...]:
    """What is told of people outside, then how everybody's time goes."""
    return home_table(proved), hours_table(proved)


def home_table(proved: SortieEvidence) -> Table:
    """For each person outside: the longest way home, the farthest reach of the tether, how far they travel."""
    heads = ("Longest way home", "At", "Allowed", "Tether at most", "Tether allowed", "Travels in all")
    rows = tuple(_home(proved, name) for name in proved.time_home)
    return Table("home", "Way home and tether", (Column("Person"), *numbers(*heads)), rows, "Nobody goes outside.")


def _home(proved: SortieEvidence, name: str) -> tuple[Cell, ...]:
    limits, line = proved.sortie.limits, proved.time_home[name]
    moment, _ = line.worst
    reach = max((one.metres or 0.0 for one in proved.travel.reaches.get(name, ())), default=0.0)
    return (
        person_cell(proved.library, name),
        *cells(line.longest, f"{show_elapsed(moment)} elapsed"),
        Cell(show_duration(limits.return_within.likely) if limits.return_within else "no limit"),
        Cell(metres(reach)),
        Cell(limits.tether.written if limits.tether is not None else "no limit"),
        Cell(metres(proved.travel.metres(name))),
    )


def hours_table(proved: SortieEvidence) -> Table:
    """For everybody: work, ways, waits, what is left until the end, and the most that is carried at once."""
    heads = ("Work", "Ways", "Waiting", "After their last step", "Carries at most")
    rows = tuple(_hours(proved, name) for name in proved.plan.flows)
    return Table("hours", "How the time goes", (Column("Person"), *numbers(*heads)), rows, "Nobody does anything.")


def _hours(proved: SortieEvidence, name: str) -> tuple[Cell, ...]:
    sums = proved.timeline.sums(name)
    parts = (sums["work"], sums["way"], sums["waiting"] + sums.get("between", 0.0), sums["after"])
    return person_cell(proved.library, name), *cells(*map(show_duration, parts), _carries(proved, name))


def _carries(proved: SortieEvidence, name: str) -> str:
    """The most items and mass that somebody with a limit has with them."""
    mine = [load for load in loads(proved.plan, proved.custody) if load.person == name]
    if not mine:
        return ""
    items, mass = max(len(load.items) for load in mine), max(load.mass for load in mine)
    return f"{items} items, {show_number(mass)} kg"


TABLE = TableKind("margins", 30, margins_tables)
