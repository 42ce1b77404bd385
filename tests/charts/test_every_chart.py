"""What holds of every chart: its still is sound, its figure is one that Plotly knows, its words are told without it."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import replace

import pytest
from bs4 import BeautifulSoup

from briefgen.charts.chart import Chart
from briefgen.charts.drawing.sheet import NARROW
from briefgen.charts.interactive.embed import chart_html
from briefgen.charts.interactive.figures import chart_json, check, to_json
from briefgen.proof.evidence import SortieEvidence
from tests.charts.charts import LIVE_MAKERS, MAKERS, drawn, links
from tests.charts.conftest import ASSETS

CHARTS = pytest.mark.parametrize("make", MAKERS.values(), ids=MAKERS)
LIVE_CHARTS = pytest.mark.parametrize("make", LIVE_MAKERS.values(), ids=LIVE_MAKERS)
Make = Callable[[SortieEvidence], Chart]


@CHARTS
def test_its_stills_are_well_formed_and_named(make: Make, sortie: SortieEvidence) -> None:
    chart = make(sortie)
    for still in filter(None, (chart.still, chart.narrow)):
        root = drawn(still)
        assert root.get("aria-label")
        _, _, wide, high = map(float, str(root.get("viewBox")).split())
        assert wide > 0
        assert high > 0
    assert float(str(drawn(chart.narrow).get("viewBox")).split()[2]) == NARROW


@CHARTS
def test_its_ids_are_its_own(make: Make, sortie: SortieEvidence) -> None:
    chart = make(sortie)
    html = chart_html(chart, "plotly.js")
    ids = re.findall(r' id="([^"]+)"', html)
    assert len(ids) == len(set(ids))
    for name in re.findall(r"url\(#([^)]+)\)", html):
        assert name in ids
    assert all(name.startswith(chart.id) for name in ids)


@LIVE_CHARTS
def test_plotly_knows_everything_that_its_figure_says(make: Make, sortie: SortieEvidence) -> None:
    chart = make(sortie)
    check(chart.figure)
    narrow = chart.figure["tools"].get("narrow", {})
    check({**chart.figure, **narrow.get("figure", {})})
    check({"data": [], "layout": narrow.get("layout", {})})


def test_a_figure_that_plotly_does_not_know_is_refused() -> None:
    with pytest.raises(ValueError, match="colour"):
        check({"data": [{"type": "bar", "colour": "red"}], "layout": {}})


@LIVE_CHARTS
def test_every_colour_in_it_has_a_value_in_the_style_sheet(make: Make, sortie: SortieEvidence) -> None:
    named = set(re.findall(r"var\((--bg-c-[a-z0-9-]+)\)", chart_json(make(sortie))))
    known = set(re.findall(r"(--bg-c-[a-z0-9-]+):", (ASSETS / "charts.css").read_text(encoding="utf-8")))
    assert named
    assert named <= known


@CHARTS
def test_every_class_in_its_stills_is_styled(make: Make, sortie: SortieEvidence) -> None:
    chart = make(sortie)
    styles = (ASSETS / "charts.css").read_text(encoding="utf-8")
    drawings = chart.still + chart.narrow + "".join(sign.drawing for sign in chart.key)
    names = {name for group in re.findall(r'class="([^"]+)"', drawings) for name in group.split()}
    # Names that only tell drawings apart, or keep what they stand beside as it is.
    plain = {"c-timeline", "c-curves", "c-states"}
    unstyled = {name for name in names - plain if not re.search(rf"\.{name}\b", styles)}
    assert unstyled == set()


@CHARTS
def test_it_is_the_same_each_time(make: Make, sortie: SortieEvidence) -> None:
    one, other = make(sortie), make(sortie)
    assert chart_html(one, "plotly.js") == chart_html(other, "plotly.js")


@CHARTS
def test_its_table_holds_every_cell_of_its_rows(make: Make, sortie: SortieEvidence) -> None:
    chart = make(sortie)
    table = BeautifulSoup(chart_html(chart, "plotly.js"), "html.parser").select_one("details table")
    assert table is not None
    assert [cell.get_text() for cell in table.select("thead th")] == [column.head for column in chart.table.columns]
    rows = [[cell.get_text() for cell in row.select("th, td")] for row in table.select("tbody tr")]
    assert rows == [[" ".join(cell.words.split()) for cell in row] for row in chart.table.rows]
    assert len(rows) > 1


@CHARTS
def test_whatever_its_stills_link_to_its_table_links_to_as_well(make: Make, sortie: SortieEvidence) -> None:
    chart = make(sortie)
    told = {cell.target for row in chart.table.rows for cell in row if cell.target}
    # People, tasks and routes are reached from the pages of what is told.
    beside = ("person-", "route-", "task-")
    for still in (chart.still, chart.narrow):
        missing = {link for link in links(still) if link not in told and not link.startswith(beside)}
        assert missing == set()


@CHARTS
def test_it_stands_in_one_line_so_that_markdown_leaves_it_alone(make: Make, sortie: SortieEvidence) -> None:
    assert "\n" not in chart_html(make(sortie), "plotly.js")


@LIVE_CHARTS
def test_its_json_can_stand_in_a_script_block(make: Make, sortie: SortieEvidence) -> None:
    text = chart_json(make(sortie))
    assert "<" not in text
    assert json.loads(text)["data"]
    assert len(text) < 120_000


def test_words_that_would_end_a_script_block_do_not() -> None:
    text = to_json({"data": [{"text": "</script><!-- "}]})
    assert "</" not in text
    assert "<!" not in text
    assert json.loads(text) == {"data": [{"text": "</script><!-- "}]}


def test_figures_that_are_no_numbers_are_refused() -> None:
    with pytest.raises(ValueError, match="JSON"):
        to_json({"data": [{"x": [float("nan")]}]})


@CHARTS
def test_only_a_live_chart_carries_a_figure_and_names_the_script(make: Make, sortie: SortieEvidence) -> None:
    chart = make(sortie)
    html = BeautifulSoup(chart_html(chart, "plotly.js"), "html.parser")
    for carried in ("[data-plotly]", "[data-state]", ".bg-chart__live", "script"):
        assert bool(html.select(carried)) == (make in LIVE_MAKERS.values()), carried


def test_a_chart_of_nothing_is_a_sentence_and_loads_nothing(first_sortie: SortieEvidence) -> None:
    nothing = replace(MAKERS["timeline"](first_sortie), still="", summary="Nobody does anything.")
    html = BeautifulSoup(chart_html(nothing, "plotly.js"), "html.parser")
    assert html.select("[data-plotly], script, svg") == []
    assert "Nobody does anything." in html.get_text()
