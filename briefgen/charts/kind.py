"""What a kind of chart declares of itself, once: what it shows as rows, and its drawings and table of these rows."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Generic, Protocol, TypeVar

from briefgen.charts.chart import Chart, Href, KeyLine, Picture
from briefgen.charts.drawing.sheet import NARROW, WIDE
from briefgen.charts.interactive.embed import chart_html
from briefgen.model.library import Library
from briefgen.proof.evidence import SortieEvidence
from briefgen.tables.table import Table

R = TypeVar("R")


def _no_picture(_: str) -> str:
    return ""


@dataclass(frozen=True)
class ChartSubject:
    """What a chart is asked to show: a library, one of its sorties, one of its tasks, whichever it needs."""

    library: Library
    href: Href
    evidence: SortieEvidence | None = None
    task: str = ""
    picture: Picture = _no_picture

    @property
    def sortie(self) -> SortieEvidence:
        """The sortie's evidence. Raises ValueError where a chart of a sortie is asked for without one."""
        if self.evidence is None:
            raise ValueError("this chart shows a sortie: give its evidence")
        return self.evidence


@dataclass(frozen=True)
class Head:
    """What stands above a chart: its id in the page, its title, what there is to see. `drawn` is false for nothing."""

    id: str
    title: str
    summary: str
    drawn: bool = True


class Drawing(Protocol):
    """What the registry finds: whatever makes HTML for a page from rows that can be compared."""

    @property
    def name(self) -> str:
        """What pages call it by."""

    def drawn_from(self, subject: ChartSubject) -> Any:
        """All that goes into the drawing but the address of the script. Equal rows give the same HTML."""

    def html(self, rows: Any, plotly: str) -> str:
        """The drawing as one line of HTML; `plotly` is the address of its script."""


@dataclass(frozen=True)
class ChartKind(Generic[R]):
    """A kind of chart. `still` draws SVG at a width in pixels; `live`, where it is given, is a figure for Plotly."""

    name: str
    rows: Callable[[ChartSubject], R]
    head: Callable[[R], Head]
    still: Callable[[R, float], str]
    table: Callable[[R], Table]
    key: Callable[[R], tuple[KeyLine, ...]]
    live: Callable[[R], Mapping[str, Any]] | None = None

    def drawn_from(self, subject: ChartSubject) -> R:
        """The rows. Raises CircleFound for a sortie whose order runs in a circle, where the chart has times."""
        return self.rows(subject)

    def chart(self, rows: R) -> Chart:
        """The chart of these rows; with nothing to draw it has neither still nor figure."""
        head = self.head(rows)
        return Chart(
            id=head.id,
            kind=self.name,
            title=head.title,
            summary=head.summary,
            still=self.still(rows, WIDE) if head.drawn else "",
            narrow=self.still(rows, NARROW) if head.drawn else "",
            figure=self.live(rows) if head.drawn and self.live else {},
            table=self.table(rows),
            key=self.key(rows) if head.drawn else (),
        )

    def html(self, rows: R, plotly: str) -> str:
        """The chart as it stands in a page. `plotly` is the address of Plotly's script, relative to the page."""
        return chart_html(self.chart(rows), plotly)
