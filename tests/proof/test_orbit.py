"""Day and night against worked examples, an ephemeris, and what must be so."""

from __future__ import annotations

import contextlib
import doctest
import itertools
import math
import warnings
from collections.abc import Iterator
from typing import Any, TypeAlias

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given
from hypothesis import strategies as st
from skyfield.api import load, load_file
from skyfield.positionlib import Geocentric
from skyfield.units import Distance
from skyfield_data import get_skyfield_data_path

from briefgen.proof.resources import orbit
from briefgen.proof.resources.orbit import (
    EARTH,
    Planet,
    days_between,
    eclipse_duration,
    eclipse_limit,
    nights_from_light,
    nights_from_orbit,
    period,
)

MINUTE = 60.0
CLASS_NOTES_EARTH = Planet(radius=6_378e3, mu=3.986e14)
ANSWER_EARTH = Planet(radius=6_378_137.0, mu=3.986e14)


def test_worked_example_is_reproduced_to_every_printed_digit() -> None:
    # Source: satellite class notes, "Satellite Shadow Region Problem": h = 10,000 km, R = 6378 km.
    altitude = 10_000e3
    assert round(eclipse_limit(altitude, CLASS_NOTES_EARTH), 2) == 22.92
    assert round(period(altitude, CLASS_NOTES_EARTH)) == 20_859
    longest = eclipse_duration(altitude, 0, CLASS_NOTES_EARTH)
    assert round(longest) == 2_656
    assert round(longest / MINUTE, 2) == 44.27


# Source: answer to space.stackexchange question 30311 (R = 6378.137 km, mu = 3.986e14), as kept in a text
# copy. It prints 42.24 for 42.245: cut off rather than rounded, hence 0.006.
@pytest.mark.parametrize(("kilometres", "minutes"), [(0, 42.24), (200, 37.28), (400, 36.11), (1370, 34.82)])
def test_longest_night_by_altitude_is_as_published(kilometres: float, minutes: float) -> None:
    assert eclipse_duration(kilometres * 1e3, 0, ANSWER_EARTH) / MINUTE == pytest.approx(minutes, abs=0.006)


def test_the_shortest_of_the_longest_nights_is_near_1370_km() -> None:
    # Same source: the night is shortest near 1370 km, not at the lowest orbit.
    nights = {h: eclipse_duration(h * 1e3, 0, ANSWER_EARTH) for h in range(5001)}
    lowest = min(nights, key=nights.__getitem__)
    assert abs(lowest - 1370) <= 5
    falling, rising = range(lowest), range(lowest, 5000)
    assert all(nights[h] > nights[h + 1] for h in falling)
    assert all(nights[h] < nights[h + 1] for h in rising)


# The values of the next three tests are not published: an independent script computed them from the same
# closed form. They guard against change. The "92.6 and 36 min" of textbooks for 400 km agree.
def test_orbit_at_400_km_keeps_its_computed_values() -> None:
    turn, night = period(400e3), eclipse_duration(400e3, 0)
    assert (turn / MINUTE, night / MINUTE, (turn - night) / MINUTE) == pytest.approx(
        (92.560, 36.108, 56.453), abs=0.001
    )
    assert eclipse_limit(400e3) == pytest.approx(70.218, abs=0.001)
    assert 1 - night / turn == pytest.approx(0.6099, abs=0.0001)


@pytest.mark.parametrize(
    ("kilometres", "minutes"),
    [
        (200, 88.494),
        (300, 90.520),
        (350, 91.538),
        (408, 92.724),
        (420, 92.970),
        (500, 94.616),
        (800, 100.874),
        (35_786, 1436.067),
    ],
)
def test_periods_keep_their_computed_values(kilometres: float, minutes: float) -> None:
    assert period(kilometres * 1e3) / MINUTE == pytest.approx(minutes, abs=0.001)


@pytest.mark.parametrize(
    ("beta", "minutes"),
    [
        (0, 36.108),
        (10, 35.944),
        (20, 35.425),
        (30, 34.451),
        (40, 32.798),
        (50, 29.943),
        (60, 24.374),
        (65, 18.919),
        (69, 9.871),
        (70, 4.265),
        (70.2, 1.229),
        (75, 0),
    ],
)
def test_nights_at_400_km_by_beta_keep_their_computed_values(beta: float, minutes: float) -> None:
    assert eclipse_duration(400e3, beta) / MINUTE == pytest.approx(minutes, abs=0.001)
    assert eclipse_duration(400e3, -beta) == eclipse_duration(400e3, beta)


def test_geostationary_orbit_turns_with_the_stars() -> None:
    # Source of 86,164.09 s: mean sidereal day, IERS (from memory, high confidence). Night 69.4 min and limit
    # 8.7 degrees: common textbook values, from memory.
    altitude = 35_786e3
    assert period(altitude) == pytest.approx(86_164.09, abs=0.5)
    assert eclipse_duration(altitude, 0) / MINUTE == pytest.approx(69.4, abs=0.05)
    assert eclipse_limit(altitude) == pytest.approx(8.7, abs=0.05)


def test_from_the_limit_on_the_sun_does_not_set() -> None:
    limit = eclipse_limit(400e3)
    for altitude in range(100_000, 400_000, 1000):  # rounding lifts the ratio over 1 for some, such as 103 km
        assert 0 <= eclipse_duration(altitude, math.nextafter(eclipse_limit(altitude), 0)) < 1
    assert [eclipse_duration(400e3, beta) for beta in (limit, -limit, 90, -90)] == [0, 0, 0, 0]
    assert [eclipse_duration(0, beta) for beta in (90, -90)] == [0, 0]
    assert nights_from_orbit(400e3, limit, 600, 7 * 3600) == ()
    assert days_between((), 7 * 3600) == ((0, 7 * 3600),)


# The ephemeris. Skyfield knows the real Sun and asks for each second whether a satellite sees it past a
# sphere; it too leaves out penumbra and refraction. The orbits are ideal circles fixed in space, so that what
# differs is the closed form and its fixed beta angle.
Vector: TypeAlias = npt.NDArray[np.float64]
Plane: TypeAlias = tuple[Vector, Vector]

ORBITS = [
    (inclination, altitude, date)
    for (inclination, altitude), date in zip(
        itertools.product((0.0, 28.5, 51.6, 71.0, 98.6), (300e3, 420e3, 800e3)),
        itertools.product((2001, 2009, 2017, 2025, 2033), (1, 5, 9)),
        strict=True,
    )
]


class Sky:
    """What Skyfield says about the Sun, in seconds from the noon of a given day."""

    def __init__(self, ephemeris: Any, year: int, month: int) -> None:
        self.ephemeris, self.date = ephemeris, (year, month, 11, 12, 0)
        self.timescale = load.timescale(builtin=True)

    def beta(self, plane: Plane, second: float) -> float:
        """The Sun's angle over the plane in degrees."""
        time = self.timescale.tt(*self.date, second)
        sun = (self.ephemeris["sun"] - self.ephemeris["earth"]).at(time).position.au
        return math.degrees(math.asin(float(sun @ np.cross(*plane)) / float(np.linalg.norm(sun))))

    def lit(self, plane: Plane, altitude: float, seconds: int) -> npt.NDArray[np.bool_]:
        """For each second, whether a satellite on that circle sees the Sun."""
        ticks = np.arange(seconds, dtype=np.float64)
        angle = 2 * math.pi * ticks / period(altitude)
        along, across = plane
        metres = np.outer(along, np.cos(angle)) + np.outer(across, np.sin(angle))
        times = self.timescale.tt(*self.date, ticks)
        au = Distance(m=metres * (EARTH.radius + altitude)).au
        lit: npt.NDArray[np.bool_] = Geocentric(au, None, times, center=399).is_sunlit(self.ephemeris)
        return lit


def plane_of(inclination: float, node: float) -> Plane:
    """Two unit vectors that span the orbit's plane; angles in degrees."""
    tilt, turn = math.radians(inclination), math.radians(node)
    along = np.array([math.cos(turn), math.sin(turn), 0.0])
    across = [-math.sin(turn) * math.cos(tilt), math.cos(turn) * math.cos(tilt), math.sin(tilt)]
    return along, np.array(across)


def nights_seen(lit: npt.NDArray[np.bool_]) -> list[tuple[int, int]]:
    dark = np.concatenate(([False], ~lit, [False]))
    changes = np.flatnonzero(dark[:-1] != dark[1:])
    return [(int(start), int(end)) for start, end in zip(changes[::2], changes[1::2], strict=True)]


@pytest.fixture(scope="module")
def ephemeris() -> Iterator[Any]:
    with warnings.catch_warnings():
        # The package warns that its table of Earth's rotation has expired; the builtin timescale is used.
        warnings.filterwarnings("ignore", message=".*finals2000A.all has expired", category=RuntimeWarning)
        folder = get_skyfield_data_path()
    with contextlib.closing(load_file(f"{folder}/de421.bsp")) as kernel:
        yield kernel


@pytest.mark.parametrize(("inclination", "altitude", "date"), ORBITS)
def test_nights_agree_with_the_ephemeris_within_two_seconds(
    ephemeris: Any, inclination: float, altitude: float, date: tuple[int, int]
) -> None:
    sky, plane = Sky(ephemeris, *date), plane_of(inclination, 37.0 * date[1] + date[0])
    length = math.ceil(3.2 * period(altitude))
    seen = nights_seen(sky.lit(plane, altitude, length))
    # Counted from the middle sunset: the Sun itself wanders by about a second per turn.
    first_sunset = seen[len(seen) // 2][0] % period(altitude)
    computed = nights_from_orbit(altitude, sky.beta(plane, length / 2), first_sunset, length)
    assert len(computed) == len(seen) >= 3
    assert np.abs(np.array(computed) - np.array(seen)).max() <= 2


@pytest.mark.parametrize("altitude", [350e3, 420e3, 800e3])
@pytest.mark.parametrize("share", [-0.97, -0.9, 0.9, 0.97])
def test_short_nights_close_to_the_limit_agree_with_the_ephemeris(
    ephemeris: Any, altitude: float, share: float
) -> None:
    # There the night changes by seconds with each hundredth of a degree: each is held to its own beta angle.
    # The Sun comes that close to the pole of such an orbit from the north in June, from the south in
    # December.
    sky = Sky(ephemeris, 2021, 6 if share > 0 else 12)
    target = share * eclipse_limit(altitude)
    planes = [plane_of(75, node) for node in range(360)]
    plane = min(planes, key=lambda candidate: abs(sky.beta(candidate, 0) - target))
    seen = nights_seen(sky.lit(plane, altitude, math.ceil(3 * period(altitude))))
    whole = [(start, end) for start, end in seen if start > 0 and end < 3 * period(altitude) - 1]
    assert len(whole) >= 2
    for start, end in whole:
        beta = sky.beta(plane, (start + end) / 2)
        assert beta / eclipse_limit(altitude) == pytest.approx(share, abs=0.015)
        assert eclipse_duration(altitude, beta) == pytest.approx(end - start, abs=2)


@pytest.mark.parametrize("altitude", [350e3, 420e3, 800e3])
def test_continuous_sun_agrees_with_the_ephemeris(ephemeris: Any, altitude: float) -> None:
    sky = Sky(ephemeris, 2021, 6)
    plane = max((plane_of(75, node) for node in range(0, 360, 5)), key=lambda one: sky.beta(one, 0))
    assert sky.beta(plane, 0) > eclipse_limit(altitude)
    assert sky.lit(plane, altitude, math.ceil(2 * period(altitude))).all()
    assert nights_from_orbit(altitude, sky.beta(plane, 0), 0, 2 * period(altitude)) == ()


# What must be so.
def test_a_sortie_may_begin_in_the_night_before_its_first_sunset() -> None:
    turn, dark = period(400e3), eclipse_duration(400e3, 0)
    first_sunset = turn - 600
    nights = nights_from_orbit(400e3, 0, first_sunset, first_sunset + 100)
    computed = [edge for night in nights for edge in night]
    assert computed == pytest.approx([0, dark - 600, first_sunset, first_sunset + 100])


def test_a_first_sunset_at_time_zero_begins_in_the_dark() -> None:
    nights = nights_from_orbit(400e3, 0, 0, 7200)
    assert [start for start, _ in nights] == [0, pytest.approx(period(400e3))]
    assert nights[0][1] == pytest.approx(eclipse_duration(400e3, 0))


def test_a_sunset_named_a_turn_late_gives_the_same_nights() -> None:
    once = nights_from_orbit(400e3, 30, 1000, 25_200)
    again = nights_from_orbit(400e3, 30, 1000 + period(400e3), 25_200)
    assert np.array(again) == pytest.approx(np.array(once))


@given(st.floats(150e3, 2000e3), st.floats(-90, 90), st.floats(-10_000, 10_000), st.floats(0, 40_000))
def test_nights_and_days_fill_the_sortie(altitude: float, beta: float, sunset: float, length: float) -> None:
    nights = nights_from_orbit(altitude, beta, sunset, length)
    days = days_between(nights, length)
    edges = [edge for interval in sorted([*nights, *days]) for edge in interval]
    assert edges == sorted(edges)
    assert edges[1:-1:2] == edges[2::2]
    assert ([edges[0], edges[-1]] if edges else [0, 0]) == [0, length]
    assert nights_from_light(days, length) == nights
    dark, turn = eclipse_duration(altitude, beta), period(altitude)
    assert sum(end - start for start, end in nights) <= (length // turn + 1) * dark + 1e-6
    assert sum(end - start for start, end in nights) >= (length // turn) * dark - 1e-6


def test_nights_from_listed_times_are_what_they_leave() -> None:
    assert nights_from_light([(600, 3000), (5200, 8600)], 9000) == ((0, 600), (3000, 5200), (8600, 9000))
    assert nights_from_light([[0, 3000], [3000, 9000]], 9000) == ()
    assert nights_from_light([], 9000) == ((0, 9000),)
    assert nights_from_light([(0, 3000), (5200, 99_000)], 4000) == ((3000, 4000),)
    assert nights_from_light([(9500, 9600)], 9000) == ((0, 9000),)
    assert nights_from_light([], 0) == ()


@pytest.mark.parametrize(
    "light", [[(10, 10)], [(20, 10)], [(0, 50), (40, 60)], [(50, 60), (0, 10)], [(0, float("nan"))]]
)
def test_listed_times_that_make_no_sense_are_refused(light: list[tuple[float, float]]) -> None:
    with pytest.raises(ValueError, match="empty, overlaps or is out of order"):
        nights_from_light(light, 100)


@pytest.mark.parametrize(
    ("altitude", "beta", "first_sunset", "length", "says"),
    [
        (-1, 0, 0, 1, "altitude -1"),
        (math.nan, 0, 0, 1, "altitude nan"),
        (math.inf, 0, 0, 1, "altitude inf"),
        (4e5, 90.1, 0, 1, "beta angle 90.1"),
        (4e5, math.nan, 0, 1, "beta angle nan"),
        (4e5, 0, math.inf, 1, "first sunset inf"),
        (4e5, 0, 0, -1, "length -1"),
        (4e5, 80, 0, math.nan, "length nan"),
    ],
)
def test_an_orbit_that_makes_no_sense_is_refused(
    altitude: float, beta: float, first_sunset: float, length: float, says: str
) -> None:
    with pytest.raises(ValueError, match=says):
        nights_from_orbit(altitude, beta, first_sunset, length)


def test_the_examples_in_the_docstrings_hold() -> None:
    result = doctest.testmod(orbit)
    assert result.attempted > 0
    assert result.failed == 0
