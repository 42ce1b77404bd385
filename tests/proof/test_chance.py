"""Runs of a plan: each one against the critical path method, and the chances against what follows from it."""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefgen.proof.chance import runs
from briefgen.proof.chance.outcome import Chance
from briefgen.proof.chance.runs import Dice, blocks
from briefgen.proof.chance.share import RUNS, SEED
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.schedule.gates import Gate
from briefgen.proof.schedule.network import schedule_network
from briefgen.proof.schedule.timeline import network_of
from briefgen.units import Duration
from tests.demo import demo
from tests.proof.deciding_world import sortie_of, sorties
from tests.travel_world import world


@settings(max_examples=40, deadline=None)
@given(sorties())
def test_every_run_is_what_the_critical_path_method_says_of_its_durations(proved: SortieEvidence) -> None:
    plan = proved.plan
    likely, edges = network_of(plan, proved.evidence.routes)
    spans = {step.key: step.duration for step in plan.steps}
    (block,) = blocks(spans, edges, 8, SEED)
    drawn = Dice(spans, SEED).throw(8)
    counted = [0] * len(plan.steps)
    for run in range(8):
        schedule = schedule_network({**likely, **dict(enumerate(drawn[:, run].tolist()))}, edges)
        assert block.finish[run] == pytest.approx(schedule.finish)
        for step in plan.steps:
            assert block.starts[step.index, run] == pytest.approx(schedule.times[step.index].earliest_start)
            counted[step.index] += step.index in schedule.critical
    assert list(block.critical) == counted


@st.composite
def gates(draw: st.DrawFn) -> Gate:
    """A gate that opens at a moment, or at some of the first ten hours' minutes."""
    if draw(st.booleans()):
        return Gate(60.0 * draw(st.integers(1, 200)))
    minutes = draw(st.lists(st.integers(0, 600), min_size=1, max_size=6, unique=True))
    return Gate(0.0, "sunrise", tuple(60.0 * one for one in sorted(minutes)), 36_000.0)


@settings(max_examples=40, deadline=None)
@given(sorties(), st.data())
def test_every_run_waits_for_the_clock_as_the_critical_path_method_does(
    proved: SortieEvidence, data: st.DataObject
) -> None:
    plan = proved.plan
    likely, edges = network_of(plan, proved.evidence.routes)
    spans = {step.key: step.duration for step in plan.steps}
    shut = data.draw(st.dictionaries(st.sampled_from(range(len(plan.steps))), gates(), min_size=1, max_size=3))
    (block,) = blocks(spans, edges, 8, SEED, gates=shut)
    drawn = Dice(spans, SEED).throw(8)
    for run in range(8):
        schedule = schedule_network({**likely, **dict(enumerate(drawn[:, run].tolist()))}, edges, None, shut)
        assert block.finish[run] == pytest.approx(schedule.finish)
        for step in plan.steps:
            assert block.starts[step.index, run] == pytest.approx(schedule.times[step.index].earliest_start)


@settings(max_examples=40, deadline=None)
@given(sorties())
def test_durations_lie_within_their_points(proved: SortieEvidence) -> None:
    spans = {step.key: step.duration for step in proved.plan.steps}
    drawn = Dice(spans, SEED).throw(400)
    for row, span in zip(drawn, spans.values(), strict=True):
        assert span.low <= row.min() <= row.max() <= span.high
        assert (row.min() < row.max()) == span.three_points


def test_the_size_of_blocks_changes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    proved = demo().evidence.sorties["sortie-2"]
    spans = {step.key: step.duration for step in proved.plan.steps}
    edges = network_of(proved.plan, proved.evidence.routes)[1]
    once = [np.concatenate([one.finish for one in blocks(spans, edges, 1000, SEED)])]
    monkeypatch.setattr(runs, "_BLOCK", 96)
    once.append(np.concatenate([one.finish for one in blocks(spans, edges, 1000, SEED)]))
    assert once[0].tolist() == once[1].tolist()


def test_another_duration_leaves_the_luck_of_all_other_steps_as_it_was() -> None:
    spans = {"a": Duration(60, 120, 300), "b": Duration(10, 20, 90)}
    before, after = Dice(spans, SEED).throw(40), Dice({**spans, "c": Duration(1, 2, 9), "a": Duration(5, 6, 7)}, SEED)
    drawn = after.throw(40)
    assert drawn[1].tolist() == before[1].tolist()
    assert drawn[0].tolist() != before[0].tolist()
    assert Dice(spans, SEED + 1).throw(40)[1].tolist() != before[1].tolist()


def test_random_bits_are_those_that_every_version_of_the_generator_gives() -> None:
    # A draw of 16 bits picks one of 1024 equally likely durations: four that were seen once, so that a change of the
    # generator or of its seeding is noticed. No source: this keeps the figures of two machines the same.
    spans = {"a": Duration(0, 50, 100)}
    table = runs.quantiles(spans["a"]).tolist()
    drawn = Dice(spans, 1959).throw(4)[0].tolist()
    assert [table.index(value) for value in drawn] == [256, 914, 394, 688]


def test_one_step_alone_ends_by_its_middle_in_half_of_the_runs() -> None:
    # A symmetric distribution: the median is the middle. 1.96 standard errors of 5000 runs are 1.4 %; 3 of them, 2.1 %.
    proved = sortie_of({"t": ("required", [{"who": "ev1", "at": "lock", "takes": "10/20/30 min"}])}, length="20 min")
    chance = proved.chance
    assert chance.finish.within(1200).value == pytest.approx(0.5, abs=0.021)
    assert chance.finish.within(1800).hits == RUNS
    assert chance.finish.within(599).hits == 0
    assert chance.critical[0].value == 1
    assert chance.finish.by(0.5) == pytest.approx(1200, abs=8)


def test_items_have_their_own_luck_unless_all_are_slow_together() -> None:
    """The central limit: sixteen independent items spread a quarter as wide as sixteen that are slow together."""
    equipment = {"latches": {"place": "k1", "states": ["dry", "wet"], "starts": "dry", "ends": "any",
                             "parts": {"latch": list(range(16))}}}  # fmt: skip
    step = {"who": "ev1", "at": "lock", "takes": "2/4/12 min", "each": "latches"}
    alone, together = (
        world({"a": [{**step, **more}]}, equipment=equipment).chance.finish for more in ({}, {"rushed": "together"})
    )
    # PERT (Malcolm and others 1959): mean (2 + 4 · 4 + 12) / 6 = 5 min, variance (5 − 2) (12 − 5) / 7 = 3 min².
    mean, deviation = 16 * 300, 60 * 3**0.5
    assert alone.spread.mean == pytest.approx(mean, rel=0.01)
    assert together.spread.mean == pytest.approx(mean, rel=0.02)
    assert alone.spread.deviation == pytest.approx(4 * deviation, rel=0.05)
    assert together.spread.deviation == pytest.approx(16 * deviation, rel=0.05)


def test_two_equal_lanes_are_both_in_time_as_often_as_independent_lanes_are() -> None:
    # Independence: the chance of both is the product, the square of one alone.
    lane = {"at": "lock", "takes": "10/20/30 min"}
    both = {"a": ("required", [{"who": "ev1", **lane}]), "b": ("required", [{"who": "ev2", **lane}])}
    one, two = sortie_of({"a": both["a"]}).chance, sortie_of(both).chance
    for limit in (1080, 1200, 1400):
        assert two.finish.within(limit).value == pytest.approx(one.finish.within(limit).value ** 2, abs=0.025)
    assert sum(share.value for share in two.critical) == pytest.approx(1, abs=0.01)


def test_an_optional_task_is_reached_as_often_as_what_is_before_it_ends_in_time() -> None:
    before = {"who": "ev1", "at": "lock", "takes": "10/20/30 min"}
    proved = sortie_of(
        {"a": ("required", [before]), "b": ("time-permitting", [{"who": "ev1", "at": "lock", "takes": "10 min"}])},
        length="32 min",
    )
    # It must begin by 22 min, which is when the first may end at the latest.
    alone = sortie_of({"a": ("required", [before])}).chance
    reached = proved.chance.tasks["b"].reached
    assert reached is not None
    assert reached.hits == alone.finish.within(22 * 60).hits
    assert proved.chance.tasks["a"].reached is None
    assert proved.chance.bare is not None
    assert proved.chance.bare.seconds == alone.finish.seconds


def test_without_three_points_every_run_is_the_plan() -> None:
    proved = sortie_of({"a": ("required", [{"who": "ev1", "at": "k2", "takes": "5 min"}])})
    assert not proved.chance.varies
    assert set(proved.chance.finish.seconds) == {proved.timeline.finish}
    assert proved.chance.finish.spread.deviation == 0


@pytest.mark.parametrize("name", ["sortie-1", "sortie-2"])
def test_the_demo_is_later_on_average_than_planned_because_estimates_lean_late(name: str) -> None:
    proved = demo().evidence.sorties[name]
    chance: Chance = proved.chance
    means = {step.index: mean_of(step.duration) for step in proved.plan.steps}
    likely, edges = network_of(proved.plan, proved.evidence.routes)
    # By Jensen's inequality the mean finish is no earlier than the finish with mean durations.
    least = schedule_network({**likely, **means}, edges).finish
    assert least - 15 <= chance.finish.spread.mean <= least + 3 * chance.finish.spread.deviation
    assert chance.finish.within(chance.length).hits >= chance.finish.within(chance.usable).hits
    assert list(chance.finish.seconds) == sorted(chance.finish.seconds)
    assert len(chance.critical) == len(proved.plan.steps)


def mean_of(span: Duration) -> float:
    """(a + 4 m + b) / 6."""
    return (span.low + 4 * span.likely + span.high) / 6


def test_a_check_does_not_wait_for_numpy() -> None:
    # Its import takes longer than the demo's proof; only what asks for chances pays for it.
    program = "import sys, briefgen.cli; sys.exit('numpy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0
