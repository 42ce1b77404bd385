"""Planned times: each task's beginning and end, the sortie's finish and margin; less than a minute is nothing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from briefgen.proof.evidence import SortieEvidence
from briefgen.revision.change import Change, Detail, Subject, Topic, Verb
from briefgen.revision.pairing.pair import Pair, record_subject
from briefgen.units import MINUTE, show_duration, show_elapsed

FINISH, MARGIN, BEGINS, ENDS = "Planned finish", "Margin", "Begins", "Ends"


def time_changes(pair: Pair) -> Iterator[Change]:
    """For each sortie its finish and margin, where they moved."""
    for before, after in pair.sorties:
        was, now = before.timeline, after.timeline
        details = (*_moved(FINISH, was.finish, now.finish), *_margin(was.margin, now.margin))
        if details:
            sortie = str(after.sortie.id)
            subject = record_subject(pair.now, "sorties", "sortie", sortie)
            yield Change(Topic.TIMES, Verb.CHANGED, subject, details, tuple(after.plan.flows), (sortie,))


def task_times(pair: Pair, before: SortieEvidence, after: SortieEvidence) -> Iterator[Change]:
    """The tasks of a sortie whose beginning or end moved, in the order in which they begin now."""
    was = {pair.names.record("tasks", task): span for task, span in spans(before).items()}
    for task, (start, end) in sorted(spans(after).items(), key=lambda one: one[1]):
        if task in was:
            details = (*_moved(BEGINS, was[task][0], start), *_moved(ENDS, was[task][1], end))
            if details:
                subject = Subject("task", task, pair.now.name(task, "tasks"))
                yield Change(Topic.TIMES, Verb.CHANGED, subject, details, (), (str(after.sortie.id),))


def spans(proved: SortieEvidence) -> Mapping[str, tuple[float, float]]:
    """When each task begins and ends, in elapsed seconds."""
    found: dict[str, tuple[float, float]] = {}
    for times in proved.timeline.times:
        name = str(times.step.task.id)
        start, end = found.get(name, (times.start, times.end))
        found[name] = (min(start, times.start), max(end, times.end))
    return found


def _moved(what: str, was: float, now: float) -> tuple[Detail, ...]:
    if abs(now - was) < MINUTE:
        return ()
    return (Detail(what, show_elapsed(was), f"{show_elapsed(now)} ({later(now - was)})"),)


def _margin(was: float, now: float) -> tuple[Detail, ...]:
    if abs(now - was) < MINUTE:
        return ()
    return (Detail(MARGIN, show_duration(was), show_duration(now), safety=now < 0),)


def later(seconds: float) -> str:
    """`12 min later`, or earlier.

    >>> later(720), later(-60)
    ('12 min later', '1 min earlier')
    """
    return f"{show_duration(abs(seconds))} {'later' if seconds > 0 else 'earlier'}"
