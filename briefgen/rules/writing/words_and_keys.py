"""What a step's sentence says, its keys say, too: only what stands in keys is proved."""

from __future__ import annotations

import re
from collections.abc import Iterator

from briefgen.findings import Level
from briefgen.model.work import Step, Task
from briefgen.proof.evidence import Evidence
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.samples import task_of


def _steps(evidence: Evidence) -> Iterator[tuple[Task, Step, str]]:
    """Every step with its instruction in small letters."""
    for task in evidence.library.tasks.values():
        for step in task.every_step:
            yield task, step, step.do.lower()


_LOOKS = ("confirm ", "verify ", "make sure ", "check that ", "see that ")
_TRIES = ("watch ", "measure ", "search ", "look once more ")
_PULL_TEST = re.compile(r"pull\b.*\b(once|twice|hard)\b")

_LOOK = "who: ev1, do: ▸Confirm that the cover is shut., takes: 1 min"


@rule("confirms-nothing", Level.WARNING, Needs.RECORDS,
      wrong=task_of(_LOOK), right=task_of(f"{_LOOK.replace('▸', '')}, verifies: {{cover: shut}}"))  # fmt: skip
def confirms_nothing(evidence: Evidence) -> Iterator[Trouble]:
    """A step that says “Confirm”, “Verify”, “Make sure” and the like names the state that it confirms.

    Only a look that is written under `verifies` counts as a witness, and only such a look is proved to find what it
    looks for. “Watch”, “Measure”, “Search”, “Look once more” and a pull “once”, “twice” or “hard” are looks, too: a
    trial that could not fail would not be made.
    """
    for _, step, words in _steps(evidence):
        tries = words.startswith(_TRIES) or _PULL_TEST.match(words)
        if not step.verifies and (words.startswith(_LOOKS) or (tries and not step.sets)):
            yield Trouble(
                step.do.position,
                f"“{step.do.rstrip('.')}” confirms something, but the step names no state that it confirms.",
                write="verifies: {…: …}", write_at=step.position,
            )  # fmt: skip


_TWO = "who: ev1, do: ▸Confirm that both of them are as planned., takes: 1 min, verifies: {cover: shut"


@rule("confirms-one-of-two", Level.WARNING, Needs.RECORDS,
      wrong=task_of(_TWO + "}"), right=task_of(_TWO.replace("▸", "") + ", feed: on}"))  # fmt: skip
def confirms_one_of_two(evidence: Evidence) -> Iterator[Trouble]:
    """A step that confirms something of both names two states, or an equipment with parts.

    Who confirms two things and has only one of them in the keys is no witness of the other, and nobody notices.
    """
    equipment = evidence.library.equipment
    for _, step, words in _steps(evidence):
        if len(step.verifies) == 1 and words.startswith(_LOOKS) and " both " in words:
            (name,) = step.verifies
            if name in equipment and not equipment[name].parts:
                yield Trouble(
                    step.do.position,
                    f"“{step.do.rstrip('.')}” confirms two things, but the step names only “{name}”.",
                    write=f"verifies: {{{name}: {step.verifies[name]}, …: …}}", write_at=step.spot("verifies"),
                )  # fmt: skip


_EVERY = "who: ev1, do: Look at the plate from both sides., takes: 1 min, each: ▸plates"


@rule("each-says-nothing", Level.WARNING, Needs.RECORDS,
      wrong=task_of(_EVERY), right=task_of(_EVERY.replace("▸", "") + ", verifies: {plates: out}"))  # fmt: skip
def each_says_nothing(evidence: Evidence) -> Iterator[Trouble]:
    """A step that is done for every item says what it needs of each item, what it makes of it, or what it confirms.

    Otherwise the plan only knows how long it takes, and nobody can tell afterwards for which items it was done.
    """
    for _, step, _ in _steps(evidence):
        each = step.each
        if each and not step.origin.block and each.equipment not in {*step.sets, *step.requires, *step.verifies}:
            yield Trouble(
                each.equipment.position,
                f"“{step.do.rstrip('.')}” is done for every item of “{each.equipment}”, but the step says nothing of "
                "them: what it needs, what it makes of them, or what it confirms.",
                write=f"verifies: {{{each.equipment}: …}}", write_at=step.position,
            )  # fmt: skip


_BOTH = "ev1: [work], ev2: [work]"
_TAKE = "who: ev1, do: Take the driver., takes: 1 min, picks: [driver]"
_GIVE = "who: [ev1, ev2], do: ▸Hand the driver across., takes: 1 min"
_BACK = "who: {}, do: Put the driver back., takes: 1 min, leaves: {{driver: lock}}"


@rule("hands-nothing", Level.WARNING, Needs.RECORDS,
      wrong=task_of(_TAKE, _GIVE, _BACK.format("ev1"), flow=_BOTH),
      right=task_of(_TAKE, _GIVE.replace("▸", "") + ", hands: {driver: ev2}", _BACK.format("ev2"), flow=_BOTH),
)  # fmt: skip
def hands_nothing(evidence: Evidence) -> Iterator[Trouble]:
    """A step of several people outside that says “Hand” or “Pass” names what is handed to whom.

    Only what stands under `hands` changes hands in the proof. Without it, the giver has the thing for the rest of the
    day, and whoever got it has nothing to work with.
    """
    people = evidence.library.people
    for _, step, words in _steps(evidence):
        outside = [name for name in step.who if name in people and people[name].outside]
        if words.startswith(("hand ", "pass ")) and len(outside) > 1 and not step.hands:
            yield Trouble(
                step.do.position,
                f"“{step.do.rstrip('.')}” gives something to somebody, but the step does not say what to whom.",
                write=f"hands: {{…: {outside[-1]}}}", write_at=step.position,
            )  # fmt: skip


_HOOK = "who: ev1, at: k1, do: ▸Move the safety tether to K1., takes: 3 min"
_IN = "who: ev1, do: Move the safety tether to the lock., takes: 2 min, anchors: lock"


@rule("anchor-not-named", Level.WARNING, Needs.RECORDS,
      wrong=task_of(_HOOK, _IN), right=task_of(f"{_HOOK.replace('▸', '')}, anchors: k1", _IN))  # fmt: skip
def anchor_not_named(evidence: Evidence) -> Iterator[Trouble]:
    """A step that tells somebody to move a safety tether names the anchor to which it is moved.

    Without `anchors` the proof leaves the tether where it hung before, and measures its length from there.
    """
    for task, step, words in _steps(evidence):
        if words.startswith("move ") and "safety tether" in words and step.anchors is None:
            place = step.at or task.place or "…"
            yield Trouble(
                step.do.position,
                f"“{step.do.rstrip('.')}” moves a safety tether, but the step does not say to which anchor.",
                write=f"anchors: {place}", write_at=step.position,
            )  # fmt: skip
