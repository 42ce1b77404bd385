"""What each suit has left at every moment, and which supply ends the sortie first.

Pure: stays and suits go in, amounts come out. Amounts are in the SI unit of the supply (kg, L, J or A·s), times in
seconds with the likely durations. A step costs its own effort, a way moderate effort, waiting and the time before the
first and after the last step rest. Linear in the stays.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from briefgen.model.library import Library
from briefgen.model.people import Supply
from briefgen.model.work import Efforts
from briefgen.proof.moving.whereabouts import Doing, Stay, Whereabouts
from briefgen.proof.resources.depletion import Depletion, deplete, metabolic_work
from briefgen.units import SUPPLY


@dataclass(frozen=True)
class Exertion:
    """A stay and its metabolic rate: `effort` is the programme's word for it, `watts` its rate."""

    stay: Stay
    effort: str
    watts: float


@dataclass(frozen=True)
class SupplyRun:
    """One supply of one suit over the sortie: `run` holds its breakpoints, `left` what there is at the finish.

    `reserve_reached` is the moment at which the reserve is touched, beyond the finish at the person's mean rate; None
    if that never happens. `unit` and `factor` (SI units in one of it) lead back to the author's own unit.
    """

    person: str
    suit: str
    name: str
    supply: Supply
    run: Depletion
    finish: float

    @property
    def reserve_reached(self) -> float | None:
        """When the reserve is touched, in seconds since the start; none where it never is."""
        return self.run.reserve_reached

    @property
    def left(self) -> float:
        """What is left in the end, in the supply's unit of computing."""
        return self.run.left[-1][1]

    @property
    def used(self) -> float:
        """What is used up by the end, in the supply's unit of computing."""
        return float(self.supply.holds) - self.left

    @property
    def short(self) -> bool:
        """Whether the plan uses up some of the reserve."""
        return self.left < float(self.supply.keeps) - 1e-9 * max(1.0, float(self.supply.holds))

    @property
    def unit(self) -> str:
        """The unit in which the author wrote it."""
        return self.supply.holds.unit

    @property
    def factor(self) -> float:
        """How many units of computing one unit of the author's is."""
        return SUPPLY.units[self.unit]


@dataclass(frozen=True)
class Supplies:
    """Exertions and supplies of every person outside, in the order of the flow and of the suit's record.

    `rates` is False where the programme gives no metabolic rates: then all watts are 0, and what is used per
    megajoule is not counted.
    """

    exertions: Mapping[str, tuple[Exertion, ...]]
    runs: Mapping[str, tuple[SupplyRun, ...]]
    rates: bool

    def work(self, person: str) -> float:
        """Joules of metabolic work over the whole sortie."""
        return metabolic_work((one.stay.seconds, one.watts) for one in self.exertions.get(person, ()))

    def first(self, person: str) -> SupplyRun | None:
        """The supply that reaches its reserve first, and so ends the sortie for that person."""
        return _first(self.runs.get(person, ()))

    @cached_property
    def ends(self) -> SupplyRun | None:
        """The supply that ends the sortie: the first of anybody's to reach its reserve."""
        return _first([run for runs in self.runs.values() for run in runs])


def prove_supplies(library: Library, places: Whereabouts) -> Supplies:
    """The supplies of everybody outside who has a suit."""
    efforts = library.programme.effort if library.programme else None
    exertions = {person: tuple(_exertions(stays, efforts)) for person, stays in places.stays.items()}
    runs = {person: tuple(_runs(library, person, row, places.finish)) for person, row in exertions.items()}
    return Supplies(exertions, runs, efforts is not None)


def _exertions(stays: Sequence[Stay], efforts: Efforts | None) -> list[Exertion]:
    named = [(stay, _effort(stay)) for stay in stays]
    return [Exertion(stay, word, max(0.0, getattr(efforts, word)) if efforts else 0.0) for stay, word in named]


def _effort(stay: Stay) -> str:
    if stay.doing is Doing.STEP:
        return str(stay.visit.step.step.effort)
    return "moderate" if stay.doing is Doing.WAY else "rest"


def _runs(library: Library, person: str, row: Sequence[Exertion], finish: float) -> list[SupplyRun]:
    name = library.people[person].suit
    suit = library.suits.get(name) if name else None
    if suit is None:
        return []
    efforts = [(one.stay.start, one.stay.end, one.watts) for one in row]
    mean = _mean(row)
    return [
        SupplyRun(person, str(suit.id), str(supply_id), supply, _deplete(supply, efforts, mean), finish)
        for supply_id, supply in suit.supplies.items()
        if _sound(supply)
    ]


def _sound(supply: Supply) -> bool:
    """Whether nothing in it is less than nothing, which is a finding of its own."""
    amounts = (supply.holds, supply.keeps, supply.per_hour, supply.per_megajoule)
    return all(amount is None or amount >= 0 for amount in amounts)


def _deplete(supply: Supply, efforts: Sequence[tuple[float, float, float]], then_watts: float) -> Depletion:
    return deplete(
        efforts,
        holds=float(supply.holds),
        keeps=float(supply.keeps),
        per_hour=float(supply.per_hour or 0),
        per_megajoule=float(supply.per_megajoule or 0),
        then_watts=then_watts,
    )


def _mean(row: Sequence[Exertion]) -> float:
    seconds = sum(one.stay.seconds for one in row)
    return sum(one.stay.seconds * one.watts for one in row) / seconds if seconds else 0.0


def _first(runs: Sequence[SupplyRun]) -> SupplyRun | None:
    ending = [run for run in runs if run.reserve_reached is not None]
    return min(ending, key=lambda run: run.reserve_reached or 0.0, default=None)
