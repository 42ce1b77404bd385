"""A sortie without some of its tasks, proved like the whole."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from briefgen.proof.holding.custody import CustodyProof, prove_custody, with_stock
from briefgen.proof.ordering.states import StateProof, prove_states
from briefgen.proof.plan import Plan, make_plan

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


def prove_variant(case: SortieEvidence, left_out: frozenset[str]) -> Variant:
    """The sortie without these tasks, begun as the sorties before it would leave things without them."""
    before = case.before.without(left_out) if case.before and left_out else None
    alike = before is None or case.before is None or before.ends_like(case.before.states, case.before.custody)
    if alike and left_out.isdisjoint(case.tasks):
        left = before.custody.left if before else case.stock
        return Variant(left_out, case.plan, case.states, with_stock(case.custody, left))
    plan = make_plan(case.library, case.sortie, left_out)
    states = prove_states(plan, before.states.ends if before else case.state_starts)
    spots, stock = (before.custody.ends, before.custody.left) if before else (case.spot_starts, case.stock)
    return Variant(left_out, plan, states, prove_custody(plan, spots, stock))
