"""The states chart: each equipment's states follow on one another, and every look and need is there."""

from __future__ import annotations

from xml.etree import ElementTree

from briefgen.charts.kinds.states import states_rows
from briefgen.proof.evidence import SortieEvidence
from tests.charts.charts import SVG, drawn, made
from tests.charts.conftest import href
from tests.travel_world import world


def small() -> SortieEvidence:
    return world(
        {
            "t": [
                {"id": "shut", "who": "ev1", "at": "k1", "takes": "2 min", "sets": {"valve": "shut"}, "do": "Shut it."},
                {"id": "two", "who": "ev1", "at": "k1", "takes": "1 min",
                 "each": {"equipment": "plates", "where": {"n": ["1", "2"]}},
                 "sets": {"plates": "bagged"}, "requires": {"valve": "shut"}, "do": "Bag the plate."},
                {"id": "look", "who": "desk", "takes": "1 min", "verifies": {"valve": "shut"},
                 "after": ["t/shut"], "do": "Look."},
                {"id": "open", "who": "ev1", "at": "k1", "takes": "1 min", "sets": {"valve": "open"}, "do": "Open it."},
            ]
        },
        equipment={
            "plates": {"states": ["bare", "bagged"], "starts": "bare", "ends": "any", "parts": {"n": ["1", "2", "3"]}},
            "valve": {"states": ["open", "shut"], "starts": "open", "control": True},
            "idle": {"states": ["as-is"], "starts": "as-is"},
        },
    )  # fmt: skip


def test_states_by_hand() -> None:
    # A minute's way; then 2 min, twice 1 min, and 1 min of work.
    rows = states_rows(small(), href)
    assert [lane.id for lane in rows.lanes] == ["valve", "plates"]
    valve, plates = rows.lanes
    assert [(band.start, band.end, band.state, band.begun) for band in valve.bands] == [
        (0, 180, "open", True), (180, 360, "shut", False), (360, rows.until, "open", True),
    ]  # fmt: skip
    assert [(band.start, band.end, band.state) for band in plates.bands] == [
        (0, 300, "bare"), (300, rows.until, "2 bagged, 1 bare"),
    ]  # fmt: skip
    assert [(use.start, use.end, use.looks) for use in valve.uses] == [(180, 240, True), (180, 300, False)]
    assert valve.control


def test_the_states_of_an_equipment_follow_on_one_another(sortie: SortieEvidence) -> None:
    for lane in states_rows(sortie, href).lanes:
        assert lane.bands[0].start == 0
        assert lane.bands[-1].end > sortie.timeline.finish
        for one, following in zip(lane.bands, lane.bands[1:], strict=False):
            assert one.end == following.start
            assert one.state != following.state


def test_the_last_state_is_the_one_that_the_proof_ends_with(sortie: SortieEvidence) -> None:
    for lane in states_rows(sortie, href).lanes:
        last = lane.bands[-1].state
        for item in sortie.library.equipment[lane.id].items:
            assert sortie.states.ends[lane.id, item].state in last


def test_controls_come_first(sortie: SortieEvidence) -> None:
    controls = [lane.control for lane in states_rows(sortie, href).lanes]
    assert controls == sorted(controls, reverse=True)
    assert any(controls)


def test_every_look_and_need_of_the_plan_is_drawn(sortie: SortieEvidence) -> None:
    chart, rows = made("states", sortie), states_rows(sortie, href)
    looks = [use for lane in rows.lanes for use in lane.uses if use.looks]
    needs = [use for lane in rows.lanes for use in lane.uses if not use.looks]
    assert len(looks) == sum(len(step.step.verifies) for step in sortie.plan.steps)
    assert len(needs) == sum(len(step.step.requires) for step in sortie.plan.steps)
    for still in (chart.still, chart.narrow):
        assert len(parts(still, "c-verifies")) == len(looks)
        assert len(parts(still, "c-need")) == len(needs)


def test_bands_are_told_alike_in_still_and_table(sortie: SortieEvidence) -> None:
    chart = made("states", sortie)
    hints = [title.text for band in parts(chart.still, "c-state") for title in band.iter(f"{SVG}title")]
    assert [hint.partition(": ")[0] for hint in map(str, hints)] == [row[1].words for row in chart.table.rows]


def parts(still: str, shape: str) -> list[ElementTree.Element]:
    """The elements of a still, links most of them, in which a shape of that class stands."""
    return [one for one in drawn(still).iter() if any(shape in str(x.get("class")).split() for x in one)]


def test_nothing_that_changes_is_a_sentence() -> None:
    chart = made("states", world({"t": [{"who": "ev1", "at": "k1"}]}))
    assert (chart.still, chart.narrow, chart.summary) == ("", "", "This sortie changes no equipment.")
