"""Gates in time: what waits for the sun waits for one that comes."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level, Related
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.naming import step_words
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.races import left_out_words
from briefgen.rules.ways.travelled import flight, once
from briefgen.units import show_elapsed

_WAIT = flight("\n    who: ev1, do: Look around., takes: 10 min, ▸not_before: sunrise\n")


@rule(
    "never-opens", Level.ERROR, Needs.ORDER,
    wrong=f"{_WAIT}\n    light: [[0 min, 20 min]]".replace("who: ev1", "who: ev1, id: look, at: k2"),
    right=f"{_WAIT}\n    light: [[0 min, 1 min], [30 min, 50 min]]".replace("▸", ""),
)  # fmt: skip
def never_opens(evidence: Evidence) -> Iterator[Trouble]:
    """The sunrise or sunset that a step waits for comes, and is known.

    It is the next one after all else that the step waits for: of the orbit's, or of the listed ones. Where there is
    none any more, the step would never begin; times are then counted as if it began at the sortie's limit. The check is
    repeated with each optional task left out, and with all of them left out.
    """
    for proved in evidence.sorties.values():
        if proved.timeline.gates:
            yield from once(_never(proved))


def _never(proved: SortieEvidence) -> Iterator[Trouble]:
    source = "light" if proved.sortie.light else "orbit" if proved.sortie.orbit else ""
    for variant in proved.variants:
        timeline = proved.timeline_without(variant.left_out)
        for index, gate in timeline.gates.items():
            if gate.never_opened(timeline.times[index].start):
                step = timeline.plan.steps[index]
                known = (
                    f"the last one known is at {show_elapsed(gate.openings[-1])}" if gate.openings else "none is known"
                )
                yield Trouble(
                    step.step.spot("not_before"),
                    f"{step_words(proved.library, step)} waits for the next {gate.event}, and {known}"
                    f"{left_out_words(proved, variant)}. Let it begin earlier, say a time, or say what day and night "
                    f"come from{'' if source else ': “light” or “orbit” of the sortie'}.",
                    (Related(proved.sortie.spot(source) if source else proved.sortie.id.position, "day and night"),),
                )
