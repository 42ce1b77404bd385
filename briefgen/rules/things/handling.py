"""What rules about tools and bags share: each handling in a variant of a sortie. No rules here."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from briefgen.findings import Related
from briefgen.proof.deciding.variant import Variant
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.holding.custody import Act, Handled
from briefgen.proof.naming import chain_words, step_words, thing_words
from briefgen.proof.plan import PlannedStep
from briefgen.rules.shared.races import left_out_words


@dataclass(frozen=True)
class HandlingIn:
    """One handling in one variant of a sortie."""

    proved: SortieEvidence
    variant: Variant
    handled: Handled

    @property
    def step(self) -> PlannedStep:
        """The step that handles it."""
        return self.variant.plan.steps[self.handled.handling.step]

    @property
    def words(self) -> str:
        """The step in the author's words."""
        return step_words(self.proved.library, self.step)

    @property
    def thing(self) -> str:
        """The thing in the author's words."""
        return thing_words(self.proved.library, self.handled.handling.thing)

    @property
    def where(self) -> str:
        """Where the thing is then, and when the plan leaves something out, what."""
        return chain_words(self.proved.library, self.handled.chain) + left_out_words(self.proved, self.variant)

    @property
    def brought_by(self) -> tuple[Related, ...]:
        """The step that brought it there."""
        sources = [answer.source for _, answer in self.handled.answers if answer.source is not None]
        return tuple(
            Related(self.variant.plan.steps[index].step.position, "this brought it there") for index in sources[:1]
        )


def failing(evidence: Evidence, fails: Callable[[Handled], bool]) -> Iterator[HandlingIn]:
    """Every handling that fails, once: in the whole plan, else in the first variant in which it does."""
    for proved in evidence.sorties.values():
        reported: set[tuple[str, Act, str]] = set()
        for variant in proved.variants:
            for handled in variant.custody.handled:
                handling = handled.handling
                key = (variant.plan.steps[handling.step].key, handling.act, handling.thing)
                if key not in reported and fails(handled):
                    reported.add(key)
                    yield HandlingIn(proved, variant, handled)


def unreachable(*acts: Act, held: bool | None = None) -> Callable[[Handled], bool]:
    """Whether one of these acts can't be done: the order is certain, and the thing is elsewhere.

    `held`: only where somebody has the thing (or only where nobody has).
    """

    def fails(handled: Handled) -> bool:
        if handled.handling.act not in acts or not handled.certain or handled.reachable:
            return False
        return held is None or held == (handled.chain[0].kind == "people")

    return fails
