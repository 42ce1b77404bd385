"""The played sortie's data: everybody is somewhere at every moment, and where the travel proof says."""

from __future__ import annotations

import itertools
import json
import re

import pytest
from bs4 import BeautifulSoup

from briefgen.charts.interactive.figures import to_json
from briefgen.charts.kinds.player import Played
from briefgen.charts.kinds.player.page import player_html
from briefgen.proof.evidence import SortieEvidence
from briefgen.units import show_elapsed
from tests.charts.charts import drawn, play_of
from tests.charts.conftest import href, picture
from tests.travel_world import world


@pytest.fixture(scope="module")
def played(sortie: SortieEvidence) -> Played:
    return play_of(sortie)


def test_everybodys_spans_follow_on_one_another_from_start_to_finish(played: Played, sortie: SortieEvidence) -> None:
    for spans in played.play.spans:
        assert spans[0].start == 0
        assert spans[-1].end == pytest.approx(sortie.timeline.finish)
        for one, following in itertools.pairwise(spans):
            assert one.end == pytest.approx(following.start)


def test_every_step_is_played_by_each_of_its_people_at_its_time(played: Played, sortie: SortieEvidence) -> None:
    for lane, spans in zip(played.play.rows.lanes, played.play.spans, strict=True):
        steps = {span.step: (span.start, span.end) for span in spans if span.kind == "step"}
        wanted = {times.step.index: (times.start, times.end) for times in sortie.timeline.of(lane.id)}
        assert steps == wanted


def test_people_outside_are_where_the_proof_says_and_others_on_no_map(played: Played, sortie: SortieEvidence) -> None:
    for lane, spans in zip(played.play.rows.lanes, played.play.spans, strict=True):
        for span in spans:
            assert bool(span.track) == lane.person.outside
            if lane.person.outside:
                middle = (span.start + span.end) / 2
                stay = sortie.whereabouts.at(lane.id, middle)
                assert stay is not None
                assert (span.track[0][1], span.track[-1][1]) == (stay.origin, stay.place)
                assert span.anchor == stay.anchor


def test_nobody_jumps(played: Played) -> None:
    for spans in played.play.spans:
        for one, following in itertools.pairwise(spans):
            if one.track and following.track:
                assert one.track[-1][1] == following.track[0][1]


def test_a_way_passes_its_places_in_proportion() -> None:
    # K1 is 6 m away, K2 another 3 m, at 6 m/min: a minute and half a minute.
    play = play_of(world({"t": [{"who": "ev1", "at": "k2"}]})).play
    (way, *_) = play.spans[0]
    assert (way.kind, way.track) == ("way", ((0, "lock"), (60, "k1"), (90, "k2")))


def test_a_ride_moves_during_its_step() -> None:
    play = play_of(world({"t": [{"who": "ev1", "at": "k1", "to": "tip", "takes": "4 min"}]})).play
    ride = next(span for span in play.spans[0] if span.kind == "step")
    assert ride.track == ((60, "k1"), (300, "tip"))


def test_every_point_that_is_passed_is_on_both_sheets(played: Played) -> None:
    used = {name for spans in played.play.spans for span in spans for _, name in span.track}
    for sheet in played.data["sheets"].values():
        assert used <= sheet["points"].keys()
        wide, high = sheet["size"]
        assert all(0 <= x <= wide and 0 <= y <= high for x, y in sheet["points"].values())


def test_hazards_figures_holds_and_calls_of_a_step_are_shown(played: Played, sortie: SortieEvidence) -> None:
    data = json.loads(to_json(played.data))
    for planned, shown in zip(sortie.plan.steps, data["steps"], strict=True):
        told = [data["hazards"][number]["hazard"] for number in shown["hazards"]]
        assert told == [str(sortie.library.hazards[name].hazard) for name in (one.hazard for one in planned.hazards)]
        files = [data["figures"][number]["file"] for number in shown["figures"]]
        assert files == [picture(str(name)) for name in planned.step.figures]
        clock = {wait.until for wait in sortie.timeline.waits if wait.step == planned.index and wait.until}
        assert len(shown["holds"]) == sum(hold.step == planned.index for hold in sortie.holds) + len(clock)
        assert len(shown["calls"]) == len(planned.step.calls)
    assert any(shown["holds"] for shown in data["steps"])


def test_the_script_of_every_task_is_there(played: Played, sortie: SortieEvidence) -> None:
    titles = {task.title: task.script for task in played.play.tasks}
    flown = {str(step.task.id) for step in sortie.plan.steps}
    assert set(titles) == {str(sortie.library.tasks[name].title) for name in flown}
    assert all(script for script in titles.values())


def test_the_table_has_a_row_a_moment_and_every_step_once_a_person(played: Played, sortie: SortieEvidence) -> None:
    rows = played.table.rows
    assert [row[0].words for row in rows] == [show_elapsed(moment) for moment in played.play.moments]
    assert [row[0].target for row in rows] == [f"#t={show_elapsed(moment)}" for moment in played.play.moments]
    assert {lane.id for lane in played.play.rows.lanes} == set(sortie.plan.flows)
    for column, lane in enumerate(played.play.rows.lanes, start=1):
        told = [row[column].target for row in rows if row[column].target]
        assert told == [href("task", str(t.step.task.id), t.step.step.key) for t in sortie.timeline.of(lane.id)]


def test_its_json_is_some_tens_of_kilobytes(played: Played) -> None:
    assert len(to_json(played.data)) < 120_000


def test_its_page_is_one_line_with_ids_of_its_own(played: Played) -> None:
    html = player_html(played, "plotly.js")
    assert "\n" not in html
    ids = re.findall(r' id="([^"]+)"', html)
    assert len(ids) == len(set(ids))
    tree = BeautifulSoup(html, "html.parser")
    (root,) = tree.select("[data-player]")
    assert root["id"] == f"play-{played.play.rows.sortie}"
    assert len(tree.select("[data-lane]")) == len(played.play.rows.lanes)
    # Without a script: the map and the table are there to be read, the controls are not.
    assert tree.select_one("details[open] table") is not None
    assert tree.select_one(".bg-player__live[hidden]") is not None
    strip = re.search(r"<svg viewBox[^>]*c-strip.*?</svg>", html)
    assert strip is not None
    drawn(strip[0])


def test_a_sortie_without_steps_is_a_sentence() -> None:
    nothing = play_of(world({"t": [{"who": "ev1", "at": "k1"}]}, flow={"ev1": []}))
    html = player_html(nothing, "plotly.js")
    assert "no steps" in html
    assert "<script" not in html
