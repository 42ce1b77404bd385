"""Supplies over a whole plan: against published suit figures, and against counting second by second."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings

from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.moving.whereabouts import Doing
from briefgen.proof.resources.supplies import SupplyRun
from briefgen.units import SUPPLY
from tests.pint_units import UNITS
from tests.travel_world import EFFORTS, journeys, world

HOUR = 3600.0


def watts(btu_per_hour: float) -> str:
    return f"{UNITS.Quantity(btu_per_hour, 'Btu/hour').to('watt').magnitude:.6f} W"


def megajoules(btu: float) -> float:
    return float(UNITS.Quantity(btu, "Btu").to("megajoule").magnitude)


def at_work(hours: float, rate: str, supplies: dict[str, Any], **more: Any) -> SortieEvidence:
    """One person who works for so long at one rate, at the lock."""
    programme = {
        "p": {
            "title": "P",
            "sorties": ["s"],
            "paces": {"outside": "6 m/min", "loaded": "3 m/min"},
            "effort": {**EFFORTS, "hard": rate},
        }
    }
    step = {"who": "ev1", "at": "lock", "takes": f"{hours * 60:g} min", "effort": "hard"}
    return world({"t": [step]}, programme=programme, suits={"suit": {"supplies": supplies}}, **more)


def runs(proved: SortieEvidence, person: str = "ev1") -> dict[str, SupplyRun]:
    return {run.name: run for run in proved.supplies.runs[person]}


# Source of the budget: "ISS EVA Suit Water Intrusion Mishap Investigation Report", description of the suit (page 40 of
# the copy on line): on average 1000 Btu/h for 7 h or 850 Btu/h for 8 h. Btu by pint.
BUDGET = {"work": {"holds": f"{megajoules(7000):.6f} MJ", "keeps": "0 MJ", "per_megajoule": "1 MJ"}}


@pytest.mark.parametrize(
    ("hours", "rate", "fits"), [(7, 1000, True), (8, 850, True), (8, 1000, False), (7.1, 1000, False)]
)
def test_a_published_budget_fits_seven_hours_at_1000_and_eight_at_850(hours: float, rate: float, fits: bool) -> None:
    proved = at_work(hours, watts(rate), BUDGET)
    assert runs(proved)["work"].short is not fits


def test_a_budget_is_used_up_at_seven_hours_of_1000() -> None:
    run = runs(at_work(8, watts(1000), BUDGET))["work"]
    assert run.reserve_reached == pytest.approx(7 * HOUR, rel=1e-5)
    assert run.left / 1e6 == pytest.approx(-megajoules(1000), rel=1e-4)


def test_a_published_battery_lasts_seven_hours_at_its_published_current() -> None:
    # SAE paper 1999-01-1998, abstract: at least 7 h at 3.8 A; times each other 26.6 Ah.
    run = runs(at_work(7, "300 W", {"battery": {"holds": "26.6 Ah", "keeps": "0 Ah", "per_hour": "3.8 Ah"}}))["battery"]
    assert not run.short
    assert run.left == pytest.approx(0, abs=1e-6)
    assert run.reserve_reached == pytest.approx(7 * HOUR)


def test_gases_of_a_full_sortie_come_out_as_the_published_crew_day_says() -> None:
    # A crew-day of 11.82 MJ uses 0.835 kg of oxygen and gives 0.998 kg of carbon dioxide: Advanced Life Support
    # Baseline Values and Assumptions Document (2004), read in a reference page that quotes its table. So 7000 Btu of
    # work come to 0.522 and 0.624 kg.
    supplies = {
        "oxygen": {"holds": "1 kg", "keeps": "0 kg", "per_megajoule": f"{0.835 / 11.82:.6f} kg"},
        "absorber": {"holds": "1 kg", "keeps": "0 kg", "per_megajoule": f"{0.998 / 11.82:.6f} kg"},
    }
    found = runs(at_work(7, watts(1000), supplies))
    assert found["oxygen"].used == pytest.approx(0.522, rel=0.002)
    assert found["absorber"].used == pytest.approx(0.624, rel=0.002)


def test_ways_cost_moderate_effort_and_waits_and_the_rest_of_the_sortie_cost_rest() -> None:
    proved = world(
        {
            "one": [{"id": "turn", "who": "ev1", "at": "k1", "takes": "10 min", "effort": "hard"}],
            "two": [{"who": "ev2", "at": "k1", "takes": "1 min", "after": ["one/turn"]}, {"who": "ev1", "at": "lock"}],
        }
    )
    told = [(one.stay.doing, one.effort, one.watts, one.stay.seconds) for one in proved.supplies.exertions["ev2"]]
    assert told == [
        (Doing.WAY, "moderate", 320, 60),
        (Doing.WAIT, "rest", 120, 600),
        (Doing.STEP, "light", 220, 60),
        (Doing.DONE, "rest", 120, 60),
    ]
    assert proved.supplies.exertions["ev1"][1].watts == 450


@settings(max_examples=60, deadline=None)
@given(journeys())
def test_amounts_agree_with_counting_second_by_second(proved: SortieEvidence) -> None:
    for person, row in proved.supplies.exertions.items():
        if not row:
            continue
        run = runs(proved, person)["oxygen"]
        counted = sum(
            0.07 * one.watts / 1e6 * min(1.0, one.stay.end - (one.stay.start + second))
            for one in row
            for second in range(int(one.stay.seconds) + 1)
            if one.stay.end > one.stay.start + second
        )
        assert run.used == pytest.approx(counted, rel=1e-6, abs=1e-9)
        work = proved.supplies.work(person)
        assert run.left == pytest.approx(2 - 0.07 * work / 1e6)
        amounts = [amount for _, amount in run.run.left]
        assert amounts == sorted(amounts, reverse=True)


def test_the_supply_that_reaches_its_reserve_first_ends_the_sortie() -> None:
    supplies = {
        "oxygen": {"holds": "2 kg", "keeps": "1 kg", "per_hour": "0.5 kg"},
        "battery": {"holds": "20 Ah", "keeps": "2 Ah", "per_hour": "10 Ah"},
        "coolant": {"holds": "1 L", "keeps": "0 L", "per_hour": "0 L"},
    }
    proved = at_work(1, "300 W", supplies)
    first = proved.supplies.first("ev1")
    assert first is not None
    assert first.name == "battery"
    assert first.reserve_reached == pytest.approx(1.8 * HOUR)
    assert proved.supplies.ends is first
    assert runs(proved)["coolant"].reserve_reached is None


@pytest.mark.parametrize(("keeps", "short"), [("17 Ah", False), ("17.001 Ah", True)])
def test_a_supply_runs_short_when_the_plan_goes_below_the_reserve(keeps: str, short: bool) -> None:
    run = runs(at_work(1, "300 W", {"battery": {"holds": "20 Ah", "keeps": keeps, "per_hour": "3 Ah"}}))["battery"]
    assert run.short is short


def test_beyond_the_end_use_goes_on_at_the_mean_rate() -> None:
    proved = world(
        {"t": [{"who": "ev1", "at": "lock", "takes": "10 min", "effort": "rest"}, {"who": "ev1", "at": "k1"}]}
    )
    run = runs(proved)["oxygen"]
    mean = proved.supplies.work("ev1") / proved.timeline.finish
    assert run.reserve_reached == pytest.approx((1.8 / 0.07 * 1e6) / mean)


def test_amounts_are_kept_in_si_units_and_lead_back_to_the_authors() -> None:
    run = runs(at_work(1, "300 W", {"battery": {"holds": "20 Ah", "keeps": "2 Ah", "per_hour": "3 Ah"}}))["battery"]
    assert run.unit == "Ah"
    assert run.left / run.factor == pytest.approx(17)


@pytest.mark.parametrize("unit", SUPPLY.units)
def test_every_unit_of_a_supply_is_what_pint_makes_of_it(unit: str) -> None:
    si = {"kg": "kg", "g": "kg", "L": "L", "mL": "L", "Ah": "A*s"}.get(unit, "J")
    name = {"Wh": "W*h", "kWh": "kW*h", "Ah": "A*h"}.get(unit, unit)
    assert SUPPLY.units[unit] == pytest.approx(UNITS.Quantity(1, name).to(si).magnitude)


def test_without_rates_what_is_used_per_hour_still_counts() -> None:
    programme = {"p": {"title": "P", "sorties": ["s"], "paces": {"outside": "6 m/min", "loaded": "3 m/min"}}}
    supplies = {
        "oxygen": {"holds": "2 kg", "keeps": "1 kg", "per_megajoule": "0.07 kg"},
        "battery": {"holds": "20 Ah", "keeps": "2 Ah", "per_hour": "3 Ah"},
    }
    step = {"who": "ev1", "at": "lock", "takes": "1 h"}
    proved = world({"t": [step]}, programme=programme, suits={"suit": {"supplies": supplies}})
    assert not proved.supplies.rates
    assert runs(proved)["battery"].left / 3600 == pytest.approx(17)
    assert runs(proved)["oxygen"].used == 0


def test_a_person_without_a_suit_and_a_supply_below_nothing_have_no_run() -> None:
    people = {"ev1": {"label": "EV1", "post": "outside"}, "ev2": {"label": "EV2", "post": "outside", "suit": "suit"}}
    supplies = {"oxygen": {"holds": "2 kg", "keeps": "-1 kg", "per_hour": "1 kg"}}
    proved = world(
        {"t": [{"who": "ev1", "at": "lock"}, {"who": "ev2", "at": "lock"}]},
        people=people,
        suits={"suit": {"supplies": supplies}},
    )
    assert proved.supplies.runs == {"ev1": (), "ev2": ()}
    assert proved.supplies.ends is None
