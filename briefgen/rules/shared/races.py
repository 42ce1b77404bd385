"""What rules say about two steps that race: by how much the plan escapes today, and the line that settles it."""

from __future__ import annotations

from briefgen.proof.deciding.cases.proofs import CaseProof
from briefgen.proof.deciding.variant import Variant
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.plan import PlannedStep
from briefgen.rules.shared.lines import list_line
from briefgen.source import Position
from briefgen.units import show_duration


def after_line(first: PlannedStep, second: PlannedStep) -> tuple[str, Position]:
    """The line that orders `second` after `first`, and where it belongs."""
    return list_line("after", second.step.written_after, name_for(first, second)), second.step.spot("after")


def name_for(first: PlannedStep, second: PlannedStep | None = None) -> str:
    """What an author calls the first step in `after` of the second: in a block, the block's or the same round's."""
    task, origin = str(first.task.id), first.step.origin
    if not origin.block:
        return first.key
    other = second.step.origin if second and str(second.task.id) == task else None
    same = other and (other.block, other.round) == (origin.block, origin.round)
    return f"{task}/{origin.block}/{origin.local}" if same else f"{task}/{origin.block}"


def escape_words(proved: SortieEvidence, first: PlannedStep, second: PlannedStep) -> str:
    """How near the plan comes to it today, by the likely durations."""
    one, other = proved.plan.step(first.key), proved.plan.step(second.key)
    if one is None or other is None:
        return ""
    a, b = proved.timeline.times[one.index], proved.timeline.times[other.index]
    gap = max(b.start - a.end, a.start - b.end)
    if gap < 0:
        return f"As planned today they overlap by {show_duration(-gap)}."
    return f"As planned today there are {show_duration(gap)} between them, by luck."


def starts_today(proved: SortieEvidence, step: PlannedStep) -> tuple[float, str]:
    """When a step begins as planned today, for sorting."""
    planned = proved.plan.step(step.key)
    return (proved.timeline.times[planned.index].start if planned else 0.0, step.key)


def by_time(proved: SortieEvidence, one: PlannedStep, other: PlannedStep) -> tuple[PlannedStep, PlannedStep]:
    """The two in the order in which they are planned today: the order most likely meant."""
    return (one, other) if starts_today(proved, one) <= starts_today(proved, other) else (other, one)


def left_out_words(proved: SortieEvidence, variant: Variant | CaseProof) -> str:
    """` when “Run the water line” is left out`, or nothing."""
    if not variant.left_out:
        return ""
    titles = [f"“{proved.library.tasks[name].title}”" for name in sorted(variant.left_out)]
    return f" when {' and '.join(titles)} {'is' if len(titles) == 1 else 'are'} left out"
