"""Supplies and time home: the curves are the computed ones, in the author's units."""

from __future__ import annotations

import itertools
from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from briefgen.charts.kinds.curves import Panel, thinned
from briefgen.proof.evidence import SortieEvidence
from briefgen.units import SUPPLY, show_elapsed
from tests.charts.charts import drawn, made, words
from tests.travel_world import world


def value_at(points: list[tuple[float, float]], seconds: float) -> float:
    """By plain interpolation, written again here."""
    for (t0, v0), (t1, v1) in itertools.pairwise(points):
        if t0 <= seconds <= t1:
            return v0 if t1 == t0 else v0 + (v1 - v0) * (seconds - t0) / (t1 - t0)
    raise AssertionError(seconds)


def test_supplies_by_hand() -> None:
    # One step of 60 min of light work (220 W) at home: 0.792 MJ, so 0.07 × 0.792 = 0.0554 kg of oxygen.
    evidence = world({"t": [{"who": "ev1", "at": "lock", "takes": "60 min", "effort": "light"}]})
    chart = made("supplies", evidence)
    (curve,) = chart.figure["data"]
    assert (curve["x"], curve["y"]) == ([0, 3_600_000], pytest.approx([2, 2 - 0.07 * 0.792]))
    row = {column.head: cell.words for column, cell in zip(chart.table.columns, chart.table.rows[0], strict=True)}
    assert (row["Holds"], row["Reserve"], row["Used"], row["Left at the end"]) == (
        "2 kg",
        "0.2 kg",
        "0.055 kg",
        "1.94 kg",
    )


def test_each_persons_curve_begins_full_and_ends_with_what_is_left(sortie: SortieEvidence) -> None:
    chart = made("supplies", sortie)
    curves = iter(chart.figure["data"])
    runs = [run for one in sortie.supplies.runs.values() for run in one]
    for name in dict.fromkeys(run.name for run in runs):
        for run in (run for run in runs if run.name == name):
            curve = next(curves)
            factor = SUPPLY.units[run.supply.holds.unit]
            assert curve["name"] == sortie.library.people[run.person].label_text
            assert curve["y"][0] * factor == pytest.approx(float(run.supply.holds))
            assert curve["y"][-1] * factor == pytest.approx(run.left)
            assert curve["x"][-1] == round(sortie.timeline.finish * 1000)
            assert curve["y"] == sorted(curve["y"], reverse=True)
    assert next(curves, None) is None


def test_the_reserve_is_drawn_where_it_is(sortie: SortieEvidence) -> None:
    chart = made("supplies", sortie)
    lines = [shape for shape in chart.figure["layout"]["shapes"] if shape["type"] == "line"]
    kept = {float(run.supply.keeps) / run.factor for one in sortie.supplies.runs.values() for run in one}
    assert {round(line["y0"], 9) for line in lines} == {round(value, 9) for value in kept}
    assert "reserve" in words(drawn(chart.still))


def test_the_summary_names_the_supply_that_ends_the_sortie(sortie: SortieEvidence) -> None:
    ends = sortie.supplies.ends
    assert ends is not None
    assert ends.reserve_reached is not None
    chart = made("supplies", sortie)
    assert ends.name.replace("-", " ") in chart.summary
    assert show_elapsed(ends.reserve_reached) in chart.summary


def test_time_home_by_hand() -> None:
    # 6 m to K1 at 6 m/min is a minute; 3 min of work there; home again with the next step.
    evidence = world(
        {"t": [{"who": "ev1", "at": "k1", "takes": "3 min"}, {"who": "ev1", "at": "lock", "takes": "1 min"}]},
        limits={"return_within": "30 min"},
    )
    (curve,) = made("homeward", evidence).figure["data"]
    assert [x / 1000 for x in curve["x"]] == [0, 60, 240, 300, 360]
    assert curve["y"] == pytest.approx([0, 1, 1, 0, 0])


def test_time_home_is_what_was_computed(sortie: SortieEvidence) -> None:
    chart = made("homeward", sortie)
    for curve, line in zip(chart.figure["data"], sortie.time_home.values(), strict=True):
        points = [(x / 1000, y) for x, y in zip(curve["x"], curve["y"], strict=True)]
        for seconds in range(7, int(sortie.timeline.finish), 311):
            jumps = any(abs(seconds - x) < 1 for x, _ in points)
            assert jumps or value_at(points, seconds) == pytest.approx(line.at(seconds) / 60, abs=0.02)


def test_nobody_outside_is_a_sentence() -> None:
    evidence = world({"t": [{"who": "desk"}]})
    assert made("homeward", evidence).summary == "Nobody is outside."
    assert made("supplies", evidence).figure == {}


@given(st.lists(st.tuples(st.integers(0, 40), st.integers(0, 40)), min_size=2, max_size=20))
def test_thinning_changes_no_value(made: list[tuple[int, int]]) -> None:
    points = sorted({x: float(y) for x, y in made}.items())
    kept = list(thinned([(float(x), y) for x, y in points]))
    assert kept[0][0] == points[0][0]
    assert kept[-1][0] == points[-1][0]
    for x, y in points:
        if len(kept) > 1:
            assert value_at(kept, x) == pytest.approx(y, abs=1e-6)


@given(st.floats(0.01, 1e5))
def test_an_axis_has_a_few_round_values(most: float) -> None:
    marks = Panel("", "", (), (), most).ticks()
    assert 2 <= len(marks) <= 9
    assert marks[-1] <= most * (1 + 1e-9)
    digits = f"{marks[1]:e}".partition("e")[0].rstrip("0").rstrip(".")
    assert digits in ("1", "2", "5")


@pytest.mark.parametrize("kind", ["supplies", "homeward"])
def test_every_curve_of_the_live_chart_ends_in_its_name(sortie: SortieEvidence, kind: str) -> None:
    figure = made(kind, sortie).figure
    names = Counter(trace["name"] for trace in figure["data"] if trace["mode"] == "lines")
    assert names
    assert names == Counter(note["text"] for note in figure["layout"]["annotations"] if note["text"] in names)
