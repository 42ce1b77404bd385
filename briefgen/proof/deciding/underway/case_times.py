"""How long a case takes, for a rehearsal: its steps counted from the end of the step that does not go as planned.

Pure. Of all plans that may follow (a helper may be busy with any of several things) the one in which the case lasts
longest, with the likely durations and the ways between places.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.proof.deciding.cases.branch import Branch
from briefgen.proof.deciding.cases.proofs import CaseProof
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.plan import Plan, PlannedStep
from briefgen.proof.schedule.network import CircleFound
from briefgen.proof.schedule.timeline import make_timeline


@dataclass(frozen=True)
class CaseTimes:
    """A case with its own steps, each with its first and last second after the step that does not go as planned."""

    proof: CaseProof
    steps: tuple[tuple[PlannedStep, float, float], ...]

    @property
    def seconds(self) -> float:
        """Until the last of them is over."""
        return max((end for _, _, end in self.steps), default=0.0)


def case_times(proved: SortieEvidence) -> Iterator[CaseTimes]:
    """The cases of a sortie that have a plan, in the order of their steps."""
    for proof in proved.cases:
        if proof.finish:
            plans = Branch(proved.plan, proof.step, proof.case).plans()
            found = (one for plan in plans if (one := _times(proved, plan, proof)))
            longest = max(found, key=lambda one: one.seconds, default=None)
            if longest:
                yield longest


def _times(proved: SortieEvidence, plan: Plan, proof: CaseProof) -> CaseTimes | None:
    try:
        timeline = make_timeline(plan, proved.evidence.routes)
    except CircleFound:
        return None
    step = plan.step(proof.step.key)
    assert step is not None  # a case follows its step
    over = timeline.times[step.index].end
    # The case's own steps stand last.
    rows = timeline.times[len(plan.steps) - len(proof.case.steps) :]
    return CaseTimes(proof, tuple((one.step, one.start - over, one.end - over) for one in rows))
