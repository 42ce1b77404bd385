"""What is in hand at a step, and out of which bag it comes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.model.steps import Use
from briefgen.model.work import Step, Task
from briefgen.pages.desk import Desk
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


def tools_of(desk: Desk, task: Task, step: Step) -> tuple[InHand, ...]:
    """What a step takes and uses, each once, in the order in which it is written."""
    settings = {str(use.tool): _setting(desk, use) for use in step.uses}
    names = dict.fromkeys((*map(str, step.picks), *settings))
    picked = set(map(str, step.picks))
    return tuple(
        InHand(
            "take" if name in picked and name not in settings else "with",
            _link(desk, name),
            settings.get(name, ""),
            _origin(desk, task, step, name),
        )
        for name in names
    )


def _link(desk: Desk, name: str) -> Link:
    return desk.link("tool" if name in desk.library.tools else "bag", name)


def _setting(desk: Desk, use: Use) -> str:
    tool = desk.library.tools.get(use.tool)
    setting = tool.settings.get(use.setting) if tool and use.setting else None
    words = str(use.setting or "")
    if setting:
        amounts = [str(value.written) for value in (setting.turns, setting.torque) if value]
        words = ", ".join([words, *amounts, *([setting.turning] if setting.turning else [])])
    return words


def _origin(desk: Desk, task: Task, step: Step, name: str) -> Link | None:
    """Where the step finds it: a bag, or the place it lies at; nothing where somebody has it in hand."""
    spots = next(_found(desk, task, step, name), ())
    if not spots or spots[0].kind == "people":
        return None
    return desk.link("bag" if spots[0].kind == "bags" else "place", spots[0].id)


def _found(desk: Desk, task: Task, step: Step, name: str) -> Iterator[tuple[Spot, ...]]:
    for case in desk.cases_of(str(task.id)):
        found = finds(desk, case).get((f"{task.id}/{step.key}", name))
        if found:
            yield found
    if not desk.cases_of(str(task.id)) and name in map(str, step.picks):
        yield chain(first_spots(desk.library), name)
