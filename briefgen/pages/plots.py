"""Charts as they stand in pages: drawn once a site, with links that finish with the page."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property

from markupsafe import Markup

from briefgen.charts.chart import Chart
from briefgen.charts.embed import chart_html
from briefgen.charts.figures import plotly_script
from briefgen.charts.finish import finish_chart
from briefgen.charts.homeward import homeward_chart
from briefgen.charts.player import play_sortie
from briefgen.charts.player.page import player_html
from briefgen.charts.site_map import site_map_chart
from briefgen.charts.states import states_chart
from briefgen.charts.steps import steps_chart
from briefgen.charts.stopping import stopping_chart
from briefgen.charts.supplies import supplies_chart
from briefgen.charts.timeline import timeline_chart
from briefgen.model.library import SINGULAR, Library
from briefgen.pages.assets import FOLDER
from briefgen.pages.links import Links
from briefgen.proof.evidence import SortieEvidence


class Plots:
    """The charts of one site as HTML."""

    def __init__(self, library: Library, links: Links) -> None:
        self._library = library
        self._links = links

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

    def timeline(self, case: SortieEvidence) -> Markup:
        """Who does what, when."""
        return self._html(lambda: timeline_chart(case, self.href))

    def supplies(self, case: SortieEvidence) -> Markup:
        """What the suits have left."""
        return self._html(lambda: supplies_chart(case, self.href))

    def homeward(self, case: SortieEvidence) -> Markup:
        """How long everybody needs to get home."""
        return self._html(lambda: homeward_chart(case, self.href))

    def finish(self, case: SortieEvidence) -> Markup:
        """How likely the sortie ends when."""
        return self._html(lambda: finish_chart(case, self.href))

    def stopping(self, case: SortieEvidence) -> Markup:
        """How long closing up takes from every moment."""
        return self._html(lambda: stopping_chart(case, self.href))

    def states(self, case: SortieEvidence) -> Markup:
        """The states of controls and of all that changes."""
        return self._html(lambda: states_chart(case, self.href))

    def player(self, case: SortieEvidence) -> Markup:
        """The sortie played on the map."""
        return Markup(player_html(play_sortie(case, self.href, self._picture), self.plotly))

    def _picture(self, figure: str) -> str:
        return self._links.picture(str(self._library.figures[figure].file))

    def steps(self, case: SortieEvidence, task: str) -> Markup:
        """The diagram of a task's steps as they are done in a sortie."""
        return self._html(lambda: steps_chart(case, task, self.href))

    def site_map(self) -> Markup:
        """The map of all worksites."""
        return self._html(lambda: site_map_chart(self._library, self.href))

    def _html(self, draw: Callable[[], Chart]) -> Markup:
        return Markup(chart_html(draw(), self.plotly))
