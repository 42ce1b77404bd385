"""What a revision touches: scenes, the questions that check an outcome, and those that are made from the plan."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.pages.desk import Desk
from briefgen.pages.planning.revisions import step_mark
from briefgen.pages.rows import Badge
from briefgen.practice.changed import Asked, Made, differing
from briefgen.practice.sheet import questions
from briefgen.proof.evidence import SortieEvidence
from briefgen.revision.change import Topic, Verb
from briefgen.telling.scenes import FigureShown, ToldScene

_TOUCHED = Badge("Touched by the revision", "change", "changed")
_CHANGED = Badge("Changed", "change", "changed")
_NEW = Badge("New", "change", "new")


def scene_change(desk: Desk, case: SortieEvidence, scene: ToldScene) -> Badge | None:
    """The mark on a scene: a step of which it tells differs or is gone, or the figure that it shows differs."""
    if desk.since is None:
        return None
    figure = f"figure:{scene.shown.figure}" if isinstance(scene.shown, FigureShown) else ""
    gone = {
        one.subject.id
        for one in desk.since.changes
        if one.topic is Topic.STEPS and one.verb is Verb.GONE and one.subject.kind == "task"
    }
    told = (case.plan.steps[index] for index in scene.steps)
    steps = any(step_mark(desk, str(step.task.id), step.step.key) for step in told)
    return _TOUCHED if steps or figure in _references(desk) or gone & {*map(str, scene.tasks)} else None


def question_change(desk: Desk, identifier: str) -> Badge | None:
    """The mark on a question: it differs itself, or what it is looked up in does."""
    if desk.since is None:
        return None
    itself = f"question:{identifier}"
    verbs = [one.verb for one in desk.since.changes if one.subject.reference == itself]
    if verbs:
        return _NEW if Verb.NEW in verbs else _CHANGED
    look = desk.library.questions[identifier].look
    if look is None:
        return None
    there = f"{look.kind}:{look}" + (f"#{look.part}" if look.part else "")
    return _TOUCHED if there in _references(desk) else None


def made_change(desk: Desk, case: SortieEvidence, made: Made, name: str) -> Badge | None:
    """The mark on a question that is made from the plan: it is new, or asked or answered otherwise than before."""
    sortie = str(case.sortie.id)
    before = desk.since and next((old for old, new in desk.since.pair.cases if str(new.sortie.id) == sortie), None)
    if not before:
        return None
    found = desk.once(("asked otherwise", sortie), lambda: differing(made, questions(before)))
    return {None: None, Asked.NEW: _NEW, Asked.CHANGED: _CHANGED}[found.get(name)]


def _references(desk: Desk) -> frozenset[str]:
    """What differs, as an author links to it; that something comes at another time is no difference of its own."""
    return desk.once("touched", lambda: frozenset(_differing(desk)))


def _differing(desk: Desk) -> Iterator[str]:
    for one in desk.since.changes if desk.since else ():
        if one.topic is not Topic.TIMES and one.subject.kind not in ("sortie", "programme"):
            yield one.subject.reference
            # Whoever looks up a whole task finds the step in it; who looks up a whole sortie, nearly everything.
            if one.subject.part:
                yield f"{one.subject.kind}:{one.subject.id}"
