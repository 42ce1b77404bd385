"""The timeline: every bar is a step, way or wait of the computed timeline, and all three views show the same."""

from __future__ import annotations

import itertools
from collections import Counter

import pytest

from briefgen.charts.kinds.timeline import Rows, timeline_rows
from briefgen.charts.kinds.timeline.measures import ticks
from briefgen.charts.kinds.timeline.rows import _letters
from briefgen.proof.evidence import SortieEvidence
from briefgen.units import show_elapsed
from tests.charts.charts import SVG, drawn, links, made, trace, words
from tests.charts.conftest import href
from tests.travel_world import world


@pytest.fixture(scope="module")
def rows(sortie: SortieEvidence) -> Rows:
    return timeline_rows(sortie, href)


def small() -> SortieEvidence:
    """EV1 cuts for 4 min at K1 (6 m away at 6 m/min); EV2 then joins it, having waited; the desk looks on."""
    return world(
        {
            "cut": [
                {"id": "cut", "who": "ev1", "at": "k1", "takes": "4 min", "do": "Cut the line."},
                {"id": "draw", "who": ["ev1", "ev2"], "at": "k1", "takes": "2 min", "do": "Draw it tight."},
                {"id": "look", "who": "desk", "takes": "1 min", "after": ["cut/draw"], "do": "Look at it."},
            ]
        },
        limits={"length": "20 min", "reserve": "5 min"},
    )


def test_the_small_sortie_by_hand() -> None:
    rows = timeline_rows(small(), href)
    told = [(rows.lanes[bar.lane].id, bar.kind, bar.start, bar.end) for bar in rows.bars]
    assert told == [
        ("desk", "standby", 0, 420),
        ("desk", "step", 420, 480),
        ("ev1", "way", 0, 60),
        ("ev1", "step", 60, 300),
        ("ev1", "step", 300, 420),
        ("ev2", "way", 0, 60),
        ("ev2", "wait", 60, 300),
        ("ev2", "step", 300, 420),
    ]
    (wait,) = rows.of(2, "wait")
    assert (wait.cause, wait.cause_lane) == ("for EV1", 1)
    assert wait.title == "Waits for EV1: Cut the line."
    assert [bar.together for bar in rows.bars if bar.id == "cut.draw"] == [(1, 2), (1, 2)]
    # EV1's way and work, then the desk: nothing of it can slip, and it is one line through the lanes.
    assert rows.chain == ((1, 0.0), (1, 300.0), (1, 300.0), (1, 420.0), (0, 420.0), (0, 420.0), (0, 480.0))
    assert (rows.finish, rows.usable, rows.length, rows.margin) == (480, 900, 1200, 420)
    assert all(bar.slack == 0 for bar in rows.bars)


def test_every_step_stands_once_in_the_lane_of_each_of_its_people(rows: Rows, sortie: SortieEvidence) -> None:
    found = Counter((rows.lanes[bar.lane].id, bar.step) for bar in rows.bars if bar.kind == "step")
    wanted = Counter((name, step.index) for step in sortie.plan.steps for name in step.people)
    assert found == wanted


def test_bars_have_the_times_of_the_timeline(rows: Rows, sortie: SortieEvidence) -> None:
    for bar in rows.bars:
        if bar.kind == "step":
            times = sortie.timeline.times[bar.step]
            assert (bar.start, bar.end, bar.critical) == (times.start, times.end, times.critical)
            assert bar.slack == pytest.approx(max(0.0, times.slack - sortie.timeline.margin), abs=1e-6)


def test_each_persons_bars_add_up_to_their_time(rows: Rows, sortie: SortieEvidence) -> None:
    for lane in rows.lanes:
        sums = sortie.timeline.sums(lane.id)
        for kinds, name in ((("step",), "work"), (("way",), "way"), (("wait", "standby"), "waiting")):
            total = sum(bar.seconds for bar in rows.of(lane.number, *kinds))
            assert total == pytest.approx(sums[name], abs=1e-6)


def test_no_two_bars_of_a_lane_overlap(rows: Rows) -> None:
    for lane in rows.lanes:
        bars = [bar for bar in rows.bars if bar.lane == lane.number]
        for one, following in itertools.pairwise(bars):
            assert one.end <= following.start + 1e-6


def test_a_wait_ends_as_its_step_begins_and_names_whose_step_ended_last(rows: Rows, sortie: SortieEvidence) -> None:
    steps = {(bar.lane, bar.step): bar for bar in rows.bars if bar.kind == "step"}
    waits = [bar for bar in rows.bars if bar.kind in ("wait", "standby")]
    assert waits
    for bar in waits:
        assert bar.end == steps[bar.lane, bar.step].start
        assert bar.cause
        assert bar.kind == ("wait" if rows.lanes[bar.lane].person.outside else "standby")


def test_the_critical_chain_runs_from_start_to_finish_without_a_gap(rows: Rows) -> None:
    times = [seconds for _, seconds in rows.chain]
    assert times[0] == 0
    assert times[-1] == pytest.approx(rows.finish)
    assert times == sorted(times)
    for (lane, at), (next_lane, then) in zip(rows.chain, rows.chain[1:], strict=False):
        # It changes lanes only at one moment: somebody releases somebody else.
        assert lane == next_lane or at == then


def test_no_step_that_can_slip_is_called_critical(rows: Rows) -> None:
    steps = [bar for bar in rows.bars if bar.kind == "step"]
    assert all((bar.slack < 1e-6) == bar.critical for bar in steps)
    assert any(bar.critical for bar in steps)
    assert any(not bar.critical for bar in steps)


def test_the_figure_has_the_rows_in_milliseconds(rows: Rows, sortie: SortieEvidence) -> None:
    chart = made("timeline", sortie)
    steps = [bar for bar in rows.bars if bar.kind == "step"]
    bars = trace(chart, "steps")
    assert bars["base"] == [round(bar.start * 1000) for bar in steps]
    assert bars["x"] == [round(bar.seconds * 1000) for bar in steps]
    assert [int(y) for y in bars["y"]] == [bar.lane for bar in steps]
    assert [about[0] for about in bars["customdata"]] == [bar.href for bar in steps]
    assert len(set(bars["ids"])) == len(bars["ids"])
    for name, kind in (("ways", "way"), ("wait", "wait"), ("standby", "standby")):
        assert trace(chart, name)["base"] == [round(bar.start * 1000) for bar in rows.bars if bar.kind == kind]


def test_the_hover_says_what_who_when_and_where(sortie: SortieEvidence) -> None:
    step = next(times for times in sortie.timeline.times if times.step.outside)
    told = [
        about for about in trace(made("timeline", sortie), "steps")["customdata"]
        if about[0] == href("task", str(step.step.task.id), step.step.step.key)
    ]  # fmt: skip
    assert len(told) == len(step.step.people)
    what, when, more = told[0][1:]
    assert str(step.step.step.do).split()[0] in what
    assert f"{show_elapsed(step.start)} to {show_elapsed(step.end)}" in when
    assert sortie.library.places[step.step.place or ""].label_text in more


def test_both_stills_link_every_step(sortie: SortieEvidence) -> None:
    chart = made("timeline", sortie)
    wanted = {href("task", str(step.task.id), step.step.key) for step in sortie.plan.steps}
    for still in (chart.still, chart.narrow):
        assert wanted <= set(links(still))


def test_a_step_in_the_wide_still_can_be_linked_to(sortie: SortieEvidence) -> None:
    chart = made("timeline", sortie)
    ids = {one.get("id") for one in drawn(chart.still).iter(f"{SVG}a")}
    for step in sortie.plan.steps:
        assert f"{chart.id}.{step.key.replace('/', '.')}" in ids


def test_the_stills_draw_each_bar_as_long_as_it_lasts() -> None:
    evidence = small()
    chart, rows = made("timeline", evidence), timeline_rows(evidence, href)
    for still, along in ((chart.still, "width"), (chart.narrow, "height")):
        boxes = [float(str(one.get(along))) for one in drawn(still).iter(f"{SVG}rect") if one.get("class") == "c-step"]
        # One decimal is written: half of one is the most that it can be off.
        scale = boxes[0] / 60
        lasts = [bar.seconds for bar in rows.bars if bar.kind == "step"]
        assert boxes == pytest.approx([seconds * scale for seconds in lasts], abs=0.3)


def test_limits_reserve_and_nights_are_said_in_words(sortie: SortieEvidence) -> None:
    chart = made("timeline", sortie)
    for still in (chart.still, chart.narrow):
        told = words(drawn(still))
        assert f"last step ends {show_elapsed(sortie.timeline.finish)}" in told
        assert f"usable until {show_elapsed(sortie.timeline.usable)}, then reserve" in told
        assert f"limit {show_elapsed(sortie.sortie.limits.length.likely)}" in told
        assert told.count("night") >= 2
    shapes = [shape for shape in chart.figure["layout"]["shapes"] if shape.get("label", {}).get("text") == "night"]
    drawn_nights = [seconds for shape in shapes for seconds in (shape["x0"] / 1000, shape["x1"] / 1000)]
    assert drawn_nights == pytest.approx([seconds for night in sortie.light.nights for seconds in night], abs=0.001)


def test_the_table_has_a_row_a_step_way_and_wait(rows: Rows, sortie: SortieEvidence) -> None:
    table = made("timeline", sortie).table
    once = [bar for bar in rows.bars if not bar.together or bar.lane == bar.together[0]]
    assert len(table.rows) == len(once)
    assert [row[0].words for row in table.rows] == [show_elapsed(start) for start in sorted(bar.start for bar in once)]
    assert Counter(row[4].target for row in table.rows if row[6].words) == Counter(
        bar.href for bar in once if bar.kind == "step"
    )


def test_a_name_is_told_in_full_or_by_the_letter_that_the_key_explains(rows: Rows, sortie: SortieEvidence) -> None:
    chart = made("timeline", sortie)
    assert {one.letter: one.words for one in rows.stretches} == rows.tasks
    assert list(rows.tasks) == sorted(rows.tasks)
    assert [sign.words for sign in chart.key][-len(rows.tasks) :] == list(rows.tasks.values())
    for still in (chart.still, chart.narrow):
        titles = [one for one in drawn(still).iter(f"{SVG}text") if "c-title" in str(one.get("class"))]
        told = [" ".join(span.text or "" for span in one) for one in titles]
        assert set(told) <= {*rows.tasks, *rows.tasks.values()}
        assert len(told) > len(rows.stretches) * 0.8


def test_after_z_comes_aa() -> None:
    assert list(itertools.islice(_letters(), 25, 29)) == ["Z", "AA", "AB", "AC"]


def test_a_sortie_that_does_nothing_is_told_in_a_sentence() -> None:
    evidence = world({"cut": [{"who": "ev1", "at": "k1"}]}, flow={"ev1": []})
    chart = made("timeline", evidence)
    assert chart.figure == {}
    assert chart.summary == "This sortie has no steps."
    assert chart.table.rows == ()


@pytest.mark.parametrize(("until", "span"), [(600, 60), (3600, 300), (6 * 3600, 1800), (12 * 3600, 3600)])
def test_the_axis_has_whole_steps(until: float, span: float) -> None:
    marks = ticks(until)
    assert [seconds for seconds, _ in marks] == [k * span for k in range(len(marks))]
    assert marks[-1][0] <= until < marks[-1][0] + span
    assert marks[1][1] == f"{int(span) // 3600}:{int(span) % 3600 // 60:02d}"
