"""Who waits for whom: steps that may not begin before others than before have ended."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from briefgen.model.library import Library
from briefgen.revision.change import Change, Detail, Topic, Verb
from briefgen.revision.pairing.normal import Normal
from briefgen.revision.pairing.pair import Pair, sorties_of, step_subject
from briefgen.revision.telling import Telling
from briefgen.source import StepRef

WAITS = "Waits for"


def wait_changes(pair: Pair) -> Iterator[Change]:
    """Every difference in `after` of steps that are in both versions."""
    for _, one, task, other in pair.steps():
        was, now = _by_name(pair.names.old, one.after), _by_name(pair.names.new, other.after)
        if was.keys() != now.keys():
            fell = {key: ref for key, ref in was.items() if key not in now}
            came = {key: ref for key, ref in now.items() if key not in was}
            safety = _confirms(pair.old.library, fell.values()) or _confirms(pair.new.library, came.values())
            detail = Detail(WAITS, *_told_apart(pair, fell, came), safety)
            people, key = tuple(map(str, other.who)), f"{task.id}/{other.key}"
            subject = step_subject(str(task.id), other)
            yield Change(Topic.ORDER, Verb.CHANGED, subject, (detail,), people, sorties_of(pair.new, key))


def _by_name(normal: Normal, refs: Iterable[StepRef]) -> dict[str, StepRef]:
    return {normal.step(ref): ref for ref in refs}


def _told_apart(pair: Pair, fell: dict[str, StepRef], came: dict[str, StepRef]) -> tuple[str, str]:
    """What was waited for and what is, told apart by their names where both say the same."""
    before, after = _told(pair.was, fell.values()), _told(pair.now, came.values())
    if before != after:
        return before, after
    return f"{before}, {', '.join(sorted(fell.values()))}", f"{after}, {', '.join(sorted(came))}"


def _told(telling: Telling, refs: Iterable[StepRef]) -> str:
    return ", ".join(sorted(telling.step(ref.task, ref.step) for ref in refs))


def _confirms(library: Library, refs: Iterable[StepRef]) -> bool:
    """Whether one of these steps confirms a control."""
    for ref in refs:
        task = library.tasks.get(ref.task)
        step = task.step(ref.step) if task else None
        named = step.verifies if step else ()
        if any(name in library.equipment and library.equipment[name].control for name in named):
            return True
    return False
