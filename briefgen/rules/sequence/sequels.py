"""Sortie after sortie: each begins as the one before leaves things, whatever that one leaves out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from briefgen.findings import Level, Related
from briefgen.model.work import Task
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.holding.custody import Handled, Handling
from briefgen.proof.naming import chain_words, item_words, step_words, thing_words
from briefgen.proof.ordering.states import Met
from briefgen.proof.plan import PlannedStep
from briefgen.rules.registry import Needs, Trouble, rule

_TWO = """
programme: {p: {title: P, sorties: [s, t], paces: {outside: 6 m/min, loaded: 3 m/min},
  effort: {rest: 120 W, light: 220 W, moderate: 320 W, hard: 450 W}}}
tasks:
  open:
    title: Open the cover
    purpose: To let the valve warm up.
    place: k2
    priority: PRIORITY
    steps:
      - {who: ev1, do: Open the cover., takes: 2 min, sets: {cover: open}}
      - {who: ev1, at: lock, do: Go in., takes: 2 min}
  turn:
    title: Turn the valve
    purpose: To drain it.
    place: k2
    steps:
      - {who: ev1, do: Look at the valve., takes: 5 min, requires: {cover: open}}
      - {who: ev1, do: Shut the cover., takes: 2 min, sets: {cover: shut}}
      - {who: ev1, at: lock, do: Go in., takes: 2 min}
sorties:
  s: {title: S, flow: {ev1: [open]}, limits: {length: 1 h}, carries_over: {cover: open}}
  t: {title: T, flow: {ev1: [turn]}, limits: {length: 1 h}}
"""


@rule("rests-on-optional", Level.WARNING, Needs.ORDER,
      wrong=_TWO.replace("priority: PRIORITY", "▸priority: time-permitting"),
      right=_TWO.replace("PRIORITY", "required"))  # fmt: skip
def rests_on_optional(evidence: Evidence) -> Iterator[Trouble]:
    """No sortie relies on a task that an earlier sortie may leave out.

    If time runs out in the first, the second begins in another world than its plan says. Make the task required, write
    the second sortie so that it fits both, or accept the finding and say how the second is planned anew.
    """
    told: set[str] = set()
    optional: dict[str, SortieEvidence] = {}
    for proved in evidence.sorties.values():
        earlier = {name: before for name, before in optional.items() if name not in proved.tasks}
        groups = [[name] for name in earlier] + ([list(earlier)] if len(earlier) > 1 else [])
        first = {str(ref): step.task for step in proved.plan.steps for ref in step.task.needed}
        for names in groups:
            words = _consequence(proved, names, first) if told.isdisjoint(names) else ""
            if words:
                told.update(names)
                yield _resting(proved, names, earlier, words)
        optional |= dict.fromkeys(proved.plan.optional_tasks, proved)


def _consequence(proved: SortieEvidence, names: Sequence[str], first: Mapping[str, Task]) -> str:
    """What would not hold of a sortie if earlier tasks had not been done; nothing where all would."""
    variant = proved.without(frozenset(names))
    for name in names:
        if name in first and str(first[name].id) not in variant.left_out:
            return f"“{first[name].title}” needs it first"
    if variant.states is proved.states and variant.custody.handled is proved.custody.handled:
        return ""
    was, steps = proved.plan.steps, variant.plan.steps  # what only serves what is left out is no longer among these
    held = {(was[met.need.step].key, met.need.item, met.need.state) for met in proved.states.met if not met.fails}
    for met in variant.states.met:
        if met.fails and (steps[met.need.step].key, met.need.item, met.need.state) in held:
            return _unmet(proved, steps[met.need.step], met)
    reached = {_named(was[one.handling.step], one) for one in proved.custody.handled if not one.fails}
    for handled in variant.custody.handled:
        step = steps[handled.handling.step]
        if handled.fails and _named(step, handled) in reached:
            return _out_of_reach(proved, step, handled)
    return ""


def _named(step: PlannedStep, handled: Handled) -> tuple[str, Handling]:
    return step.key, replace(handled.handling, step=0)


def _unmet(proved: SortieEvidence, step: PlannedStep, met: Met) -> str:
    words = step_words(proved.library, step)
    item = item_words(proved.library, met.need.item)
    if met.wrong:
        return f"{words} needs {item} “{met.need.state}”, but it would be “{met.answer.value}”"
    return f"{words} could not be sure that {item} is “{met.need.state}”"


def _out_of_reach(proved: SortieEvidence, step: PlannedStep, handled: Handled) -> str:
    words = step_words(proved.library, step)
    where = chain_words(proved.library, handled.chain)
    return f"{words} needs {thing_words(proved.library, handled.handling.thing)}, but that would be {where}"


def _resting(proved: SortieEvidence, names: list[str], optional: dict[str, SortieEvidence], words: str) -> Trouble:
    task, earlier = proved.library.tasks[names[0]], optional[names[0]].sortie
    titles = " and ".join(f"“{proved.library.tasks[name].title}”" for name in names)
    return Trouble(
        task.spot("priority"),
        f"“{proved.sortie.title}” relies on {titles}, which “{earlier.title}” may leave out: then {words}. Make it "
        "required, or accept this and say how the later sortie is planned anew.",
        (Related(proved.sortie.id.position, f"“{proved.sortie.title}”"),),
        "priority: required",
    )
