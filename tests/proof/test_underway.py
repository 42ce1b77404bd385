"""The day as it goes: on the planned line what the plan says; off it nothing that is advised makes things worse."""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefgen.proof.deciding.underway.answer import WhyKept, answer, worse
from briefgen.proof.deciding.underway.day import Day, make_day
from briefgen.proof.deciding.underway.document import document
from briefgen.proof.deciding.underway.forecast import forecast
from briefgen.proof.deciding.underway.situation import Progress, Situation, bad_times, contradictions
from briefgen.proof.deciding.underway.turning import cuts, possible, stop_after, stops_ahead, turning
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.stopping.search.effort import Effort
from tests.demo import demo
from tests.proof.deciding_world import sortie_of, sorties
from tests.travel_world import world

MINUTE = 60.0


def on_plan(day: Day, now: float) -> Situation:
    """The situation at a moment if all has gone as planned."""
    ended = {p: [day.steps[one].end for one in flow if day.steps[one].end <= now] for p, flow in day.flows.items()}
    return Situation(now, {person: Progress(len(row), max(row, default=0.0)) for person, row in ended.items()})


def some_situation(day: Day, rng: random.Random) -> Situation:
    """Any situation that can be: steps finished in an order that the plan allows, then any clock."""
    cut = [0] * len(day.flows)
    for _ in range(rng.randrange(len(day.steps) + 1)):
        nexts = {flow[count] for flow, count in zip(day.flows.values(), cut, strict=True) if count < len(flow)}
        ready = []
        for index in sorted(nexts):
            other = [count + (who in day.steps[index].people) for who, count in zip(day.flows, cut, strict=True)]
            if possible(day, other):
                ready.append(other)
        cut = rng.choice(ready) if ready else cut
    now = rng.uniform(0, 1.4 * day.length)
    sinces = [rng.choice([None, now, rng.uniform(0, now)]) for _ in cut]
    progress = (Progress(count, since) for count, since in zip(cut, sinces, strict=True))
    return Situation(now, dict(zip(day.flows, progress, strict=True)))


@pytest.mark.parametrize("name", ["sortie-1", "sortie-2"])
def test_on_the_planned_line_the_rest_runs_as_planned(name: str) -> None:
    proved = demo().evidence.sorties[name]
    day = make_day(proved)
    for part in range(40):
        now = proved.timeline.finish * part / 40
        its = answer(day, on_plan(day, now))
        assert its.late == pytest.approx(0.0, abs=1e-6)
        for index, (start, end) in its.ahead.times.items():
            times = proved.timeline.times[index]
            assert (start, end) == pytest.approx((times.start, times.end), abs=1e-6)
            assert (index in its.ahead.critical) == times.critical
        for left, run in zip(its.supplies, (run for row in proved.supplies.runs.values() for run in row), strict=True):
            assert left.end == pytest.approx(run.left)
            assert left.now == pytest.approx(run.run.at(now))
            assert left.reached == pytest.approx(run.reserve_reached)


@pytest.mark.parametrize("name", ["sortie-1", "sortie-2"])
def test_before_anything_is_done_each_task_may_begin_as_late_as_in_the_plan(name: str) -> None:
    proved = demo().evidence.sorties[name]
    day = make_day(proved)
    due = {one.task: one for one in answer(day, on_plan(day, 0.0)).due}
    assert due.keys() == {one.task for one in proved.latest}
    for one in proved.latest:
        assert (due[one.task].latest, due[one.task].left_out) == (one.latest, one.left_out)
        assert due[one.task].begins == pytest.approx(one.begins, abs=1e-6)


@pytest.mark.parametrize("name", ["sortie-1", "sortie-2"])
def test_where_nobody_is_in_the_middle_of_anything_a_stop_is_the_one_computed_for_the_plan(name: str) -> None:
    proved = demo().evidence.sorties[name]
    day, seen = make_day(proved), 0
    for stop in proved.stops:
        situation = on_plan(day, stop.at + 1e-6)
        cut = tuple(one.steps for one in situation.people.values())
        if not _under_way(proved, stop.at):
            other = stop_after(day, cut)
            assert other.seconds == pytest.approx(stop.seconds)
            assert (other.open, other.homes.keys(), other.clean) == (stop.open, stop.homes.keys(), stop.clean)
            seen += 1
        # Whoever has set off or is at work: what is said is never less than what the plan's own stop says.
        turns = turning(day, situation, forecast(day, situation))
        assert max(turns.bare.values()) >= stop.bare - 1e-6
    assert seen > 10


def test_where_too_much_is_open_to_search_off_the_planned_line_the_way_counts_from_where_people_are(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    proved = demo().evidence.sorties["sortie-1"]
    day, rng = make_day(proved), random.Random(7)
    seen = 0
    for _ in range(12):
        cut = turning(day, some := some_situation(day, rng), forecast(day, some)).cut
        searched = stop_after(day, cut)
        with monkeypatch.context() as patch:
            patch.setattr(Effort, "next_moment", lambda self: setattr(self, "_share", 0))
            shown = stop_after(day, cut)
        left = {index for flow, count in zip(day.flows.values(), cut, strict=True) for index in flow[count:]}
        assert (searched.searched, shown.searched) == (True, False)
        assert {index for index, _, _ in shown.closing} == left
        # Every step of it takes as long as it does in the plan, however late its planned time is past.
        lengths = {index: end - start for index, start, end in shown.closing}
        assert lengths == pytest.approx({index: day.proved.plan.steps[index].duration.likely for index in left})
        if left and not searched.stuck:
            assert shown.seconds >= max(lengths.values())
            seen += 1
    assert seen > 5


def test_every_stop_of_the_demo_is_searched_to_its_end() -> None:
    assert all(stop.searched for proved in demo().evidence.sorties.values() for stop in proved.stops)


def _under_way(proved: SortieEvidence, at: float) -> bool:
    """Whether somebody is not where their last step left them, or in the middle of one."""
    stays = [proved.whereabouts.at(person, at) for person in proved.whereabouts.stays]
    legs = {(leg.person, leg.step) for leg in proved.timeline.legs if leg.start < at - 1e-6}
    running = any(one.start < at - 1e-6 < one.end - 2e-6 for one in proved.timeline.times)
    return running or any(one and (one.person, one.visit.step.index) in legs and one.doing != "done" for one in stays)


def test_being_late_by_hand() -> None:
    records = {
        "a": ("required", [{"who": "ev1", "at": "lock", "takes": "10 min"}]),
        "b": ("time-permitting", [{"who": "ev1", "at": "lock", "takes": "20 min"}]),
        "c": ("required", [{"who": ["ev1", "ev2"], "at": "lock", "takes": "5 min"}]),
    }
    day = make_day(sortie_of(records, length="40 min"))
    # EV1 has finished “a” after 18 minutes instead of 10: 20 and 5 minutes are left, the limit is 40.
    late = answer(day, Situation(18 * MINUTE, {"ev1": Progress(1, 18 * MINUTE), "ev2": Progress(0, 0.0)}))
    assert (late.late, late.ahead.finish) == (8 * MINUTE, 43 * MINUTE)
    assert [day.steps[index].key for index in late.ahead.critical] == ["b/1", "c/1"]
    (drop,) = late.omissions
    assert (drop.tasks, drop.gains, drop.finish, drop.why) == (("b",), 20 * MINUTE, 23 * MINUTE, None)
    # What is optional must begin by minute 15 for all to fit; “c” by minute 35.
    assert {one.task: (one.latest, one.fits) for one in late.due} == {"b": (900, False), "c": (2100, False)}
    # A minute later somebody may be at it: then it can't simply be dropped any more.
    begun = answer(day, Situation(19 * MINUTE, {"ev1": Progress(1, 18 * MINUTE), "ev2": Progress(0, 0.0)}))
    assert [one.why for one in begun.omissions] == [WhyKept.BEGUN]
    assert begun.ahead.finish == 43 * MINUTE
    # The same where nobody noted when “a” was over; what comes next then counts whole from now on.
    unknown = answer(day, Situation(19 * MINUTE, {"ev1": Progress(1), "ev2": Progress(0)}))
    assert ([one.why for one in unknown.omissions], unknown.ahead.finish) == ([WhyKept.BEGUN], 44 * MINUTE)


def test_a_joint_step_is_finished_for_all_or_nobody_and_nothing_ahead_of_what_it_waits_for() -> None:
    proved = world(
        {
            "a": [
                {"who": ["ev1", "ev2"], "at": "lock"},
                {"who": "ev1", "at": "lock"},
                {"who": "ev2", "at": "lock", "after": ["a/2"]},
            ]
        }
    )
    day = make_day(proved)

    def found(ev1: int, ev2: int) -> list[tuple[str, str, str, bool]]:
        situation = Situation(600.0, {"ev1": Progress(ev1), "ev2": Progress(ev2)})
        row = contradictions(day, situation)
        return [(one.person, one.other, day.steps[one.first].key, one.together) for one in row]

    assert found(1, 0) == [("ev1", "ev2", "a/1", True)]
    assert found(1, 2) == [("ev2", "ev1", "a/2", False)]
    assert found(0, 0) == found(1, 1) == found(2, 1) == found(2, 2) == []


def test_late_or_early_the_sun_rises_when_it_rises() -> None:
    steps = [
        {"who": "ev1", "at": "lock", "takes": "10 min"},
        {"who": "ev1", "at": "lock", "takes": "5 min", "not_before": "sunrise"},
        {"who": "ev1", "at": "lock", "takes": "1 min"},
    ]
    proved = world({"a": steps}, sortie={"light": [["0 min", "5 min"], ["12 min", "20 min"], ["40 min", "50 min"]]})
    day = make_day(proved)

    def ahead(minutes: float) -> tuple[dict[int, tuple[float, float]], tuple[int, ...]]:
        now = minutes * MINUTE
        found = forecast(day, Situation(now, {"ev1": Progress(1, now)}))
        return dict(found.times), found.critical

    # As planned the step waits two minutes. Early it waits longer, late it waits for the next sunrise.
    assert proved.timeline.times[1].start == 12 * MINUTE
    assert [(one.until, one.seconds) for one in proved.timeline.waits] == [("sunrise", 2 * MINUTE)]
    assert [one.critical for one in proved.timeline.times] == [False, True, True]
    assert ahead(6)[0][1] == ahead(12)[0][1] == (12 * MINUTE, 17 * MINUTE)
    assert ahead(13) == ({1: (40 * MINUTE, 45 * MINUTE), 2: (45 * MINUTE, 46 * MINUTE)}, (1, 2))


def test_a_stop_whose_end_waits_for_the_clock_counts_from_the_clock_and_is_not_told_ahead() -> None:
    steps = [
        {"who": "ev1", "at": "lock", "takes": "10 min", "sets": {"cover": "open"}},
        {"who": "ev1", "at": "lock", "takes": "1 min", "sets": {"cover": "shut"}, "not_before": "30 min"},
    ]
    cover = {"cover": {"states": ["shut", "open"], "starts": "shut", "place": "lock"}}
    day = make_day(world({"a": steps}, equipment=cover))

    def all_s(minutes: float) -> float:
        home = document(day, Situation(minutes * MINUTE, {"ev1": Progress(1, minutes * MINUTE)}))["home"]
        assert [one["step"] for one in home["closing"]] == ["a/2"]
        return float(home["all_s"])

    # Until minute 30 and one more, whenever it is called; after that just the one.
    assert [all_s(minutes) for minutes in (4, 10, 25, 40)] == [27 * MINUTE, 21 * MINUTE, 6 * MINUTE, MINUTE]
    assert {cut for cut, _ in stops_ahead(day, 50)} == {(0,), (2,)}


def test_times_that_no_clock_shows() -> None:
    day = make_day(world({"a": [{"who": "ev1", "at": "lock"}]}))
    assert list(bad_times(day, Situation(-1.0, {"ev1": Progress(0)}))) == ["now"]
    assert list(bad_times(day, Situation(float("nan"), {"ev1": Progress(0)}))) == ["now"]
    assert list(bad_times(day, Situation(60.0, {"ev1": Progress(1, 61.0)}))) == ["ev1"]
    assert not list(bad_times(day, Situation(60.0, {"ev1": Progress(1, 60.0)})))


def test_people_without_a_flow_finish_in_the_order_of_the_plan() -> None:
    steps = [
        {"who": "ev1", "at": "lock", "takes": "5 min"},
        {"who": "desk", "takes": "3 min"},
        {"who": "desk", "after": ["a/1"], "takes": "2 min"},
        {"who": "ev1", "at": "lock", "after": ["a/3"], "takes": "1 min"},
    ]
    day = make_day(world({"a": steps}, flow={"ev1": ["a"]}))
    assert day.free == {"desk"}
    late = answer(day, Situation(600.0, {"ev1": Progress(1, 600.0), "desk": Progress(1, 180.0)}))
    assert {day.steps[one].key: times for one, times in late.ahead.times.items()} == {
        "a/3": (600.0, 720.0), "a/4": (720.0, 780.0),
    }  # fmt: skip


@settings(max_examples=120, deadline=None)
@given(sorties(), st.integers(0, 10**6))
def test_what_is_advised_makes_nothing_worse(proved: SortieEvidence, seed: int) -> None:
    day = make_day(proved)
    situation = some_situation(day, random.Random(seed))
    assert contradictions(day, situation) == ()
    its, left_out = answer(day, situation), frozenset[str]()
    done = {day.steps[index].task for index in situation.done(day)}
    for one in its.omissions:
        if one.why is None:
            left_out |= {*one.tasks}
            timeline = proved.timeline_without(left_out)
            assert proved.new_fault(timeline.plan, timeline) is None
            assert done.isdisjoint(left_out)
            applied = forecast(day, situation, left_out)
            assert not worse(day, situation, its.ahead, applied)
            assert applied.finish == one.finish <= max(its.ahead.finish, day.usable)
    for due in its.due:
        assert done.isdisjoint(due.left_out)
        assert not due.left_out or proved.holds_without(due.left_out)


@settings(max_examples=80, deadline=None)
@given(sorties(), st.integers(0, 10**6))
def test_nobody_does_two_things_at_once_and_the_later_the_clock_the_later_the_end(
    proved: SortieEvidence, seed: int
) -> None:
    day = make_day(proved)
    situation = some_situation(day, random.Random(seed))
    ahead = forecast(day, situation)
    for person, flow in day.flows.items():
        row = [ahead.times[index] for index in flow if index in ahead.times]
        assert len(row) == len(flow) - situation.people[person].steps
        assert all(one[1] <= other[0] + 1e-6 for one, other in pairwise(row))
    for index, (_, end) in ahead.times.items():
        assert end >= situation.now
        for first in day.steps[index].earlier:
            assert first not in ahead.times or ahead.times[first][1] <= ahead.times[index][0] + 1e-6
    unnoted = {person: replace(one, since=None) for person, one in situation.people.items()}
    assert forecast(day, replace(situation, people=unnoted)).finish >= ahead.finish - 1e-6
    assert forecast(day, replace(situation, now=situation.now + 60)).finish >= ahead.finish - 1e-6


def test_cuts_are_possible_and_hold_the_planned_line() -> None:
    day = make_day(demo().evidence.sorties["sortie-2"])
    row = list(cuts(day))
    assert len(row) == len(set(row)) == 2215
    assert all(possible(day, cut) for cut in row)
