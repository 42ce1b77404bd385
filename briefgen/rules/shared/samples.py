"""Small plans for the examples on rules' pages. No rules here."""

from __future__ import annotations

# One task with one outcome, one question, and the sortie that flies it.
TASK = "{title: Look, purpose: To know., place: lock, outcomes: [see], steps: [{who: ev1, do: Look., takes: 2 min}]}"
OUTCOME = "{audience: [ev1], does: finds a crack, condition: in shade, standard: within two minutes}"
QUESTION = "{outcome: see, asks: 'Where is it?', answers: [Left, Right], correct: 1, because: The foot is there.}"
FLOW = "{s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}"


def task_of(*steps: str, flow: str = "ev1: [work]") -> str:
    """One task with these steps (their keys, in one line each), in these flows of a sortie."""
    lines = "\n".join(f"      - {{{step}}}" for step in steps)
    return (
        f"tasks:\n  work:\n    title: Work\n    purpose: To mend it.\n    place: lock\n    steps:\n{lines}\n"
        f"sorties: {{s: {{title: S, flow: {{{flow}}}, limits: {{length: 1 h}}}}}}"
    )
