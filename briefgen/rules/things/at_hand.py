"""What a step uses, takes, leaves or hands over is at hand."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level
from briefgen.proof.evidence import Evidence
from briefgen.proof.holding.custody import Act, handed_to, put_into_itself
from briefgen.proof.naming import people_words, thing_words
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.samples import task_of
from briefgen.rules.things.handling import failing, unreachable

_TAKE = "id: take, who: ev1, do: Take the driver., takes: 1 min, picks: [driver]"
_BACK = "who: ev1, do: Put the driver back., takes: 1 min, leaves: {driver: lock}"
_TAKE_AGAIN = "who: ev1, do: Take it again., takes: 1 min, picks: [▸driver]"
_TURN = "who: ev1, do: Turn it., takes: 2 min, with: [driver]"


@rule("not-in-hand", Level.ERROR, Needs.ORDER, wrong=task_of(_TURN.replace("[driver]", "[▸driver]")),
      right=task_of(_TAKE, _TURN, _BACK))  # fmt: skip
def not_in_hand(evidence: Evidence) -> Iterator[Trouble]:
    """A tool in use is in the hands of somebody who does the step, or in a bag that they carry or that is there.

    Who arrives without the tool goes back for it, and the time is gone.
    """
    for one in failing(evidence, unreachable(Act.USES, Act.SPENDS)):
        yield Trouble(
            one.handled.handling.words.position,
            f"{one.words} uses {one.thing}, but it is {one.where}.", one.brought_by,
            f"picks: [{one.handled.handling.thing}]  # in a step before, where it is",
        )  # fmt: skip


@rule("taken-twice", Level.ERROR, Needs.ORDER, wrong=task_of(_TAKE, _TAKE_AGAIN, _BACK),
      right=task_of(_TAKE, _BACK))  # fmt: skip
def taken_twice(evidence: Evidence) -> Iterator[Trouble]:
    """Nobody takes what somebody already has.

    One of the two steps is wrong: a hand-over (`hands`) is missing, or a `leaves` was forgotten.
    """
    for one in failing(evidence, unreachable(Act.PICKS, held=True)):
        yield Trouble(
            one.handled.handling.words.position,
            f"{one.words} takes {one.thing}, but it is already {one.where}.", one.brought_by,
            f"hands: {{{one.handled.handling.thing}: …}}  # or leave it before",
        )  # fmt: skip


@rule("not-there-to-take", Level.ERROR, Needs.ORDER,
      wrong=task_of(_TAKE.replace("[driver]", "[▸driver], at: k1"), _BACK), right=task_of(_TAKE, _BACK))  # fmt: skip
def not_there_to_take(evidence: Evidence) -> Iterator[Trouble]:
    """What a step takes is at its place: loose, or in a bag that is there or that somebody of the step carries.

    A tool that is looked for in the wrong bag costs minutes that the plan does not have.
    """
    for one in failing(evidence, unreachable(Act.PICKS, held=False)):
        place = one.proved.library.places.get(one.step.place or "")
        here = f" at {place.label_text}" if place else ""
        yield Trouble(
            one.handled.handling.words.position,
            f"{one.words} takes {one.thing}{here}, but it is {one.where}.", one.brought_by,
            f"at: {one.handled.outermost.id}" if one.handled.outermost.kind == "places" else "",
        )  # fmt: skip


@rule(
    "not-held",
    Level.ERROR,
    Needs.ORDER,
    wrong=task_of(_BACK.replace("{driver", "{▸driver")),
    right=task_of(_TAKE, _BACK),
)
def not_held(evidence: Evidence) -> Iterator[Trouble]:
    """What a step leaves or hands over is in the hands of somebody who does it, and not with the receiver already.

    Nobody can put down or give what they do not have.
    """
    for one in failing(evidence, unreachable(Act.LEAVES, Act.HANDS)):
        handling = one.handled.handling
        has_it = one.handled.chain[0].id
        if handling.act is Act.HANDS and has_it == handed_to(one.step, handling.thing):
            owner = people_words(one.proved.library, [has_it])
            sentence = f"{one.words} hands {one.thing} to {owner}, who has it already."
            write = ""
        else:
            verb = "leaves" if handling.act is Act.LEAVES else "hands over"
            sentence = f"{one.words} {verb} {one.thing}, but it is {one.where}."
            write = f"picks: [{handling.thing}]  # in a step before"
        yield Trouble(handling.words.position, sentence, one.brought_by, write)


@rule("bag-not-there", Level.ERROR, Needs.ORDER,
      wrong=task_of(_TAKE, "who: ev1, at: k1, do: Stow it., takes: 1 min, leaves: {driver: ▸bag-a}"),
      right=task_of(_TAKE, "who: ev1, do: Stow it., takes: 1 min, leaves: {driver: bag-a}"))  # fmt: skip
def bag_not_there(evidence: Evidence) -> Iterator[Trouble]:
    """A bag into which something is left is at the step's place, or somebody of the step carries it.

    Else the thing is let go where there is nothing to hold it. Nor can a bag be left in what lies in it.
    """
    for one in failing(evidence, unreachable(Act.INTO)):
        looped = put_into_itself(one.step, one.handled.handling.thing, one.handled.chain)
        what = thing_words(one.proved.library, looped[0]) if looped else "something"
        yield Trouble(
            one.handled.handling.words.position,
            f"{one.words} leaves {what} in {one.thing}, but that is {one.where}.", one.brought_by,
        )  # fmt: skip
