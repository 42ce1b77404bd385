"""What is shown while the very first build finds errors: one plain page, and the rules that findings lead to."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from markupsafe import Markup

from briefgen.model.library import KINDS, Library
from briefgen.pages.context import PageContext
from briefgen.pages.html.panel import PLACE
from briefgen.pages.html.pictures import Pictures
from briefgen.pages.publishing.page import Page
from briefgen.pages.publishing.site import Site
from briefgen.pages.views.planning import rules
from briefgen.proof.evidence import Evidence


class UnbuiltSite(Site):
    """A site without content. What is wrong is put in where PLACE stands, while the page is served."""

    def __init__(self, directory_urls: bool) -> None:
        nothing = Library({kind: {} for kind in KINDS})
        super().__init__(PageContext(Evidence(nothing), Pictures(Path(), nothing), directory_urls=directory_urls))

    def _found(self) -> Iterator[Page]:
        yield Page(
            uri="index",
            title="Not built yet",
            section="overview",
            template="unbuilt.html",
            icon="findings",
            rows={"title": "Not built yet", "place": Markup(PLACE)},
        )
        yield from rules.pages(self.context)
