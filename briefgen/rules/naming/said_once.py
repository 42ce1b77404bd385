"""What is said once for many steps can be written out. Checked while the content is expanded; here are the pages."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level
from briefgen.proof.evidence import Evidence
from briefgen.proof.naming import people_words, step_words
from briefgen.rules.registry import Needs, Trouble, described, rule
from briefgen.rules.shared.samples import task_of

_BLOCK = """
tasks:
  take:
    title: Take the plates
    purpose: They are wanted below.
    place: k3
    steps:
      - id: plate
        each: plates
        steps: STEPS
      - {who: ev1, at: lock, do: Come in., takes: 1 min}
sorties: {s: {title: S, flow: {ev1: [take]}, limits: {length: 1 h}}}
"""
_PULL = "\n          - {id: pull, who: ev1, do: Pull the plate., takes: 1 min, sets: {plates: in}}"
_LOOK = "\n          - {id: look, who: ground, do: Look at it., takes: 1 min, after: [AFTER]}"
_OPEN = """
tasks:
  open-left: OPEN
  open-right: {like: open-left, RIGHT}
sorties: {s: {title: S, flow: {ev1: [open-left], ev2: [open-right]}, limits: {length: 1 h}}}
equipment:
  left: {name: Left lid, states: [shut, open], starts: shut, ends: any}
  right: {name: Right lid, states: [shut, open], starts: shut, ends: any}
"""
_LEFT = (
    "{title: Open, purpose: To see., place: lock, "
    "steps: [{who: ev1, do: Open the lid., takes: 2 min, sets: {left: open}}]}"
)
_RIGHT = _OPEN.replace("OPEN", _LEFT).replace("RIGHT", "title: Open the other, instead: {left: right, ev1: ev2}")
_BOTH = "requires: {left: shut, right: shut}"
_SET = "who: ev1, do: Open it., takes: 2 min, sets: {cover: open}"
_ENDS = "\nequipment: {cover: {name: Cover, states: [shut, open], starts: shut, ends: any}}"
_BY = "confirmed_by: {who: WHO, do: Look at it., takes: 1 min}"

described(
    "block-in-a-block", __name__,
    """A block of steps for every item has no other block in it.

    Rounds in rounds are lost on a card: nobody can say in which round of which round they are. A step of a block may
    have an `each` of its own, for the items that share their parts with the block's.
    """,
    wrong=_BLOCK.replace("STEPS", "[{id: ▸again, each: plates, steps: [{who: ev1, do: Look., takes: 1 min}]}]"),
    right=_BLOCK.replace("STEPS", _PULL),
)  # fmt: skip
described(
    "too-many-rounds", __name__,
    """All blocks together make no more than 10,000 steps, every item counted.

    Nobody can be briefed on more; and it would keep the proof busy for long.
    """,
    wrong=_BLOCK.replace("each: plates", "each: ▸pins").replace("STEPS", _PULL * 11).replace("id: pull, ", "")
    .replace("{plates: in}", "{pins: in}")
    + f"equipment: {{pins: {{states: [out, in], starts: out, ends: any, parts: {{pin: {list(range(1000))}}}}}}}",
    right=_BLOCK.replace("STEPS", _PULL),
)  # fmt: skip
described(
    "waits-for-its-own-block", __name__,
    """A step of a block waits for steps of it, never for the whole.

    The block is over when its last step for the last item is: a step of it that waited for that would wait for ever.
    """,
    wrong=_BLOCK.replace("STEPS", _PULL + _LOOK.replace("AFTER", "▸take/plate")),
    right=_BLOCK.replace("STEPS", _PULL + _LOOK.replace("AFTER", "take/plate/pull")),
)  # fmt: skip
described(
    "nothing-previous", __name__,
    """`previous` in `after` stands below another step of its task.

    It names the step above. The first step of a task has none, so it would wait for nothing.
    """,
    wrong=task_of("who: ev1, do: Look., takes: 1 min, after: [▸previous]"),
    right=task_of("who: ev1, do: Look., takes: 1 min", "who: ev1, do: Look again., takes: 1 min, after: [previous]"),
)  # fmt: skip
described(
    "like-in-a-circle", __name__,
    """Tasks that are like others end at one that says its own steps.

    Where each is like the next, no task says what is done.
    """,
    wrong=_OPEN.replace("OPEN", "{like: ▸open-right}").replace("RIGHT", "title: Open"),
    right=_RIGHT,
)  # fmt: skip
described(
    "instead-of-nothing", __name__,
    """Every id for which a task names another one instead is one that the other task names.

    A misspelt id would change nothing, and the crew would work on the same item twice.
    """,
    wrong=_RIGHT.replace("{left: right, ev1", "{▸lef: right, ev1"), right=_RIGHT,
)  # fmt: skip
described(
    "instead-of-two", __name__,
    """Ids that are named together stay apart when others are put in their place.

    Of two states or tools that become one, the second would be lost without a word.
    """,
    wrong=_RIGHT.replace("sets: {left: open}", _BOTH).replace("{left: right", "{left: ▸right"),
    right=_RIGHT.replace("sets: {left: open}", _BOTH).replace("left: right", "left: right, right: left"),
)  # fmt: skip
described(
    "instead-without-like", __name__,
    """`instead` goes with `like`.

    Without the other task there is nothing in whose place an id could stand.
    """,
    wrong=_OPEN.replace("OPEN", _LEFT.replace("place: lock", "instead: {▸left: right}, place: lock"))
    .replace("RIGHT", "title: Open"),
    right=_RIGHT,
)  # fmt: skip
described(
    "nothing-to-confirm", __name__,
    """A step with `confirmed_by` sets something.

    Whoever confirms looks for the states that the step sets; of a step that sets none, nothing could be found wrong.
    """,
    wrong=task_of(f"who: ev1, do: Look., takes: 1 min, ▸{_BY.replace('WHO', 'ground')}"),
    right=task_of(f"{_SET}, {_BY.replace('WHO', 'ground')}") + _ENDS,
)  # fmt: skip
described(
    "confirmed-by-the-doer", __name__,
    """What somebody sets is confirmed by somebody else.

    Who has just made a mistake sees what they meant to do. A second pair of eyes sees what is there.
    """,
    wrong=task_of(f"{_SET}, {_BY.replace('WHO', '▸ev1')}"),
    right=task_of(f"{_SET}, {_BY.replace('WHO', 'ground')}") + _ENDS,
)  # fmt: skip

_ANY = "who: ground, do: Read the pressure., takes: 1 min"
_FIRST = "id: look, who: ev1, do: Look., takes: 1 min"


@rule("step-at-any-time", Level.WARNING, Needs.ORDER,
      wrong=task_of(_FIRST, _ANY.replace("do: ", "do: ▸")),
      right=task_of(_FIRST, f"{_ANY}, after: [look]"))  # fmt: skip
def step_at_any_time(evidence: Evidence) -> Iterator[Trouble]:
    """A step of somebody without a flow of their own waits for some step.

    Nothing else says when it comes: as planned it is done as soon as the sortie begins, and nobody would know. What may
    be done at once, and needs nothing, is named in a flow.
    """
    for proved in evidence.sorties.values():
        plan = proved.plan
        waiting = {link.second for link in plan.links}
        for step in plan.steps:
            if step.index not in waiting and plan.free.issuperset(step.people):
                who = people_words(proved.library, step.people)
                yield Trouble(
                    step.step.do.position,
                    f"{step_words(proved.library, step)} waits for nothing, and {who} has no flow in "
                    f"“{proved.sortie.title}”: it could be done at the very start.",
                    write="after: [previous]", write_at=step.step.spot("after"),
                )  # fmt: skip
