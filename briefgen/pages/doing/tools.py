"""What is in hand at a step, and out of which bag it comes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.model.steps import Use
from briefgen.model.work import Step, Task
from briefgen.pages.context import PageContext
from briefgen.pages.rows import Link
from briefgen.pages.things.ledger import chain, finds
from briefgen.proof.holding.custody import Spot, first_spots


@dataclass(frozen=True)
class InHand:
    """A thing that is taken or used: `verb` is `take` or `with`; `how` is its setting; `origin` the bag or place."""

    verb: str
    thing: Link
    how: str
    origin: Link | None


def tools_of(context: PageContext, task: Task, step: Step) -> tuple[InHand, ...]:
    """What a step takes and uses, each once, in the order in which it is written."""
    settings = {str(use.tool): _setting(context, use) for use in step.uses}
    names = dict.fromkeys((*map(str, step.picks), *settings))
    picked = set(map(str, step.picks))
    return tuple(
        InHand(
            "take" if name in picked and name not in settings else "with",
            _link(context, name),
            settings.get(name, ""),
            _origin(context, task, step, name),
        )
        for name in names
    )


def _link(context: PageContext, name: str) -> Link:
    return context.link("tool" if name in context.library.tools else "bag", name)


def _setting(context: PageContext, use: Use) -> str:
    tool = context.library.tools.get(use.tool)
    setting = tool.settings.get(use.setting) if tool and use.setting else None
    words = str(use.setting or "")
    if setting:
        amounts = [str(value.written) for value in (setting.turns, setting.torque) if value]
        words = ", ".join([words, *amounts, *([setting.turning] if setting.turning else [])])
    return words


def _origin(context: PageContext, task: Task, step: Step, name: str) -> Link | None:
    """Where the step finds it: a bag, or the place it lies at; nothing where somebody has it in hand."""
    spots = next(_found(context, task, step, name), ())
    if not spots or spots[0].kind == "people":
        return None
    return context.link("bag" if spots[0].kind == "bags" else "place", spots[0].id)


def _found(context: PageContext, task: Task, step: Step, name: str) -> Iterator[tuple[Spot, ...]]:
    for proved in context.sorties_of(str(task.id)):
        found = finds(context, proved).get((f"{task.id}/{step.key}", name))
        if found:
            yield found
    if not context.sorties_of(str(task.id)) and name in map(str, step.picks):
        yield chain(first_spots(context.library), name)
