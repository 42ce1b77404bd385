"""The Beta-PERT distribution, shares of runs, and the published example of a PERT network."""

from __future__ import annotations

import math
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from briefgen.proof.chance.runs import blocks
from briefgen.proof.chance.share import Share
from briefgen.proof.chance.spread import shape, spread, sums
from briefgen.proof.chance.table import TABLE_BITS, quantiles
from briefgen.proof.schedule.network import pert_mean, schedule_network
from briefgen.units import Duration


@st.composite
def durations(draw: st.DrawFn) -> Duration:
    """Three rising points, the longest above the shortest."""
    low, more, rest = (draw(st.integers(0, 600)) for _ in range(3))
    return Duration(low, low + more, low + more + rest + (more + rest == 0))


@given(durations())
def test_moments_are_those_of_a_beta_distribution(duration: Duration) -> None:
    # Mean and variance of a beta distribution over [0, 1]: α / (α + β) and αβ / ((α + β)² (α + β + 1)), in any
    # handbook of statistics (Abramowitz and Stegun, Handbook of Mathematical Functions, 26.1.33, from memory).
    alpha, beta = shape(duration)
    wide = duration.high - duration.low
    mean = duration.low + wide * alpha / (alpha + beta)
    variance = wide**2 * alpha * beta / ((alpha + beta) ** 2 * (alpha + beta + 1))
    its = spread(duration)
    assert its.mean == pytest.approx(mean)
    assert its.deviation == pytest.approx(math.sqrt(variance))


@given(durations())
def test_the_table_of_quantiles_has_mean_and_spread_of_the_distribution(duration: Duration) -> None:
    table, its = quantiles(duration), spread(duration)
    assert len(table) == 1 << TABLE_BITS
    assert bool(np.all(np.diff(table) >= 0))
    assert duration.low <= table[0] <= table[-1] <= duration.high
    assert float(table.mean()) == pytest.approx(its.mean, abs=1e-4 * (duration.high - duration.low))
    assert float(table.std()) == pytest.approx(its.deviation, rel=1e-3)


@pytest.mark.parametrize(
    ("likely", "heaped"),
    [
        (0.0, lambda x: 1 - (1 - x) ** 5),
        (1.0, lambda x: x**5),
        (0.5, lambda x: 10 * x**3 - 15 * x**4 + 6 * x**5),
        (0.25, lambda x: 1 - (1 - x) ** 5 - 5 * x * (1 - x) ** 4),
    ],
)
def test_quantiles_where_the_distribution_function_is_a_polynomial(likely: float, heaped: object) -> None:
    # Whole shape parameters: the regularised incomplete beta function is then a sum of binomial terms
    # (Abramowitz and Stegun, 26.5.24, from memory), written out here.
    table = quantiles(Duration(0.0, likely, 1.0))
    size = len(table)
    wanted = (np.arange(size) + 0.5) / size
    assert heaped(table) == pytest.approx(wanted, abs=2e-5)  # type: ignore[operator]


def test_a_fixed_duration_has_no_spread() -> None:
    assert spread(Duration(240, 240, 240)).deviation == 0
    assert set(quantiles(Duration(240, 240, 240))) == {240}


def test_spreads_of_a_sum_add_up_as_variances() -> None:
    # 3-4-5: the sum of two independent deviations of 3 and 4 is 5.
    one, other = spread(Duration(0, 0, 0)), spread(Duration(0, 30, 60))
    both = sums(other, other, one)
    assert (both.mean, both.deviation) == (pytest.approx(60), pytest.approx(other.deviation * math.sqrt(2)))


@given(st.integers(1, 5000), st.data())
def test_bounds_solve_the_equation_of_the_score_interval(runs: int, data: st.DataObject) -> None:
    # Wilson 1927: the bounds are the p for which the observed share is 1.96 standard errors away.
    share = Share(data.draw(st.integers(0, runs)), runs)
    for bound in share.bounds:
        assert (share.value - bound) ** 2 == pytest.approx(3.841458820694124 * bound * (1 - bound) / runs, abs=1e-9)
    low, high = share.bounds
    assert low - 1e-12 <= share.value <= high + 1e-12


def test_a_chance_is_not_said_more_exactly_than_the_runs_allow() -> None:
    assert Share(4850, 5000).words == "97.0 % (±0.5 %)"
    assert Share(2300, 5000).words == "46 % (±2 %)"
    assert Share(5000, 5000).words == "over 99.9 %"
    assert Share(0, 5000).words == "under 0.1 %"
    assert Share(3, 4).words == "75 % (±33 %)"


# The case “Reliable Construction Co.” in F. S. Hillier and G. J. Lieberman, Introduction to Operations Research, the
# chapter on project management with PERT/CPM: three points in weeks and predecessors, from memory.
CASE = {
    "A": (1, 2, 3, ""), "B": (2, 3.5, 8, "A"), "C": (6, 9, 18, "B"), "D": (4, 5.5, 10, "C"), "E": (1, 4.5, 5, "C"),
    "F": (4, 4, 10, "E"), "G": (5, 6.5, 11, "D"), "H": (5, 8, 17, "EG"), "I": (3, 7.5, 9, "C"), "J": (3, 9, 9, "FI"),
    "K": (4, 4, 4, "J"), "L": (1, 5.5, 7, "J"), "M": (1, 2, 3, "H"), "N": (5, 5.5, 9, "KL"),
}  # fmt: skip
PATH = "ABCEFJLN"


def test_the_published_network_has_its_published_mean_variance_and_chance() -> None:
    # Published: the mean critical path ABCEFJLN takes 44 weeks with a variance of 9, so P(T <= 47) = 0.84.
    means = {name: pert_mean(*row[:3]) for name, row in CASE.items()}
    edges = [(before, name, 0.0) for name, row in CASE.items() for before in row[3]]
    plan = schedule_network(means, edges)
    variance = sum(((CASE[name][2] - CASE[name][0]) / 6) ** 2 for name in PATH)
    assert ("".join(plan.chain), plan.finish, variance) == (PATH, pytest.approx(44), pytest.approx(9))
    assert NormalDist(44, variance**0.5).cdf(47) == pytest.approx(0.84, abs=0.005)


def test_runs_of_its_critical_path_alone_have_that_mean_and_nearly_that_chance() -> None:
    # The sum of eight beta distributions is nearly normal; their own variances add up to a little more than 9.
    spans = {name: Duration(*CASE[name][:3]) for name in PATH}
    chain = [(number, number + 1, 0.0) for number in range(len(PATH) - 1)]
    finish = np.concatenate([block.finish for block in blocks(spans, chain, 40_000, seed=7, backwards=False)])
    whole = sums(*map(spread, spans.values()))
    assert whole.mean == pytest.approx(44)
    assert 9 < whole.deviation**2 < 9.5
    assert float(finish.mean()) == pytest.approx(44, abs=0.06)
    assert float(finish.std()) == pytest.approx(whole.deviation, rel=0.02)
    assert float((finish <= 47).mean()) == pytest.approx(NormalDist(44, whole.deviation).cdf(47), abs=0.015)


def test_runs_of_the_whole_network_are_later_than_its_critical_path_alone() -> None:
    # What the book warns of: other paths can be late as well, so one path's chance is too hopeful.
    spans = {name: Duration(*row[:3]) for name, row in CASE.items()}
    numbers = {name: number for number, name in enumerate(CASE)}
    edges = [(numbers[before], numbers[name], 0.0) for name, row in CASE.items() for before in row[3]]
    runs = list(blocks(spans, edges, 40_000, seed=7))
    finish = np.concatenate([block.finish for block in runs])
    alone = sums(*(spread(spans[name]) for name in PATH))
    assert float(finish.mean()) > 44.2
    assert float((finish <= 47).mean()) < NormalDist(44, alone.deviation).cdf(47)
    often = {name: sum(block.critical[numbers[name]] for block in runs) / 40_000 for name in CASE}
    assert often["A"] == often["B"] == often["C"] == 1
    assert often["N"] + often["M"] == pytest.approx(1, abs=1e-3)
