"""Every chart of the demo, by name; and how to look into their drawings and figures."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any
from xml.etree import ElementTree

from briefgen.charts.chart import Chart
from briefgen.charts.finish import finish_chart
from briefgen.charts.homeward import homeward_chart
from briefgen.charts.site_map import site_map_chart
from briefgen.charts.states import states_chart
from briefgen.charts.steps import steps_chart
from briefgen.charts.stopping import stopping_chart
from briefgen.charts.supplies import supplies_chart
from briefgen.charts.timeline import timeline_chart
from briefgen.proof.evidence import SortieEvidence
from tests.charts.conftest import href

SVG = "{http://www.w3.org/2000/svg}"
MAKERS: Mapping[str, Callable[[SortieEvidence], Chart]] = {
    "timeline": lambda case: timeline_chart(case, href),
    "steps": lambda case: steps_chart(case, str(case.plan.steps[0].task.id), href),
    "map": lambda case: site_map_chart(case.library, href),
    "supplies": lambda case: supplies_chart(case, href),
    "homeward": lambda case: homeward_chart(case, href),
    "finish": lambda case: finish_chart(case, href),
    "states": lambda case: states_chart(case, href),
    "stopping": lambda case: stopping_chart(case, href),
}


def drawn(still: str) -> ElementTree.Element:
    """A still as a tree; raises where it is not well-formed XML."""
    return ElementTree.fromstring(still.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1))


def links(still: str) -> list[str]:
    """Where a still's links lead, in order."""
    return [str(one.get("href")) for one in drawn(still).iter(f"{SVG}a")]


def words(element: ElementTree.Element) -> str:
    return "".join(element.itertext())


def traces(chart: Chart, name: str) -> Iterator[dict[str, Any]]:
    return (trace for trace in chart.figure["data"] if trace["name"] == name)


def trace(chart: Chart, name: str) -> dict[str, Any]:
    (only,) = traces(chart, name)
    return only
