"""What a sortie has to spare, as tables: supplies, day and night, the way home, the tether."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.language.wording import capital, metres
from briefgen.pages.desk import Desk
from briefgen.pages.rows import Cell, Table
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.moving.tether import Reach
from briefgen.proof.resources.supplies import SupplyRun
from briefgen.units import show_duration, show_elapsed, show_number

_NUMBER = {"number": True}


def supplies_table(desk: Desk, case: SortieEvidence) -> Iterator[Table]:
    """Each suit's supplies: what there is, what must be kept, what is used, what is left, and until when it lasts."""
    runs = [run for row in case.supplies.runs.values() for run in row]
    if runs:
        head = ("Supply", "Holds", "Reserve", "Used", "Left at the end", "Reserve reached at")
        rows = tuple(_supply(desk, run) for run in runs)
        yield Table("_supplies", "Supplies of the suits", (Cell(head[0]), *_numbers(head[1:])), rows)


def _supply(desk: Desk, run: SupplyRun) -> tuple[Cell, ...]:
    mark = desk.mark(run.person)
    amounts = (float(run.supply.holds), float(run.supply.keeps), run.used, run.left)
    reached = run.reserve_reached
    return (
        Cell(f"{mark.name}: {run.name.replace('-', ' ')}", desk.links.target("suit", run.suit)),
        *_numbers(f"{_digits(amount / run.factor)} {run.unit}" for amount in amounts),
        Cell(f"{show_elapsed(reached)} elapsed" if reached is not None else "never", number=True),
    )


def _digits(amount: float) -> str:
    """Three digits that count, at least the units."""
    size = abs(amount)
    return show_number(amount, 0 if size >= 100 else 1 if size >= 10 else 2 if size >= 1 else 3)


def nights_table(case: SortieEvidence) -> Iterator[Table]:
    """The nights along the sortie."""
    nights = case.light.nights
    if nights:
        head = ("Night", "Sunset", "Sunrise", "Lasts")
        rows = tuple(
            (
                Cell(f"Night {number}"),
                *_numbers(
                    [f"{show_elapsed(start)} elapsed", f"{show_elapsed(end)} elapsed", show_duration(end - start)]
                ),
            )
            for number, (start, end) in enumerate(nights, start=1)
        )
        yield Table("_nights", "Nights", (Cell(head[0]), *_numbers(head[1:])), rows)


def light_table(desk: Desk, case: SortieEvidence) -> Iterator[Table]:
    """The steps that need light, and how far each may slip before night reaches it."""
    needs = case.light.needs
    if needs:
        rows = tuple(_lit(desk, need.times.step.key, need.times.start, need.spare) for need in needs)
        yield Table("_lit", "Steps that need light", (Cell("Step"), *_numbers(["Begins", "Spare before night"])), rows)


def _lit(desk: Desk, key: str, start: float, spare: float | None) -> tuple[Cell, ...]:
    task, _, step = key.partition("/")
    link = desk.link("task", task, step)
    said = show_duration(spare) if spare is not None else "no night comes"
    return (Cell(link.words, link.target), *_numbers([f"{show_elapsed(start)} elapsed", said]))


def home_table(desk: Desk, case: SortieEvidence) -> Iterator[Table]:
    """For each person outside: the longest way home, the farthest reach of the tether, and how far they go in all."""
    lines = case.time_home
    if not lines:
        return
    limits = case.sortie.limits
    head = ["Longest way home", "At", "Allowed", "Tether at most", "Tether allowed", "Goes in all"]
    rows = []
    for person, line in lines.items():
        moment, _ = line.worst
        reach = max((_reach(one) for one in case.travel.reaches.get(person, ())), default=0.0)
        cells = [
            line.longest,
            f"{show_elapsed(moment)} elapsed",
            show_duration(limits.return_within.likely) if limits.return_within else "no limit",
            metres(reach),
            limits.tether.written if limits.tether is not None else "no limit",
            metres(case.travel.metres(person)),
        ]
        mark = desk.mark(person)
        rows.append((Cell(mark.name, mark.target), *_numbers(cells)))
    yield Table("_home", "Way home and tether", (Cell("Person"), *_numbers(head)), tuple(rows))


def of_person(case: SortieEvidence, person: str) -> Iterator[tuple[str, str]]:
    """What one person outside has to spare, as headings and words."""
    line, first, limits = case.time_home.get(person), case.supplies.first(person), case.sortie.limits
    if line:
        moment, _ = line.worst
        allowed = f", allowed {show_duration(limits.return_within.likely)}" if limits.return_within else ""
        yield "Longest way home", capital(f"{line.longest}, at {show_elapsed(moment)} elapsed{allowed}")
        yield "Goes in all", metres(case.travel.metres(person))
    if first and first.reserve_reached is not None:
        name = capital(first.name.replace("-", " "))
        yield "First at its reserve", f"{name}, at {show_elapsed(first.reserve_reached)} elapsed"


def _reach(reach: Reach) -> float:
    return reach.metres or 0.0


def _numbers(words: Iterator[str] | list[str] | tuple[str, ...]) -> tuple[Cell, ...]:
    return tuple(Cell(capital(word), number=True) for word in words)
