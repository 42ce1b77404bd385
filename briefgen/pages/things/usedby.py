"""“Used by” as rows: every user of a record, grouped by task or by kind."""

from __future__ import annotations

from dataclasses import dataclass

from briefgen.pages.context import PageContext
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


def used_by(context: PageContext, kind: str, identifier: str) -> tuple[UseGroup, ...]:
    """What uses a record: first the steps of each task, then everything else."""
    uses = context.uses.get((kind, identifier), ())
    groups: dict[Link, dict[Link, list[str]]] = {}
    for use in sorted(uses, key=lambda use: use.kind != "task"):
        head = _head(context, use)
        hows = groups.setdefault(head, {}).setdefault(_link(context, use), [])
        if use.how and use.how not in hows:
            hows.append(use.how)
    return tuple(
        UseGroup(head, tuple(UseRow(link, ", ".join(hows)) for link, hows in rows.items()))
        for head, rows in groups.items()
    )


def _head(context: PageContext, use: UseEntry) -> Link:
    return context.link("task", use.identifier) if use.kind == "task" else Link(_GROUPS[use.kind])


def _link(context: PageContext, use: UseEntry) -> Link:
    if use.kind == "task":
        task = context.library.tasks[use.identifier]
        step = context.links.step(use.identifier, use.part) if use.part else None
        return context.step_link(task, step) if step else Link("The task", context.links.target("task", use.identifier))
    if use.kind == "question":
        question = context.library.questions[use.identifier]
        return Link(context.texts.plain(question.asks), context.links.target("question", use.identifier))
    return context.link(use.kind, use.identifier, use.part if use.kind == "figure" else "")
