"""Time: the plan fits its limit, the limits make sense, and nobody waits for long without a word about it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from itertools import pairwise

from briefgen.findings import Level, Related
from briefgen.model.work import Limits
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.naming import people_words, step_words
from briefgen.proof.schedule.clock import YEARS, start_of
from briefgen.proof.schedule.timeline import Wait, make_timeline
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.ways.travelled import flight, place_words
from briefgen.units import show_duration

_LOOK = "who: ev1, do: Look around., takes: 50 min"


@rule(
    "past-the-limit", Level.ERROR, Needs.ORDER,
    wrong=flight(_LOOK, limits="▸length: 1 h, reserve: 30 min"),
    right=flight(_LOOK, limits="length: 1 h 30 min, reserve: 30 min"),
)  # fmt: skip
def past_the_limit(evidence: Evidence) -> Iterator[Trouble]:
    """The plan ends within the sortie's length less its reserve.

    The reserve is for what nobody planned; a plan that needs it has none. The end is that of the critical chain, with
    the likely durations and all ways and waits. Where leaving out one optional task would be enough, the finding says
    which.
    """
    for proved in evidence.sorties.values():
        timeline = proved.timeline
        if timeline.margin >= -0.5 or timeline.usable <= 0:
            continue
        steps = [timeline.times[index] for index in timeline.chain]
        longest = max(steps, key=lambda times: times.end - times.start)
        yield Trouble(
            proved.sortie.limits.spot("length"),
            f"“{proved.sortie.title}” takes {show_duration(timeline.finish)} as planned, "
            f"{show_duration(-timeline.margin)} more than {_usable_words(proved.sortie.limits)}.{_savings(proved)}",
            (Related(longest.step.step.position, f"the longest of the {len(steps)} steps on the critical chain"),),
        )


def _usable_words(limits: Limits) -> str:
    usable = f"the {show_duration(limits.usable)} that may be planned"
    if limits.reserve is None:
        return usable
    return f"{usable} ({show_duration(limits.length.likely)} less {show_duration(limits.reserve.likely)} of reserve)"


def _savings(proved: SortieEvidence) -> str:
    """Which optional tasks would be enough to leave out, each by itself, or else all of them."""
    ends = {
        one.left_out: make_timeline(one.plan, proved.evidence.routes).finish for one in proved.variants if one.left_out
    }
    enough = {left: end for left, end in ends.items() if end <= proved.timeline.usable + 0.5}
    if not enough:
        more = " Shorten steps on the critical chain, or allow more time."
        return f" Leaving out the optional tasks would not be enough.{more}" if ends else more
    left, end = min(enough.items(), key=lambda pair: (len(pair[0]), pair[1], sorted(pair[0])))
    titles = " and ".join(f"“{proved.library.tasks[name].title}”" for name in sorted(left))
    return f" Without {titles} it would take {show_duration(end)}."


@rule(
    "limit-without-sense", Level.ERROR, Needs.RECORDS,
    wrong=flight(_LOOK, limits="length: 1 h, ▸reserve: 90 min"),
    right=flight(_LOOK, limits="length: 2 h, reserve: 30 min"),
)  # fmt: skip
def limit_without_sense(evidence: Evidence) -> Iterator[Trouble]:
    """A sortie's limits leave time to plan, and a tether has a length.

    A reserve as long as the sortie itself leaves no time for any step; a tether of nothing reaches nowhere.
    """
    for sortie in evidence.library.sorties.values():
        limits = sortie.limits
        if limits.length.likely <= 0:
            yield Trouble(limits.spot("length"), f"“{sortie.title}” has a length of nothing: write how long it may be.")
        elif limits.usable <= 0 and limits.reserve is not None:
            yield Trouble(
                limits.spot("reserve"),
                f"A reserve of {show_duration(limits.reserve.likely)} leaves nothing of a length of "
                f"{show_duration(limits.length.likely)} to plan: shorten it, or allow more.",
                (Related(limits.spot("length"), "the length"),),
            )
        if limits.tether is not None and limits.tether <= 0:
            yield Trouble(limits.spot("tether"), f"A tether of {limits.tether.written} reaches nowhere.")


@rule(
    "no-duration", Level.WARNING, Needs.REFERENCES,
    wrong=flight("who: ev1, do: Look around., ▸takes: 0 min"),
    right=flight("who: ev1, do: Look around., takes: 30 s"),
)  # fmt: skip
def no_duration(evidence: Evidence) -> Iterator[Trouble]:
    """Every step takes some time.

    What takes no time on paper takes it from something else outside.
    """
    for task in evidence.library.tasks.values():
        for step in task.every_step:
            if step.takes.likely <= 0:
                yield Trouble(step.spot("takes"), f"“{step.do.rstrip('.')}” takes no time: write how long it lasts.")


LONG_WAIT = 15 * 60.0
"""Seconds from which on a wait is reported; common practice gives no figure, so this one is ours."""


@rule(
    "needless-wait", Level.WARNING, Needs.ORDER,
    wrong=flight("""
        id: drill, who: ev1, do: Turn the crank., takes: 20 min
        who: ▸ev2, do: Look at the crank., takes: 2 min, after: [work/drill]
    """, "ev1 ev2"),
    right=flight("""
        id: drill, who: ev1, do: Turn the crank., takes: 20 min
        who: ev2, do: Count the hooks., takes: 15 min
        who: ev2, do: Look at the crank., takes: 2 min, after: [work/drill]
    """, "ev1 ev2"),
)  # fmt: skip
def needless_wait(evidence: Evidence) -> Iterator[Trouble]:
    """Nobody outside waits for a quarter of an hour or more, unless the author says why.

    A person who waits uses oxygen and grows cold. Waits are counted from the moment at which the person is there, by
    the likely durations; people inside and on the ground may wait. Move something into that time, or accept the wait
    with a reason.
    """
    for proved in evidence.sorties.values():
        outside = set(proved.plan.outside)
        for wait in proved.timeline.waits:
            if wait.person in outside and wait.seconds >= LONG_WAIT - 0.5:
                yield _waiting(proved, wait)


def _waiting(proved: SortieEvidence, wait: Wait) -> Trouble:
    step, cause = proved.plan.steps[wait.step], proved.plan.steps[wait.cause]
    linked = any((link.first, link.second) == (wait.cause, wait.step) for link in proved.plan.links)
    if wait.until:
        until = f"until {wait.until}"
    elif linked:
        until = f"until {step_words(proved.library, cause)} is over"
    else:  # what is waited for is a person, and why that one comes late stands in that one's flow
        comes = people_words(proved.library, [name for name in wait.causes if name in step.people] or wait.causes)
        before = "" if wait.for_arrival else f", who does {step_words(proved.library, cause)} before,"
        until = f"until {comes}{before} is there"
    word = next(name for name in step.step.who if name == wait.person)
    where = f" at {place_words(proved.library, step.place)}" if step.place else ""
    return Trouble(
        word.position,
        f"{people_words(proved.library, [wait.person])} waits {show_duration(wait.seconds)}{where} before "
        f"{step_words(proved.library, step)}, {until}.",
        () if wait.for_arrival or wait.until else (Related(cause.step.position, "this is waited for"),),
        "accepts: [{finding: needless-wait, because: …}]", step.task.id.position,
    )  # fmt: skip


@rule(
    "start-not-utc", Level.ERROR, Needs.RECORDS, spoils=False,
    wrong=flight(_LOOK).replace("    flow", "    starts: ▸12 May 2042\n    flow"),
    right=flight(_LOOK).replace("    flow", "    starts: 2042-05-12T08:30Z\n    flow"),
)  # fmt: skip
def start_not_utc(evidence: Evidence) -> Iterator[Trouble]:
    """A sortie's start is a date and a time in UTC, written as in ISO 8601.

    Ground and crew read the same clock; a local time is read in two ways.
    """
    for sortie in evidence.library.sorties.values():
        if sortie.starts is not None and start_of(sortie) is None:
            yield Trouble(
                sortie.starts.position,
                f"“{sortie.starts}” is no time in UTC from {YEARS[0]} to {YEARS[1]}: write it like "
                "“2042-05-12T08:30Z”, with a Z at the end.",
            )


@rule(
    "sorties-overlap", Level.ERROR, Needs.RECORDS, spoils=False,
    wrong=flight(_LOOK).replace("    flow", "    starts: 2042-05-12T08:30Z\n    flow")
    + """
  t:
    title: T
    starts: ▸2042-05-12T09:30Z
    flow: {}
    limits: {length: 1 h}
programme: {p: {title: P, sorties: [s, t], paces: {outside: 6 m/min, loaded: 3 m/min},
  effort: {rest: 120 W, light: 220 W, moderate: 320 W, hard: 450 W}}}
""",
    right=flight(_LOOK).replace("    flow", "    starts: 2042-05-12T08:30Z\n    flow")
    + """
  t:
    title: T
    starts: 2042-05-14T09:30Z
    flow: {}
    limits: {length: 1 h}
programme: {p: {title: P, sorties: [s, t], paces: {outside: 6 m/min, loaded: 3 m/min},
  effort: {rest: 120 W, light: 220 W, moderate: 320 W, hard: 450 W}}}
""",
)  # fmt: skip
def sorties_overlap(evidence: Evidence) -> Iterator[Trouble]:
    """Sorties start in the programme's order, each when the one before is over.

    Each begins with the world as the one before left it, so it can't begin earlier.
    """
    for first, second in pairwise(evidence.library.ordered_sorties):
        starts, next_starts = start_of(first), start_of(second)
        if starts is None or next_starts is None or second.starts is None:
            continue
        over = starts + timedelta(seconds=first.limits.length.likely)
        if next_starts < over:
            yield Trouble(
                second.starts.position,
                f"“{second.title}” starts before “{first.title}” is over, which is at {over:%Y-%m-%dT%H:%MZ}. "
                "Correct a start, or the order in the programme.",
                (Related(first.spot("starts"), f"the start of “{first.title}”"),),
            )  # fmt: skip
