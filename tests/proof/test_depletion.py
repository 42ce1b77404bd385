"""How supplies run down, against published figures and plain arithmetic done another way."""

from __future__ import annotations

import doctest
import math
from typing import TypeAlias

import pytest
from hypothesis import given
from hypothesis import strategies as st

from briefgen.proof.resources import depletion
from briefgen.proof.resources.depletion import Effort, deplete, metabolic_work
from tests.pint_units import UNITS

HOUR, MINUTE = 3600.0, 60.0

# Source of the suit's limits: "ISS EVA Suit Water Intrusion Mishap Investigation Report", description of the
# suit (page 40 of the copy on line): 7 h at most in nominal sun and 6 h in the worst, one more hour for
# contingency; on average 1000 Btu/h for 7 h or 850 Btu/h for 8 h; at most 2000 Btu/h for 15 min and 1600
# Btu/h for 1 h at any time; 350 and 700 Btu/h at rest in the cold.


def watts(btu_per_hour: float) -> float:
    return float(UNITS.Quantity(btu_per_hour, "Btu/hour").to("watt").magnitude)


def joules(btu: float) -> float:
    return float(UNITS.Quantity(btu, "Btu").to("joule").magnitude)


def test_published_powers_are_what_pint_makes_of_them() -> None:
    powers = [metabolic_work([(HOUR, watts(rate))]) / HOUR for rate in (1000, 850, 2000, 1600, 350, 700)]
    assert [round(power, 1) for power in powers] == [293.1, 249.1, 586.1, 468.9, 102.6, 205.1]


@pytest.mark.parametrize("hours", [7, 6])
def test_an_hour_of_contingency_ends_the_work_at_the_limit_of_the_suit(hours: float) -> None:
    # 7 h in nominal sun and 6 h in the worst, with one hour more that may not be planned into.
    supply = deplete([(0, hours * HOUR, 300)], holds=hours + 1, keeps=1, per_hour=1)
    assert supply.reserve_reached == pytest.approx(hours * HOUR)
    longer = deplete([(0, (hours + 0.5) * HOUR, 300)], holds=hours + 1, keeps=1, per_hour=1)
    assert longer.reserve_reached is not None
    assert longer.reserve_reached < longer.left[-1][0]


def test_seven_hours_at_1000_and_eight_at_850_fit_one_budget_and_eight_at_1000_do_not() -> None:
    budget = joules(7000) / 1e6

    def reached(rate: float, hours: float) -> float:
        supply = deplete([(0, hours * HOUR, watts(rate))], holds=budget, keeps=0, per_megajoule=1)
        assert supply.reserve_reached is not None
        return supply.reserve_reached / HOUR

    assert reached(1000, 7) == pytest.approx(7)
    assert reached(850, 8) == pytest.approx(7000 / 850)
    assert reached(850, 8) > 8 > reached(1000, 8)


def test_a_supply_runs_down_in_straight_lines_to_its_reserve() -> None:
    efforts = [(0, 1000, 100.0), (1000, 3000, 400.0), (3000, 4000, 0.0)]
    supply = deplete(efforts, holds=2, keeps=1.3, per_hour=0.36, per_megajoule=0.5)
    assert [seconds for seconds, _ in supply.left] == [0, 1000, 3000, 4000]
    assert [amount for _, amount in supply.left] == pytest.approx([2, 1.85, 1.25, 1.15])
    assert supply.reserve_reached == pytest.approx(1000 + 0.55 / 0.0003)
    between = [supply.at(seconds) for seconds in (500, 1000, 2000, 4000)]
    assert between == pytest.approx([1.925, 1.85, 1.55, 1.15])


def test_the_reserve_is_foreseen_beyond_the_end_at_the_last_rate_or_at_a_given_one() -> None:
    efforts = [(0, 1000, 500.0), (1000, 2000, 200.0)]

    def reached(keeps: float, then_watts: float | None) -> float | None:
        return deplete(efforts, holds=2, keeps=keeps, per_megajoule=1, then_watts=then_watts).reserve_reached

    assert reached(1, None) == pytest.approx(3500)
    assert reached(1, 100) == pytest.approx(5000)
    assert reached(1, 0) is None
    assert reached(1.4, 0) == pytest.approx(1500)


def test_a_supply_that_nothing_uses_lasts_for_ever() -> None:
    supply = deplete([(0, 100, 300)], holds=5, keeps=1)
    assert supply.left == ((0, 5), (100, 5))
    assert supply.reserve_reached is None


def test_a_supply_that_begins_at_its_reserve_is_there_at_once() -> None:
    assert deplete([(60, 100, 300)], holds=1, keeps=1, per_hour=1).reserve_reached == 60
    assert deplete([(60, 100, 300)], holds=1, keeps=2, per_hour=0).reserve_reached == 60


def test_what_is_missing_in_the_end_shows_below_nothing() -> None:
    assert deplete([(0, 7200, 0)], holds=1, keeps=0, per_hour=1).left[-1][1] == pytest.approx(-1)


def test_in_a_gap_time_counts_and_work_does_not() -> None:
    efforts = [(0, 1000, 100.0), (2000, 3000, 100.0)]
    supply = deplete(efforts, holds=10, keeps=0, per_hour=3.6, per_megajoule=10)
    assert [amount for _, amount in supply.left] == pytest.approx([10, 8, 7, 5])
    assert [seconds for seconds, _ in supply.left] == [0, 1000, 2000, 3000]


def test_an_effort_that_takes_no_time_counts_for_nothing() -> None:
    efforts = [(0, 0, 900.0), (0, 1000, 100.0), (1000, 1000, 900.0)]
    supply = deplete(efforts, holds=2, keeps=1, per_megajoule=1)
    assert supply == deplete([(0, 1000, 100.0)], holds=2, keeps=1, per_megajoule=1)


def test_without_any_effort_a_supply_still_runs_by_the_hour() -> None:
    supply = deplete([], holds=3, keeps=1, per_hour=1, per_megajoule=9)
    assert supply.left == ((0, 3),)
    assert supply.reserve_reached == pytest.approx(2 * HOUR)
    assert supply.at(50) == 3


Rows: TypeAlias = list[tuple[int, int, int]]


def laid_out(rows: Rows) -> list[Effort]:
    """(gap, length, watts) rows in whole seconds, one after the other from time 0."""
    efforts: list[Effort] = []
    now = 0
    for gap, length, power in rows:
        now += gap if efforts else 0
        efforts.append((now, now + length, power))
        now += length
    return efforts


efforts_lists = st.lists(
    st.tuples(st.integers(0, 20), st.integers(1, 60), st.integers(0, 600)), min_size=1, max_size=8
).map(laid_out)


def by_second(efforts: list[Effort]) -> list[float]:
    """Watts in each whole second."""
    watts_now = [0.0] * int(efforts[-1][1])
    for start, end, power in efforts:
        watts_now[int(start) : int(end)] = [power] * int(end - start)
    return watts_now


@given(efforts_lists, st.integers(0, 5), st.integers(0, 3), st.floats(0.01, 2))
def test_depletion_agrees_with_counting_second_by_second(
    efforts: list[Effort], per_hour: int, per_megajoule: int, holds: float
) -> None:
    keeps = holds - 0.01
    supply = deplete(efforts, holds=holds, keeps=keeps, per_hour=per_hour, per_megajoule=per_megajoule)
    left, amounts = holds, [holds]
    for power in by_second(efforts):
        left -= per_hour / 3600 + per_megajoule * power / 1e6
        amounts.append(left)
    assert [supply.at(second) for second in range(len(amounts))] == pytest.approx(amounts, abs=1e-9)
    reached = supply.reserve_reached
    below = next((second for second, amount in enumerate(amounts) if amount < keeps - 1e-9), None)
    if below is None:
        assert reached is None or reached >= len(amounts) - 1 or min(amounts) <= keeps + 1e-9
    else:
        # A supply may run as slowly as 1e-6 a second, so that 1e-9 of an amount is a thousandth of a second.
        assert reached is not None
        assert below - 1.002 <= reached <= below


@given(efforts_lists)
def test_work_is_the_same_however_it_is_counted(efforts: list[Effort]) -> None:
    work = metabolic_work((end - start, power) for start, end, power in efforts)
    assert work == sum(by_second(efforts))
    used = deplete(efforts, holds=100, keeps=0, per_megajoule=1).left[-1][1]
    assert 100 - used == pytest.approx(work / 1e6)


# What is refused.
@pytest.mark.parametrize(
    "efforts",
    [
        [(0, 10, -1)],
        [(0, 10, math.nan)],
        [(0, math.inf, 1)],
        [(-5, 10, 1)],
        [(10, 5, 1)],
        [(0, 10, 1), (9, 20, 1)],
        [(10, 20, 1), (0, 5, 1)],
    ],
)
def test_efforts_that_make_no_sense_are_refused(efforts: list[Effort]) -> None:
    with pytest.raises(ValueError, match=r"not an amount|out of order"):
        deplete(efforts, holds=1, keeps=0, per_hour=1)


@pytest.mark.parametrize("name", ["holds", "keeps", "per_hour", "per_megajoule", "then_watts"])
@pytest.mark.parametrize("value", [-1.0, math.nan, math.inf])
def test_a_supply_that_makes_no_sense_is_refused(name: str, value: float) -> None:
    good = {"holds": 5.0, "keeps": 1.0, "per_hour": 1.0, "per_megajoule": 1.0, "then_watts": 100.0}
    with pytest.raises(ValueError, match="is not an amount"):
        deplete([(0, 10, 100)], **{**good, name: value})


def test_negative_work_is_refused() -> None:
    with pytest.raises(ValueError, match="is not an amount"):
        metabolic_work([(10, -5)])


def test_the_examples_in_the_docstrings_hold() -> None:
    result = doctest.testmod(depletion)
    assert result.attempted > 0
    assert result.failed == 0
