"""“Used by” as rows: every user of a record, grouped by task or by kind."""

from __future__ import annotations

from dataclasses import dataclass

from briefgen.pages.desk import Desk
from briefgen.pages.rows import Link
from briefgen.pages.things.uses import UseEntry

_GROUPS = {
    "question": "Questions", "place": "Places", "route": "Routes", "tool": "Tools", "bag": "Bags",
    "equipment": "Equipment", "hazard": "Hazards", "figure": "Figures", "person": "People", "suit": "Suits",
    "sortie": "Sorties", "outcome": "Outcomes", "term": "Glossary", "programme": "Programme",
}  # fmt: skip


@dataclass(frozen=True)
class UseRow:
    """A user and how it uses the record."""

    link: Link
    how: str


@dataclass(frozen=True)
class UseGroup:
    """Users that belong together, below a heading that may lead somewhere."""

    head: Link
    rows: tuple[UseRow, ...]


def used_by(desk: Desk, kind: str, identifier: str) -> tuple[UseGroup, ...]:
    """What uses a record: first the steps of each task, then everything else."""
    uses = desk.uses.get((kind, identifier), ())
    groups: dict[Link, dict[Link, list[str]]] = {}
    for use in sorted(uses, key=lambda use: use.kind != "task"):
        head = _head(desk, use)
        hows = groups.setdefault(head, {}).setdefault(_link(desk, use), [])
        if use.how and use.how not in hows:
            hows.append(use.how)
    return tuple(
        UseGroup(head, tuple(UseRow(link, ", ".join(hows)) for link, hows in rows.items()))
        for head, rows in groups.items()
    )


def _head(desk: Desk, use: UseEntry) -> Link:
    return desk.link("task", use.identifier) if use.kind == "task" else Link(_GROUPS[use.kind])


def _link(desk: Desk, use: UseEntry) -> Link:
    if use.kind == "task":
        task = desk.library.tasks[use.identifier]
        step = desk.links.step(use.identifier, use.part) if use.part else None
        return desk.step_link(task, step) if step else Link("The task", desk.links.target("task", use.identifier))
    if use.kind == "question":
        question = desk.library.questions[use.identifier]
        return Link(desk.texts.plain(question.asks), desk.links.target("question", use.identifier))
    return desk.link(use.kind, use.identifier, use.part if use.kind == "figure" else "")
