"""Which get-aheads fit: against trying every order at every place with plans rebuilt from records, and a solver."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import permutations, product
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from briefgen.proof.deciding.extras import Extras, WhyNot
from briefgen.proof.deciding.search import FEW
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.schedule.network import CircleFound
from tests.demo import demo
from tests.proof.deciding_world import PLACES, sortie_of, steps
from tests.travel_world import world

Records = dict[str, tuple[str, list[dict[str, Any]]]]
Flows = dict[str, list[str]]


@st.composite
def openings(draw: st.DrawFn) -> tuple[Records, tuple[str, ...], int]:
    """Two or three tasks of the flow, two or three get-aheads of one or both people, and minutes of length."""
    records: Records = {}
    for number in range(draw(st.integers(2, 3))):
        row = draw(steps())
        if number:
            row[0] = {**row[0], "after": [f"t{number - 1}/1"]}
        records[f"t{number}"] = ("required", row)
    names = tuple(f"g{number}" for number in range(draw(st.integers(2, 3))))
    for name in names:
        people = draw(st.sampled_from([("ev1",), ("ev1",), ("ev2",), ("ev1", "ev2")]))
        records[name] = ("get-ahead", draw(steps(people)))
    return records, names, draw(st.integers(30, 200))


def ends(proved: SortieEvidence) -> tuple[float, float] | None:
    """When a sortie ends and how long people go in all; None in a circle."""
    try:
        timeline = proved.timeline
    except CircleFound:
        return None
    return round(timeline.finish, 4), round(sum(leg.end - leg.start for leg in timeline.legs), 4)


class Rebuilt:
    """Every plan is made from records of its own, with flows of single steps."""

    def __init__(self, records: Records, names: tuple[str, ...], length: int) -> None:
        self.records, self.names, self.length = records, names, length
        self.known: dict[str, tuple[float, float] | None] = {}
        people = sorted({person for _, row in records.values() for step in row for person in self.who(step)})
        self.flows: Flows = {
            person: list(self.block(person, [n for n in records if n not in names])) for person in people
        }

    @staticmethod
    def who(step: dict[str, Any]) -> list[str]:
        return [step["who"]] if isinstance(step["who"], str) else step["who"]

    def block(self, person: str, names: list[str]) -> Iterator[str]:
        for name in names:
            for number, step in enumerate(self.records[name][1], start=1):
                if person in self.who(step):
                    yield f"{name}/{number}"

    def cost(self, flows: Flows) -> tuple[float, float] | None:
        key = repr(flows)
        if key not in self.known:
            rows = {name: row for name, (_, row) in self.records.items()}
            places = {"lock": {"home": True, "anchor": True}, "k1": {"anchor": True}, "k2": {}, "k3": {}}
            flown = {person: flow for person, flow in flows.items() if flow}
            self.known[key] = ends(world(rows, flow=flown, limits={"length": f"{self.length} min"}, places=places))
        return self.known[key]

    def insertions(self, flows: Flows, name: str) -> Iterator[tuple[tuple[float, float], Flows]]:
        """Every way to put a task between two others of each of its people."""
        blocks = {person: list(self.block(person, [name])) for person in flows}
        doing = [person for person, block in blocks.items() if block]
        gaps = [self.gaps(flows[person]) for person in doing]
        for seats in product(*gaps):
            new = dict(flows)
            for person, seat in zip(doing, seats, strict=True):
                new[person] = [*flows[person][:seat], *blocks[person], *flows[person][seat:]]
            cost = self.cost(new)
            if cost is not None and cost[0] <= self.length * 60:
                yield cost, new

    @staticmethod
    def gaps(flow: list[str]) -> list[int]:
        tasks = [key.partition("/")[0] for key in flow]
        return [seat for seat in range(1, len(flow)) if tasks[seat - 1] != tasks[seat]]

    def reachable(self, order: tuple[str, ...], flows: Flows) -> Iterator[tuple[int, float, float]]:
        """What comes of an order, each task at a cheapest place; of places that are equally cheap, at any."""
        cost = self.cost(flows)
        assert cost is not None
        yield 0, *cost
        if order:
            found = list(self.insertions(flows, order[0]))
            best = min((cost for cost, _ in found), default=None)
            for new in (new for cost, new in found if cost == best):
                for count, *rest in self.reachable(order[1:], new):
                    yield count - 1, *rest  # type: ignore[misc]


def outcome(found: Extras, proved: SortieEvidence) -> tuple[int, float]:
    return -len(found.fitting), round(found.finish, 4)


@settings(max_examples=25, deadline=None)
@given(openings())
def test_the_best_order_is_as_good_as_any_that_is_tried_by_hand(opening: tuple[Records, tuple[str, ...], int]) -> None:
    records, names, length = opening
    proved = sortie_of(records, length=f"{length} min", get_aheads=names)
    if proved.timeline.finish > length * 60:
        assert proved.extras.fitting == ()
        return
    rebuilt = Rebuilt(records, names, length)
    orders = [order for size in range(len(names) + 1) for order in permutations(names, size)]
    tried = [one for order in orders for one in rebuilt.reachable(order, rebuilt.flows)]
    assert proved.extras.exact
    assert outcome(proved.extras, proved) in {one[:2] for one in tried}
    assert -len(proved.extras.fitting) == min(count for count, *_ in tried) or not unique(rebuilt, names)


def unique(rebuilt: Rebuilt, names: tuple[str, ...]) -> bool:
    """Whether no first insertion has two places that are equally cheap, between which the search is free to choose."""
    for name in names:
        costs = sorted(cost for cost, _ in rebuilt.insertions(rebuilt.flows, name))
        if len(costs) > 1 and costs[0] == costs[1]:
            return False
    return True


@settings(max_examples=25, deadline=None)
@given(st.lists(st.integers(3, 40), min_size=1, max_size=6), st.integers(0, 120))
def test_where_nobody_has_to_go_it_is_the_choice_of_a_solver(minutes: list[int], spare: int) -> None:
    # One person at one place: most get-aheads within the time that is left, then the least time. OR-tools, CP-SAT.
    records: Records = {name: ("required", [{"who": "ev1", "at": "lock", "takes": "10 min"}]) for name in ("out", "in")}
    names = tuple(f"g{number}" for number in range(len(minutes)))
    for name, takes in zip(names, minutes, strict=True):
        records[name] = ("get-ahead", [{"who": "ev1", "at": "lock", "takes": f"{takes} min"}])
    found = sortie_of(records, length=f"{20 + spare} min", get_aheads=names).extras
    model = cp_model.CpModel()
    taken = [model.new_bool_var(name) for name in names]
    total = sum(takes * one for takes, one in zip(minutes, taken, strict=True))
    model.add(total <= spare)
    model.maximize(1000 * sum(taken) - total)
    solver = cp_model.CpSolver()
    assert solver.solve(model) == cp_model.OPTIMAL
    count, time = sum(solver.value(one) for one in taken), solver.value(total) if names else 0
    assert (len(found.fitting), found.finish) == (count, (20 + time) * 60)
    assert found.exact == (len(names) <= FEW)


def opened(**changes: Any) -> SortieEvidence:
    """Out and in again with half an hour to spare, and one get-ahead of ten minutes at K1."""
    records: Records = {
        "out": ("required", [{"who": "ev1", "at": "lock", "takes": "10 min"}]),
        "in": ("required", [{"who": "ev1", "at": "lock", "takes": "10 min"}]),
        "wipe": ("get-ahead", [{"who": "ev1", "at": "k1", "takes": "10 min", **changes.pop("step", {})}]),
    }
    return sortie_of(records, length=changes.pop("length", "50 min"), get_aheads=("wipe",), **changes)


def test_a_get_ahead_that_fits_stands_between_two_tasks_with_its_ways() -> None:
    found = opened().extras
    (one,) = found.fitting
    assert [(gap.person, gap.after, gap.before) for gap in one.between] == [("ev1", "out", "in")]
    # 6 m to K1 at 6 m/min are a minute each way.
    assert (one.begins, one.ends, found.finish) == (660, 1260, 1920)
    assert dict(one.busy) == {"ev1": 720}
    assert one.later == 720


def test_what_serves_others_is_not_taken_up_for_nothing() -> None:
    def with_rake(takes: str) -> Extras:
        records = {
            "work": ("required", [{"who": "ev1", "at": "lock", "takes": "10 min"}]),
            "fetch": ("required", [{"who": "ev1", "at": "lock", "takes": "2 min"}]),
            "rake": ("get-ahead", [{"who": "ev1", "at": "lock", "takes": takes}]),
            "in": ("required", [{"who": "ev1", "at": "lock", "takes": "1 min"}]),
        }
        changes = {"fetch": {"serves": ["rake"]}, "rake": {"prerequisites": ["fetch"]}}
        return sortie_of(records, length="20 min", get_aheads=("fetch", "rake"), changes=changes).extras

    assert {one.task for one in with_rake("5 min").fitting} == {"fetch", "rake"}
    long = with_rake("30 min")
    assert not long.fitting
    assert {one.task: one.why for one in long.unfit}["fetch"] is WhyNot.FOR_NOTHING


@st.composite
def for_whoever(draw: st.DrawFn) -> list[SortieEvidence]:
    """A sortie with a get-ahead for whoever is free, then the same for every choice of people."""
    records = {f"t{number}": ("required", draw(steps())) for number in range(draw(st.integers(2, 4)))}
    records["in"] = ("required", [{"who": who, "at": "lock", "takes": "1/2/4 min"} for who in ("ev1", "ev2")])
    extra = draw(steps(("one", "other") if draw(st.booleans()) else ("one",)))
    length = f"{draw(st.integers(60, 300))} min"

    def with_people(people: dict[str, str]) -> SortieEvidence:
        def named(who: Any) -> Any:
            return [people[one] for one in who] if isinstance(who, list) else people[who]

        row = [{**step, "who": named(step["who"])} for step in extra]
        whole = {**records, "extra": ("get-ahead", row)}
        return sortie_of(whole, length=length, get_aheads=("extra",))

    choices = [{"one": one, "other": other} for one, other in (("ev1", "ev2"), ("ev2", "ev1"))]
    return [with_people(people) for people in ({"one": "one", "other": "other"}, *choices)]


@settings(max_examples=60, deadline=None)
@given(for_whoever())
def test_whoever_is_free_is_who_ends_the_sortie_earliest(sorties: list[SortieEvidence]) -> None:
    free, *fixed = [proved.extras for proved in sorties]
    assert bool(free.fitting) == any(one.fitting for one in fixed)
    assert free.finish == pytest.approx(min([one.finish for one in fixed if one.fitting], default=fixed[0].finish))
    for one in free.fitting:
        names = {who for step in one.record.steps for who in map(str, step.who)}
        assert names == {between.person for between in one.between} <= {"ev1", "ev2"}
        shown = sorties[0].evidence.shown.tasks["extra"]
        assert [step.who for step in shown.steps] == [step.who for step in one.record.steps]


def test_one_that_is_too_long_says_how_much_is_missing() -> None:
    (one,) = opened(length="30 min").extras.unfit
    assert (one.why, one.missing) == (WhyNot.TOO_LONG, 120)


def test_one_that_needs_what_is_not_done_says_so() -> None:
    (one,) = opened(changes={"wipe": {"prerequisites": ["in"]}}).extras.unfit
    assert one.why is WhyNot.NO_PLACE
    rack = {"rack": {"place": "k1", "states": ["shut", "open"], "starts": "shut"}}
    (held,) = opened(step={"requires": {"rack": "open"}}, equipment=rack).extras.unfit
    assert (held.why, held.faults) == (WhyNot.NOT_HELD, ("state",))


def test_one_for_which_somebody_is_not_there_has_no_place() -> None:
    (one,) = opened(step={"who": "ev2"}).extras.unfit
    assert one.why is WhyNot.NO_PLACE


def test_a_tether_that_does_not_reach_forbids_it() -> None:
    proved = opened(routes={"r": {"between": ["lock", "k1"], "length": "60 m"}}, length="3 h")
    assert [one.task for one in proved.extras.fitting] == ["wipe"]
    short = {"length": "3 h", "tether": "20 m"}
    records = {name: (task.priority, task) for name, task in proved.library.tasks.items()}
    assert set(records) == {"out", "in", "wipe"}
    tied = world(
        {"out": [{"who": "ev1", "at": "lock"}], "in": [{"who": "ev1", "at": "lock"}]},
        limits=short, sortie={"get_aheads": ["wipe"]},
        routes={"r": {"between": ["lock", "k1"], "length": "60 m"}},
        tasks={name: {"title": name, "purpose": "A test.", "priority": priority,
                      "steps": [{"who": "ev1", "do": "Work.", "takes": "10 min", "at": place}]}
               for name, priority, place in [("out", "required", "lock"), ("in", "required", "lock"),
                                             ("wipe", "get-ahead", "k1")]},
    )  # fmt: skip
    (one,) = tied.extras.unfit
    assert (one.why, one.faults) == (WhyNot.NOT_HELD, ("tether",))


def test_of_too_many_the_search_says_that_it_did_not_try_all() -> None:
    records: Records = {name: ("required", [{"who": "ev1", "at": "lock", "takes": "10 min"}]) for name in ("out", "in")}
    names = tuple(f"g{number}" for number in range(FEW + 1))
    records |= {name: ("get-ahead", [{"who": "ev1", "at": PLACES[1], "takes": "1 min"}]) for name in names}
    found = sortie_of(records, get_aheads=names).extras
    assert len(found.fitting) == FEW + 1
    assert not found.exact


@pytest.mark.parametrize("name", ["sortie-1", "sortie-2"])
def test_in_the_demo_every_get_ahead_is_placed_or_has_a_reason(name: str) -> None:
    proved = demo().evidence.sorties[name]
    found = proved.extras
    told = [one.task for one in found.fitting] + [one.task for one in found.unfit]
    assert sorted(told) == sorted({str(task) for task in proved.sortie.get_aheads} - proved.tasks)
    assert proved.timeline.finish <= found.finish <= found.usable
    assert [one.begins for one in found.fitting] == sorted(one.begins for one in found.fitting)
