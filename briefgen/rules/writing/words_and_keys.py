"""What a step's sentence says, its keys say, too: only what stands in keys is proved."""

from __future__ import annotations

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


_LOOK = "who: ev1, do: ▸Confirm that the cover is shut., takes: 1 min"


@rule("confirms-nothing", Level.WARNING, Needs.RECORDS,
      wrong=task_of(_LOOK), right=task_of(f"{_LOOK.replace('▸', '')}, verifies: {{cover: shut}}"))  # fmt: skip
def confirms_nothing(evidence: Evidence) -> Iterator[Trouble]:
    """A step that says “Confirm”, “Verify”, “Make sure”, “Check that” or “See that” names the state that it confirms.

    Only a look that is written under `verifies` counts as a witness, and only such a look is proved to find what it
    looks for.
    """
    for _, step, words in _steps(evidence):
        if words.startswith(_LOOKS) and not step.verifies:
            yield Trouble(
                step.do.position,
                f"“{step.do.rstrip('.')}” confirms something, but the step names no state that it confirms.",
                write="verifies: {…: …}", write_at=step.position,
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
