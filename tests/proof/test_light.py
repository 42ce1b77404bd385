"""Steps that need light: shifts against trying every second, nights against published minutes."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.resources.light import LightSource
from tests.travel_world import world


def photograph(start: int, takes: int, **sortie: Any) -> SortieEvidence:
    """One step that needs light, `start` seconds after the sortie begins."""
    steps: list[dict[str, Any]] = [
        {"who": "ev1", "at": "lock", "takes": f"{start} s"},
        {"id": "photo", "who": "ev1", "at": "lock", "takes": f"{takes} s", "needs_light": True},
    ]
    return world({"t": steps}, sortie=sortie)


def listed(days: list[tuple[int, int]]) -> list[list[str]]:
    return [[f"{first} s", f"{last} s"] for first, last in days]


@st.composite
def days(draw: st.DrawFn) -> list[tuple[int, int]]:
    cuts = draw(st.lists(st.integers(0, 900), min_size=2, max_size=8, unique=True).map(sorted))
    return [(cuts[k], cuts[k + 1]) for k in range(0, len(cuts) - 1, 2)]


@settings(max_examples=200, deadline=None)
@given(days(), st.integers(0, 1000), st.integers(1, 200))
def test_the_shortest_shift_is_that_of_trying_all(light: list[tuple[int, int]], start: int, takes: int) -> None:
    (need,) = photograph(start, takes, light=listed(light)).light.needs
    dark = sum(not any(dawn <= second < dusk for dawn, dusk in light) for second in range(start, start + takes))
    assert need.seconds_dark == pytest.approx(dark)

    def lit(shift: int) -> bool:
        return any(dawn <= start + shift and start + shift + takes <= dusk for dawn, dusk in light)

    later = next((shift for shift in range(1100) if lit(shift)), None)
    earlier = next((shift for shift in range(start + 1) if lit(-shift)), None)
    assert need.later == (None if later is None else pytest.approx(later))
    assert need.earlier == (None if earlier is None else pytest.approx(earlier))
    if not dark:
        sunset = min(dusk for _, dusk in light if dusk >= start + takes)
        assert need.spare == pytest.approx(sunset - start - takes)


# A night of 36.108 min in a turn of 92.560 min at 400 km and beta 0: computed with the closed form by a script of its
# own; the longest night of 36.11 min at 400 km also stands in an answer on eclipses (space.stackexchange, 30311).
TURN, NIGHT = 92.560 * 60, 36.108 * 60
ORBIT = {"altitude": "400 km", "beta": "0°", "first_sunset": "20 min"}


def test_nights_come_from_the_orbit() -> None:
    light = photograph(0, 60, orbit=ORBIT).light
    assert light.source is LightSource.ORBIT
    assert light.length == 8 * 3600
    first, second = [night for night in light.nights if night[0] > 0][:2]
    assert first == pytest.approx((1200, 1200 + NIGHT), abs=0.1)
    assert second[0] == pytest.approx(1200 + TURN, abs=0.1)
    assert sum(b - a for a, b in light.nights) + sum(b - a for a, b in light.days) == pytest.approx(light.length)


def test_a_step_that_runs_into_the_night_is_told_what_would_help() -> None:
    (need,) = photograph(1000, 600, orbit=ORBIT).light.in_the_dark
    assert need.dark == ((1200, 1600),)
    assert need.earlier == pytest.approx(400)
    assert need.later == pytest.approx(200 + NIGHT, abs=0.1)


def test_a_shift_may_lead_beyond_the_planned_hours() -> None:
    proved = photograph(1300, 60, orbit=ORBIT)
    assert proved.light.needs[0].later == pytest.approx(NIGHT - 100, abs=0.1)
    late = photograph(8 * 3600 - 30, 60, orbit={**ORBIT, "first_sunset": f"{(8 * 3600 - 60) % TURN:.1f} s"})
    assert late.light.in_the_dark[0].later == pytest.approx(NIGHT - 30, abs=2)


def test_in_continuous_sun_no_night_comes() -> None:
    light = photograph(0, 60, orbit={**ORBIT, "beta": "75°"}).light
    assert light.nights == ()
    assert light.needs[0].spare is None
    assert light.in_the_dark == ()


def test_no_day_is_long_enough_for_a_step_longer_than_any() -> None:
    (need,) = photograph(0, 3600 + 200, orbit=ORBIT).light.in_the_dark
    assert (need.later, need.earlier) == (None, None)


def test_listed_times_count_before_the_orbit() -> None:
    light = photograph(0, 60, orbit=ORBIT, light=listed([(0, 300)])).light
    assert light.source is LightSource.LISTED
    assert light.nights == ((300, 8 * 3600),)


@pytest.mark.parametrize("hours", [8, 9])
def test_the_last_listed_sunset_counts_even_if_the_sortie_is_over_then(hours: int) -> None:
    light = photograph(0, 60, light=listed([(0, hours * 3600)])).light
    assert light.nights == ()
    assert light.needs[0].spare == hours * 3600 - 60


def test_without_a_source_nothing_is_known() -> None:
    light = photograph(0, 60).light
    assert light.source is LightSource.UNKNOWN
    assert not light.known
    assert (light.nights, light.days, light.needs) == ((), (), ())


@pytest.mark.parametrize(
    "sortie",
    [
        {"orbit": {**ORBIT, "beta": "91°"}},
        {"orbit": {**ORBIT, "altitude": "-5 km"}},
        {"light": listed([(0, 300), (200, 500)])},
        {"light": listed([(300, 300)])},
    ],
)
def test_a_source_that_makes_no_sense_is_told_and_nothing_is_computed(sortie: dict[str, Any]) -> None:
    light = photograph(0, 60, **sortie).light
    assert light.trouble
    assert not light.known
    assert light.in_the_dark == ()


def test_only_steps_that_need_light_are_looked_at() -> None:
    proved = photograph(60, 60, light=listed([(500, 900)]))
    assert [need.times.step.key for need in proved.light.needs] == ["t/photo"]
