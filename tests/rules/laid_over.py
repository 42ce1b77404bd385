"""Small plans laid over the small world, and what the checker says of them."""

from __future__ import annotations

from pathlib import Path

from briefgen.build import Examination, examine
from briefgen.findings import Finding, Level
from tests.rules.test_examples import lay_out


def examined(folder: Path, example: str) -> Examination:
    """The small world with the example's records, read and proved."""
    folder.mkdir(parents=True, exist_ok=True)
    lay_out(folder, example, override=True)
    return examine(folder)


def found(folder: Path, example: str, *rules: str) -> list[Finding]:
    """What these rules find."""
    return [finding for finding in examined(folder, example).findings if finding.rule in rules]


def errors(folder: Path, example: str) -> list[str]:
    """The names of the rules that find an error, in the order of the places."""
    return [finding.rule for finding in examined(folder, example).findings if finding.level is Level.ERROR]


def sortie(
    *steps: str, people: str = "ev1", limits: str = "length: 2 h", task: str = "", keys: str = "", more: str = ""
) -> str:
    """One task with these steps, in the flows of these people.

    `task` are lines of the task, `keys` keys of the sortie, `more` lines below.
    """
    lines = "\n".join(f"      - {{{step}}}" for step in steps)
    flow = ", ".join(f"{person}: [work]" for person in people.split())
    return (
        f"tasks:\n  work:\n    title: Work\n    purpose: To mend it.\n    place: lock\n{task}    steps:\n{lines}\n"
        f"sorties:\n  s: {{title: S, flow: {{{flow}}}, limits: {{{limits}}}{keys}}}\n{more}"
    )
