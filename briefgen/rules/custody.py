"""Tools and bags: whatever is used is at hand, whatever is taken comes back, and enough is left of what is spent."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from briefgen.findings import Level, Related
from briefgen.proof.custody import Act, Handled, Spot, first_spots, handed_to, loops_in, put_into_itself
from briefgen.proof.evidence import Evidence, SortieEvidence, Variant
from briefgen.proof.naming import chain_words, people_words, spot_words, step_words, thing_words
from briefgen.proof.plan import PlannedStep
from briefgen.proof.using import clashes
from briefgen.rules.races import after_line, escape_words, left_out_words, starts_today
from briefgen.rules.registry import Needs, Trouble, rule


def _task(*steps: str, flow: str = "ev1: [work]") -> str:
    lines = "\n".join(f"      - {{{step}}}" for step in steps)
    return (
        f"tasks:\n  work:\n    title: Work\n    purpose: To mend it.\n    place: lock\n    steps:\n{lines}\n"
        f"sorties: {{s: {{title: S, flow: {{{flow}}}, limits: {{length: 1 h}}}}}}"
    )


_TAKE = "id: take, who: ev1, do: Take the driver., takes: 1 min, picks: [driver]"
_BACK = "who: ev1, do: Put the driver back., takes: 1 min, leaves: {driver: lock}"
_TAKE_AGAIN = "who: ev1, do: Take it again., takes: 1 min, picks: [▸driver]"
_SOCKET = "who: ev1, do: Turn it., takes: 2 min, with: [socket]"
_SOCKET_TOO = "who: ev2, do: Turn it too., takes: 2 min, with: [socket]"
_LATER = "who: ev2, do: Read the list., takes: 9 min"
_TAKES = "who: ev2, do: Take the driver., takes: 1 min"
_RETURNS = "who: ev2, do: Put the driver back., takes: 1 min, leaves: {driver: lock}"
_BOTH = "ev1: [work], ev2: [work]"
_TURN = "who: ev1, do: Turn it., takes: 2 min, with: [driver]"


@dataclass(frozen=True)
class _Case:
    """One handling in one variant of a sortie."""

    case: SortieEvidence
    variant: Variant
    handled: Handled

    @property
    def step(self) -> PlannedStep:
        return self.variant.plan.steps[self.handled.handling.step]

    @property
    def words(self) -> str:
        return step_words(self.case.library, self.step)

    @property
    def thing(self) -> str:
        return thing_words(self.case.library, self.handled.handling.thing)

    @property
    def where(self) -> str:
        """Where the thing is then, and when the plan leaves something out, what."""
        return chain_words(self.case.library, self.handled.chain) + left_out_words(self.case, self.variant)

    @property
    def brought_by(self) -> tuple[Related, ...]:
        """The step that brought it there."""
        sources = [answer.source for _, answer in self.handled.answers if answer.source is not None]
        return tuple(
            Related(self.variant.plan.steps[index].step.position, "this brought it there") for index in sources[:1]
        )


def _failing(evidence: Evidence, fails: Callable[[Handled], bool]) -> Iterator[_Case]:
    """Every handling that fails, once: in the whole plan, else in the first variant in which it does."""
    for case in evidence.sorties.values():
        reported: set[tuple[str, Act, str]] = set()
        for variant in case.variants:
            for handled in variant.custody.handled:
                handling = handled.handling
                key = (variant.plan.steps[handling.step].key, handling.act, handling.thing)
                if key not in reported and fails(handled):
                    reported.add(key)
                    yield _Case(case, variant, handled)


def _unreachable(*acts: Act, held: bool | None = None) -> Callable[[Handled], bool]:
    def fails(handled: Handled) -> bool:
        if handled.handling.act not in acts or not handled.certain or handled.reachable:
            return False
        return held is None or held == (handled.chain[0].kind == "people")

    return fails


@rule(
    "custody-by-luck",
    Level.ERROR,
    Needs.ORDER,
    wrong=_task(_TAKE, _BACK, _LATER, f"{_TAKES}, picks: [▸driver]", _RETURNS, flow=_BOTH),
    right=_task(_TAKE, _BACK, _LATER, f"{_TAKES}, picks: [driver], after: [work/2]", _RETURNS, flow=_BOTH),
)
def custody_by_luck(evidence: Evidence) -> Iterator[Trouble]:
    """Where a tool or bag is when a step takes, uses, hands over or leaves it does not depend on who is faster.

    Each step that moves the thing, or a bag around it, must be ordered before or after the step that relies on it, and
    one of those before must be the last.
    """
    by_thing: dict[tuple[str, str, frozenset[str]], list[_Case]] = {}
    for one in _failing(evidence, lambda handled: not handled.certain):
        name = next(name for name, answer in one.handled.answers if not answer.certain)
        by_thing.setdefault((str(one.case.sortie.id), name, one.variant.left_out), []).append(one)
    for (_, name, _), cases in by_thing.items():
        yield _luck(name, cases)


def _luck(name: str, cases: list[_Case]) -> Trouble:
    """One finding for a thing: the line that settles most of its races, at the step that comes second today."""
    case, variant = cases[0].case, cases[0].variant
    pairs = [_by_time(case, *pair) for one in cases for pair in _races(one, name)]
    second = min((pair[1] for pair in pairs), key=lambda step: starts_today(case, step))
    first = max(
        (pair[0] for pair in pairs if not variant.plan.order.ordered(pair[0].index, second.index)),
        key=lambda step: starts_today(case, step),
    )
    one = next((one for one in cases if one.step is second), cases[0])
    line, spot = after_line(first, second)
    thing = thing_words(case.library, name)
    inside = "" if name == one.handled.handling.thing else f", which holds {one.thing}"
    return Trouble(
        one.handled.handling.words.position,
        f"Where {thing}{inside} is, is luck: nothing orders {step_words(case.library, first)} and "
        f"{step_words(case.library, second)}{left_out_words(case, variant)}. {escape_words(case, first, second)}",
        tuple(Related(other.step.step.position, "this relies on it, too") for other in cases if other is not one),
        line,
        spot,
    )


def _races(one: _Case, name: str) -> Iterator[tuple[PlannedStep, PlannedStep]]:
    """The pairs of steps that race for a thing on which a step relies."""
    answer = next(answer for thing, answer in one.handled.answers if thing == name)
    steps = one.variant.plan.steps
    for racing in answer.racing:
        yield steps[racing], one.step
    if answer.rivals:
        yield steps[answer.rivals[0]], steps[answer.rivals[1]]


def _by_time(case: SortieEvidence, one: PlannedStep, other: PlannedStep) -> tuple[PlannedStep, PlannedStep]:
    """The two in the order in which they are planned today: the order most likely meant."""
    return (one, other) if starts_today(case, one) <= starts_today(case, other) else (other, one)


@rule("not-in-hand", Level.ERROR, Needs.ORDER, wrong=_task(_TURN.replace("[driver]", "[▸driver]")),
      right=_task(_TAKE, _TURN, _BACK))  # fmt: skip
def not_in_hand(evidence: Evidence) -> Iterator[Trouble]:
    """A tool in use is in the hands of somebody who does the step, or in a bag that they carry or that is there.

    Who arrives without the tool goes back for it, and the time is gone.
    """
    for one in _failing(evidence, _unreachable(Act.USES, Act.SPENDS)):
        yield Trouble(
            one.handled.handling.words.position,
            f"{one.words} uses {one.thing}, but it is {one.where}.", one.brought_by,
            f"picks: [{one.handled.handling.thing}]  # in a step before, where it is",
        )  # fmt: skip


@rule("taken-twice", Level.ERROR, Needs.ORDER, wrong=_task(_TAKE, _TAKE_AGAIN, _BACK),
      right=_task(_TAKE, _BACK))  # fmt: skip
def taken_twice(evidence: Evidence) -> Iterator[Trouble]:
    """Nobody takes what somebody already has.

    One of the two steps is wrong: a hand-over (`hands`) is missing, or a `leaves` was forgotten.
    """
    for one in _failing(evidence, _unreachable(Act.PICKS, held=True)):
        yield Trouble(
            one.handled.handling.words.position,
            f"{one.words} takes {one.thing}, but it is already {one.where}.", one.brought_by,
            f"hands: {{{one.handled.handling.thing}: …}}  # or leave it before",
        )  # fmt: skip


@rule("not-there-to-take", Level.ERROR, Needs.ORDER,
      wrong=_task(_TAKE.replace("[driver]", "[▸driver], at: k1"), _BACK), right=_task(_TAKE, _BACK))  # fmt: skip
def not_there_to_take(evidence: Evidence) -> Iterator[Trouble]:
    """What a step takes is at its place: loose, or in a bag that is there or that somebody of the step carries.

    A tool that is looked for in the wrong bag costs minutes that the plan does not have.
    """
    for one in _failing(evidence, _unreachable(Act.PICKS, held=False)):
        place = one.case.library.places.get(one.step.place or "")
        here = f" at {place.label_text}" if place else ""
        yield Trouble(
            one.handled.handling.words.position,
            f"{one.words} takes {one.thing}{here}, but it is {one.where}.", one.brought_by,
            f"at: {one.handled.outermost.id}" if one.handled.outermost.kind == "places" else "",
        )  # fmt: skip


@rule(
    "not-held", Level.ERROR, Needs.ORDER, wrong=_task(_BACK.replace("{driver", "{▸driver")), right=_task(_TAKE, _BACK)
)
def not_held(evidence: Evidence) -> Iterator[Trouble]:
    """What a step leaves or hands over is in the hands of somebody who does it, and not with the receiver already.

    Nobody can put down or give what they do not have.
    """
    for one in _failing(evidence, _unreachable(Act.LEAVES, Act.HANDS)):
        handling = one.handled.handling
        has_it = one.handled.chain[0].id
        if handling.act is Act.HANDS and has_it == handed_to(one.step, handling.thing):
            owner = people_words(one.case.library, [has_it])
            sentence = f"{one.words} hands {one.thing} to {owner}, who has it already."
            write = ""
        else:
            verb = "leaves" if handling.act is Act.LEAVES else "hands over"
            sentence = f"{one.words} {verb} {one.thing}, but it is {one.where}."
            write = f"picks: [{handling.thing}]  # in a step before"
        yield Trouble(handling.words.position, sentence, one.brought_by, write)


@rule("bag-not-there", Level.ERROR, Needs.ORDER,
      wrong=_task(_TAKE, "who: ev1, at: k1, do: Stow it., takes: 1 min, leaves: {driver: ▸bag-a}"),
      right=_task(_TAKE, "who: ev1, do: Stow it., takes: 1 min, leaves: {driver: bag-a}"))  # fmt: skip
def bag_not_there(evidence: Evidence) -> Iterator[Trouble]:
    """A bag into which something is left is at the step's place, or somebody of the step carries it.

    Else the thing is let go where there is nothing to hold it. Nor can a bag be left in what lies in it.
    """
    for one in _failing(evidence, _unreachable(Act.INTO)):
        looped = put_into_itself(one.step, one.handled.handling.thing, one.handled.chain)
        what = thing_words(one.case.library, looped[0]) if looped else "something"
        yield Trouble(
            one.handled.handling.words.position,
            f"{one.words} leaves {what} in {one.thing}, but that is {one.where}.", one.brought_by,
        )  # fmt: skip


@rule("left-elsewhere", Level.ERROR, Needs.REFERENCES, wrong=_task(_TAKE, _BACK.replace(": lock", ": ▸k2")),
      right=_task(_TAKE, _BACK))  # fmt: skip
def left_elsewhere(evidence: Evidence) -> Iterator[Trouble]:
    """A place at which something is left is the place of the step.

    A person can leave things only where they are.
    """
    for case in evidence.sorties.values():
        for step in case.plan.steps:
            for thing, goal in step.step.leaves.items():
                if goal in case.library.places and goal != step.place:
                    place = case.library.places.get(step.place or "")
                    here = f"is done at {place.label_text}" if place else "has no place"
                    goal_words = spot_words(case.library, Spot("places", str(goal)))
                    yield Trouble(
                        goal.position,
                        f"{step_words(case.library, step)} leaves {thing_words(case.library, thing)} {goal_words}, "
                        f"but {here}.",
                        write=f"at: {goal}",
                        write_at=step.step.position,
                    )


@rule(
    "handed-to-absent", Level.ERROR, Needs.REFERENCES,
    wrong=_task(_TAKE, "who: ev1, do: Hand it over., takes: 1 min, hands: {driver: ▸ev2}",
                "who: ev2, do: Put it back., takes: 1 min, leaves: {driver: lock}, after: [work/2]",
                flow="ev1: [work], ev2: [work]"),
    right=_task(_TAKE, "who: [ev1, ev2], do: Hand it over., takes: 1 min, hands: {driver: ev2}",
                "who: ev2, do: Put it back., takes: 1 min, leaves: {driver: lock}", flow="ev1: [work], ev2: [work]"),
)  # fmt: skip
def handed_to_absent(evidence: Evidence) -> Iterator[Trouble]:
    """A hand-over is a step of both: who gives and who takes are there together.

    Only a joint step makes sure that one waits for the other; nothing may float between two people.
    """
    for case in evidence.sorties.values():
        for step in case.plan.steps:
            for thing, receiver in step.step.hands.items():
                if receiver not in step.outside:
                    label = case.library.people[receiver].label_text
                    yield Trouble(
                        receiver.position, f"{step_words(case.library, step)} hands "
                        f"{thing_words(case.library, thing)} to "
                        f"{label}, who does not do this step outside with them.",
                        write=f"who: [{', '.join([*step.people, str(receiver)])}]", write_at=step.step.spot("who"),
                    )  # fmt: skip


@rule(
    "used-at-once",
    Level.ERROR,
    Needs.ORDER,
    wrong=_task(_SOCKET.replace("[socket", "[▸socket"), _SOCKET_TOO, flow=_BOTH),
    right=_task(_SOCKET, f"{_SOCKET_TOO}, after: [work/1]", flow=_BOTH),
)
def used_at_once(evidence: Evidence) -> Iterator[Trouble]:
    """No two people use one tool at the same time, whatever the durations turn out to be.

    Both may reach into the same bag, but only one finds the tool.
    """
    for case in evidence.sorties.values():
        seen: set[tuple[str, str, str]] = set()
        for variant in case.variants:
            for clash in clashes(variant.plan):
                one, other = variant.plan.steps[clash.step], variant.plan.steps[clash.other]
                key = (clash.thing, one.key, other.key)
                if key in seen:
                    continue
                seen.add(key)
                line, spot = after_line(*_by_time(case, one, other))
                yield Trouble(
                    clash.words.position, f"{step_words(case.library, one)} and "
                    f"{step_words(case.library, other)} may use "
                    f"{thing_words(case.library, clash.thing)} at the same time{left_out_words(case, variant)}. "
                    f"{escape_words(case, one, other)}", (Related(other.step.position, "the other step"),), line, spot,
                )  # fmt: skip


@rule("count-short", Level.ERROR, Needs.ORDER,
      wrong=_task("who: ev1, do: Fix it., takes: 1 min, spends: {▸clips: 7}"),
      right=_task("who: ev1, do: Fix it., takes: 1 min, spends: {clips: 6}"))  # fmt: skip
def count_short(evidence: Evidence) -> Iterator[Trouble]:
    """All steps of all sorties together spend no more of a consumable than there is.

    The ninth clip that is not there leaves the line loose.
    """
    for case in evidence.sorties.values():
        stock = dict(case.stock)
        for index in case.plan.order.sequence:
            step = case.plan.steps[index]
            for thing, number in step.step.spends.items():
                had, spent = stock.get(str(thing)), number * step.times
                if had is None:
                    continue
                stock[str(thing)] = had - spent
                if had - spent < 0 <= had:
                    total = case.library.tools[thing].count
                    yield Trouble(
                        thing.position, f"{step_words(case.library, step)} spends {spent} of "
                        f"{thing_words(case.library, thing)}, but only {had} of {total} are left by then.",
                        (Related(case.library.tools[thing].id.position, "how many there are"),),
                        f"count: {total + spent - had}", case.library.tools[thing].spot("count"),
                    )  # fmt: skip


@rule("not-a-lot", Level.ERROR, Needs.RECORDS,
      wrong=_task("who: ev1, do: Fix it., takes: 1 min, spends: {▸driver: 1}"),
      right=_task("who: ev1, do: Fix it., takes: 1 min, spends: {clips: 1}"))  # fmt: skip
def not_a_lot(evidence: Evidence) -> Iterator[Trouble]:
    """Only a consumable (a tool with a `count` above 1) is spent, and by one or more at a time.

    A single tool is used (`with`); it is there afterwards.
    """
    for task in evidence.library.tasks.values():
        for step in task.steps:
            for thing, number in step.spends.items():
                tool = evidence.library.tools.get(thing)
                if thing in evidence.library.bags or (tool and not tool.consumable):
                    yield Trouble(
                        thing.position,
                        f"{thing_words(evidence.library, thing)} is no consumable, so nothing of it can be spent.",
                        write="count: …",
                        write_at=(tool or task).position,
                    )
                elif number < 1:
                    yield Trouble(
                        thing.position,
                        f"Step “{step.key}” of “{task.title}” spends {number} of "
                        f"{thing_words(evidence.library, thing)}: write one or more, or take it out.",
                    )


@rule("bag-in-itself", Level.ERROR, Needs.REFERENCES,
      wrong="bags:\n  bag-a: {stowed: ▸pouch}", right="bags:\n  bag-a: {stowed: lock}")  # fmt: skip
def bag_in_itself(evidence: Evidence) -> Iterator[Trouble]:
    """No bag lies in itself, directly or in a bag that lies in it.

    What lies in a ring of bags is nowhere.
    """
    library = evidence.library
    for loop in loops_in(first_spots(library)):
        bag = library.bags[loop[0]]
        inside = " in ".join(thing_words(library, name) for name in (*loop, loop[0]))
        yield Trouble(bag.stowed.position, f"This stows {inside}. Stow one of them at a place.", write="stowed: …")
    for case in evidence.sorties.values():
        for step in case.plan.steps:
            bags = {str(thing): Spot("bags", str(goal)) for thing, goal in step.step.leaves.items()}
            for loop in loops_in(bags):
                goal = next(goal for thing, goal in step.step.leaves.items() if thing == loop[0])
                inside = " in ".join(thing_words(library, name) for name in (*loop, loop[0]))
                yield Trouble(
                    goal.position, f"{step_words(library, step)} leaves {inside}. Leave one of them elsewhere."
                )
