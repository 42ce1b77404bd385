"""Latest begins and what to drop, against brute force: networks rebuilt, starts shifted until nothing fits."""

from __future__ import annotations

import random
from collections.abc import Mapping
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from briefgen.model.library import Library
from briefgen.proof.deciding.underway.answer import answer
from briefgen.proof.deciding.underway.day import make_day
from briefgen.proof.deciding.underway.forecast import forecast
from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.plan import Plan
from briefgen.source import Ref
from tests.demo import demo
from tests.proof.deciding_world import sortie_of, sorties
from tests.proof.test_underway import some_situation


def finish_of(proved: SortieEvidence, left_out: frozenset[str], release: Mapping[str, float] | None = None) -> float:
    """When the sortie ends without some tasks, no step of a released task beginning before its moment.

    Written again here, from the flows: steps as soon as they can, ways at the pace of free hands (no bag is carried).
    """
    plan: Plan = proved.plan
    kept = [step for step in plan.steps if str(step.task.id) not in left_out]
    ends: dict[int, float] = {}
    waits: dict[int, list[tuple[int, float]]] = {step.index: [] for step in kept}
    earliest = {step.index: (release or {}).get(str(step.task.id), 0.0) for step in kept}
    for flow in plan.flows.values():
        row = [plan.steps[index] for index in flow if index in waits]
        for before, then in pairwise([None, *row]):
            assert then is not None
            start = before.place if before else plan.home
            way = proved.evidence.routes.way(str(start), str(then.place))
            assert way is not None
            if before is None:
                earliest[then.index] = max(earliest[then.index], way.seconds)
            else:
                waits[then.index].append((before.index, way.seconds))
    for link in plan.links:
        if link.first in waits and link.second in waits:
            waits[link.second].append((link.first, 0.0))

    def end(index: int) -> float:
        if index not in ends:
            start = max([earliest[index], *(end(first) + lag for first, lag in waits[index])])
            ends[index] = start + plan.steps[index].duration.likely
        return ends[index]

    return max((end(step.index) for step in kept), default=0.0)


@settings(max_examples=60, deadline=None)
@given(sorties())
def test_a_task_can_begin_at_its_latest_moment_and_no_later(proved: SortieEvidence) -> None:
    usable = proved.sortie.limits.usable
    begins = {one.task: one.begins for one in proved.latest}
    for one in proved.latest:
        later = frozenset(
            task for task in proved.plan.optional_tasks if task != one.task and begins[task] >= begins[one.task]
        )
        assume(finish_of(proved, later) <= usable)
        assert finish_of(proved, later, {one.task: one.latest}) <= usable + 1e-6
        assert finish_of(proved, later, {one.task: one.latest + 1}) > usable
        assert one.left_out == later


@settings(max_examples=60, deadline=None)
@given(sorties())
def test_in_a_plan_that_is_too_long_it_is_what_the_task_and_all_after_it_need(proved: SortieEvidence) -> None:
    # Begun very late, a task and what comes after it alone decide the end: so long do these need.
    late = 1e6
    for one in proved.latest:
        needed = finish_of(proved, one.left_out, {one.task: late}) - late
        assert one.latest == pytest.approx(proved.sortie.limits.usable - needed, abs=1e-4)


@settings(max_examples=60, deadline=None)
@given(sorties())
def test_drops_go_by_priority_then_by_what_they_give_back(proved: SortieEvidence) -> None:
    tasks, left = proved.library.tasks, set(proved.plan.optional_tasks)
    dropped: frozenset[str] = frozenset()
    assert not proved.dropping.kept
    for one in proved.dropping.drops:
        rank = {task: ("get-ahead", "time-permitting").index(tasks[task].priority) for task in left}
        peers = [task for task in left if rank[task] == min(rank.values())]
        finishes = {task: finish_of(proved, dropped | {task}) for task in peers}
        assert one.task in peers
        assert finishes[one.task] == pytest.approx(min(finishes.values()))
        dropped |= {one.task}
        left.remove(one.task)
        whole = finish_of(proved, frozenset())
        assert one.gives_back == pytest.approx(whole - finish_of(proved, frozenset({one.task})), abs=1e-6)
        assert one.in_all == pytest.approx(whole - finish_of(proved, dropped), abs=1e-6)
    assert not left


def test_what_others_need_takes_them_along_or_stays() -> None:
    step = {"who": "ev1", "at": "k1"}
    records = {
        "open": ("get-ahead", [{**step, "sets": {"cover": "open"}}]),
        "look": ("time-permitting", [{**step, "requires": {"cover": "open"}}]),
        "warm": ("get-ahead", [step]),
        "mend": ("required", [step]),
        "wipe": ("get-ahead", [step]),
    }
    cover = {"cover": {"place": "k1", "states": ["shut", "open"], "starts": "shut", "ends": "any"}}
    proved = sortie_of(records, changes={"mend": {"prerequisites": ["warm"]}}, equipment=cover)
    drops = {one.task: one.takes_along for one in proved.dropping.drops}
    # “open” takes “look” along, which ranks higher: so “wipe” is dropped before both, whatever it gives back.
    assert next(iter(drops)) == "wipe"
    assert drops["open"] == ("look",)
    assert "look" not in drops
    assert [(one.task, one.needed_by) for one in proved.dropping.kept] == [("warm", ("mend",))]


def serving(proved: SortieEvidence, data: st.DataObject) -> SortieEvidence:
    """The same sortie, in which one or two of its tasks are done for others alone."""
    tasks = dict(proved.library.tasks)
    names = [name for name in tasks if name != "in"]
    for name in data.draw(st.lists(st.sampled_from(names[1:]), min_size=1, max_size=2, unique=True)):
        masters = data.draw(st.lists(st.sampled_from(names[: names.index(name)]), min_size=1, max_size=2, unique=True))
        tasks[name] = tasks[name].model_copy(update={"serves": tuple(Ref(one) for one in masters)})
    evidence = Evidence(Library({**proved.library.records, "tasks": tasks}))
    return evidence.sorties[str(proved.sortie.id)]


def gone_with(proved: SortieEvidence, left_out: frozenset[str], stays: frozenset[str] = frozenset()) -> frozenset[str]:
    """Some tasks, and each that serves nothing else, as often as there are tasks."""
    gone = set(left_out)
    for _ in proved.tasks:
        for name in proved.tasks - stays:
            masters = {*map(str, proved.library.tasks[name].serves)} & proved.tasks
            if masters and masters <= gone:
                gone.add(name)
    return frozenset(gone)


@settings(max_examples=60, deadline=None)
@given(sorties(), st.data())
def test_what_serves_others_goes_with_the_last_of_them(proved: SortieEvidence, data: st.DataObject) -> None:
    proved = serving(proved, data)
    servants = {name for name in proved.tasks if proved.library.tasks[name].serves}
    assert servants.isdisjoint(proved.plan.optional_tasks)
    whole, named, core = finish_of(proved, frozenset()), set[str](), frozenset[str]()
    for drop in proved.dropping.drops:
        assert drop.task not in servants
        core |= {drop.task, *drop.takes_along} - servants
        named |= {drop.task, *drop.takes_along}
        assert named == gone_with(proved, core)
        assert drop.in_all == pytest.approx(whole - finish_of(proved, frozenset(named)), abs=1e-6)
    begins = {one.task: one.begins for one in proved.latest}
    for one in proved.latest:
        stays = frozenset(task for task in begins if begins[task] < one.begins) | {one.task}
        own = {str(name) for name in proved.library.tasks[one.task].serves}
        free = {task for task in proved.plan.optional_tasks if task not in own | stays}
        assert one.left_out == gone_with(proved, frozenset(free), stays)


@settings(max_examples=60, deadline=None)
@given(sorties(), st.data(), st.integers(0, 10**6))
def test_what_is_begun_stays_though_it_serves_nothing_any_more(
    proved: SortieEvidence, data: st.DataObject, seed: int
) -> None:
    proved = serving(proved, data)
    day = make_day(proved)
    situation = some_situation(day, random.Random(seed))
    its, left_out = answer(day, situation), frozenset[str]()
    begun = {day.steps[index].task for index in situation.done(day)}
    for one in its.omissions:
        if one.why is None:
            left_out |= {*one.tasks}
            assert begun.isdisjoint(left_out)
            assert forecast(day, situation, left_out).finish == one.finish
            masters = [{*map(str, proved.library.tasks[name].serves)} & proved.tasks for name in one.tasks]
            assert all(row <= left_out for row in masters)


def test_each_person_has_a_moment_for_their_own_part() -> None:
    records = {
        "a": (
            "required",
            [{"who": "ev1", "at": "lock", "takes": "10 min"}, {"who": "ev2", "at": "lock", "after": ["a/1"]}],
        ),
        "b": ("required", [{"who": "ev2", "at": "lock", "takes": "4 min"}]),
    }
    (one, _) = sortie_of(records, length="20 min").latest
    # EV2 needs 1 min and then 4 min, so begins by 15 min; EV1 needs 10 min before that.
    assert dict(one.parts) == {"ev1": 300, "ev2": 900}
    assert (one.latest, one.begins, one.spare) == (300, 0, 300)


@pytest.mark.parametrize("name", ["sortie-1", "sortie-2"])
def test_in_the_demo_no_required_task_has_more_time_than_the_sortie_leaves(name: str) -> None:
    proved = demo().evidence.sorties[name]
    assert {one.task for one in proved.latest} == proved.tasks
    for one in proved.latest:
        assert 0 <= one.spare <= proved.sortie.limits.usable - one.begins
        slack = min(times.slack for times in proved.timeline.times if str(times.step.task.id) == one.task)
        assert one.spare >= slack - 1e-6
