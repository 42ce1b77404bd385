"""What leaving a task out gives back, and by when a task must begin: one task's share of a sortie's deciding."""

from __future__ import annotations

from briefgen.proof.deciding.drops import Drop
from briefgen.proof.deciding.latest import Latest
from briefgen.proof.evidence import SortieEvidence


def latest_of(proved: SortieEvidence, task: str) -> Latest:
    """By when a task of the sortie must begin."""
    return next(one for one in proved.latest if one.task == task)


def drop_of(proved: SortieEvidence, task: str) -> Drop | None:
    """What leaving a task out gives back, if it can be left out on its own account."""
    return next((one for one in proved.dropping.drops if one.task == task), None)
