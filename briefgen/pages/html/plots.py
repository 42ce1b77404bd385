"""Charts as they stand in pages: drawn once a site, with links that finish with the page."""

from __future__ import annotations

from collections.abc import Hashable
from functools import cached_property
from typing import Any

from markupsafe import Markup

from briefgen.charts.interactive.figures import plotly_script
from briefgen.charts.kind import ChartSubject
from briefgen.charts.registry import charts
from briefgen.model.library import SINGULAR, Library
from briefgen.pages.html.assets import FOLDER
from briefgen.pages.links import Links
from briefgen.proof.evidence import SortieEvidence

Drawings = dict[Hashable, tuple[Any, Markup]]
"""The rows of each drawing, and its HTML."""


class Plots:
    """The charts of one site as HTML, each by the name that its folder in `charts` gives it."""

    def __init__(self, library: Library, links: Links) -> None:
        self._library = library
        self._links = links
        self.kept: Drawings | None = None
        """The drawings of the last site, while somebody writes: only what has other rows now is drawn again."""

    @cached_property
    def script(self) -> tuple[str, str]:
        """Name and text of the script that draws all charts."""
        return plotly_script()

    @cached_property
    def plotly(self) -> str:
        """That script's address."""
        return self._links.asset(f"{FOLDER}/{self.script[0]}")

    def href(self, kind: str, identifier: str, part: str = "") -> str:
        """A link for a chart; empty where there is no such record."""
        if kind in SINGULAR and not self._links.leads_somewhere(kind, identifier, part):
            return ""
        return self._links.target(kind, identifier, part)

    def draw(self, name: str, proved: SortieEvidence | None = None, task: str = "") -> Markup:
        """A chart of the library, of one of its sorties, or of a task as it is done there.

        Raises KeyError for a chart that does not exist, ValueError for one of a sortie without it.
        """
        kind = charts()[name]
        rows = kind.drawn_from(ChartSubject(self._library, self.href, proved, task, self._picture))
        key = (name, str(proved.sortie.id) if proved else "", task, self.plotly)
        last = self.kept.get(key) if self.kept is not None else None
        if last is not None and last[0] == rows:
            return last[1]
        html = Markup(kind.html(rows, self.plotly))
        if self.kept is not None:
            self.kept[key] = (rows, html)
        return html

    def _picture(self, figure: str) -> str:
        return self._links.picture(self._library.figures[figure].still)
