"""Small content folders for what is said once: read, expanded and proved."""

from __future__ import annotations

from pathlib import Path

from briefgen.build import Examination
from briefgen.findings import Finding, Level
from tests.rules.laid_over import examined

LATCHES = (
    "{latches: {place: k2, states: [dry, greased], starts: dry, ends: any, parts: {row: [1, 2], latch: [a, b, c]}}}"
)


def task(steps: str, keys: str = "", name: str = "work", place: str = "k2") -> str:
    """A task of these lines of steps, with further keys in lines of their own."""
    body = "\n".join(f"      {line}" for line in steps.strip().splitlines())
    return f"  {name}:\n    title: Work\n    purpose: To mend it.\n    place: {place}\n{keys}    steps:\n{body}\n"


def content(tasks: str, flow: str = "ev1: [work]", more: str = "") -> str:
    """Tasks in one sortie with these flows."""
    return f"tasks:\n{tasks}sorties: {{s: {{title: S, flow: {{{flow}}}, limits: {{length: 6 h}}}}}}\n{more}"


def planned(folder: Path, text: str) -> Examination:
    """The content, which must have no error but that nobody comes home, or that something ends as it may not."""
    found = examined(folder, text)
    assert [one for one in errors(found) if one.rule not in ("not-home-at-end", "ends-wrong")] == []
    return found


def errors(found: Examination) -> list[Finding]:
    return [one for one in found.findings if one.level is Level.ERROR]


def waits(found: Examination) -> list[tuple[str, str]]:
    """Who waits for what in the plan of the sortie: (first, second) by their keys without the task."""
    plan = found.evidence.sorties["s"].plan
    return [tuple(plan.steps[one].key.partition("/")[2] for one in (link.first, link.second)) for link in plan.links]  # type: ignore[misc]


def keys(found: Examination, name: str = "work") -> list[str]:
    return [step.key for step in found.library.tasks[name].steps]
