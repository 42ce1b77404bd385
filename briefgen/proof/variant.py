"""A sortie without some of its tasks, proved like the whole."""

from __future__ import annotations

from dataclasses import dataclass

from briefgen.proof.holding.custody import CustodyProof
from briefgen.proof.ordering.states import StateProof
from briefgen.proof.plan import Plan


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
