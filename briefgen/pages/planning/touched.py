"""What a revision touches: scenes, the questions that check an outcome, and those that are made from the plan."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.pages.context import PageContext
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


def scene_change(context: PageContext, proved: SortieEvidence, scene: ToldScene) -> Badge | None:
    """The mark on a scene: a step of which it tells differs or is gone, or the figure that it shows differs."""
    if context.since is None:
        return None
    figure = f"figure:{scene.shown.figure}" if isinstance(scene.shown, FigureShown) else ""
    gone = {
        one.subject.id
        for one in context.since.changes
        if one.topic is Topic.STEPS and one.verb is Verb.GONE and one.subject.kind == "task"
    }
    told = (proved.plan.steps[index] for index in scene.steps)
    steps = any(step_mark(context, str(step.task.id), step.step.key) for step in told)
    return _TOUCHED if steps or figure in _references(context) or gone & {*map(str, scene.tasks)} else None


def question_change(context: PageContext, identifier: str) -> Badge | None:
    """The mark on a question: it differs itself, or what it is looked up in does."""
    if context.since is None:
        return None
    itself = f"question:{identifier}"
    verbs = [one.verb for one in context.since.changes if one.subject.reference == itself]
    if verbs:
        return _NEW if Verb.NEW in verbs else _CHANGED
    look = context.library.questions[identifier].look
    if look is None:
        return None
    there = f"{look.kind}:{look}" + (f"#{look.part}" if look.part else "")
    return _TOUCHED if there in _references(context) else None


def made_change(context: PageContext, proved: SortieEvidence, made: Made, name: str) -> Badge | None:
    """The mark on a question that is made from the plan: it is new, or asked or answered otherwise than before."""
    sortie = str(proved.sortie.id)
    before = context.since and next(
        (old for old, new in context.since.pair.sorties if str(new.sortie.id) == sortie), None
    )
    if not before:
        return None
    found = context.once(("asked otherwise", sortie), lambda: differing(made, questions(before)))
    return {None: None, Asked.NEW: _NEW, Asked.CHANGED: _CHANGED}[found.get(name)]


def _references(context: PageContext) -> frozenset[str]:
    """What differs, as an author links to it; that something comes at another time is no difference of its own."""
    return context.once("touched", lambda: frozenset(_differing(context)))


def _differing(context: PageContext) -> Iterator[str]:
    for one in context.since.changes if context.since else ():
        if one.topic is not Topic.TIMES and one.subject.kind not in ("sortie", "programme"):
            yield one.subject.reference
            # Whoever looks up a whole task finds the step in it; who looks up a whole sortie, nearly everything.
            if one.subject.part:
                yield f"{one.subject.kind}:{one.subject.id}"
