"""Durations and quantities: what is read, what is refused, and what is printed."""

from __future__ import annotations

import pytest

from briefgen import units
from tests.pint_units import UNITS

# The reference for factors: the general-purpose units library pint.


@pytest.mark.parametrize(
    ("words", "seconds"),
    [("90 s", 90), ("4 min", 240), ("1 h 30 min", 5400), ("1h30min", 5400), ("2 h", 7200), ("0.5 min", 30),
     ("1 h 2 min 3 s", 3723)],
)  # fmt: skip
def test_a_plain_duration_is_read_in_seconds(words: str, seconds: float) -> None:
    assert units.read_duration(words) == units.Duration(seconds, seconds, seconds)


def test_three_points_are_shortest_likely_longest() -> None:
    assert units.read_duration("3/4/7 min") == units.Duration(180, 240, 420)
    assert units.read_duration("3/4/7 min").three_points
    assert units.read_duration("3/4/7 min").times(3) == units.Duration(540, 720, 1260, draws=3)
    assert units.read_duration("3/4/7 min").times(3, together=True) == units.Duration(540, 720, 1260)


@pytest.mark.parametrize(
    ("words", "right"),
    [("1:30", "1 h 30 min"), ("1:30", "1 min 30 s"), ("15", "15 min"), ("four minutes", "4 min"), ("7/4/3 min", "rise"),
     ("", "4 min"), ("4 min 1 h", "4 min"), ("-3 min", "4 min"), ("4 m", "4 min"), ("0:05:00", "0 h 5 min")],
)  # fmt: skip
def test_what_could_be_misread_is_refused_with_the_reading_that_would_be_right(words: str, right: str) -> None:
    with pytest.raises(ValueError, match=right):
        units.read_duration(words)


@pytest.mark.parametrize(
    ("dimension", "words", "value"),
    [(units.LENGTH, "8.5 m", 8.5), (units.MASS, "250 g", 0.25), (units.TORQUE, "9 N·m", 9),
     (units.TURNS, "6.5 turns", 6.5), (units.SPEED, "9 m/min", 0.15), (units.ANGLE, "28°", 28),
     (units.ANGLE, "-12 deg", -12), (units.SHARE, "80 %", 0.8)],
)  # fmt: skip
def test_a_quantity_is_read_in_its_si_unit_and_keeps_its_words(
    dimension: units.Dimension, words: str, value: float
) -> None:
    quantity = dimension.read(words)
    assert quantity == pytest.approx(value)
    assert quantity.written == words


@pytest.mark.parametrize("words", ["8.5", "8.5 ft", "m", "", "8,5 m", "8.5 M"])
def test_a_length_without_a_known_unit_is_refused_and_the_units_are_named(words: str) -> None:
    with pytest.raises(ValueError, match=r"8\.5 m"):
        units.LENGTH.read(words)


@pytest.mark.parametrize("unit", sorted(units.SUPPLY.units))
def test_supply_factors_agree_with_a_general_units_library(unit: str) -> None:
    base = {"kg": "kg", "L": "L", "J": "J", "A·s": "A*s"}[units.SUPPLY_KINDS[unit]]
    assert units.SUPPLY.read(f"2 {unit}") == pytest.approx(UNITS.Quantity(2, unit).to(base).magnitude)


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (0, "0 s"),
        (59.6, "1 min"),
        (90, "1 min 30 s"),
        (3600, "1 h 00 min"),
        (3905, "1 h 05 min 05 s"),
        (-90, "−1 min 30 s"),
    ],
)
def test_durations_are_printed_with_their_units(seconds: float, words: str) -> None:
    assert units.show_duration(seconds) == words


def test_elapsed_time_is_printed_as_a_clock() -> None:
    assert [units.show_elapsed(seconds) for seconds in (0, 7530, 36000.4)] == ["0:00:00", "2:05:30", "10:00:00"]


@pytest.mark.parametrize(("value", "words"), [(2.0, "2"), (2.04, "2"), (2.06, "2.1"), (100.0, "100")])
def test_numbers_lose_idle_zeros(value: float, words: str) -> None:
    assert units.show_number(value) == words
