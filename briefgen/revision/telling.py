"""Values of one version in words: names instead of ids, numbers with the unit that the author wrote."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from pydantic import BaseModel

from briefgen.language.sentences import plain
from briefgen.model.library import Library
from briefgen.model.work import Step, Task
from briefgen.proof.naming import people_words
from briefgen.source import Ref, StepRef
from briefgen.units import MINUTE, Duration, Quantity, show_duration, show_number


class Telling:
    """Says one version's values."""

    def __init__(self, library: Library) -> None:
        self.library = library

    def value(self, value: Any) -> str:
        """Any value of a record."""
        if isinstance(value, dict):
            return ", ".join(f"{self.value(key)} {self.value(inner)}" for key, inner in value.items())
        if isinstance(value, BaseModel):
            fields = ((name, getattr(value, name)) for name in type(value).model_fields)
            return ", ".join(f"{name} {self.value(inner)}" for name, inner in fields if inner not in (None, (), {}))
        if isinstance(value, tuple):
            return ", ".join(map(self.value, value))
        return self._leaf(value)

    def _leaf(self, value: Any) -> str:
        if value is None:
            return ""
        if isinstance(value, bool):
            return "yes" if value else "no"
        if isinstance(value, Duration):
            return takes(value)
        if isinstance(value, Quantity):
            return value.written
        if isinstance(value, float):
            return show_number(value, 3)
        return self._named(value)

    def _named(self, value: Any) -> str:
        if isinstance(value, Ref):
            return self.name(value, *value.kinds) + (f", {value.part}" if value.part else "")
        if isinstance(value, StepRef):
            return self.step(value.task, value.step) if value.step else self.name(value.task, "tasks")
        return " ".join(plain(str(value)).split())

    def name(self, identifier: str, *kinds: str) -> str:
        """What people call a record of one of these kinds."""
        found = (self.library.find(kind, identifier) for kind in kinds)
        record = next((record for record in found if record is not None), None)
        return plain(record.label_text) if record is not None else str(identifier).replace("-", " ")

    def step(self, task: str, key: str) -> str:
        """`“Close the valves” (EV1)`."""
        record: Task | None = self.library.tasks.get(task)
        step = record.step(key) if record else None
        return f"{instruction(step)} ({self.people(step.who)})" if step else f"{task}/{key}"

    def sentences(self, steps: Iterable[Step]) -> str:
        """`“Close the valves” (EV1), then “Read the gauge” (GND)`."""
        return ", then ".join(f"{instruction(step)} ({self.people(step.who)})" for step in steps)

    def people(self, people: Iterable[str]) -> str:
        """`EV1 and EV2`."""
        return people_words(self.library, map(str, people))

    def states(self, states: Mapping[Any, Any]) -> str:
        """`Feed A isolated, Cover open`."""
        return ", ".join(f"{self.name(name, 'equipment')} {state}" for name, state in states.items())


def takes(duration: Duration) -> str:
    """`4 min`, or the three points in minutes.

    >>> takes(Duration(180, 240, 420)), takes(Duration(90, 90, 90))
    ('3/4/7 min', '1 min 30 s')
    """
    if not duration.three_points:
        return show_duration(duration.likely)
    points = (show_number(seconds / MINUTE, 2) for seconds in (duration.low, duration.likely, duration.high))
    return f"{'/'.join(points)} min"


def instruction(step: Step) -> str:
    """`“Close the valves”`."""
    return f"“{' '.join(plain(step.told).split()).rstrip('.')}”"
