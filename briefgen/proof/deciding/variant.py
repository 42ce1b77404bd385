"""A sortie without some of its tasks, proved like the whole."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from briefgen.proof.deciding.serving import all_served, leaving
from briefgen.proof.holding.custody import CustodyProof, prove_custody, with_stock
from briefgen.proof.ordering.states import StateProof, prove_states
from briefgen.proof.plan import Plan
from briefgen.proof.schedule.timeline import Timeline, make_timeline
from briefgen.proof.stopping.searches import kept_holding

if TYPE_CHECKING:
    from briefgen.proof.evidence import SortieEvidence


@dataclass(frozen=True)
class Variant:
    """A sortie without the tasks `left_out`: its plan, the states of its equipment, where its tools are."""

    left_out: frozenset[str]
    plan: Plan
    states: StateProof
    custody: CustodyProof

    def ends_like(self, states: StateProof, custody: CustodyProof) -> bool:
        """Whether what comes after it finds everything where and as it is after these, lots apart."""
        if self.states.ends is states.ends and self.custody.ends is custody.ends:
            return True
        return self.states.ends == states.ends and self.custody.ends == custody.ends


def prove_variant(proved: SortieEvidence, left_out: frozenset[str]) -> Variant:
    """The sortie without these tasks, begun as the sorties before it would leave things without them."""
    before = proved.before.without(left_out) if proved.before and left_out else None
    if before is None or proved.before is None or before.ends_like(proved.before.states, proved.before.custody):
        own = proved.omissions.begun_as_planned(left_out & proved.tasks)
        left = before.custody.left if before else proved.stock
        return replace(own, left_out=left_out, custody=with_stock(own.custody, left))
    plan = proved.plan.without(left_out)
    return Variant(
        left_out,
        plan,
        prove_states(plan, before.states.ends),
        prove_custody(plan, before.custody.ends, before.custody.left),
    )


class Omissions:
    """A sortie without each set of tasks that is asked for, proved once; a set holds all that leaves together."""

    def __init__(self, proved: SortieEvidence) -> None:
        self._proved = proved
        self._variants: dict[frozenset[str], Variant] = {}
        self._begun_as_planned: dict[frozenset[str], Variant] = {}
        self._timelines: dict[frozenset[str], Timeline] = {}
        self._holding: dict[frozenset[str], bool] = {}

    @property
    def variants(self) -> tuple[Variant, ...]:
        """The sortie as planned, with each optional task left out, and with all of them left out."""
        optional = self._proved.plan.optional_tasks
        omissions = [frozenset[str](), *(frozenset([task]) for task in optional)]
        if len(optional) > 1:
            omissions.append(frozenset(optional))
        return tuple(self._proved.without(left_out) for left_out in omissions)

    @cached_property
    def _served(self) -> Mapping[str, frozenset[str]]:
        return all_served(self._proved.library.tasks, self._proved.evidence.flown)

    def leaving(self, left_out: frozenset[str], begun: frozenset[str]) -> frozenset[str]:
        """These tasks, and those that serve nothing else."""
        return leaving(self._served, left_out, begun)

    def variant(self, left_out: frozenset[str]) -> Variant:
        """The sortie begun as the sorties before it would leave things without these tasks."""
        known = left_out & self._proved.tasks_so_far
        if known not in self._variants:
            self._variants[known] = prove_variant(self._proved, known)
        return replace(self._variants[known], left_out=left_out)

    def begun_as_planned(self, left_out: frozenset[str]) -> Variant:
        """The sortie without these of its tasks, begun as planned."""
        if left_out not in self._begun_as_planned:
            proved = self._proved
            if left_out:
                plan = proved.plan.without(left_out)
                proofs = prove_states(plan, proved.state_starts), prove_custody(plan, proved.spot_starts, proved.stock)
                self._begun_as_planned[left_out] = Variant(left_out, plan, *proofs)
            else:
                self._begun_as_planned[left_out] = Variant(left_out, proved.plan, proved.states, proved.custody)
        return self._begun_as_planned[left_out]

    def forget(self) -> None:
        """Lets go of the proofs of variants, the most of what a check holds; who asks again has them proved again."""
        self._variants.clear()
        self._begun_as_planned.clear()
        for name in ("variants", "travels"):
            vars(self._proved).pop(name, None)

    def timeline(self, left_out: frozenset[str]) -> Timeline:
        """The times, begun as planned."""
        proved = self._proved
        if left_out.isdisjoint(proved.tasks):
            return proved.timeline
        if left_out not in self._timelines:
            plan = proved.plan.without(left_out)
            self._timelines[left_out] = make_timeline(plan, proved.evidence.routes)
        return self._timelines[left_out]

    def holds(self, left_out: frozenset[str]) -> bool:
        """Whether everything that holds of the plan holds."""
        if left_out not in self._holding:
            self._holding[left_out] = kept_holding(self._proved, left_out, lambda: self._holds(left_out))
        return self._holding[left_out]

    def _holds(self, left_out: frozenset[str]) -> bool:
        timeline = self.timeline(left_out)
        return self._proved.new_fault(timeline.plan, timeline) is None
