"""What can be said of a step, one facet at a time, each comparable between the versions and in words."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from briefgen.model.library import Library
from briefgen.model.work import Step, Task
from briefgen.revision.normal import Normal
from briefgen.revision.telling import Telling

Reader = Callable[[Task, Step, Library], Any]
INSTRUCTION, TAKES = "Instruction", "Takes"


@dataclass(frozen=True)
class Facet:
    """A facet's name, the value that a step has there, and how that is said. `ordered`: its sequence counts."""

    name: str
    read: Reader
    say: Callable[[Telling, Any], str] = Telling.value
    ordered: bool = False

    def compared(self, normal: Normal, task: Task, step: Step, library: Library) -> Any:
        """The value, comparable between the versions."""
        value = normal.of(self.read(task, step, library))
        return frozenset(value) if isinstance(value, tuple) and not self.ordered else value

    def said(self, telling: Telling, task: Task, step: Step) -> str:
        """The value in words."""
        return self.say(telling, self.read(task, step, telling.library))


def _plain(name: str) -> Reader:
    return lambda task, step, library: getattr(step, name)


def _place(task: Task, step: Step, library: Library) -> Any:
    """Where somebody outside does it: nobody else has a place."""
    outside = any(person in library.people and library.people[person].outside for person in step.who)
    return (step.at or task.place) if outside else None


def _uses(task: Task, step: Step, library: Library) -> Any:
    return {use.tool: use.setting or "" for use in step.uses}


def _calls(task: Task, step: Step, library: Library) -> Any:
    return tuple((call.to, call.say) for call in step.calls)


def _say_calls(telling: Telling, calls: Any) -> str:
    return "; ".join(f"to {telling.people(to)}: “{telling.value(say)}”" for to, say in calls)


def _say_left(telling: Telling, left: Mapping[Any, Any]) -> str:
    library = telling.library
    return ", ".join(
        f"{telling.value(thing)} {'in' if spot in library.bags else 'at'} {telling.value(spot)}"
        for thing, spot in left.items()
    )


def _say_handed(telling: Telling, handed: Mapping[Any, Any]) -> str:
    return ", ".join(f"{telling.value(thing)} to {telling.people([person])}" for thing, person in handed.items())


def _say_uses(telling: Telling, uses: Mapping[Any, Any]) -> str:
    return ", ".join(f"{telling.value(tool)}" + (f" ({way})" if way else "") for tool, way in uses.items())


def _say_people(telling: Telling, people: Any) -> str:
    return telling.people(people)


NEEDS, SETS, VERIFIES = "Needs", "Sets", "Verifies"
KEEPS_FREE = "Keeps free"
FACETS = (
    Facet(INSTRUCTION, _plain("do")),
    Facet("Who", _plain("who"), _say_people),
    Facet("Where", _place),
    Facet("Leads to", _plain("to")),
    Facet(TAKES, _plain("takes")),
    Facet("For each", _plain("each")),
    Facet("Hazards", _plain("hazards")),
    Facet(NEEDS, _plain("requires"), Telling.states),
    Facet(SETS, _plain("sets"), Telling.states),
    Facet(VERIFIES, _plain("verifies"), Telling.states),
    Facet("Tether to", _plain("anchors")),
    Facet(KEEPS_FREE, _plain("keeps_out")),
    Facet("Held by", _plain("restraint")),
    Facet("Gets into", _plain("enters")),
    Facet("Gets out of", _plain("exits")),
    Facet("With", _uses, _say_uses),
    Facet("Take", _plain("picks")),
    Facet("Leave", _plain("leaves"), _say_left),
    Facet("Hand over", _plain("hands"), _say_handed),
    Facet("Spends", _plain("spends")),
    Facet("Sight", _plain("sight")),
    Facet("Needs light", _plain("needs_light")),
    Facet("Effort", _plain("effort")),
    Facet("Says", _calls, _say_calls, ordered=True),
    Facet("Why", _plain("why")),
    Facet("Note", _plain("note")),
    Facet("Figures", _plain("figures")),
)
SAFETY = frozenset({"Hazards", "Tether to", KEEPS_FREE})
STATES = frozenset({NEEDS, SETS, VERIFIES})
