"""What is written to be obeyed, and what to be understood: ASD-STE100 has rules of its own for each. No rules here."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.proof.evidence import Evidence
from briefgen.rules.writing.wording import steps_of
from briefgen.source import Text


def instructions(evidence: Evidence) -> Iterator[Text]:
    """What is written to be done or obeyed: steps and safety instructions (rule 5.1 holds for both)."""
    for step in steps_of(evidence):
        yield step.do
    for hazard in evidence.library.hazards.values():
        yield from (hazard.hazard, hazard.consequence, hazard.avoid)


def descriptions(evidence: Evidence) -> Iterator[Text]:
    """What is written to be understood."""
    for step in steps_of(evidence):
        yield from (text for text in (step.why, step.note) if text)
    for task in evidence.library.tasks.values():
        yield task.purpose
    for _, record in evidence.written.every():
        if record.note:
            yield record.note
