"""Whoever is free: in a task, `one` and `other` stand for two of the people outside. Here the first two stand in.

Which two it is in the end is chosen where it is looked for what fits; until then the task is one like every other.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from briefgen.expansion.exchange import Exchange
from briefgen.model.library import Library
from briefgen.model.tasks import WrittenTask
from briefgen.source import Ref, Text

ROLES = ("one", "other")
"""What stands for somebody outside, where no person is called so."""


class OtherPeople(Exchange):
    """People exchanged for others, each where they are named."""

    def _leaf(self, value: Any) -> Any:
        if type(value) is Ref and value.kinds == ("people",) and str(value) in self._instead:
            return Ref(str(self._instead[str(value)]), value.position, value.kinds)
        return value


def stand_ins(library: Library) -> dict[str, str]:
    """Who stands in for each role."""
    outside = [name for name, person in library.people.items() if person.outside]
    return {role: name for role, name in zip(ROLES, outside, strict=False) if role not in library.people}


def roles_in(task: WrittenTask, roles: Mapping[str, str]) -> list[Ref]:
    """Where a task names roles, in the order in which it does."""
    people = (value for value in task.values if type(value) is Ref and value.kinds == ("people",))
    return [value for value in people if str(value) in roles]


def settled(task: WrittenTask, stand: Mapping[str, str]) -> WrittenTask:
    """The task with people in its roles; itself where it has none."""
    named = {str(ref) for ref in roles_in(task, stand)}
    if not named:
        return task
    mine = {role: name for role, name in stand.items() if role in named}
    new: WrittenTask = OtherPeople({Text(role): Text(name) for role, name in mine.items()}).of(task)
    new._whoever = mine
    return new
