"""The told sortie: its scenes fit their time, tell of every task that must be done, and say what they show."""

from __future__ import annotations

import re
from collections.abc import Iterator

from briefgen.findings import Level, Related
from briefgen.language.nearest import hint, nearest
from briefgen.language.sentences import plain
from briefgen.model.telling import Scene
from briefgen.model.work import Sortie
from briefgen.proof.evidence import Evidence
from briefgen.proof.naming import shown_by
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.lines import word
from briefgen.telling.meanwhile import hazards_met
from briefgen.telling.scenes import scenes_of
from briefgen.telling.speech import speaking_seconds, spoken_words
from briefgen.units import MINUTE, show_duration, show_number

_LOOK = "tasks: {look: {title: Look, purpose: To know., place: lock, steps: [{who: ev1, do: Look., takes: 2 min}]}}\n"
_PICTURE = (
    "figures: {front: {file: front.svg, alt: The front., callouts: {p14: {at: [10 %, 10 %], shows: The plug P14}}}}\n"
)


def _sortie(scenes: str, more: str = "") -> str:
    return f"sorties: {{s: {{title: S, flow: {{ev1: [look]}}, limits: {{length: 1 h}}, {more}scenes: [\n  {scenes}]}}}}"


_SCENE = "{title: The look, shows: {task: look}, tasks: [look], says: Heron looks at the front.}"


@rule(
    "unknown-callout-told", Level.ERROR, Needs.REFERENCES,
    wrong=_LOOK + _PICTURE + _sortie(
        "{title: Front, shows: {figure: front, look: [▸p15]}, says: The plug P14., tasks: [look]}"),
    right=_LOOK + _PICTURE + _sortie(
        "{title: Front, shows: {figure: front, look: [p14]}, says: The plug P14., tasks: [look]}"),
)  # fmt: skip
def unknown_callout_told(evidence: Evidence) -> Iterator[Trouble]:
    """A scene looks only at callouts that its figure has.

    The briefer would speak of something that lights up nowhere on the picture.
    """
    for scene in _written(evidence):
        figure = evidence.library.figures.get(scene.shows.figure) if scene.shows.figure else None
        for name in scene.shows.look if figure else ():
            if figure and name not in figure.callouts:
                known = list(map(str, figure.callouts))
                sentence = f"Figure “{scene.shows.figure}” has no callout “{name}”.{hint(name, known)}"
                yield Trouble(name.position, sentence, write=nearest(name, known))


@rule(
    "scene-too-long", Level.WARNING, Needs.REFERENCES,
    wrong=_LOOK + _sortie("{title: The look, shows: {task: look}, tasks: [look], ▸minutes: 0.02, "
                          "says: Heron looks at the front and at the back.}"),
    right=_LOOK + _sortie("{title: The look, shows: {task: look}, tasks: [look], minutes: 0.5, "
                          "says: Heron looks at the front and at the back.}"),
)  # fmt: skip
def scene_too_long(evidence: Evidence) -> Iterator[Trouble]:
    """The words of a scene can be said in its minutes, at the programme's speaking rate.

    A briefing that runs over is cut at its end, where the way home is told. The time is the number of words over the
    speaking rate.
    """
    for scene in _written(evidence):
        seconds = speaking_seconds(evidence.library, scene.says)
        if scene.minutes is not None and seconds > scene.minutes * MINUTE:
            planned = show_duration(scene.minutes * MINUTE)
            yield Trouble(
                scene.spot("minutes"),
                f"“{scene.title}” takes {show_duration(round(seconds))} to say ({spoken_words(scene.says)} words), but "
                f"is given {planned}: say less, or give it more.",
                write=f"minutes: {show_number(-(-seconds // 6) / 10, 1)}",
            )


@rule(
    "task-untold", Level.WARNING, Needs.REFERENCES,
    wrong=_LOOK + """
sorties: {s: {title: S, flow: {ev1: [▸look]}, limits: {length: 1 h}, scenes: [
  {title: The place, shows: {map: 1 min}, says: This is the place.}]}}
""",
    right=_LOOK + _sortie(_SCENE),
)  # fmt: skip
def task_untold(evidence: Evidence) -> Iterator[Trouble]:
    """Every task that must be done has a scene, where a sortie's scenes are written.

    What is not told is not learnt; a task that was added late is the one that gets forgotten. Common practice, no
    source.
    """
    for sortie in _told(evidence):
        told = {str(task) for scene in sortie.scenes for task in _tasks_of(scene)}
        flown = {ref.task or str(ref): ref for refs in reversed(sortie.flow.values()) for ref in reversed(refs)}
        for task, ref in flown.items():
            record = evidence.library.tasks.get(task)
            if record and not record.optional and task not in told:
                yield Trouble(
                    ref.position,
                    f"No scene of this sortie tells of the task “{record.label_text}”.",
                    (Related(sortie.spot("scenes"), "the scenes"),),
                    f"- {{title: {word(record.label_text)}, shows: {{task: {task}}}, says: …}}",
                )


def _tasks_of(scene: Scene) -> tuple[str, ...]:
    shown = [scene.shows.task] if scene.shows.task else [scene.shows.step.task] if scene.shows.step else []
    return (*map(str, scene.tasks), *map(str, shown))


@rule(
    "shown-and-not-said", Level.WARNING, Needs.REFERENCES,
    wrong=_LOOK + _PICTURE + _sortie(
        "{title: Front, shows: {figure: front, look: [▸p14]}, says: Heron looks at it., tasks: [look]}"),
    right=_LOOK + _PICTURE + _sortie(
        "{title: Front, shows: {figure: front, look: [p14]}, says: Heron looks at plug P14., tasks: [look]}"),
)  # fmt: skip
def shown_and_not_said(evidence: Evidence) -> Iterator[Trouble]:
    """What lights up in a scene is named in its words.

    Eyes follow the light and ears the words; where the two part, neither is remembered: R. E.
    Mayer, Multimedia Learning, the signalling and temporal contiguity principles (from memory).
    """
    for scene in _written(evidence):
        figure = evidence.library.figures.get(scene.shows.figure) if scene.shows.figure else None
        said = _stems(str(scene.says))
        for name in scene.shows.look if figure else ():
            callout = figure.callouts.get(name) if figure else None
            if callout is None:
                continue
            words = shown_by(evidence.library, str(callout.shows))
            if not _named(words, said):
                yield Trouble(
                    name.position, f"The scene “{scene.title}” shows “{words}”, but its words do not name it."
                )


_COMMON = frozenset({"the", "a", "an", "of", "at", "on", "in", "its", "with", "and", "to", "for", "by"})


def _stems(text: str) -> set[str]:
    """Words in lower case, cut so that “valves” and “valve” are one."""
    return {_stem(word) for word in re.findall(r"\w+", plain(text).lower())}


def _stem(word: str) -> str:
    """The word as one of its kind: the usual plurals of English nouns, no more."""
    if word.endswith(("ches", "shes", "sses", "xes")):
        return word[:-2]
    return word.removesuffix("s") if len(word) > 3 else word


def _named(label: str, said: set[str]) -> bool:
    words = [word for word in re.findall(r"\w+", label.lower()) if word not in _COMMON]
    return not words or any(_stem(word) in said for word in words)


@rule(
    "figure-not-told", Level.WARNING, Needs.ORDER,
    wrong=_PICTURE + """
tasks: {look: {title: Look, purpose: To know., place: lock, steps: [
  {who: ev1, do: Look., takes: 2 min, figures: [▸front]}]}}
""" + _sortie("{title: The look, shows: {map: 1 min}, tasks: [look], says: Heron looks at the front.}"),
    right=_PICTURE + """
tasks: {look: {title: Look, purpose: To know., place: lock, steps: [
  {who: ev1, do: Look., takes: 2 min, figures: [front]}]}}
""" + _sortie(_SCENE),
)  # fmt: skip
def figure_not_told(evidence: Evidence) -> Iterator[Trouble]:
    """A figure that a sortie's steps name is shown in one of its scenes, where these are written.

    A drawing that nobody has seen before is first read outside, in gloves. Common practice, no source.
    """
    for proved in evidence.sorties.values():
        if not proved.sortie.scenes:
            continue
        shown = {scene.shown.figure for scene in scenes_of(proved) if hasattr(scene.shown, "figure")}
        told: set[str] = set()
        for step in proved.plan.steps:
            for ref in step.step.figures:
                if str(ref) not in shown | told:
                    told.add(str(ref))
                    label = evidence.library.figures[ref].label_text
                    yield Trouble(ref.position, f"No scene of “{proved.sortie.label_text}” shows the figure “{label}”.")


@rule(
    "hazard-not-told", Level.WARNING, Needs.ORDER,
    wrong="""
tasks: {touch: {title: Touch, purpose: To know., place: lock, steps: [
  {who: ev1, do: Switch it off., takes: 1 min, sets: {feed: off}},
  {who: ground, do: Confirm it., takes: 1 min, verifies: {feed: off}, after: [touch/1]},
  {who: ev1, do: Touch it., takes: 2 min, requires: {feed: off}, hazards: [▸shock], after: [touch/2]},
  {who: ev1, do: Switch it on., takes: 1 min, sets: {feed: on}}]}}
sorties: {s: {title: S, flow: {ev1: [touch], ground: [touch]}, limits: {length: 1 h}, scenes: [
  {title: The feed, shows: {step: touch/1}, says: Heron switches it off.}]}}
""",
    right="""
tasks: {touch: {title: Touch, purpose: To know., place: lock, steps: [
  {who: ev1, do: Switch it off., takes: 1 min, sets: {feed: off}},
  {who: ground, do: Confirm it., takes: 1 min, verifies: {feed: off}, after: [touch/1]},
  {who: ev1, do: Touch it., takes: 2 min, requires: {feed: off}, hazards: [shock], after: [touch/2]},
  {who: ev1, do: Switch it on., takes: 1 min, sets: {feed: on}}]}}
sorties: {s: {title: S, flow: {ev1: [touch], ground: [touch]}, limits: {length: 1 h}, scenes: [
  {title: The feed, shows: {step: touch/3}, says: The plug is live while the feed is on.}]}}
""",
)  # fmt: skip
def hazard_not_told(evidence: Evidence) -> Iterator[Trouble]:
    """What can hurt in a sortie's steps is met in one of its scenes, where these are written.

    A briefing that leaves out what can hurt teaches that it is not there. Hazards are told before work begins: OSHA
    29 CFR 1926.21(b)(2) (from memory).
    """
    for proved in evidence.sorties.values():
        if not proved.sortie.scenes:
            continue
        told = {hazard for scene in scenes_of(proved) for hazard in hazards_met(proved, scene)}
        for step in proved.plan.steps:
            for one in step.hazards:
                if str(one.hazard) not in told:
                    told.add(str(one.hazard))
                    label = evidence.library.hazards[one.hazard].label_text
                    yield Trouble(
                        one.through.position, f"No scene of “{proved.sortie.label_text}” meets the hazard “{label}”."
                    )


_ONE = "{title: Look, purpose: To know., place: lock, steps: [{who: ev1, do: Look., takes: 2 min}]}"
_TWO = f"tasks: {{look: {_ONE}, other: {_ONE}}}\n"


@rule(
    "phase-not-flown", Level.WARNING, Needs.REFERENCES,
    wrong=_TWO + """
sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}, phases: [{title: All, tasks: [look, ▸other]}]}}
""",
    right=_LOOK + """
sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}, phases: [{title: All, tasks: [look]}]}}
""",
)  # fmt: skip
def phase_not_flown(evidence: Evidence) -> Iterator[Trouble]:
    """The phases of a sortie hold tasks that somebody does in it, each in one phase only.

    A task in two phases would stand in the briefing twice, and one that nobody does would be waited for.
    """
    for sortie in evidence.library.sorties.values():
        flown = {ref.task or str(ref) for refs in sortie.flow.values() for ref in refs}
        seen: dict[str, str] = {}
        for phase in sortie.phases:
            for task in phase.tasks:
                if str(task) not in flown:
                    yield Trouble(task.position, f"Nobody does the task “{task}” in this sortie: take it out.")
                elif str(task) in seen:
                    yield Trouble(task.position, f"The task “{task}” is in the phase “{seen[str(task)]}” already.")
                seen.setdefault(str(task), str(phase.title))


def _told(evidence: Evidence) -> Iterator[Sortie]:
    """The sorties whose scenes are written."""
    return (sortie for sortie in evidence.library.sorties.values() if sortie.scenes)


def _written(evidence: Evidence) -> Iterator[Scene]:
    return (scene for sortie in _told(evidence) for scene in sortie.scenes)
