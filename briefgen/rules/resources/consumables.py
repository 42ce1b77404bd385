"""Consumables: only they are spent, and there are enough."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level, Related
from briefgen.proof.evidence import Evidence
from briefgen.proof.naming import step_words, thing_words
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.samples import task_of


@rule("count-short", Level.ERROR, Needs.ORDER,
      wrong=task_of("who: ev1, do: Fix it., takes: 1 min, spends: {▸clips: 7}"),
      right=task_of("who: ev1, do: Fix it., takes: 1 min, spends: {clips: 6}"))  # fmt: skip
def count_short(evidence: Evidence) -> Iterator[Trouble]:
    """All steps of all sorties together spend no more of a consumable than there is.

    The ninth clip that is not there leaves the line loose.
    """
    for proved in evidence.sorties.values():
        stock = dict(proved.stock)
        for index in proved.plan.order.sequence:
            step = proved.plan.steps[index]
            for thing, number in step.step.spends.items():
                had, spent = stock.get(str(thing)), number * step.times
                if had is None:
                    continue
                stock[str(thing)] = had - spent
                if had - spent < 0 <= had:
                    total = proved.library.tools[thing].count
                    yield Trouble(
                        thing.position, f"{step_words(proved.library, step)} spends {spent} of "
                        f"{thing_words(proved.library, thing)}, but only {had} of {total} are left by then.",
                        (Related(proved.library.tools[thing].id.position, "how many there are"),),
                        f"count: {total + spent - had}", proved.library.tools[thing].spot("count"),
                    )  # fmt: skip


@rule("not-a-lot", Level.ERROR, Needs.RECORDS,
      wrong=task_of("who: ev1, do: Fix it., takes: 1 min, spends: {▸driver: 1}"),
      right=task_of("who: ev1, do: Fix it., takes: 1 min, spends: {clips: 1}"))  # fmt: skip
def not_a_lot(evidence: Evidence) -> Iterator[Trouble]:
    """Only a consumable (a tool with a `count` above 1) is spent, and by one or more at a time.

    A single tool is used (`with`); it is there afterwards.
    """
    for task in evidence.library.tasks.values():
        for step in task.steps:
            for thing, number in step.spends.items():
                tool = evidence.library.tools.get(thing)
                if thing in evidence.library.bags or (tool and not tool.consumable):
                    yield Trouble(
                        thing.position,
                        f"{thing_words(evidence.library, thing)} is no consumable, so nothing of it can be spent.",
                        write="count: …",
                        write_at=(tool or task).position,
                    )
                elif number < 1:
                    yield Trouble(
                        thing.position,
                        f"Step “{step.key}” of “{task.title}” spends {number} of "
                        f"{thing_words(evidence.library, thing)}: write one or more, or take it out.",
                    )
