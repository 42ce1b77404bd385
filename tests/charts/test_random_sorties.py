"""Charts of sorties made at random, sensible or not: always drawn, always sound, never a number that is none."""

from __future__ import annotations

import json
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from briefgen.charts.interactive.embed import chart_html
from briefgen.charts.interactive.figures import chart_json, to_json
from briefgen.charts.kinds.player.page import player_html
from briefgen.charts.kinds.timeline import timeline_rows
from briefgen.proof.evidence import SortieEvidence
from tests.charts.charts import MAKERS, drawn, play_of
from tests.charts.conftest import href
from tests.travel_world import journeys, networks, world


@st.composite
def mapped(draw: st.DrawFn) -> SortieEvidence:
    """Up to three people with steps of their own and joint ones, on a random map."""
    net = draw(networks())
    names = list(net["places"])
    for place in net["places"].values():
        if draw(st.integers(0, 5)):
            place["map"] = [str(draw(st.integers(-20, 20))), str(draw(st.integers(-20, 20)))]
    row: list[dict[str, Any]] = []
    for _ in range(draw(st.integers(1, 9))):
        who = draw(st.lists(st.sampled_from(["ev1", "ev2", "desk"]), min_size=1, max_size=3, unique=True))
        step: dict[str, Any] = {"who": who, "takes": f"{draw(st.integers(0, 900))} s"}
        if set(who) != {"desk"}:
            step["at"] = draw(st.sampled_from(names))
        row.append(step)
    return world({"t": row}, limits={"length": f"{draw(st.integers(0, 3))} h"}, **net)


def sound(evidence: SortieEvidence) -> None:
    for make in MAKERS.values():
        chart = make(evidence)
        assert "\n" not in chart_html(chart, "plotly.js")
        for still in filter(None, (chart.still, chart.narrow)):
            assert "nan" not in still
            assert "inf" not in drawn(still).attrib["viewBox"]
        if chart.figure:
            json.loads(chart_json(chart), parse_constant=lambda word: 1 / 0)
    played = play_of(evidence)
    json.loads(to_json(played.data))
    assert player_html(played, "plotly.js")


@settings(max_examples=60, deadline=None)
@given(mapped())
def test_any_sortie_on_a_map_is_drawn(evidence: SortieEvidence) -> None:
    sound(evidence)


@settings(max_examples=40, deadline=None)
@given(journeys())
def test_any_journey_is_drawn_even_where_no_route_leads_home(evidence: SortieEvidence) -> None:
    sound(evidence)


@settings(max_examples=60, deadline=None)
@given(mapped())
def test_bars_of_a_lane_never_overlap_and_joint_bars_agree(evidence: SortieEvidence) -> None:
    rows = timeline_rows(evidence, href)
    joint: dict[int, set[tuple[float, float]]] = {}
    for lane in rows.lanes:
        now = 0.0
        for bar in (bar for bar in rows.bars if bar.lane == lane.number):
            assert bar.start >= now - 1e-6
            assert bar.end >= bar.start - 1e-6
            now = bar.end
            if bar.kind == "step":
                joint.setdefault(bar.step, set()).add((bar.start, bar.end))
    assert all(len(times) == 1 for times in joint.values())
