"""Where tools and bags are, and who uses them, is no matter of luck."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level, Related
from briefgen.proof.evidence import Evidence
from briefgen.proof.naming import step_words, thing_words
from briefgen.proof.ordering.using import clashes
from briefgen.proof.plan import PlannedStep
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.races import after_line, by_time, escape_words, left_out_words, starts_today
from briefgen.rules.shared.samples import task_of
from briefgen.rules.things.handling import HandlingIn, failing

_TAKE = "id: take, who: ev1, do: Take the driver., takes: 1 min, picks: [driver]"
_BACK = "who: ev1, do: Put the driver back., takes: 1 min, leaves: {driver: lock}"
_SOCKET = "who: ev1, do: Turn it., takes: 2 min, with: [socket]"
_SOCKET_TOO = "who: ev2, do: Turn it too., takes: 2 min, with: [socket]"
_LATER = "who: ev2, do: Read the list., takes: 9 min"
_TAKES = "who: ev2, do: Take the driver., takes: 1 min"
_RETURNS = "who: ev2, do: Put the driver back., takes: 1 min, leaves: {driver: lock}"
_BOTH = "ev1: [work], ev2: [work]"


@rule(
    "custody-by-luck",
    Level.ERROR,
    Needs.ORDER,
    wrong=task_of(_TAKE, _BACK, _LATER, f"{_TAKES}, picks: [▸driver]", _RETURNS, flow=_BOTH),
    right=task_of(_TAKE, _BACK, _LATER, f"{_TAKES}, picks: [driver], after: [work/2]", _RETURNS, flow=_BOTH),
)
def custody_by_luck(evidence: Evidence) -> Iterator[Trouble]:
    """Where a tool or bag is when a step takes, uses, hands over or leaves it does not depend on who is faster.

    Each step that moves the thing, or a bag around it, must be ordered before or after the step that relies on it, and
    one of those before must be the last.
    """
    by_thing: dict[tuple[str, str, str, frozenset[str]], list[HandlingIn]] = {}
    for one in failing(evidence, lambda handled: not handled.certain):
        name = next(name for name, answer in one.handled.answers if not answer.certain)
        # Those of one task together: what its author accepts must not hide another task's.
        where = str(one.proved.sortie.id), str(one.step.task.id)
        by_thing.setdefault((*where, name, one.variant.left_out), []).append(one)
    for (_, _, name, _), cases in by_thing.items():
        yield _luck(name, cases)


def _luck(name: str, cases: list[HandlingIn]) -> Trouble:
    """One finding for a thing: the line that settles most of its races, at the step that comes second today."""
    proved, variant = cases[0].proved, cases[0].variant
    pairs = [by_time(proved, *pair) for one in cases for pair in _races(one, name)]
    second = min((pair[1] for pair in pairs), key=lambda step: starts_today(proved, step))
    first = max(
        (pair[0] for pair in pairs if not variant.plan.order.ordered(pair[0].index, second.index)),
        key=lambda step: starts_today(proved, step),
    )
    one = next((one for one in cases if one.step is second), cases[0])
    line, spot = after_line(first, second)
    thing = thing_words(proved.library, name)
    inside = "" if name == one.handled.handling.thing else f", which holds {one.thing}"
    return Trouble(
        one.handled.handling.words.position,
        f"Where {thing}{inside} is, is luck: nothing orders {step_words(proved.library, first)} and "
        f"{step_words(proved.library, second)}{left_out_words(proved, variant)}. {escape_words(proved, first, second)}",
        tuple(Related(other.step.step.position, "this relies on it, too") for other in cases if other is not one),
        line,
        spot,
    )


def _races(one: HandlingIn, name: str) -> Iterator[tuple[PlannedStep, PlannedStep]]:
    """The pairs of steps that race for a thing on which a step relies."""
    answer = next(answer for thing, answer in one.handled.answers if thing == name)
    steps = one.variant.plan.steps
    for racing in answer.racing:
        yield steps[racing], one.step
    if answer.rivals:
        yield steps[answer.rivals[0]], steps[answer.rivals[1]]


@rule(
    "used-at-once",
    Level.ERROR,
    Needs.ORDER,
    wrong=task_of(_SOCKET.replace("[socket", "[▸socket"), _SOCKET_TOO, flow=_BOTH),
    right=task_of(_SOCKET, f"{_SOCKET_TOO}, after: [work/1]", flow=_BOTH),
)
def used_at_once(evidence: Evidence) -> Iterator[Trouble]:
    """No two people use one tool at the same time, whatever the durations turn out to be.

    Both may reach into the same bag, but only one finds the tool.
    """
    for proved in evidence.sorties.values():
        seen: set[tuple[str, str, str]] = set()
        for variant in proved.variants:
            for clash in clashes(variant.plan):
                one, other = variant.plan.steps[clash.step], variant.plan.steps[clash.other]
                key = (clash.thing, one.key, other.key)
                if key in seen:
                    continue
                seen.add(key)
                line, spot = after_line(*by_time(proved, one, other))
                yield Trouble(
                    clash.words.position, f"{step_words(proved.library, one)} and "
                    f"{step_words(proved.library, other)} may use "
                    f"{thing_words(proved.library, clash.thing)} at the same time{left_out_words(proved, variant)}. "
                    f"{escape_words(proved, one, other)}", (Related(other.step.position, "the other step"),),
                    line, spot,
                )  # fmt: skip
