"""Tether reach, time home and room, against independent algorithms on random worlds and against handbook values."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from typing import Any

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefgen.model.work import Paces
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.moving.homeward import HomeLine, between
from briefgen.proof.moving.routes import Routes
from briefgen.proof.moving.tether import Tie, better_anchor
from briefgen.proof.moving.travel import way_hazards
from briefgen.proof.moving.whereabouts import Doing
from briefgen.proof.plan import Plan
from tests.pint_units import UNITS
from tests.proof.executions import states_of
from tests.travel_world import journeys, library, networks, world

SLICES = 64


def metres(proved: SortieEvidence, person: str = "ev1") -> list[float | None]:
    return [reach.metres for reach in proved.travel.reaches[person]]


# Tether reach ---------------------------------------------------------------------------------------------------------


@settings(max_examples=200, deadline=None)
@given(networks())
def test_lengths_are_those_of_floyd_and_warshall(net: dict[str, Any]) -> None:
    proved = world({"t": [{"who": "ev1", "at": "lock"}]}, **net)
    graph = nx.Graph()
    graph.add_nodes_from(net["places"])
    for route in net["routes"].values():
        first, second = route["between"]
        length = float(route["length"].split()[0])
        known = graph.get_edge_data(first, second, {"weight": math.inf})["weight"]
        graph.add_edge(first, second, weight=min(known, length))
    expected = nx.floyd_warshall(graph)
    for start, end in itertools.product(net["places"], repeat=2):
        told = proved.evidence.lengths.metres(start, end)
        assert (math.inf if told is None else told) == pytest.approx(expected[start][end])


def paces_of(proved: SortieEvidence) -> Paces:
    assert proved.library.programme is not None
    return proved.library.programme.paces


def sliced(proved: SortieEvidence, slices: int, loaded: bool | None) -> nx.DiGraph:
    """Every route cut into slices: lengths both ways (`loaded` None), or seconds in the directions that it leads."""
    graph: nx.DiGraph = nx.DiGraph()
    graph.add_nodes_from(proved.library.places)
    paces = paces_of(proved)
    for name, route in proved.library.routes.items():
        first, second = map(str, route.between)
        if loaded is None:
            cost = float(route.length)
        else:
            pace = paces.loaded if loaded else paces.outside
            cost = route.time.likely if route.time else route.length / pace
        knots = [first, *((name, number) for number in range(1, slices)), second]
        for one, other in itertools.pairwise(knots):
            graph.add_edge(one, other, cost=cost / slices)
            if loaded is None or not route.one_way:
                graph.add_edge(other, one, cost=cost / slices)
    return graph


@settings(max_examples=100, deadline=None)
@given(journeys())
def test_reach_on_the_way_is_that_of_the_farthest_of_many_points(proved: SortieEvidence) -> None:
    graph = sliced(proved, SLICES, None)
    reach_of = {id(reach.visit): reach for row in proved.travel.reaches.values() for reach in reversed(row)}
    for visit in (visit for trail in proved.travel.trails.values() for visit in trail):
        reach = reach_of[id(visit)]
        rides = visit.place != "lock" and not proved.evidence.routes.touches(visit.place)
        if reach.tie is not Tie.FIXED or visit.way is None or rides:
            continue  # rides are checked by hand
        lengths = nx.single_source_dijkstra_path_length(graph, visit.hung, weight="cost")
        knots = [(route, number) for route in visit.way.routes for number in range(1, SLICES)]
        points = [*visit.way.places, *knots]
        slack = max([float(proved.library.routes[route].length) for route in visit.way.routes], default=0) / SLICES
        farthest = max(lengths[point] for point in points)
        assert farthest - 1e-9 <= reach.metres <= farthest + slack


def test_the_tether_hangs_at_home_until_a_step_moves_it() -> None:
    look: dict[str, Any] = {"who": "ev1", "at": "k3"}
    proved = world({"t": [look, {"who": "ev1", "at": "k1", "anchors": "k1"}, look]})
    assert metres(proved) == [12, 12, 6]
    assert [reach.anchor for reach in proved.travel.reaches["ev1"]] == ["lock", "lock", "k1"]
    assert [reach.spot for reach in proved.travel.reaches["ev1"]] == [("k3",), ("k3",), ("k3",)]


def test_in_the_middle_of_a_loop_the_tether_reaches_farther_than_to_either_end() -> None:
    loop = {
        "r1": {"between": ["lock", "k1"], "length": "6 m"},
        "r2": {"between": ["lock", "k2"], "length": "6 m"},
        "r3": {"between": ["k1", "k2"], "length": "10 m"},
    }
    proved = world({"t": [{"who": "ev1", "at": "k1"}, {"who": "ev1", "at": "k2"}]}, routes=loop)
    first, second = proved.travel.reaches["ev1"]
    assert (first.metres, first.spot) == (6, ("k1",))
    assert (second.metres, second.spot) == (11, ("k1", "k2"))


@pytest.mark.parametrize(("length", "beyond"), [("26 m", False), ("26.01 m", True)])
def test_a_reel_of_26_metres_reaches_26_metres(length: str, beyond: bool) -> None:
    # Length of the reel: NASA's book on operating the International Space Station, chapter 17, page 296: 26 m (85 ft).
    assert UNITS.Quantity(85, "foot").to("meter").magnitude == pytest.approx(26, abs=0.1)
    routes = {"r1": {"between": ["lock", "k1"], "length": length}}
    proved = world({"t": [{"who": "ev1", "at": "k1"}]}, routes=routes, limits={"tether": "26 m"})
    assert bool(proved.travel.overreaches) == beyond


def test_a_tether_lies_along_a_one_way_route_both_ways() -> None:
    routes = {"r1": {"between": ["k1", "lock"], "length": "6 m", "one_way": True}}
    proved = world({"t": [{"who": "ev1", "at": "lock", "to": "k1"}]}, routes=routes)
    assert metres(proved) == [0, 6]


RIDE: list[dict[str, Any]] = [
    {"who": "ev1", "at": "k1", "anchors": "k1"},
    {"who": "ev1", "at": "k2", "to": "plate"},
    {"who": "ev1", "at": "plate", "anchors": "plate"},
    {"who": "ev1", "at": "plate", "to": "tip", "takes": "4 min"},
    {"who": "ev1", "at": "tip", "to": "plate", "takes": "5 min"},
    {"who": "ev1", "at": "plate", "to": "k2"},
]


def test_a_moving_anchor_reaches_wherever_the_ride_goes() -> None:
    proved = world({"t": RIDE}, limits={"tether": "7 m"})
    ties = [(reach.visit.seat, reach.tie, reach.metres) for reach in proved.travel.reaches["ev1"]]
    assert ties == [
        (0, Tie.FIXED, 6), (1, Tie.FIXED, 3), (1, Tie.FIXED, 3), (2, Tie.FIXED, 3),
        (3, Tie.RIDING, 0), (4, Tie.RIDING, 0), (5, Tie.RIDING, 0),
    ]  # fmt: skip
    assert proved.travel.overreaches == ()


def test_a_ride_with_the_tether_at_a_fixed_anchor_is_told_once() -> None:
    proved = world({"t": [step for step in RIDE if step.get("anchors") != "plate"]})
    (over,) = proved.travel.overreaches
    assert over.first.tie is Tie.TORN
    assert [reach.visit.seat for reach in over.reaches] == [2, 3, 3, 4]
    assert over.first.spot == ("tip",)


def test_home_is_a_fixed_anchor_even_where_no_route_touches_it() -> None:
    steps = [{"who": "ev1", "at": "lock", "to": "tip"}, {"who": "ev1", "at": "tip", "to": "lock"}]
    proved = world({"t": steps}, routes={})
    assert [reach.tie for reach in proved.travel.reaches["ev1"]] == [Tie.FIXED, Tie.TORN, Tie.TORN, Tie.FIXED]


def test_a_ride_that_does_not_even_begin_at_a_moving_anchor_is_told() -> None:
    proved = world({"t": [{"who": "ev1", "at": "k2", "to": "tip"}, {"who": "ev1", "at": "tip", "to": "k2"}]})
    assert [over.first.tie for over in proved.travel.overreaches] == [Tie.TORN]


def test_who_walks_off_leaves_the_tether_on_the_arm_until_it_is_moved() -> None:
    walk = [{"who": "ev1", "at": "k1"}, {"who": "ev1", "at": "k1"}, {"who": "ev1", "at": "k1", "anchors": "k1"}]
    proved = world({"t": [*RIDE, *walk, {"who": "ev1", "at": "k2"}]})
    (over,) = proved.travel.overreaches
    assert over.first.tie is Tie.LEFT
    assert [reach.visit.seat for reach in over.reaches] == [6, 7, 8]


def test_who_hangs_the_tether_on_the_arm_again_leaves_nothing_behind() -> None:
    away: list[dict[str, Any]] = [{"who": "ev1", "at": "k1"}, {"who": "ev1", "at": "k2", "to": "plate"}]
    again = [{"who": "ev1", "at": "plate", "anchors": "plate"}, {"who": "ev1", "at": "plate", "to": "tip"}]
    proved = world({"t": [*RIDE, *away, *again]})
    ties = {reach.visit.seat: reach.tie for reach in proved.travel.reaches["ev1"]}
    assert [ties[seat] for seat in range(6, 10)] == [Tie.LEFT, Tie.LEFT, Tie.LEFT, Tie.RIDING]


def test_a_step_that_hangs_the_tether_on_the_arm_and_rides_is_a_ride() -> None:
    steps = [{"who": "ev1", "at": "k2", "to": "plate"}, {"who": "ev1", "at": "plate", "to": "tip", "anchors": "plate"}]
    proved = world({"t": steps})
    assert [(reach.anchor, reach.tie) for reach in proved.travel.reaches["ev1"]] == [
        ("lock", Tie.FIXED), ("lock", Tie.FIXED), ("lock", Tie.FIXED), ("plate", Tie.RIDING)
    ]  # fmt: skip


def test_from_one_moving_anchor_nobody_steps_over_to_another_with_the_tether_at_a_fixed_one() -> None:
    places = {"lock": {"home": True, "anchor": True}, "k1": {}, "plate": {"anchor": True}, "tip": {"anchor": True}}
    steps = [{"who": "ev1", "at": "k1", "to": "plate"}, {"who": "ev1", "at": "plate", "to": "tip"}]
    proved = world({"t": steps}, places=places, routes={"r": {"between": ["lock", "k1"], "length": "6 m"}})
    assert [reach.tie for reach in proved.travel.reaches["ev1"]] == [Tie.FIXED, Tie.FIXED, Tie.FIXED, Tie.TORN]


def test_reaches_beyond_the_tether_are_told_for_each_anchor() -> None:
    steps = [{"who": "ev1", "at": "k3"}, {"who": "ev1", "at": "k1", "anchors": "k1"}, {"who": "ev1", "at": "k3"}]
    proved = world({"t": steps}, limits={"tether": "5 m"})
    assert [(over.first.anchor, over.first.visit.seat) for over in proved.travel.overreaches] == [
        ("lock", 0),
        ("k1", 2),
    ]


def test_who_moves_the_tether_where_they_step_off_leaves_nothing_behind() -> None:
    ride = [*RIDE[:-1], {"who": "ev1", "at": "plate", "to": "k1"}, {"who": "ev1", "at": "k1", "anchors": "k1"}]
    assert world({"t": [*ride, {"who": "ev1", "at": "k2"}]}).travel.overreaches == ()


def test_a_step_may_move_person_and_tether_in_one() -> None:
    steps = [{"who": "ev1", "at": "k1", "to": "plate", "anchors": "plate"}, {"who": "ev1", "at": "plate", "to": "tip"}]
    proved = world({"t": steps})
    assert [visit.anchor_in_reach for visit in proved.travel.trails["ev1"]] == [True, True]
    assert proved.travel.overreaches == ()


def test_a_step_at_a_place_that_cannot_be_reached_says_nothing_of_tethers() -> None:
    proved = world({"t": [{"who": "ev1", "at": "tip"}, {"who": "ev1", "at": "lock"}]}, limits={"tether": "1 m"})
    assert proved.travel.overreaches == ()
    assert proved.travel.reaches["ev1"][0].tie is Tie.LOST


def test_of_several_anchors_that_would_do_the_nearest_within_reach_is_named() -> None:
    places = {name: {"anchor": True} for name in ("lock", "near", "off", "beyond")} | {"site": {}}
    places["lock"]["home"] = True
    routes = {
        "r1": {"between": ["lock", "near"], "length": "6 m"},
        "r2": {"between": ["near", "off"], "length": "2 m"},
        "r3": {"between": ["near", "site"], "length": "4 m"},
        "r4": {"between": ["site", "beyond"], "length": "1 m"},
    }
    (over,) = world(
        {"t": [{"who": "ev1", "at": "site"}]}, places=places, routes=routes, limits={"tether": "8 m"}
    ).travel.overreaches
    proved = world({"t": [{"who": "ev1", "at": "site"}]}, places=places, routes=routes)
    assert better_anchor(proved.library, proved.evidence.lengths, over, 8) == "near"
    without = {name: place for name, place in places.items() if name in ("lock", "beyond", "site")} | {
        "near": {},
        "off": {},
    }
    far = world({"t": [{"who": "ev1", "at": "site"}]}, places=without, routes=routes)
    assert better_anchor(far.library, far.evidence.lengths, over, 8) is None


def test_the_anchor_that_would_do_is_the_nearest_that_reaches_all() -> None:
    proved = world({"t": [{"who": "ev1", "at": "k2"}, {"who": "ev1", "at": "k3"}]}, limits={"tether": "8 m"})
    (over,) = proved.travel.overreaches
    assert [reach.visit.seat for reach in over.reaches] == [0, 1]
    assert better_anchor(proved.library, proved.evidence.lengths, over, 8) == "k1"
    assert better_anchor(proved.library, proved.evidence.lengths, over, 5) is None


# Time home ------------------------------------------------------------------------------------------------------------


@settings(max_examples=100, deadline=None)
@given(journeys())
def test_time_home_is_that_of_a_search_through_many_points(proved: SortieEvidence) -> None:
    graph = sliced(proved, SLICES, loaded=False)
    expected = nx.single_source_dijkstra_path_length(graph.reverse(), "lock", weight="cost")
    for person, row in proved.travel.homewards.items():
        for home in row:
            visit = home.visit
            if any(one.moved for one in proved.travel.trails[person][: visit.seat + 1]):
                break  # rides are checked by hand
            assert home.at_place == pytest.approx(expected.get(visit.place, math.inf))
            line = HomeLine(person, home.on_way)
            for moment, point in _points_on_the_way(proved, visit):
                assert line.at(moment) == pytest.approx(expected.get(point, math.inf))


def _points_on_the_way(proved: SortieEvidence, visit: Any) -> Iterator[tuple[float, Any]]:
    """Moments since the person set off, and the knots of the sliced graph at which they are then."""
    passed = 0.0
    pace = paces_of(proved).loaded if visit.loaded else paces_of(proved).outside
    for start, route in zip(visit.way.places if visit.way else (), visit.way.routes if visit.way else (), strict=False):
        record = proved.library.routes[route]
        lasts = record.time.likely if record.time else record.length / pace
        for number in range(1, SLICES):
            knot = number if start == record.between[0] else SLICES - number
            yield passed + lasts * number / SLICES, (route, knot)
        passed += lasts


@settings(max_examples=100, deadline=None)
@given(journeys(), st.floats(0, 1))
def test_the_line_over_the_sortie_is_made_of_the_visits(proved: SortieEvidence, share: float) -> None:
    moment = proved.timeline.finish * share
    for person, line in proved.time_home.items():
        stay = proved.whereabouts.at(person, moment)
        if stay is None or not line.points:
            continue
        assert [time for time, _ in line.points] == sorted(time for time, _ in line.points)
        home = proved.travel.homewards[person][stay.visit.seat]
        longest = max(seconds for time, seconds in line.points if stay.start - 1e-6 <= time <= stay.end + 1e-6)
        assert line.at(moment) <= longest + 1e-6
        if stay.doing is Doing.WAIT and stay.start + 1e-6 < moment < stay.end - 1e-6:
            assert line.at(moment) == home.at_place


def test_home_is_farthest_where_going_on_and_going_back_take_the_same() -> None:
    assert between(60, 120, 100, both_ways=True) == ((0.0, 60), (0.8, 140.0), (1.0, 120))
    assert between(math.inf, 60, 30, both_ways=True) == ((0.0, math.inf), (0.0, 90), (1.0, 60))
    for share in (0.1, 0.5, 0.79):
        assert 60 + share * 100 < 120 + (1 - share) * 100


def test_a_rider_goes_home_by_the_ride_backwards_and_the_shortest_route() -> None:
    proved = world({"t": RIDE})
    home = {row.visit.seat: row for row in proved.travel.homewards["ev1"]}
    assert home[1].at_place == 90  # K2: 9 m at 6 m/min
    assert home[2].at_place == 90 + 60  # stepping off again takes the minute that stepping on took
    assert home[3].in_step[-1] == (1.0, 150 + 240)
    assert home[4].at_place == 390
    # On the ride back the way over the plate, known from the ride out, is the shorter one after 30 s.
    assert home[4].in_step == ((0.0, 390), (0.1, 420.0), (1.0, 150))
    assert proved.time_home["ev1"].worst[1] == 420


def test_an_island_is_left_by_the_ride_that_led_there() -> None:
    routes = {
        "r1": {"between": ["lock", "k1"], "length": "6 m"},
        "r2": {"between": ["k2", "k3"], "length": "3 m"},
    }
    steps = [{"who": "ev1", "at": "k1", "to": "k2", "takes": "2 min"}, {"who": "ev1", "at": "k3"}]
    proved = world({"t": steps}, routes=routes)
    assert proved.travel.homewards["ev1"][1].at_place == 30 + 120 + 60


def test_behind_a_one_way_route_the_other_way_round_counts() -> None:
    routes = {
        "drop": {"between": ["lock", "k1"], "length": "6 m", "one_way": True},
        "up": {"between": ["k1", "k2"], "length": "12 m"},
        "on": {"between": ["k2", "lock"], "length": "12 m"},
    }
    proved = world({"t": [{"who": "ev1", "at": "k1"}]}, routes=routes)
    home = proved.travel.homewards["ev1"][0]
    assert home.at_place == 240
    assert home.on_way == ((0.0, 0.0), (0.0, 300.0), (60.0, 240.0))
    trap = world({"t": [{"who": "ev1", "at": "k1"}]}, routes={"drop": routes["drop"]})
    assert math.isinf(trap.time_home["ev1"].worst[1])


def test_the_way_home_is_counted_with_free_hands() -> None:
    steps: list[dict[str, Any]] = [{"who": "ev1", "at": "lock", "picks": ["bag"]}, {"who": "ev1", "at": "k1"}]
    home = world({"t": steps}).travel.homewards["ev1"][1]
    assert home.visit.loaded
    assert home.on_way == ((0.0, 0.0), (120.0, 60.0))


def test_a_planning_pace_of_half_a_foot_a_second_takes_170_seconds_over_85_feet() -> None:
    # Pace: handed down as practice, from memory; 85 ft at 0.5 ft/s is plain arithmetic, done here by pint.
    pace = UNITS.Quantity(0.5, "foot/second").to("meter/second").magnitude
    length = UNITS.Quantity(85, "foot").to("meter").magnitude
    programme = {"p": {"title": "P", "sorties": ["s"], "paces": {"outside": f"{pace} m/s", "loaded": f"{pace} m/s"}}}
    routes = {"r1": {"between": ["lock", "k1"], "length": f"{length} m"}}
    proved = world({"t": [{"who": "ev1", "at": "k1"}]}, programme=programme, routes=routes)
    assert proved.travel.homewards["ev1"][0].at_place == pytest.approx(170)


# Room -----------------------------------------------------------------------------------------------------------------


def meetings(plan: Plan) -> set[str]:
    """Places where some execution has too many people at once: by walking through every state of the plan."""
    found: set[str] = set()
    for _, running in states_of(plan):
        for place, record in plan.library.places.items():
            there = [len(plan.steps[index].outside) for index in running if plan.steps[index].place == place]
            if record.room is not None and sum(there) > record.room:
                found.add(place)
    return found


@st.composite
def shared_places(draw: st.DrawFn) -> SortieEvidence:
    steps: list[dict[str, Any]] = []
    for number in range(1, draw(st.integers(2, 8)) + 1):
        who = draw(st.lists(st.sampled_from(["ev1", "ev2", "ev3", "desk"]), min_size=1, max_size=3, unique=True))
        after = draw(st.lists(st.integers(1, number - 1), max_size=1)) if number > 1 else []
        place = draw(st.sampled_from(["k2", "k3"]))
        steps.append({"who": who, "at": place, "after": [f"t/{one}" for one in after]})
    rooms = {"k2": {"room": draw(st.integers(1, 2))}, "k3": {"room": 1}, "lock": {"home": True}}
    return world({"t": steps}, places=rooms, routes={"r": {"between": ["k2", "lock"], "length": "1 m"}})


@settings(max_examples=400, deadline=None)
@given(shared_places())
def test_crowds_are_found_just_where_some_execution_has_one(proved: SortieEvidence) -> None:
    crowds = proved.travel.crowds
    assert {crowd.place for crowd in crowds} == meetings(proved.plan)
    for crowd in crowds:
        assert len(crowd.people) == sum(len(step.outside) for step in crowd.steps) > crowd.room
        assert len(crowd.steps) == 1 or all(len(step.outside) <= crowd.room for step in crowd.steps)
        pairs = itertools.combinations(crowd.steps, 2)
        assert not any(proved.plan.order.ordered(one.index, other.index) for one, other in pairs)


def test_three_people_need_room_for_three_even_if_any_two_fit() -> None:
    steps = [{"who": person, "at": "k2"} for person in ("ev1", "ev2", "ev3")]
    proved = world({"t": steps}, places={"lock": {"home": True}, "k2": {"room": 2}}, routes={})
    (crowd,) = proved.travel.crowds
    assert crowd.people == ("ev1", "ev2", "ev3")


def test_three_people_of_whom_one_waits_for_another_are_never_all_there() -> None:
    steps: list[dict[str, Any]] = [{"who": person, "at": "k2"} for person in ("ev1", "ev2")]
    steps.append({"who": "ev3", "at": "k2", "after": ["t/1"]})
    proved = world({"t": steps}, places={"lock": {"home": True}, "k2": {"room": 2}}, routes={})
    assert proved.travel.crowds == ()


def test_a_joint_step_that_is_too_many_by_itself_is_told_by_itself() -> None:
    steps: list[dict[str, Any]] = [{"who": ["ev1", "ev2"], "at": "k3"}, {"who": "ev3", "at": "k3"}]
    (crowd,) = world({"t": steps}).travel.crowds
    assert [step.key for step in crowd.steps] == ["t/1"]


def test_a_way_names_the_hazards_that_it_passes() -> None:
    records = library(
        {
            "routes": {
                "a": {"between": ["x", "y"], "length": "1 m", "hazards": ["hot", "sharp"]},
                "b": {"between": ["y", "z"], "length": "1 m", "hazards": ["hot", "beam"]},
            },
            "places": {"x": {"home": True}, "y": {}, "z": {}},
        }
    )
    way = Routes(records).way("x", "z")
    assert way is not None
    assert way_hazards(records, way) == ("hot", "sharp", "beam")
