"""The long searches of a sortie's proof, each found again where an earlier build made it from the same plan.

They follow from the library without its words (`Library.digest`). Those of one sortie's stops share what they have
tried, so all of them are known or none: a build asks for the same ones wherever the plan is the same.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Any, TypeVar

from briefgen.cache.plain import Plain
from briefgen.model.work import Task
from briefgen.proof.chance.outcome import Chance, Finish, TaskChance
from briefgen.proof.chance.share import Share
from briefgen.proof.chance.spread import Spread
from briefgen.proof.deciding.extras import Between, Extra, Extras, Unfit, WhyNot
from briefgen.proof.deciding.plans import versions
from briefgen.proof.holding.custody import Spot
from briefgen.proof.stopping.stops import Open, Stop

if TYPE_CHECKING:
    from briefgen.proof.evidence import SortieEvidence

Result = TypeVar("Result")

STOPS = Plain(Stop, Open, Spot)
_CHANCES = Plain(Chance, Finish, TaskChance, Share, Spread)
_EXTRAS = Plain(Extras, Unfit, WhyNot, Between)
_YES_OR_NO = Plain()


def kept(proved: SortieEvidence, name: object, plain: Plain, compute: Callable[[], Result]) -> Result:
    """A search of a sortie, by what it looks for."""
    known = proved.evidence
    return known.results.once((str(proved.sortie.id), name), lambda: known.library.digest, plain, compute)


def kept_stops(proved: SortieEvidence, compute: Callable[[], tuple[Stop, ...]]) -> tuple[Stop, ...]:
    """The stops along the plan."""
    return kept(proved, "stops", STOPS, compute)


def kept_holding(proved: SortieEvidence, left_out: frozenset[str], compute: Callable[[], bool]) -> bool:
    """Whether all that holds of the plan holds without these tasks."""
    return kept(proved, ("holds", *sorted(left_out)), _YES_OR_NO, compute)


def kept_chance(proved: SortieEvidence) -> Chance:
    """How likely the sortie ends in time."""

    def compute() -> Chance:
        from briefgen.proof.chance.likelihood import make_chance  # numpy takes long to import, and few ask

        optional = frozenset(proved.plan.optional_tasks)
        bare = proved.timeline_without(optional).plan if optional else None
        return make_chance(proved.plan, bare, proved.latest, proved.evidence.routes)

    return kept(proved, "chance", _CHANCES, compute)


def kept_extras(proved: SortieEvidence, compute: Callable[[], Extras]) -> Extras:
    """Which get-aheads fit. A get-ahead's record is made anew, for the people who were found to do it."""
    made: list[Extras] = []

    def without_records() -> tuple[Extras, tuple[Any, ...]]:
        made.append(compute())
        rows = (
            (one.task, one.begins, one.ends, one.between, one.busy, one.later, _version(proved, one))
            for one in made[0].fitting
        )
        return replace(made[0], fitting=()), tuple(rows)

    if not proved.evidence.results.kept:
        return compute()
    bare, rows = kept(proved, "extras", _EXTRAS, without_records)
    if made:
        return made[0]
    return replace(bare, fitting=tuple(_with_record(proved, *row) for row in rows))


def _with_record(proved: SortieEvidence, task: str, *found: Any) -> Extra:
    *row, number = found
    values: Any = (task, *row, _versions(proved, task)[number])
    return Extra(*values)


def _versions(proved: SortieEvidence, task: str) -> tuple[Task, ...]:
    return versions(proved.library.tasks[task], proved.plan.outside)


def _version(proved: SortieEvidence, extra: Extra) -> int:
    """Which choice of people does a get-ahead."""
    people = [[step.who for step in one.steps] for one in _versions(proved, extra.task)]
    return people.index([step.who for step in extra.record.steps])
