"""Which record and which step of the new version is which of the old, whatever they are called now."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from briefgen.model.library import KINDS, Library
from briefgen.model.work import Task
from briefgen.revision.pairing.alignment import alignment
from briefgen.revision.pairing.matching import StepPairs, pair_steps
from briefgen.revision.pairing.normal import Normal

_SAME_TASK = 0.6


@dataclass(frozen=True)
class Names:
    """What belongs together. `renamed`, `tasks` and `steps` lead from the old version to the new."""

    old: Normal
    new: Normal
    renamed: Mapping[tuple[str, str], str]
    tasks: Mapping[str, StepPairs]
    steps: Mapping[str, str]
    _back: Mapping[str, str] = field(default_factory=dict)

    def record(self, kind: str, identifier: str) -> str:
        """What an old record is called now, be it there or not."""
        return self.renamed.get((kind, identifier), identifier)

    def before(self, key: str) -> str | None:
        """The old name of a step of the new version (`task/step`), if it was there."""
        return self._back.get(key)


def names_of(old: Library, new: Library) -> Names:
    """The correspondence of two libraries."""
    renamed: dict[tuple[str, str], str] = {}
    for _ in range(3):  # what names a renamed record is itself told anew only after that
        found = dict(_renamed(old, new, Normal(old, renamed), Normal(new)))
        if found == renamed:
            break
        renamed = found
    normal = Normal(old, renamed)
    tasks = dict(_tasks(old, new, normal, Normal(new), renamed))
    steps = {
        f"{identifier(old, task, renamed)}/{one.key}": f"{task}/{other.key}"
        for task, pairs in tasks.items()
        for one, other in pairs.both
    }
    return Names(
        Normal(old, renamed, steps), Normal(new), renamed, tasks, steps, {now: was for was, now in steps.items()}
    )


def identifier(old: Library, task: str, renamed: Mapping[tuple[str, str], str]) -> str:
    """What a task of the new version was called."""
    back = (was for (kind, was), now in renamed.items() if kind == "tasks" and now == task)
    return next(back, task)


def _renamed(old: Library, new: Library, before: Normal, after: Normal) -> Iterator[tuple[tuple[str, str], str]]:
    """Records that are gone under one id and there, saying the same, under another."""
    for kind in KINDS:
        gone = [name for name in old.of(kind) if name not in new.of(kind)]
        added = [name for name in new.of(kind) if name not in old.of(kind)]
        for was in gone:
            one = old.of(kind)[was]
            now = next((name for name in added if _same(one, new.of(kind)[name], before, after)), None)
            if now is not None:
                added.remove(now)
                yield (kind, was), now


def _same(one: Any, other: Any, before: Normal, after: Normal) -> bool:
    if isinstance(one, Task):
        first, second = (
            [_says(normal, step) for step in task.steps] for normal, task in ((before, one), (after, other))
        )
        return 2 * len(alignment(first, second)) >= _SAME_TASK * (len(first) + len(second))
    return bool(before.of(one) == after.of(other))


def _tasks(
    old: Library, new: Library, before: Normal, after: Normal, renamed: Mapping[tuple[str, str], str]
) -> Iterator[tuple[str, StepPairs]]:
    for name, task in old.tasks.items():
        now = renamed.get(("tasks", name), name)
        if now in new.tasks:
            pairs = pair_steps(task, new.tasks[now], lambda step: _says(before, step), lambda step: _says(after, step))
            yield now, pairs


def _says(normal: Normal, step: Any) -> tuple[object, ...]:
    return normal.of(step.who), normal.of(step.do)
