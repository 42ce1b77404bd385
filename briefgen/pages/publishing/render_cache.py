"""What need not be made again while somebody writes: pages and drawings whose rows are what they were.

Everything is compared by value, never by time: whatever can't be compared is made anew.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from typing import Any

from briefgen.model.library import Library
from briefgen.pages.html.plots import Drawings
from briefgen.pages.publishing.page import Page
from briefgen.pages.publishing.site import Site


class KeptPages:
    """The pages of the last site, by uri."""

    def __init__(self) -> None:
        self.drawings: Drawings = {}
        self._around: Hashable = None
        self._pages: Mapping[str, tuple[Page, str]] = {}

    def html(self, site: Site) -> Mapping[str, str]:
        """The inside of every page, printed anew only where its rows, or where links lead and terms mean, changed."""
        around = _around(site.context.library)
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
