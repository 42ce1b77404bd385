"""What need not be drawn again while somebody writes: pages and diagrams whose rows are what they were.

Everything is compared by value, never by time: whatever can't be compared is made anew.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping
from typing import Any

from markupsafe import Markup

from briefgen.charts.homeward import homeward_curves
from briefgen.charts.player import play_rows
from briefgen.charts.site_map import map_rows
from briefgen.charts.states import states_rows
from briefgen.charts.steps import steps_rows
from briefgen.charts.stopping import stopping_curves
from briefgen.charts.supplies import supplies_curves
from briefgen.charts.timeline import timeline_rows
from briefgen.model.library import Library
from briefgen.pages.page import Page
from briefgen.pages.plots import Plots
from briefgen.pages.site import Site
from briefgen.proof.evidence import SortieEvidence

Drawings = dict[Hashable, tuple[Any, Markup]]
"""The rows of each drawing, and its HTML."""


class KeptPlots(Plots):
    """Charts that are drawn again only where their rows, cheap to make, are others than in the last site.

    Nothing but the rows, the sortie's and the task's id and the address of the script goes into such a chart.
    """

    def __init__(self, plots: Plots, drawings: Drawings) -> None:
        super().__init__(plots._library, plots._links)
        self._drawings = drawings

    def steps(self, case: SortieEvidence, task: str) -> Markup:
        """The diagram of a task's steps."""
        rows = steps_rows(case, self._library.tasks[task], self.href)
        return self._kept(("steps", str(case.sortie.id), task), rows, lambda: super(KeptPlots, self).steps(case, task))

    def timeline(self, case: SortieEvidence) -> Markup:
        """Who does what, when."""
        rows = timeline_rows(case, self.href)
        return self._kept(("timeline", str(case.sortie.id)), rows, lambda: super(KeptPlots, self).timeline(case))

    def states(self, case: SortieEvidence) -> Markup:
        """The states of controls and of all that changes."""
        rows = states_rows(case, self.href)
        return self._kept(("states", str(case.sortie.id)), rows, lambda: super(KeptPlots, self).states(case))

    def player(self, case: SortieEvidence) -> Markup:
        """The sortie played on the map."""
        rows = (play_rows(case, self.href, self._picture), map_rows(self._library, self.href))
        return self._kept(("player", str(case.sortie.id)), rows, lambda: super(KeptPlots, self).player(case))

    def supplies(self, case: SortieEvidence) -> Markup:
        """What the suits have left."""
        rows = supplies_curves(case, self.href)
        return self._kept(("supplies", str(case.sortie.id)), rows, lambda: super(KeptPlots, self).supplies(case))

    def homeward(self, case: SortieEvidence) -> Markup:
        """How long everybody needs to get home."""
        rows = homeward_curves(case, self.href)
        return self._kept(("homeward", str(case.sortie.id)), rows, lambda: super(KeptPlots, self).homeward(case))

    def stopping(self, case: SortieEvidence) -> Markup:
        """How long closing up takes from every moment."""
        rows = stopping_curves(case, self.href)
        return self._kept(("stopping", str(case.sortie.id)), rows, lambda: super(KeptPlots, self).stopping(case))

    def site_map(self) -> Markup:
        """The map of all worksites."""
        return self._kept(("map",), map_rows(self._library, self.href), super().site_map)

    def _kept(self, name: tuple[str, ...], rows: Any, draw: Callable[[], Markup]) -> Markup:
        key = (*name, self.plotly)
        kept = self._drawings.get(key)
        if kept is None or kept[0] != rows:
            kept = self._drawings[key] = (rows, draw())
        return kept[1]


class KeptPages:
    """The pages of the last site, by uri."""

    def __init__(self) -> None:
        self.drawings: Drawings = {}
        self._around: Hashable = None
        self._pages: Mapping[str, tuple[Page, str]] = {}

    def html(self, site: Site) -> Mapping[str, str]:
        """The inside of every page, printed anew only where its rows, or where links lead and terms mean, changed."""
        around = _around(site.desk.library)
        last = self._pages if around == self._around else {}
        pages = {uri: (page, self._one(site, page, last.get(uri))) for uri, page in site.pages.items()}
        self._around, self._pages = around, pages
        return {uri: html for uri, (_, html) in pages.items()}

    @staticmethod
    def _one(site: Site, page: Page, last: tuple[Page, str] | None) -> str:
        return last[1] if last is not None and last[0] == page else site.html(page.uri)


def _around(library: Library) -> Hashable:
    """What templates use of a site beside a page's rows: where its records lie, and the words that it explains."""
    records = (
        (kind, str(record.id), _parts(record), *(_term(record) if kind == "terms" else ()))
        for kind, record in library.every()
    )
    return (*(str(sortie.id) for sortie in library.ordered_sorties), *records)


def _parts(record: Any) -> tuple[str, ...]:
    steps = tuple(step.key for step in getattr(record, "steps", ()))
    return (*steps, *map(str, getattr(record, "callouts", ())))


def _term(record: Any) -> tuple[str, str]:
    return str(record.short), str(record.long)
