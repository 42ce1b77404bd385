"""Every chart of the demo, by name; and how to look into their drawings and figures."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import partial
from typing import Any
from xml.etree import ElementTree

from briefgen.charts.chart import Chart
from briefgen.charts.kind import ChartKind, ChartSubject
from briefgen.charts.kinds.player import CHART as PLAYER
from briefgen.charts.kinds.player import Played
from briefgen.charts.registry import charts
from briefgen.model.library import Library
from briefgen.proof.evidence import SortieEvidence
from tests.charts.conftest import href, picture

SVG = "{http://www.w3.org/2000/svg}"
KINDS: Mapping[str, ChartKind[Any]] = {name: kind for name, kind in charts().items() if isinstance(kind, ChartKind)}
"""All that are drawn as a chart; the player is tested by itself."""


def made(name: str, evidence: SortieEvidence, task: str = "") -> Chart:
    """A chart by its name; of a task, the first one where none is named."""
    kind = KINDS[name]
    first = str(evidence.plan.steps[0].task.id) if evidence.plan.steps else ""
    return kind.chart(kind.drawn_from(ChartSubject(evidence.library, href, evidence, task or first)))


def made_of(name: str, library: Library) -> Chart:
    """A chart of a library."""
    kind = KINDS[name]
    return kind.chart(kind.drawn_from(ChartSubject(library, href)))


def play_of(evidence: SortieEvidence) -> Played:
    """A sortie, ready to be played."""
    return PLAYER.played(PLAYER.drawn_from(ChartSubject(evidence.library, href, evidence, picture=picture)))


MAKERS: Mapping[str, Callable[[SortieEvidence], Chart]] = {name: partial(made, name) for name in KINDS}
LIVE_MAKERS = {name: make for name, make in MAKERS.items() if KINDS[name].live}
"""Those that Plotly draws anew."""


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
