"""What can be said of a step, one facet at a time, each comparable between the versions and in words."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from briefgen.language.wording import takes
from briefgen.model.fields.base import Part
from briefgen.model.library import Library
from briefgen.model.work import Step, Task
from briefgen.proof.schedule.gates import clock_words
from briefgen.revision.differences.fields import label_of
from briefgen.revision.pairing.normal import Normal
from briefgen.revision.telling import Telling
from briefgen.source import Ref, Text
from briefgen.units import Duration

Reader = Callable[[Task, Step, Library], Any]
INSTRUCTION, TAKES, IN_CASE = "Instruction", "Takes", "If not as planned"


@dataclass(frozen=True)
class Facet:
    """A facet's name, the key of a step that it is about, and how its value is said. `ordered`: its sequence counts.

    `read` gives the value where it is not simply what stands at the key.
    """

    name: str
    key: str
    say: Callable[[Telling, Any], str] = Telling.value
    ordered: bool = False
    read: Reader | None = None

    def value(self, task: Task, step: Step, library: Library) -> Any:
        """What a step has there."""
        return self.read(task, step, library) if self.read else getattr(step, self.key)

    def compared(self, normal: Normal, task: Task, step: Step, library: Library) -> Any:
        """The value, comparable between the versions."""
        value = normal.of(self.value(task, step, library))
        return frozenset(value) if isinstance(value, tuple) and not self.ordered else value

    def said(self, telling: Telling, task: Task, step: Step) -> str:
        """The value in words."""
        return self.say(telling, self.value(task, step, telling.library))


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


def _say_clock(telling: Telling, clock: Any) -> str:
    return clock_words(clock) if clock else ""


def _who(task: Task, step: Step, library: Library) -> Any:
    """Who does it; of what whoever is free may do, no matter who stands in today."""
    roles = {name: role for role, name in task.whoever.items()}
    return tuple(Text(f"{role}, whoever is free") if (role := roles.get(str(who))) else who for who in step.who)


def _say_people(telling: Telling, people: Any) -> str:
    named = [who for who in people if isinstance(who, Ref)]
    return ", ".join([*([telling.people(named)] if named else []), *(str(who) for who in people if who not in named)])


def _cases(task: Task, step: Step, library: Library) -> Any:
    """Each case: what is seen and what follows, and, to be compared, all that is said of its steps."""
    return tuple(
        (f"{str(case.when).rstrip('.')}: then {case.then}", *(_flat(one, library) for one in case.steps))
        for case in step.in_case
    )


def _say_cases(telling: Telling, cases: Any) -> str:
    """Short, since a step shows it: its case stands whole on the task's page."""
    return "; ".join(seen for seen, *_ in cases)


def _flat(value: Any, library: Library) -> str:
    """A value and all within it, in words."""
    if isinstance(value, Mapping):
        return ", ".join(f"{_flat(name, library)} {_flat(inner, library)}".strip() for name, inner in value.items())
    if isinstance(value, tuple):
        return ", ".join(_flat(one, library) for one in value)
    if isinstance(value, Part):
        said = (
            getattr(value, name)
            for name, field in type(value).model_fields.items()
            if name not in _UNSAID
            and getattr(value, name) != field.get_default(call_default_factory=True, validated_data={})
        )
        return ", ".join(_flat(one, library) for one in said)
    if isinstance(value, Duration):
        return takes(value)
    if isinstance(value, Ref):
        record = next(filter(None, (library.find(kind, value) for kind in value.kinds)), None)
        return str(record.label_text) if record else str(value)
    return str(getattr(value, "written", value))


_UNSAID = ("id",)
"""A name of a step within a case; what it is ordered after is compared."""


EACH = "For each"
NEEDS, SETS, VERIFIES = "Needs", "Sets", "Verifies"
KEEPS_FREE = "Keeps free"
_SAID = (
    Facet(INSTRUCTION, "do"),
    Facet("Who", "who", _say_people, read=_who),
    Facet("Where", "at", read=_place),
    Facet("Leads to", "to"),
    Facet(TAKES, "takes"),
    Facet("Not before", "not_before", _say_clock),
    Facet(EACH, "each"),
    Facet("Luck of all items", "rushed"),
    Facet("Hazards", "hazards"),
    Facet(NEEDS, "requires", Telling.states),
    Facet(SETS, "sets", Telling.states),
    Facet(VERIFIES, "verifies", Telling.states),
    Facet("Tether to", "anchors"),
    Facet(KEEPS_FREE, "keeps_out"),
    Facet("Held by", "restraint"),
    Facet("Gets into", "enters"),
    Facet("Gets out of", "exits"),
    Facet("With", "uses", _say_uses, read=_uses),
    Facet("Take", "picks"),
    Facet("Leave", "leaves", _say_left),
    Facet("Hand over", "hands", _say_handed),
    Facet("Spends", "spends"),
    Facet("Sight", "sight"),
    Facet("Needs light", "needs_light"),
    Facet("Effort", "effort"),
    Facet("Says", "calls", _say_calls, ordered=True, read=_calls),
    Facet(IN_CASE, "in_case", _say_cases, ordered=True, read=_cases),
    Facet("Why", "why"),
    Facet("Note", "note"),
    Facet("Figures", "figures"),
)
# An id is told by pairing the steps, and waits and confirmations as waits.
ELSEWHERE = frozenset({"id", "after", "confirmed_by"})
# Whatever else the format lets a step say is compared under the key's own name: nothing new goes unseen.
_REST = tuple(name for name in Step.model_fields if name not in ELSEWHERE and all(one.key != name for one in _SAID))
FACETS = (*_SAID, *(Facet(label_of(name), name) for name in _REST))
SAFETY = frozenset({"Hazards", "Tether to", KEEPS_FREE})
STATES = frozenset({NEEDS, SETS, VERIFIES})
