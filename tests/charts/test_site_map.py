"""The site map: places where their coordinates say, routes between them, names that cover nothing."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from briefgen.charts.kinds.site_map import NARROW, WIDE, lay_out, map_rows
from briefgen.charts.kinds.site_map.layout import Area, _crosses
from briefgen.model.library import Library
from tests.charts.charts import SVG, drawn, links, made_of, trace, words
from tests.charts.conftest import href
from tests.demo import demo
from tests.travel_world import library

SMALL = {
    "places": {
        "lock": {"map": ["0", "0"], "home": True, "anchor": True},
        "k1": {"map": ["4", "3"]},
        "k2": {"map": ["8", "0"], "hazards": ["pipe"]},
        "off": {},
    },
    "routes": {
        "up": {"between": ["lock", "k1"], "length": "5 m"},
        "down": {"between": ["k1", "k2"], "length": "5.5 m", "one_way": True, "time": "90 s", "hazards": ["pipe"]},
        "out": {"between": ["k2", "off"], "length": "2 m"},
    },
    "hazards": {"pipe": {"signal": "warning", "hazard": "Hot.", "consequence": "Burns.", "avoid": "Keep off."}},
}


@pytest.fixture(scope="module")
def small() -> Library:
    return library(SMALL)


@pytest.mark.parametrize("style", [WIDE, NARROW])
def test_the_drawing_is_the_coordinates_at_one_scale(small: Library, style: object) -> None:
    sheet = lay_out(map_rows(small, href), style)  # type: ignore[arg-type]
    (x0, y0), (x1, y1), (x2, y2) = (sheet.points[name] for name in ("lock", "k1", "k2"))
    scale = (x2 - x0) / 8
    assert scale > 0
    assert (x1 - x0, y0 - y1, y2 - y0) == pytest.approx((4 * scale, 3 * scale, 0))
    assert all(0 < x < sheet.wide and 0 < y < sheet.high for x, y in sheet.points.values())


def test_a_place_without_coordinates_and_its_routes_are_left_out(small: Library) -> None:
    rows = map_rows(small, href)
    assert [spot.id for spot in rows.spots] == ["lock", "k1", "k2"]
    assert [path.id for path in rows.paths] == ["up", "down"]


def test_the_table_tells_routes_both_ways_but_for_one_way_ones(small: Library) -> None:
    table = made_of("map", small).table
    told = {row[0].words: row[3].words for row in table.rows}
    assert told == {
        "lock": "k1 5 m",
        "k1": "lock 5 m; k2 5.5 m (1 min 30 s, one way, Warning: pipe)",
        "k2": "",
    }


def test_the_arrow_of_a_one_way_route_points_along_it(small: Library) -> None:
    sheet = lay_out(map_rows(small, href), WIDE)
    # From k1 to k2: 4 m right and 3 m down, an angle of atan(3/4).
    assert sheet.degrees(sheet.rows.paths[1]) == pytest.approx(36.87, abs=0.01)


def test_rides_join_what_no_route_does() -> None:
    rows = map_rows(demo().library, href)
    joined = {frozenset((path.first, path.second)) for path in rows.paths}
    assert ("mast-mid", "mast-tip") in rows.rides or ("mast-tip", "mast-mid") in rows.rides
    assert not {frozenset(ride) for ride in rows.rides} & joined


def test_every_place_of_the_demo_is_drawn_linked_and_named() -> None:
    chart = made_of("map", demo().library)
    places = demo().library.places
    for still in (chart.still, chart.narrow):
        assert {href("place", name, "") for name in places} <= set(links(still))
        assert {href("route", name, "") for name in demo().library.routes} <= set(links(still))
    told = words(drawn(chart.still))
    for place in places.values():
        assert all(word in told for word in place.label_text.split())


def test_a_place_without_room_for_its_name_has_a_number_that_the_key_explains() -> None:
    chart = made_of("map", demo().library)
    names = lay_out(map_rows(demo().library, href), NARROW).names
    assert len(names) == len(demo().library.places)
    numbered = {name.number: name.spot.name for name in names if name.number}
    assert list(numbered) == [str(k) for k in range(1, len(numbered) + 1)]
    told = {words(drawn(sign.drawing)): sign.words for sign in chart.key if sign.narrow}
    assert told == numbered
    assert not any(name.number for name in lay_out(map_rows(demo().library, href), WIDE).names)


def test_the_figure_has_the_stills_points() -> None:
    chart = made_of("map", demo().library)
    sheet = lay_out(map_rows(demo().library, href), WIDE)
    places = trace(chart, "places")
    assert list(zip(places["x"], places["y"], strict=True)) == [sheet.points[name] for name in places["ids"]]
    circles = [
        (float(str(one.get("cx"))), float(str(one.get("cy")))) for one in drawn(chart.still).iter(f"{SVG}circle")
    ]
    for name, (x, y) in sheet.points.items():
        if not demo().library.places[name].home:
            assert any(abs(x - cx) < 0.1 and abs(y - cy) < 0.1 for cx, cy in circles)


@pytest.mark.parametrize("style", [WIDE, NARROW])
def test_names_and_lengths_cover_neither_each_other_nor_a_place(style: object) -> None:
    sheet = lay_out(map_rows(demo().library, href), style)  # type: ignore[arg-type]
    areas = [name.area for name in sheet.names]
    areas += [(x - 3.0, y - 3.0, x + 3.0, y + 3.0) for x, y in sheet.points.values()]
    areas += [(x - 7.0, y - 5.0, x + 7.0, y + 5.0) for _, (x, y) in sheet.lengths]
    for number, one in enumerate(areas):
        for other in areas[:number]:
            assert one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]


def test_a_map_of_no_places_is_a_sentence() -> None:
    chart = made_of("map", library({"places": {"off": {}}}))
    assert (chart.figure, chart.summary) == ({}, "No place has map coordinates.")


def test_places_in_one_spot_or_on_one_line_do_not_break_the_scale() -> None:
    for spots in ([["3", "3"]], [["1", "1"], ["9", "1"]], [["1", "1"], ["1", "9"]], [["2", "2"], ["2", "2"]]):
        places = {f"p{number}": {"map": spot} for number, spot in enumerate(spots)}
        chart = made_of("map", library({"places": places}))
        assert drawn(chart.still) is not None


POINTS = st.tuples(st.floats(-50, 50), st.floats(-50, 50))


@given(POINTS, POINTS)
def test_a_line_crosses_an_area_where_points_on_it_lie_inside(
    one: tuple[float, float], other: tuple[float, float]
) -> None:
    area: Area = (-10.0, -8.0, 12.0, 9.0)
    shares = [k / 400 for k in range(401)]
    on = [(one[0] + (other[0] - one[0]) * s, one[1] + (other[1] - one[1]) * s) for s in shares]
    inside = any(area[0] <= x <= area[2] and area[1] <= y <= area[3] for x, y in on)
    assert not inside or _crosses(area, one, other)
    if _crosses(area, one, other):
        # Sampled finely, a crossing line comes at least close.
        assert any(area[0] - 0.4 <= x <= area[2] + 0.4 and area[1] - 0.4 <= y <= area[3] + 0.4 for x, y in on)
