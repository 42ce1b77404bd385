"""Tasks that serve others: for something that is done, in no circle, and with no priority of their own."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from briefgen.findings import Level, Related
from briefgen.model.work import Task
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, rule

_FETCH = """
tasks:
  fetch: {title: Fetch the rake, purpose: To have it., place: k1, SERVES,
    steps: [{who: ev1, do: Fetch it., takes: 1 min}]}
  rake: {title: Rake the bed, purpose: To level it., place: k2, priority: time-permitting, MORE
    steps: [{who: ev1, do: Rake it., takes: 1 min}]}
  sow: {title: Sow, purpose: To eat., place: k2, priority: time-permitting, steps: [{who: ev1, do: Sow., takes: 1 min}]}
  in: {title: Go in, purpose: To be home., place: lock, steps: [{who: ev1, do: Go in., takes: 1 min}]}
sorties: {s: {title: S, flow: {ev1: [fetch, FLOWN, in]}, limits: {length: 1 h}}}
"""


def _example(serves: str, more: str = "", flown: str = "rake, sow") -> str:
    return _FETCH.replace("SERVES", serves).replace("MORE", more).replace("FLOWN", flown)


@rule("serves-nothing", Level.WARNING, Needs.RECORDS,
      wrong=_example("serves: [▸rake]", flown="sow"), right=_example("serves: [rake]"))  # fmt: skip
def serves_nothing(evidence: Evidence) -> Iterator[Trouble]:
    """A task that is flown and serves others serves one that is flown, too.

    It would be done for nothing, and could never be left out: what it serves is not there to be left out.
    """
    tasks, flown = evidence.library.tasks, evidence.flown
    for name, task in tasks.items():
        others = [ref for ref in task.serves if ref in tasks]
        if others and name in flown and flown.isdisjoint(set(map(str, others)) - {name}):
            titles = " and ".join(f"“{tasks[ref].title}”" for ref in others)
            yield Trouble(
                others[0].position,
                f"“{task.title}” is only done for {titles}, and no sortie does that. Take it out of the flow, or name "
                "what it serves.",
            )


@rule("serves-in-a-circle", Level.ERROR, Needs.RECORDS,
      wrong=_example("serves: [▸rake]", "serves: [fetch],"), right=_example("serves: [rake]"))  # fmt: skip
def serves_in_a_circle(evidence: Evidence) -> Iterator[Trouble]:
    """No task serves itself, be it by way of others.

    Of tasks that serve each other none could ever be left out first, so none is ever left out.
    """
    tasks, told = evidence.library.tasks, set[str]()
    for name, task in tasks.items():
        circle = _circle(tasks, name)
        if circle and told.isdisjoint(circle):
            told.update(circle)
            titles = " serves ".join(f"“{tasks[one].title}”" for one in (*circle, name))
            yield Trouble(
                next(ref.position for ref in task.serves if ref in circle or ref == name),
                f"{titles}: none of them could ever be left out. Take one of these out.",
                tuple(Related(tasks[one].spot("serves"), "and this") for one in circle[1:]),
            )


def _circle(tasks: Mapping[str, Task], start: str) -> tuple[str, ...]:
    """A shortest way from a task back to itself by what each serves; nothing where there is none."""
    ways: list[tuple[str, ...]] = [(start,)]
    seen = set[str]()
    for way in ways:
        for ref in map(str, tasks[way[-1]].serves):
            if ref == start:
                return way
            if ref in tasks and ref not in seen:
                seen.add(ref)
                ways.append((*way, ref))
    return ()


@rule("serves-and-ranks", Level.WARNING, Needs.RECORDS,
      wrong=_example("serves: [rake], ▸priority: time-permitting"), right=_example("serves: [rake]"))  # fmt: skip
def serves_and_ranks(evidence: Evidence) -> Iterator[Trouble]:
    """What serves other tasks has no priority of its own.

    It is left out when all that it serves are left out, and not before; a priority beside that would mean nothing.
    """
    for task in evidence.library.tasks.values():
        if task.serves and task.priority != "required":
            yield Trouble(
                task.spot("priority"),
                f"“{task.title}” goes with what it serves, so its priority means nothing. Take it out.",
                (Related(task.spot("serves"), "what it serves"),),
            )
