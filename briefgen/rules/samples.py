"""Small plans for the examples on rules' pages. No rules here."""

from __future__ import annotations


def task_of(*steps: str, flow: str = "ev1: [work]") -> str:
    """One task with these steps (their keys, in one line each), in these flows of a sortie."""
    lines = "\n".join(f"      - {{{step}}}" for step in steps)
    return (
        f"tasks:\n  work:\n    title: Work\n    purpose: To mend it.\n    place: lock\n    steps:\n{lines}\n"
        f"sorties: {{s: {{title: S, flow: {{{flow}}}, limits: {{length: 1 h}}}}}}"
    )
