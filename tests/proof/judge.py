"""An independent judge of small plans: plays every execution through (see play.py) and says what fails in any of them.

Shares nothing with the project's proof: it takes the content as plain data (kinds, ids, records of words and lists),
and knows no reachability, no clocks and no bisection.

A step relies on what it handles and requires. It relies on it rightly if in every execution it finds the same last
change of it, nothing that changes it runs at the same time, and it finds what it needs. What fails goes on as written,
so that each mistake is judged by itself.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from tests.proof.deeds import Content, Item, Plan, Spot, World, first_world, listed
from tests.proof.play import Chain, Notes, Player
from tests.proof.served import with_servants
from tests.proof.written_out import written_out

FINE, LUCK, OUT_OF_REACH, WRONG, UNCONFIRMED = "fine", "luck", "out of reach", "wrong", "unconfirmed"


@dataclass
class Judgement:
    """What holds of one sortie without the tasks left out. A plan with a circle is judged no further."""

    circle: bool = False
    custody: dict[tuple[str, str, str], str] = field(default_factory=dict)
    states: dict[tuple[str, Item, str], str] = field(default_factory=dict)
    at_once: set[tuple[frozenset[str], str]] = field(default_factory=set)
    crowded: set[str] = field(default_factory=set)
    too_many: set[str] = field(default_factory=set)
    bad_item_ends: set[Item] = field(default_factory=set)
    bad_thing_ends: set[str] = field(default_factory=set)
    unordered: set[tuple[str, str]] = field(default_factory=set)
    overspent: set[str] = field(default_factory=set)
    not_before: set[tuple[str, str]] = field(default_factory=set)
    carried: set[tuple[str, str]] = field(default_factory=set)
    fitted: set[tuple[str, str]] = field(default_factory=set)
    held: set[tuple[str, str]] = field(default_factory=set)
    entered: set[tuple[str, str, str]] = field(default_factory=set)
    misdirected: set[tuple[str, str]] = field(default_factory=set)
    finals: dict[Item, set[str]] = field(default_factory=dict)
    executions_end_alike: bool = True
    after: World | None = None

    @property
    def sound(self) -> bool:
        """Whether the plan works in every execution."""
        marks = {*self.custody.values(), *self.states.values()} - {FINE}
        others = (
            self.at_once, self.crowded, self.too_many, self.bad_item_ends, self.bad_thing_ends,
            self.overspent, self.not_before, self.misdirected, self.entered,
            self.held, self.fitted, self.carried,
        )  # fmt: skip
        return not (self.circle or marks or any(others))


def judge(content: Content) -> dict[tuple[str, frozenset[str]], Judgement]:
    """The judgement of every sortie: as planned, with each optional task left out, and with all of them left out."""
    content = written_out(content)
    judgements: dict[tuple[str, frozenset[str]], Judgement] = {}
    world = first_world(content)
    over: set[str] = set()
    programme = next(iter(content["programme"].values()))
    for name in dict.fromkeys(programme["sorties"]):
        sortie = content["sorties"][name]
        whole = Plan(content, sortie, frozenset())
        optional = whole.optional()
        omissions = [frozenset[str](), *(frozenset([task]) for task in optional)]
        if len(optional) > 1:
            omissions.append(frozenset(optional))
        for left_out in (with_servants(content, one) for one in omissions):
            plan = Plan(content, sortie, left_out)
            judgements[name, left_out] = _judge_plan(plan, world, over)
        end = judgements[name, frozenset()].after
        if end is None:
            break
        world = end
        over |= {key.split("/")[0] for key in whole.steps}
    return judgements


def judge_alone(content: Content, name: str, left_out: frozenset[str] = frozenset()) -> Judgement:
    """The judgement of the first sortie without these tasks."""
    content = written_out(content)
    plan = Plan(content, content["sorties"][name], with_servants(content, left_out))
    return _judge_plan(plan, first_world(content), set())


def _judge_plan(plan: Plan, world: World, over: set[str]) -> Judgement:
    player = Player(plan, world)
    player.play()
    notes = player.notes
    judgement = Judgement(
        unordered=notes.unordered, at_once=notes.at_once, crowded=notes.crowded, too_many=notes.too_many,
        entered=notes.entered, carried=notes.carried,
    )  # fmt: skip
    if notes.stuck:
        judgement.circle = True
        return judgement
    for about, findings in notes.found.items():
        judgement.custody[about] = _custody_mark(about, findings, notes)
    for (key, thing, item), found in notes.loose.items():
        sure = len({source for source, _ in found}) == 1 and (key, item) not in notes.disturbed_items
        if not sure or not all(loose for _, loose in found):
            judgement.fitted.add((key, thing))
    for need, values in notes.met.items():
        judgement.states[need] = _state_mark(need, values, notes)
    _judge_directions(plan, judgement)
    _judge_restraints(plan, judgement)
    _judge_prerequisites(plan, judgement, over)
    _judge_ends(player, judgement, world)
    return judgement


def _custody_mark(about: tuple[str, str, str], findings: set[tuple[Chain, bool]], notes: Notes) -> str:
    chains = {chain for chain, _ in findings}
    # What the step has just taken itself is as sure as its taking, which is judged on its own.
    others = {name for chain in chains for name, source in chain if source != about[0]}
    if len(chains) > 1 or any((about[0], name) in notes.disturbed_things for name in others):
        return LUCK
    return FINE if all(reachable for _, reachable in findings) else OUT_OF_REACH


def _state_mark(need: tuple[str, Item, str], values: set[tuple[str, str | None, bool]], notes: Notes) -> str:
    key, item, state = need
    if len({source for _, source, _ in values}) > 1 or (key, item) in notes.disturbed_items:
        return LUCK
    if any(value != state for value, _, _ in values):
        return WRONG
    return FINE if all(trusted for *_, trusted in values) else UNCONFIRMED


def _judge_directions(plan: Plan, judgement: Judgement) -> None:
    for key, deed in plan.steps.items():
        for thing, goal in deed.raw.get("leaves", {}).items():
            if goal in plan.content["places"] and goal != deed.place:
                judgement.misdirected.add((key, thing))
        for thing, person in deed.raw.get("hands", {}).items():
            if person not in deed.outside:
                judgement.misdirected.add((key, thing))


def _judge_restraints(plan: Plan, judgement: Judgement) -> None:
    """A person's own steps in turn: in the plate for work in it, out of it before anything else."""
    for person, walk in plan.walks.items():
        inside, here = "", ""
        for key, leg in zip(plan.flows[person], walk, strict=True):
            raw, known = plan.steps[key].raw, plan.content["places"][leg.place].get("restraint", {})
            timed = {word for word, times in known.items() if times} if isinstance(known, dict) else set()
            entering, leaving = raw.get("enters"), raw.get("exits")
            if inside and leg.place != here:
                judgement.held.add((key, person))
                inside = ""
            wrong_in = (entering in timed and inside) or (leaving in timed and leaving != inside)
            if wrong_in or (raw.get("restraint") in timed and raw["restraint"] not in (inside, entering, leaving)):
                judgement.held.add((key, person))
            if entering in timed:
                inside = entering
            elif leaving:
                inside = ""
            here = leg.goal
            if inside and leg.goal != leg.place:
                judgement.held.add((key, person))
                inside = ""
        if inside:
            judgement.held.add((plan.flows[person][-1], person))


def _judge_prerequisites(plan: Plan, judgement: Judgement, over: set[str]) -> None:
    """Every last step of a prerequisite ends before every last step of the task begins, in every execution."""
    tasks = {name: [key for key in plan.steps if key.startswith(f"{name}/")] for name in plan.content["tasks"]}
    forced = {(one, other) for one in plan.steps for other in plan.steps if one != other} - judgement.unordered
    for name, mine in tasks.items():
        for entry in plan.content["tasks"][name].get("prerequisites", []) if mine else ():
            prerequisite = entry if isinstance(entry, str) else entry["task"]
            theirs = tasks[prerequisite]
            last = [one for one in theirs if not any((one, other) in forced for other in theirs)]
            closing = [one for one in mine if not any((one, other) in forced for other in mine)]
            if not isinstance(entry, str):
                closing = [key for key in mine if key in {plan.key_of(f"{name}/{one}") for one in entry["before"]}]
            lacking = any((one, other) not in forced for one in last for other in closing)
            if lacking or (not theirs and prerequisite not in over):
                judgement.not_before.add((name, prerequisite))


def _judge_ends(player: Player, judgement: Judgement, world: World) -> None:
    """How all executions end: everything where and as it may be, and alike in all of them."""
    plan = player.plan
    ends = list(player.notes.ends)
    spots, states, unseen = dict(ends[0].spots), dict(ends[0].states), dict(ends[0].unseen)
    judgement.executions_end_alike = len(ends) == 1
    stock = dict(world.stock)
    for deed in plan.steps.values():
        for thing, number in deed.lots.items():
            if thing in stock:
                stock[thing] -= number
    judgement.overspent = {thing for thing, left in stock.items() if left < 0 <= world.stock[thing]}
    known: set[Item | str] = set()
    for item in states:
        changed = any(item in deed.sets for deed in plan.steps.values())
        finals = {dict(end.states)[item] for end in ends}
        judgement.finals[item] = {state for state, _ in finals}
        # In the last sortie any allowed state will do; before it, the next sortie must know with what it begins.
        wrong = not {state for state, _ in finals} <= _allowed_states(plan, item[0]) or (
            len(finals) > 1 and not _is_last(plan)
        )
        wrong = wrong and (changed or _is_last(plan) or item[0] in plan.sortie.get("ends", {}))
        if wrong or (item in world.known_wrong and not changed):
            known.add(item)
        # What a sortie doesn't touch it may have taken over as a mistake of the one before: told there.
        if wrong and (changed or item not in world.known_wrong):
            judgement.bad_item_ends.add(item)
    left = {thing for thing in spots if stock.get(thing, 1) > 0 and not _may_stay(player, thing, spots)}
    for thing in left:
        alike = len({dict(end.spots)[thing] for end in ends}) == 1
        moved = any(thing in deed.moves for deed in plan.steps.values())
        if alike and (moved or (thing not in world.known_wrong and spots[thing][0][1] not in left)):
            judgement.bad_thing_ends.add(thing)
    judgement.after = World(
        {thing: spot for thing, (spot, _) in spots.items()}, {item: state for item, (state, _) in states.items()},
        stock, unseen,
        frozenset(known) | left,
    )  # fmt: skip


def _is_last(plan: Plan) -> bool:
    (programme,) = plan.content["programme"].values()
    return bool(plan.content["sorties"][listed(programme["sorties"])[-1]] == plan.sortie)


def _allowed_states(plan: Plan, name: str) -> set[str]:
    if name in plan.sortie.get("ends", {}):
        return set(listed(plan.sortie["ends"][name]))
    equipment = plan.content["equipment"][name]
    ends = listed(equipment.get("ends")) or [equipment["starts"]]
    carried = [state for one, state in plan.sortie.get("carries_over", {}).items() if one == name]
    return {*(equipment["states"] if "any" in ends else ends), *carried}


def _may_stay(player: Player, thing: str, spots: Mapping[str, tuple[Spot, str | None]]) -> bool:
    content = player.plan.content
    record = {**content.get("tools", {}), **content.get("bags", {})}[thing]
    home = next((name for name, place in content["places"].items() if place.get("home") == "true"), None)
    carried = [goal for one, goal in player.plan.sortie.get("carries_over", {}).items() if one == thing]
    allowed = {*listed(record.get("ends")), *carried, str(record["stowed"]), home}
    _, where = player.chain_of(thing, spots)
    if where[0][0] == "with":
        return False
    return any(one in allowed for _, one in where)
